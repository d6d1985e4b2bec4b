"""How fast the search answers and how much it weighs: `python -m tests.benchmark_search`.

The demonstration's own search page in Chromium with the processor slowed six times, once with the
demonstration's first 300 things to find, once with all of them, once with 3,000 made up from them.
A query is typed but for its last letter; then that letter, and the clock runs until the results
stand on the screen. Also told: how long the index takes to be unpacked, and its bytes as gzip
sends them. Not collected
by pytest: a time is no test.
"""

from __future__ import annotations

import gzip
import tempfile
from dataclasses import replace
from pathlib import Path

import yaml
from playwright.sync_api import Page, sync_playwright

from refgen.bundled import bundled
from refgen.compose import read_catalog
from refgen.findable import Found, findable
from refgen.pages import render_pages
from refgen.project import open_project
from refgen.search import ADDRESS, search_index
from refgen.tables import compute_tables
from tests.browser.conftest import ARGUMENTS, chromium
from tests.many import many

ROOT = Path(__file__).resolve().parents[1]
SLOWED = 6
EACH = 5
"""Of the queries each fifth is typed: they take seconds each to set up."""
# From the time stamp of the key to the first frame after the results were put in.
LISTEN = """() => {
  window.took = [];
  document.getElementById('q').addEventListener('input', event => {
    requestAnimationFrame(() => {
      const frame = new MessageChannel();
      frame.port1.onmessage = () => took.push(performance.now() - event.timeStamp);
      frame.port2.postMessage(0);
    });
  });
}"""
TOOK = """() => new Promise(done => {
  const look = () => took.length ? done(took[0]) : setTimeout(look, 5);
  look();
})"""
READ = """() => refgenSearch.load().then(() => {
  const before = performance.now();
  refgenSearch.unpack(refgenIndex);
  return performance.now() - before;
})"""


def answer_times(page: Page, queries: list[str]) -> list[float]:
    """Return for each query how long its last letter takes to show results [ms], in order."""
    field = page.locator("#q")
    page.evaluate(LISTEN)
    times = []
    for query in queries:
        field.fill(query[:-1])
        page.wait_for_timeout(30)
        page.evaluate("took.length = 0")
        field.press_sequentially(query[-1])
        times.append(page.evaluate(TOOK))
    return sorted(times)


def measured(browser_page: Page, site: Path, found: tuple[Found, ...], script: str) -> str:
    """Return one line of figures for an index, searched on a site's own page."""
    (site / ADDRESS).write_text(script, "utf-8")
    asked = yaml.safe_load((ROOT / "tests" / "queries.yml").read_text("utf-8"))
    queries = [case["q"] for half in asked.values() for case in half][::EACH]
    browser_page.goto(f"{site.as_uri()}/search.html")
    read = browser_page.evaluate(READ)
    times = answer_times(browser_page, queries)
    packed = len(gzip.compress(script.encode(), 6))
    return (
        f"{len(found):>6} {packed:>8,} {packed / len(found):>7.1f} {read:>8.0f}"
        f" {times[len(times) // 2]:>8.0f} {times[int(0.95 * len(times))]:>6.0f} {times[-1]:>6.0f}"
    )


def main() -> None:
    catalog = read_catalog([ROOT / "data" / "base", ROOT / "data" / "pebblecombe"], ROOT)
    pages = render_pages(catalog, compute_tables(catalog), bundled("site_templates"))
    found = findable(catalog, pages)
    few = tuple(found[n * len(found) // 300] for n in range(300))
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        replace(open_project(ROOT / "mkdocs.yml"), site=site).build()
        browser = playwright.chromium.launch(executable_path=chromium(), args=ARGUMENTS)
        print(f"processor slowed {SLOWED} times; ms from the last key to the results on the screen")
        print("  found    bytes    each  unpack   median   95 %   most")
        for some in (few, found, many(found, 3000)):
            page = browser.new_page(viewport={"width": 390, "height": 844})
            page.context.new_cdp_session(page).send(
                "Emulation.setCPUThrottlingRate", {"rate": SLOWED}
            )
            script = search_index(some, catalog.w, catalog.words.synonyms)
            print(measured(page, site, some, script), flush=True)
            page.close()
        browser.close()


if __name__ == "__main__":
    main()
