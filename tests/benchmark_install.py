"""What saving the site costs on a weak signal; prints figures, fails on nothing.

    python -m tests.benchmark_install

The host answers on loopback, gzipped as a host does, each answer 150 ms late and all of them
together at 1.6 Mbit/s. The wait is in the host, not in the browser, whose own throttling leaves
out what a worker fetches.
"""

from __future__ import annotations

import gzip
import shutil
import statistics
import tempfile
import threading
import time
from dataclasses import replace
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from refgen.bundled import bundled
from refgen.offline import worker_script, write_offline
from refgen.project import open_project
from tests.browser.conftest import ARGUMENTS, chromium
from tests.built import ROOT

LATE = 0.150
"""Seconds until an answer begins."""
RATE = 1.6e6 / 8
"""Bytes a second, of all answers together."""
PIECE = 2000
PACKED = {".html", ".css", ".js", ".json", ".svg", ".csv", ".webmanifest"}
"""Endings of what a host packs with gzip; the pack is packed already."""
PAGES = (
    "symptoms/milky-oil",
    "procedures/lock-out",
    "parts/unloader",
    "tables/hose-loss",
    "hazards/injection",
    "materials/brick",
    "terms/index",
    "symptoms/oil-leaks",
)
SAVED = "#_kept[data-now=saved]"


class Line:
    """The one line that all answers share."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.free = 0.0
        self.bytes = 0
        self.requests = 0

    def carry(self, count: int) -> None:
        """Wait as long as some bytes take after those before them."""
        with self.lock:
            self.free = max(self.free, time.monotonic()) + count / RATE
            self.bytes += count
            wait = self.free - time.monotonic()
        time.sleep(max(0.0, wait))

    def clear(self) -> None:
        """Begin to count anew."""
        self.bytes = self.requests = 0


class Slow(SimpleHTTPRequestHandler):
    """A host at the far end of the line."""

    protocol_version = "HTTP/1.1"

    def __init__(self, line: Line, folder: Path, *arguments: object) -> None:
        self.line = line
        super().__init__(*arguments, directory=str(folder))

    def do_GET(self) -> None:
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        found = path.is_file()
        body = path.read_bytes() if found else b""
        self.line.requests += 1
        time.sleep(LATE)
        self.send_response(200 if found else 404)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Cache-Control", "no-cache")
        if path.suffix in PACKED:
            body = gzip.compress(body, 6, mtime=0)
            self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.line.carry(300)  # about what the heads of question and answer take
        for start in range(0, len(body), PIECE):
            piece = body[start : start + PIECE]
            self.line.carry(len(piece))
            self.wfile.write(piece)

    def log_message(self, *_: object) -> None:
        """Keep quiet."""


class Host(ThreadingHTTPServer):
    """Answers many at a time, and says nothing of a browser that closed."""

    daemon_threads = True

    def handle_error(self, *_: object) -> None:
        """Say nothing."""


def first_install(page: Page, url: str, line: Line) -> None:
    """Print what the first view and saving all cost."""
    start = time.monotonic()
    page.goto(url, wait_until="load")
    print(f"first view: {line.bytes / 1000:.1f} kB, {line.requests} requests, "
          f"{time.monotonic() - start:.2f} s until loaded")  # fmt: skip
    page.locator(SAVED).wait_for(state="attached", timeout=120_000)
    print(f"saved: {line.bytes / 1000:.0f} kB in all, {line.requests} requests, "
          f"{time.monotonic() - start:.2f} s from the first request on")  # fmt: skip


def update(page: Page, site: Path, line: Line) -> None:
    """Change one page, and print what taking up the new revision costs."""
    changed = site / "symptoms" / "milky-oil.html"
    changed.write_text(changed.read_text("utf-8").replace("</h1>", " again</h1>", 1), "utf-8")
    files = (path.relative_to(site).as_posix() for path in site.rglob("*"))
    left = {a for a in files if a.endswith((".csv", ".json"))}
    write_offline(site, worker_script(bundled("site_templates") / "theme"), None, left)
    line.clear()
    start = time.monotonic()
    page.evaluate(
        """async () => {
          const registration = await navigator.serviceWorker.ready;
          await registration.update();
          const coming = registration.installing;
          if (coming) await new Promise(done => coming.addEventListener("statechange", done));
        }"""
    )
    print(f"one page changed: {line.bytes / 1000:.1f} kB, {line.requests} requests, "
          f"{time.monotonic() - start:.2f} s")  # fmt: skip


def page_to_page(page: Page, url: str) -> None:
    """Print how long a kept page takes with the processor slowed four times."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
    took = []
    for name in PAGES:
        page.goto(f"{url}{name}.html", wait_until="load")
        took.append(page.evaluate(
            "performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"))  # fmt: skip
    middle = statistics.median(took)
    print(f"page to page, processor slowed four times: {middle:.0f} ms "
          f"({min(took):.0f} to {max(took):.0f})")  # fmt: skip


def measure(browser: Browser, site: Path) -> None:
    """Serve a site over the slow line and print all figures."""
    line = Line()
    host = Host(("127.0.0.1", 0), partial(Slow, line, site))
    threading.Thread(target=host.serve_forever, daemon=True).start()
    url = f"http://127.0.0.1:{host.server_address[1]}/"
    page = browser.new_context(viewport={"width": 390, "height": 844}).new_page()
    first_install(page, url, line)
    page.wait_for_function("navigator.serviceWorker.controller !== null")
    update(page, site, line)
    page_to_page(page, url)
    host.shutdown()


def main() -> None:
    """Build the demonstration and measure it."""
    program = chromium()
    if program is None:
        raise SystemExit("there is no Chromium at /usr/bin/chromium or in PATH")
    folder = Path(tempfile.mkdtemp())
    try:
        site = folder / "site"
        replace(open_project(ROOT / "mkdocs.yml"), site=site).build()
        print(f"{len(list(site.rglob('*.html')))} pages")
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=program, args=ARGUMENTS)
            measure(browser, site)
            browser.close()
    finally:
        shutil.rmtree(folder)


if __name__ == "__main__":
    main()
