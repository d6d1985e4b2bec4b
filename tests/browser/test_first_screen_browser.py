"""Answer, caution and next step stand on the first screen, above the bar, and can be read there."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import Server
from tests.browser.test_pages_browser import ONE_OF_EACH_KIND, SIZES

pytestmark = pytest.mark.browser

# What each kind of page is opened for, once the answer and the caution have been read: the first
# of these that is in sight. A page that has none of them fails.
NEXT = (
    ".first, .step .do, .question h2, p.do, .limits dl > div, .ticks li, .look tbody tr, "
    ".facts > div, .rows a, .ways li, .find input, .terms > div, #_does + ul li"
)
MEASURED = """next => {
  const seen = selector => [
    ...document.querySelectorAll('main ' + selector.replaceAll(', ', ', main '))]
    .find(element => element.checkVisibility());
  const place = element => element && (
    ({top, bottom}) => [top, bottom])(element.getBoundingClientRect());
  return {
    answer: place(seen('.answer, .caution')), caution: place(seen('.caution')),
    next: place(seen(next)), bar: document.querySelector('.bar').getBoundingClientRect().top,
    width: document.documentElement.scrollWidth,
  };
}"""
NOTHING_NEXT = ("changes.html",)  # with nothing kept of the last edition it only says so
BEGUN = 24  # px of the next step that show that it is there: a line of its text
PRINTED = ("-handbook.html",)  # a book, which begins with its contents; cautions are in its parts


def measured(page: Page, url: str) -> dict[str, Any]:
    page.goto(url, wait_until="domcontentloaded")  # scripts are deferred, so they have run
    found: dict[str, Any] = page.evaluate(MEASURED, NEXT)
    return found


@pytest.fixture(scope="module")
def entries(site: Path) -> list[str]:
    catalog = json.loads((site / "catalog.json").read_text("utf-8"))
    return [entry["address"] for entry in catalog]


@pytest.fixture(params=SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def phone(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    width, height = request.param
    context = browser.new_context(
        viewport={"width": width, "height": height}, is_mobile=True, service_workers="block"
    )
    yield context.new_page()
    context.close()


def test_one_page_of_each_kind_has_them_whole(
    phone: Page, server_of: Callable[[Path], Server], site: Path
) -> None:
    server = server_of(site)
    short = {}
    for address in ONE_OF_EACH_KIND:
        found = measured(phone, server.url + address)
        parts = ["answer", "next"] + ["caution"] * (not address.endswith(PRINTED))
        ends = {part: found[part][1] for part in parts if found[part]}
        if not {"next"} <= ends.keys() or max(ends.values()) > found["bar"]:
            short[address] = ends
    assert short == {}


def test_every_page_is_no_wider_and_its_answer_and_caution_are_whole_and_the_next_step_has_begun(
    phone: Page, server_of: Callable[[Path], Server], site: Path, entries: list[str]
) -> None:
    server = server_of(site)
    assert phone.viewport_size is not None
    wide, short = [], {}
    for address in entries:
        found = measured(phone, server.url + address)
        if found["width"] > phone.viewport_size["width"]:
            wide.append(address)
        caution = None if address.endswith(PRINTED) else found["caution"]
        whole = all(part[1] <= found["bar"] for part in (found["answer"], caution) if part)
        if found["next"] is None and address in NOTHING_NEXT:
            continue
        if not whole or found["next"] is None or found["next"][0] + BEGUN > found["bar"]:
            short[address] = found
    assert short == {}
    assert wide == []


def test_the_longest_words_do_not_lie_on_one_another_with_text_at_200_per_cent(
    browser: Browser, server_of: Callable[[Path], Server], site: Path
) -> None:
    server = server_of(site)
    context = browser.new_context(viewport={"width": 390, "height": 844}, is_mobile=True)
    page = context.new_page()
    wide = []
    for address in ONE_OF_EACH_KIND:
        if address.endswith(PRINTED):
            continue
        page.goto(server.url + address)
        # As a browser's own setting of the size of text does: every size grows, the width stays.
        page.evaluate(
            """() => { for (const e of document.querySelectorAll('body, body *'))
                 e.dataset.size = getComputedStyle(e).fontSize;
               for (const e of document.querySelectorAll('body, body *'))
                 e.style.fontSize = 2 * parseFloat(e.dataset.size) + 'px'; }"""
        )
        if page.evaluate("document.documentElement.scrollWidth") > 390:
            wide.append(address)
    assert wide == []
    context.close()
