"""The policy of README's server snippets, put on every page: nothing of the site breaks by it."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import ConsoleMessage, Page, Route

from tests.browser.conftest import Server

pytestmark = pytest.mark.browser

README = (Path(__file__).resolve().parents[2] / "README.md").read_text("utf-8")
PAGES = [
    "index.html",
    "search.html?q=roots",
    "worksheet.html",
    "tables/nozzle-size.html",
    "machines/rush-cart-handbook.html",
    "machines/compare.html",
    "lessons/cart-hour.html",
    "marks.html",
    "changes.html",
    "patterns/flusher.html",
    "404.html",
]


def snippet(name: str) -> str:
    found = re.search(rf"<!-- {name} -->\n```\w+\n(.*?)```", README, re.DOTALL)
    assert found, name
    return found[1]


def headers(text: str) -> dict[str, str]:
    return dict(re.findall(r"(?:add_header|header) ([\w-]+) \"([^\"]+)\"", text))


def test_both_servers_are_told_the_same() -> None:
    assert headers(snippet("nginx")) == headers(snippet("caddy"))
    assert headers(snippet("nginx"))["Cache-Control"] == "no-cache"


def test_nothing_breaks_under_the_policy(
    page: Page, server_of: Callable[[Path], Server], quillfen: Path
) -> None:
    server = server_of(quillfen)
    refused: list[str] = []

    def heard(message: ConsoleMessage) -> None:
        if "Content Security Policy" in message.text or message.type == "error":
            refused.append(message.text)

    def with_headers(route: Route) -> None:
        answer = route.fetch()
        route.fulfill(response=answer, headers={**answer.headers, **headers(snippet("nginx"))})

    page.on("console", heard)
    page.on("pageerror", lambda error: refused.append(str(error)))
    page.route("**/*", with_headers)
    for address in PAGES:
        page.goto(server.url + address, wait_until="load")
        page.wait_for_timeout(200)
        assert page.locator("h1").is_visible(), address
    assert refused == []
