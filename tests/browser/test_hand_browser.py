"""What the phone remembers in the hand: ticks, pinned pages; and one row of a table by itself."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import Server

pytestmark = pytest.mark.browser

STEPS = "procedures/start-machine.html"
LIST = "checklists/before-job.html"
TABLE = "tables/nozzle-size.html"


@pytest.fixture
def served(server_of: Callable[[Path], Server], site: Path) -> Server:
    return server_of(site)


def test_ticked_steps_outlive_the_page_and_are_cleared_by_two_presses(
    context: BrowserContext, page: Page, served: Server
) -> None:
    page.goto(served.url + STEPS)
    ticks = page.locator(".tick")
    assert ticks.count() == page.locator(".steps > li").count() >= 5
    box = ticks.first.bounding_box()
    assert box is not None
    assert min(box["width"], box["height"]) >= 48
    ticks.nth(0).click()
    ticks.nth(2).click()
    page.close()  # as a phone does with a page it has put away
    again = context.new_page()
    again.goto(served.url + STEPS)
    pressed = again.locator(".tick[aria-pressed=true]")
    expect(pressed).to_have_count(2)
    assert again.locator(".steps > li").nth(2).get_attribute("data-done") == ""
    clear = again.locator("button", has_text="Clear 2 of")
    clear.click()
    expect(pressed).to_have_count(2)  # one press may be a glove's
    again.get_by_role("button", name="Press again to clear the ticks").click()
    expect(pressed).to_have_count(0)
    again.reload()
    expect(again.locator(".tick").first).to_be_visible()
    expect(pressed).to_have_count(0)


def test_a_checklist_keeps_its_ticks_and_each_page_its_own(page: Page, served: Server) -> None:
    page.goto(served.url + LIST)
    boxes = page.locator(".ticks input")
    boxes.nth(1).check()
    page.goto(served.url + STEPS)
    expect(page.locator(".tick[aria-pressed=true]")).to_have_count(0)
    page.goto(served.url + LIST)
    expect(boxes.nth(1)).to_be_checked()
    expect(boxes.nth(0)).not_to_be_checked()


def test_ticks_do_not_stand_on_steps_that_have_changed(page: Page, served: Server) -> None:
    page.goto(served.url + STEPS)
    page.locator(".tick").first.click()
    page.evaluate(
        """() => { const name = 'refgen:ticks:' + location.pathname;
             const kept = JSON.parse(localStorage.getItem(name));
             kept.mark = '0ld0ld0l'; localStorage.setItem(name, JSON.stringify(kept)); }"""
    )
    page.reload()
    expect(page.get_by_role("status").first).to_contain_text("This page has changed.")
    expect(page.locator(".tick[aria-pressed=true]")).to_have_count(0)


def test_without_script_there_is_no_control_that_does_nothing(
    browser: Browser, served: Server
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    for address in (STEPS, TABLE, "symptoms/milky-oil.html"):
        page.goto(served.url + address)
        assert page.locator("main button:visible").count() == 0
    page.goto(served.url + TABLE)
    assert page.locator(".look tbody th").first.is_visible()
    context.close()


def test_pages_last_looked_at_and_pinned_ones_stand_on_home(page: Page, served: Server) -> None:
    page.goto(f"{served.url}symptoms/milky-oil.html")
    page.get_by_role("button", name="Pin this page to Home").click()
    page.goto(served.url + STEPS)
    page.goto(f"{served.url}emergency.html")  # always in reach: not worth a line
    page.goto(f"{served.url}index.html")
    pinned = page.locator("section", has=page.get_by_role("heading", name="Pinned"))
    seen = page.locator("section", has=page.get_by_role("heading", name="Last looked at"))
    assert pinned.locator("a").all_inner_texts() == ["Milky oil in the pump"]
    heads = seen.locator("a").all_inner_texts()
    assert len(heads) == 2
    assert heads[1] == "Milky oil in the pump"
    pinned.locator("a").click()
    page.get_by_role("button", name="Take this page off Home").click()
    page.goto(f"{served.url}index.html")
    assert pinned.count() == 0
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


def test_nothing_kept_can_lead_off_the_site(page: Page, served: Server) -> None:
    page.goto(f"{served.url}index.html")
    bad = [
        ["https://a.example/x.html", "away"],
        ["javascript:alert(1)//.html", "run"],
        ["../x.html", "up"],
    ]
    page.evaluate("kept => localStorage.setItem('refgen:pinned:/', kept)", json.dumps(bad))
    page.reload()
    assert page.get_by_role("heading", name="Pinned").count() == 0


def test_a_rows_name_shows_that_row_alone_on_a_narrow_phone(page: Page, served: Server) -> None:
    page.goto(served.url + TABLE)
    table = page.locator(".look:has(thead th:nth-child(5))").first
    row = table.locator("tbody tr").nth(1)
    heads = [" ".join(head.split()) for head in table.locator("thead th").all_inner_texts()][1:]
    cells = [" ".join(cell.split()) for cell in row.locator("td").all_inner_texts()]
    row.locator("th a, th button").first.click()
    dialog = page.get_by_role("dialog")
    assert [" ".join(t.split()) for t in dialog.locator("dt").all_inner_texts()] == heads
    assert [" ".join(t.split()) for t in dialog.locator("dd").all_inner_texts()] == cells
    assert page.evaluate("document.querySelector('dialog').scrollWidth") <= 390
    dialog.get_by_role("button", name="Row below").click()
    expect(dialog.locator("h2")).to_have_text(table.locator("tbody th").nth(2).inner_text())
    dialog.get_by_role("button", name="Back to the table").click()
    expect(page.get_by_role("dialog")).to_have_count(0)


def test_on_a_wide_screen_a_rows_name_is_the_link_it_was(browser: Browser, served: Server) -> None:
    page = browser.new_context(viewport={"width": 1000, "height": 800}).new_page()
    page.goto(f"{served.url}tables/at-the-nozzle.html")
    link = page.locator(".look tbody th a").first
    address = link.get_attribute("href")
    assert address is not None
    link.click()
    page.wait_for_url("**/" + address.removeprefix("../").split("#")[0] + "*")
    page.context.close()


def test_the_chosen_machines_row_is_in_view_at_once(page: Page, served: Server, site: Path) -> None:
    page.goto(f"{served.url}my-machine.html")
    machines = page.locator("button[data-machine]:not([data-machine=''])")
    name = machines.last.get_attribute("data-machine")
    machines.last.click()
    seen = 0
    for path in sorted((site / "tables").glob("*.html")):
        page.goto(f"{served.url}tables/{path.name}")
        for box in page.locator(f".box:has(tr[data-row-machine={name}])").all():
            frame = box.bounding_box()
            row = box.locator("tr[data-mine]").first.bounding_box()
            assert frame is not None
            assert row is not None
            assert frame["y"] <= row["y"] < frame["y"] + frame["height"] - 24, path.name
            seen += 1
    assert seen >= 1
