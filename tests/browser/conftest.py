"""Browsers, a server that can be stopped, and the demonstration as it is published.

`browser` is one Chromium for all tests, `firefox` one Firefox; `server_of(folder)` serves a folder
as a plain web host does; `site` is the folder of the whole demonstration. Without its browser a
test is skipped with that as the reason, unless REFGEN_BROWSER=required.
"""

from __future__ import annotations

import os
import shutil
import socket
import threading
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from tests.browser.firefox import Firefox, installed, running
from tests.built import built_once

ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


SETTLED = """() => new Promise(done => {
  const filled = () => !document.querySelector("[data-script][inert]");
  const forPaper = () => [...document.styleSheets].some(one => /print\\.css$/.test(one.href));
  const look = () => filled() && forPaper() ? done() : setTimeout(look, 10);
  look();
})"""


def settled(page: Page) -> None:
    """Wait until an open page has what it asks for when it has loaded: answers, looks on paper."""
    page.evaluate(SETTLED)  # asked over and over within the page, whose policy lets no text run


class Server:
    """A plain web host for one folder, on a port of its own, which can be stopped and restarted."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.asked: list[str] = []
        """Paths asked for, in order."""
        self.dies_after: int | None = None
        """Requests still answered before the host falls silent; None is no end."""
        self.port = 0
        self.start()

    @property
    def url(self) -> str:
        """Address of the root, with its last slash."""
        return f"http://127.0.0.1:{self.port}/"

    def start(self) -> None:
        """Serve, on the same port as before."""
        self.dies_after = None
        self.connections: list[socket.socket] = []
        self.host = _Host(("127.0.0.1", self.port), partial(_Handler, self))
        self.port = self.host.server_address[1]
        # Short polls, so that stopping takes no half second.
        self.thread = threading.Thread(target=self.host.serve_forever, args=(0.02,), daemon=True)
        self.thread.start()

    def stop(self) -> None:
        """Stop and cut every connection: from here on nobody answers."""
        self.host.shutdown()
        self.host.server_close()
        for connection in self.connections:
            with suppress(OSError):
                connection.shutdown(socket.SHUT_RDWR)
        self.thread.join()


class _Host(ThreadingHTTPServer):
    daemon_threads = True
    allow_reuse_address = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Say nothing: a connection cut on purpose is no error."""


class _Handler(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    extensions_map = {  # noqa: RUF012  # as the class it extends has it
        **SimpleHTTPRequestHandler.extensions_map,
        ".webmanifest": "application/manifest+json",
    }

    def __init__(self, server: Server, *arguments: Any) -> None:
        self.of = server
        super().__init__(*arguments, directory=str(server.folder))

    def setup(self) -> None:
        super().setup()
        self.of.connections.append(self.connection)

    def do_GET(self) -> None:
        self.of.asked.append(self.path)
        if self.of.dies_after is not None:
            self.of.dies_after -= 1
            if self.of.dies_after < 0:
                self.close_connection = True
                return
        super().do_GET()

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        page = self.of.folder / "404.html"
        if code != 404 or not page.is_file():
            super().send_error(code, message, explain)
            return
        body = page.read_bytes()
        self.send_response(404)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def end_headers(self) -> None:
        # Nothing may come out of the browser's own store: what is seen without a server was kept.
        self.send_header("Cache-Control", "no-store")
        super().end_headers()

    def log_message(self, *_: Any) -> None:
        """Keep quiet."""


def chromium() -> str | None:
    """Return the program of a Chromium, if there is one."""
    usual = "/usr/bin/chromium"
    return usual if os.access(usual, os.X_OK) else shutil.which("chromium")


def wanted(program: str | None, name: str) -> str:
    """Return the program, or skip the test for want of it."""
    if program is None:
        if os.environ.get("REFGEN_BROWSER") == "required":
            pytest.fail(f"there is no {name}, and REFGEN_BROWSER=required")
        pytest.skip(f"there is no {name}")
    return program


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium, without a window."""
    program = wanted(chromium(), "Chromium at /usr/bin/chromium or in PATH")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=program, args=ARGUMENTS)
        yield started
        started.close()


@pytest.fixture(scope="session")
def firefox(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Firefox]:
    """One Firefox, without a window."""
    program = wanted(installed(), "Firefox (firefox-esr) in PATH")
    with running(program, tmp_path_factory.mktemp("firefox")) as started:
        yield started


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A phone that has seen nothing yet."""
    phone = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True, locale="en-US"
    )
    phone.set_default_timeout(20_000)
    yield phone
    phone.close()


@pytest.fixture
def page(context: BrowserContext) -> Page:
    """A page on that phone."""
    return context.new_page()


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder of the demonstration, as `refgen build` makes it; not to be changed."""
    return built_once(tmp_path_factory, "pebblecombe")


@pytest.fixture(scope="session")
def quillfen(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder of the second invented company's site; not to be changed."""
    return built_once(tmp_path_factory, "quillfen")


@pytest.fixture
def server_of() -> Iterator[Callable[[Path], Server]]:
    """Serve a folder until the test ends, or until `.stop()`."""
    started: list[Server] = []

    def serve(folder: Path) -> Server:
        started.append(Server(folder))
        return started[-1]

    yield serve
    for server in started:
        with suppress(OSError):
            server.stop()
