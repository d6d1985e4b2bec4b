"""What people do with the pages in a real browser: choose a machine, copy, teach, print."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import Server, settled

pytestmark = pytest.mark.browser


@pytest.fixture
def served(server_of: Callable[[Path], Server], site: Path) -> Server:
    return server_of(site)


def choose(page: Page, served: Server, machine: str) -> None:
    page.goto(f"{served.url}my-machine.html")
    page.locator(f"button[data-machine={machine}]").click()


def test_a_chosen_machine_is_kept_and_every_page_shows_what_it_has(
    page: Page, served: Server
) -> None:
    choose(page, served, "hazel-van")
    page.goto(f"{served.url}procedures/start-machine.html")
    drive = page.locator("#start-drive")
    assert drive.locator("[data-needs=electric-motor]").is_visible()
    assert drive.locator("[data-needs-any]").is_hidden()
    assert page.locator("#pulse-off").is_hidden()
    page.reload()
    assert page.locator("#pulse-off").is_hidden()
    assert "Hazel" in page.locator(".mine").inner_text()
    page.locator(".mine button").click()
    assert page.locator("#pulse-off").is_visible()


def test_a_path_asks_the_chosen_machine_only_what_it_can_answer(page: Page, served: Server) -> None:
    choose(page, served, "hazel-van")
    page.goto(f"{served.url}paths/engine-trouble.html")
    assert page.locator("#motor").is_visible()
    assert page.locator("#hums").is_visible()
    for gone in ("#starting", "#hunts", "#remote", "#how-dies"):
        assert page.locator(gone).is_hidden(), gone
    answers = page.locator("#which li:visible")
    assert answers.count() == 5
    assert page.locator("#which a[href='#remote']").is_hidden()
    for link in page.locator(".question li:visible a").all():
        assert page.locator(str(link.get_attribute("href"))).is_visible()
    page.get_by_role("button", name="Show for all machines").click()
    assert page.locator("#starting").is_visible()
    assert page.locator("#which li:visible").count() == 8


def test_rows_to_a_part_the_chosen_machine_lacks_are_gone(page: Page, served: Server) -> None:
    hides = "symptoms/pedal-sticks.html"
    page.goto(f"{served.url}{hides}")
    both = page.locator("a[href^='../parts/'][href*=-pedal]")
    assert {link.inner_text().split("\n")[0] for link in both.all() if link.is_visible()} == {
        "Dump pedal",
        "Shut-off pedal",
    }
    choose(page, served, "hazel-van")
    page.goto(f"{served.url}{hides}")
    assert page.locator("a[href='../parts/dump-pedal.html']").first.is_visible()
    for row in page.locator("a[href='../parts/shut-off-pedal.html']").all():
        assert row.is_hidden()
    page.goto(f"{served.url}parts/index.html")
    assert page.locator("a[href='../parts/radio-remote.html']").is_hidden()
    assert page.locator("a[href='../parts/unloader.html']").is_visible()
    page.goto(f"{served.url}parts/radio-remote.html")
    assert page.locator("[data-lacks]").inner_text() == "Hazel van unit does not have this."
    page.goto(f"{served.url}parts/dump-pedal.html")
    assert page.locator("[data-lacks]").is_hidden()
    page.goto(f"{served.url}machines/hazel-van.html")
    page.locator("#_not_fitted summary").click()
    assert page.locator("#_not_fitted a[href$='radio-remote.html']").is_visible()


def test_a_heading_goes_with_the_last_of_its_rows(page: Page, served: Server) -> None:
    choose(page, served, "hazel-van")
    page.goto(f"{served.url}index.html")
    for address in ("parts/index.html", "parts/dump-pedal.html", "symptoms/remote-dead.html"):
        page.goto(f"{served.url}{address}")
        for section in page.locator("section.links:visible").all():
            assert section.locator("li:visible, details").count(), address


def test_the_chosen_machines_rows_are_marked_in_tables(page: Page, served: Server) -> None:
    choose(page, served, "alder-barrow")
    page.goto(f"{served.url}tables/machine-jets.html")
    marked = page.locator("tr[data-mine]")
    assert marked.count() >= 1
    for index in range(marked.count()):
        assert marked.nth(index).get_attribute("data-row-machine") == "alder-barrow"


def test_without_script_every_variant_is_there_and_marked(browser: Browser, served: Server) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{served.url}procedures/start-machine.html")
    drive = page.locator("#start-drive")
    assert drive.locator("[data-needs=electric-motor]").is_visible()
    assert drive.locator("[data-needs-any]").is_visible()
    assert "Only with" in drive.inner_text()
    page.goto(f"{served.url}emergency.html")
    assert page.locator("main .rows a").first.is_visible()
    context.close()


def test_nothing_kept_in_the_browser_can_become_markup(page: Page, served: Server) -> None:
    page.goto(f"{served.url}index.html")
    hostile = json.dumps(
        {"id": "x", "title": "<img src=x onerror=alert(1)>", "parts": "pulse-valve"}
    )
    page.evaluate("kept => localStorage.setItem('refgen:machine', kept)", hostile)
    dialogs: list[str] = []
    page.on("dialog", lambda dialog: dialogs.append(dialog.message))
    page.goto(f"{served.url}procedures/start-machine.html")
    assert "<img src=x onerror=alert(1)>" in page.locator(".mine span").inner_text()
    page.evaluate("localStorage.setItem('refgen:machine', '{broken')")
    page.reload()
    assert page.locator("#pulse-off").is_visible()
    assert dialogs == []


def test_the_chosen_look_is_kept(page: Page, served: Server) -> None:
    page.goto(f"{served.url}index.html")
    ground = "getComputedStyle(document.body).backgroundColor"
    before = page.evaluate(ground)
    page.locator("button.look").click()
    after = page.evaluate(ground)
    assert before != after
    page.goto(f"{served.url}materials/pvc-solid.html")
    assert page.evaluate(ground) == after


def test_a_steps_number_copies_its_link(browser: Browser, served: Server) -> None:
    context = browser.new_context(permissions=["clipboard-read", "clipboard-write"])
    page = context.new_page()
    page.goto(f"{served.url}procedures/start-machine.html")
    page.locator("#prime .num").click()
    page.get_by_text("Link copied").wait_for()
    copied = page.evaluate("navigator.clipboard.readText()")
    assert copied == f"{served.url}procedures/start-machine.html#prime"
    context.close()


def test_a_link_from_a_lesson_leads_back_to_its_step(page: Page, served: Server) -> None:
    page.goto(f"{served.url}lessons/first-day.html")
    step = page.locator(".lesson").nth(1)
    anchor = step.get_attribute("id")
    step.locator(".rows a").first.click()
    back = page.locator(".back a")
    back.wait_for()
    assert "step 2 of" in back.inner_text()
    back.click()
    page.wait_for_url(f"**/lessons/first-day.html#{anchor}")
    page.goto(f"{served.url}index.html")
    assert page.locator(".back").is_hidden()


def test_a_page_past_its_review_date_says_so_by_the_readers_clock(
    page: Page, served: Server
) -> None:
    page.clock.set_fixed_time("2026-12-01T12:00:00")
    page.goto(f"{served.url}materials/pvc-solid.html")
    assert page.locator(".overdue").is_hidden()
    page.clock.set_fixed_time("2031-01-01T12:00:00")
    page.goto(f"{served.url}materials/pvc-solid.html")
    assert page.locator(".overdue").is_visible()


def test_row_and_column_names_stay_in_view_in_a_wide_table(page: Page, served: Server) -> None:
    page.goto(f"{served.url}tables/nozzle-size.html")
    box = page.locator(".box").nth(1)
    box.scroll_into_view_if_needed()
    box.evaluate("box => box.scrollTo(300, 300)")
    frame = box.bounding_box()
    assert frame is not None
    head = box.locator("thead th").nth(5).bounding_box()
    name = box.locator("tbody th").nth(6).bounding_box()
    assert head is not None
    assert name is not None
    assert abs(head["y"] - frame["y"]) <= 2
    assert abs(name["x"] - frame["x"]) <= 2
    assert box.evaluate("box => box.scrollLeft") > 200


@pytest.mark.parametrize(
    "address", ["tables/nozzle-size.html", "tables/at-the-nozzle.html", "tables/ceilings.html"]
)
def test_print_loses_no_column(page: Page, served: Server, address: str) -> None:
    page.goto(served.url + address)
    settled(page)
    page.emulate_media(media="print")
    for width in (718, 740):  # A4 and Letter within margins of 10 mm, at 96 dots an inch
        page.set_viewport_size({"width": width, "height": 1000})
        cut = page.evaluate(
            """() => [...document.querySelectorAll('.box')]
              .filter(b => b.scrollWidth > b.clientWidth + 1 || b.scrollHeight > b.clientHeight + 1)
              .map(b => [b.scrollWidth, b.clientWidth])"""
        )
        assert cut == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width
