"""Lessons and the machines side by side in a real browser: by script, without, and offline."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page

from tests.browser.conftest import Server, settled

pytestmark = pytest.mark.browser

LESSON = "lessons/cart-hour"


@pytest.fixture
def served(server_of: Callable[[Path], Server], quillfen: Path) -> Server:
    return server_of(quillfen)


def answer(page: Page, question: str, *answers: str) -> Locator:
    found = page.locator(f"#{question}")
    for name in answers:
        found.locator(f"input[value={name}]").check()
    found.locator("button.check").click()
    return found


def blank(page: Page, question: str) -> None:
    """Wait until a question is as it was before; on the way there the page loads anew."""
    asked = f"document.querySelector('{question}')"
    page.wait_for_function(f"{asked} && !{asked}.dataset.done")


def kept(page: Page) -> object:
    return json.loads(page.evaluate("localStorage.getItem('refgen:lesson:cart-hour')") or "null")


def test_the_answer_is_shown_after_trying_and_the_result_stays_on_the_phone(
    page: Page, served: Server
) -> None:
    page.goto(f"{served.url}{LESSON}.html")
    assert page.locator("#pulse details").is_hidden()
    assert page.locator(".result").is_hidden()
    page.locator("#pulse button.check").click()
    assert page.locator("#pulse .verdict").inner_text() == "Choose an answer first."
    wrong = answer(page, "pulse", "always")
    assert wrong.locator(".verdict").inner_text() == "Wrong"
    assert "It takes flow from the nozzle." in wrong.inner_text()
    assert page.locator(".score").inner_text() == "0 of 3 right at the first try. Still open: 2."
    assert answer(page, "bleed", "loaded").locator(".verdict").inner_text() == "Right"
    assert kept(page) == {"pulse": ["always"], "bleed": ["loaded"]}
    page.reload()
    assert page.locator("#pulse .verdict").inner_text() == "Wrong"
    assert page.locator("#pulse input").first.is_disabled()
    assert page.locator(".score").inner_text() == "1 of 3 right at the first try. Still open: 1."
    page.locator("button.clear").click()
    blank(page, "#pulse")
    assert kept(page) is None
    assert page.locator(".result").is_hidden()


def test_where_several_answers_are_right_all_of_them_are_wanted(page: Page, served: Server) -> None:
    page.goto(f"{served.url}{LESSON}.html")
    assert "More than one is right." in page.locator("#both-signs").inner_text()
    assert answer(page, "both-signs", "gauge").locator(".verdict").inner_text() == "Wrong"
    page.locator("button.clear").click()
    blank(page, "#both-signs")
    assert answer(page, "both-signs", "gauge", "limp").locator(".verdict").inner_text() == "Right"


def test_what_is_kept_and_is_none_of_our_making_breaks_nothing(page: Page, served: Server) -> None:
    page.goto(f"{served.url}{LESSON}.html")
    hostile = {"pulse": ["<img src=x onerror=alert(1)>"], "bleed": "loaded", "both-signs": ["limp"]}
    for text in (json.dumps(hostile), "[1]", "{broken", "null"):
        page.evaluate("text => localStorage.setItem('refgen:lesson:cart-hour', text)", text)
        page.reload()
        assert page.locator("#pulse button.check").is_visible()
        assert page.locator("#pulse").get_attribute("data-done") is None
        assert page.locator("img[src=x]").count() == 0


def test_the_result_prints_alone_with_a_line_for_the_name(page: Page, served: Server) -> None:
    page.goto(f"{served.url}{LESSON}.html")
    answer(page, "pulse", "bend")
    page.evaluate("window.print = () => { window.seen = document.documentElement.dataset.print; }")
    page.locator("button.print").click()
    assert page.evaluate("window.seen") == "result"
    assert page.evaluate("document.documentElement.dataset.print") is None
    page.evaluate("document.documentElement.dataset.print = 'result'")
    settled(page)
    page.emulate_media(media="print")
    assert page.locator(".result").is_visible()
    assert page.locator(".on-paper .line").first.is_visible()
    assert page.locator("h1").is_visible()
    assert page.locator("#pulse").is_hidden()
    assert page.locator(".lesson").first.is_hidden()


def test_without_script_the_answers_are_folded_and_nothing_dead_is_shown(
    browser: Browser, served: Server
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{served.url}{LESSON}.html")
    question = page.locator("#pulse")
    assert question.locator("input, button").count() == 0
    assert not question.locator("details").get_attribute("open")
    question.locator("summary").click()
    assert "It helps it slide." in question.inner_text()
    assert page.locator(".result").is_hidden()
    page.goto(f"{served.url}{LESSON}-trainer.html")
    assert page.locator(".class").is_hidden()
    assert "Only: Rush cart" in page.locator("#stops").inner_text()
    page.goto(f"{served.url}machines/compare.html")
    assert page.locator("[data-column=rush-cart]").first.is_visible()
    assert page.locator(".only-differing").is_hidden()
    context.close()


def choose(page: Page, *machines: str) -> None:
    for box in page.locator(".class input").all():
        box.set_checked(box.get_attribute("value") in machines)


def test_the_chosen_class_leaves_out_what_none_of_its_machines_has(
    page: Page, served: Server
) -> None:
    page.goto(f"{served.url}{LESSON}-trainer.html")
    choose(page, "sedge-truck")
    stops = page.locator("#stops")
    assert stops.locator("a[href*=dump-pedal]").is_hidden()
    assert stops.locator("a[href*=shut-off-pedal]").is_visible()
    # With one machine there is nobody to tell apart.
    assert stops.locator(".only").first.is_hidden()
    assert page.locator("#pulse").is_hidden()
    # Pulse valve (a row and a question), the cart's page, the dump pedal's test.
    assert page.locator(".left-out").inner_text().endswith(": 4")
    choose(page, "sedge-truck", "rush-cart")
    assert stops.locator("a[href*=dump-pedal]").is_visible()
    assert stops.locator(".only").first.is_visible()
    page.reload()
    assert page.locator(".class input[value=rush-cart]").is_checked()


def test_the_learners_link_carries_the_class_to_another_phone(
    page: Page, served: Server, browser: Browser
) -> None:
    page.goto(f"{served.url}{LESSON}-trainer.html")
    choose(page, "sedge-truck")
    link = page.locator("a[data-class]").first
    address = link.evaluate("link => link.href")
    assert address == f"{served.url}{LESSON}.html?class=sedge-truck"
    other = browser.new_page()
    other.goto(address)
    assert other.locator("#pulse").is_hidden()
    answer(other, "bleed", "loaded")
    # Only what is asked counts: the question on the pulse valve is not.
    assert other.locator(".score").inner_text() == "1 of 2 right at the first try. Still open: 1."
    other.close()


def test_a_learners_own_machine_stands_for_the_class_where_none_was_given(
    page: Page, served: Server
) -> None:
    page.goto(f"{served.url}my-machine.html")
    page.locator("button[data-machine=sedge-truck]").click()
    page.goto(f"{served.url}{LESSON}.html")
    assert page.locator("#pulse").is_hidden()
    page.goto(f"{served.url}{LESSON}.html?class=rush-cart")
    assert page.locator("#pulse").is_visible()


def test_side_by_side_only_the_chosen_machines_and_what_differs_between_them(
    page: Page, served: Server
) -> None:
    page.goto(f"{served.url}machines/compare.html")
    rows = page.locator("[data-row]")
    everything = rows.count()
    page.locator(".only-differing input").check()
    assert 0 < page.locator("[data-row]:visible").count() < everything
    assert (
        page.locator("[data-row]:visible[data-differs]").count()
        == page.locator("[data-row]:visible").count()
    )
    choose(page, "rush-cart")
    assert page.locator("[data-column=sedge-truck]:visible").count() == 0
    assert page.locator("[data-row]:visible").count() == 0  # one machine differs from nothing
    assert page.locator("[data-step-row]:visible").count() == 0
    assert page.locator("#_done").is_hidden()  # nor is there a heading over nothing


def test_a_way_back_leads_to_the_trainers_view_with_its_class(page: Page, served: Server) -> None:
    page.goto(f"{served.url}{LESSON}-trainer.html?class=rush-cart")
    page.locator("#stops .rows a[href*=dump-pedal]").click()
    back = page.locator(".back a")
    back.wait_for()
    assert back.inner_text() == "Back to the lesson, step 2 of 2"
    # The row led into the middle of the page, and the way back is in sight all the same.
    page.wait_for_function("scrollY > 100")
    box = back.bounding_box()
    assert box is not None
    assert 0 <= box["y"] < 48
    # What was led to is not under it.
    target = page.locator("#test").bounding_box()
    assert target is not None
    assert target["y"] >= box["y"] + box["height"]
    back.click()
    page.wait_for_url(f"**/{LESSON}-trainer.html?class=rush-cart#stops")
    assert page.locator("#stops a[href*=shut-off-pedal]").is_hidden()


def test_the_learners_view_works_without_network(
    context: BrowserContext, page: Page, served: Server
) -> None:
    page.goto(f"{served.url}{LESSON}.html")
    page.locator("#_kept", has_text="Saved for use without signal").wait_for(timeout=60_000)
    served.stop()
    page.goto(f"{served.url}{LESSON}.html?class=rush-cart")
    assert answer(page, "pulse", "bend").locator(".verdict").inner_text() == "Right"
    page.locator("#pulse .rows a").click()
    page.wait_for_url("**/parts/pulse-valve.html")
    assert page.locator(".back a").inner_text() == "Back to the lesson, question 2 of 3"
    assert "Pulse valve" in page.locator("h1").inner_text()
    page.goto(f"{served.url}machines/compare.html?class=rush-cart")
    assert page.locator("[data-column=sedge-truck]:visible").count() == 0


def test_the_lesson_works_from_a_folder(page: Page, quillfen: Path) -> None:
    page.goto(f"{(quillfen / LESSON).as_uri()}.html?class=rush-cart")
    assert page.locator("#bleed").is_hidden()
    assert answer(page, "pulse", "bend").locator(".verdict").inner_text() == "Right"
