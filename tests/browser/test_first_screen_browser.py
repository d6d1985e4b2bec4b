"""Answer, caution and next step stand on the first screen, above the bar, and can be read there."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import Server, settled
from tests.browser.sorts import ADDRESSES

pytestmark = pytest.mark.browser

UPRIGHT = [(390, 844), (360, 640)]
SIDEWAYS = (844, 390)

# What each kind of page is opened for, once the answer and the caution have been read: the first
# of these that is in sight. A page that has none of them fails.
NEXT = (
    ".first, .step .do, .question h2, p.do, .limits dl > div, .ticks li, .look tbody tr, "
    ".facts > div, .rows a, .ways li, .find input, .terms > div, #_does + ul li, .letters a, "
    ".ws-field select"
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
    page.goto(url, wait_until="domcontentloaded")
    settled(page)
    return measured_now(page, NEXT)


def measured_now(page: Page, following: str) -> dict[str, Any]:
    found: dict[str, Any] = page.evaluate(MEASURED, following)
    return found


def short_of(found: dict[str, Any], address: str) -> bool:
    """Whether answer or caution is cut by the bar, or the next step has not begun above it."""
    caution = None if address.endswith(PRINTED) else found["caution"]
    whole = all(part[1] <= found["bar"] for part in (found["answer"], caution) if part)
    if found["next"] is None and address in NOTHING_NEXT:
        return not whole
    return not whole or found["next"] is None or found["next"][0] + BEGUN > found["bar"]


@pytest.fixture(scope="module")
def entries(site: Path) -> list[str]:
    catalog = json.loads((site / "catalog.json").read_text("utf-8"))
    return [entry["address"] for entry in catalog]


@pytest.fixture(params=UPRIGHT, ids=lambda size: f"{size[0]}x{size[1]}")
def phone(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    width, height = request.param
    context = browser.new_context(
        viewport={"width": width, "height": height}, is_mobile=True, service_workers="block"
    )
    yield context.new_page()
    context.close()


def test_one_page_of_each_sort_has_them_whole_and_on_its_side_the_next_step_has_begun(
    phone: Page, server_of: Callable[[Path], Server], site: Path
) -> None:
    server = server_of(site)
    upright = phone.viewport_size
    assert upright is not None
    short = {}
    for address in ADDRESSES:
        phone.set_viewport_size(upright)
        phone.goto("about:blank")  # or a change of what follows # alone would keep the page
        found = measured(phone, server.url + address)
        parts = ["answer", "next"] + ["caution"] * (not address.endswith(PRINTED))
        ends = {part: found[part][1] for part in parts if found[part]}
        missing = "next" not in ends and address not in NOTHING_NEXT
        if missing or max(ends.values(), default=0) > found["bar"]:
            short[address] = ends
        phone.set_viewport_size({"width": SIDEWAYS[0], "height": SIDEWAYS[1]})
        # There the choice of machines may be the next step, before what hangs on it.
        found = measured_now(phone, f"{NEXT}, .class label")
        if short_of(found, address):
            short[f"{address} on its side"] = found
    assert short == {}


def test_every_page_is_no_wider_and_its_answer_and_caution_are_whole_and_the_next_step_has_begun(
    browser: Browser, server_of: Callable[[Path], Server], site: Path, entries: list[str]
) -> None:
    server = server_of(site)
    context = browser.new_context(is_mobile=True, service_workers="block")
    page = context.new_page()
    wide, short = [], {}
    for address in entries:
        page.goto(server.url + address, wait_until="domcontentloaded")
        for width, height in UPRIGHT:  # loaded once for both: what it takes is the loading
            page.set_viewport_size({"width": width, "height": height})
            found = measured_now(page, NEXT)
            if found["width"] > width:
                wide.append((address, width))
            if short_of(found, address):
                short[address, width] = found
    context.close()
    assert short == {}
    assert wide == []
