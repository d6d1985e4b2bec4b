"""A walk by keyboard through home, search, a symptom, a table, the worksheet, lessons and ticks.

At each stop the focus is measured: its outline, the contrast of it to what it lies on, and that no
bar hides it. Contrast as WCAG 2.2 defines it, 3:1 for what is not text (1.4.11, 2.4.11).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from refgen.colours import contrast
from tests.browser.conftest import Server, settled

pytestmark = pytest.mark.browser

TABLE = "tables/nozzle-size.html"
CHECKLIST, TRAINER = "checklists/before-job.html", "lessons/first-day-trainer.html"
LESSON, COMPARISON = "lessons/first-day.html", "machines/compare.html"
# Where the outline lies: inside the element's edge on its own ground, outside it on its parent's.
STOP = """() => {
  const e = document.activeElement;
  if (!e || e === document.body) return null;
  const shown = e.matches('[type=file]') ? e.closest('label') : e;
  const style = getComputedStyle(shown), b = shown.getBoundingClientRect();
  let under = parseFloat(style.outlineOffset) < 0 ? shown : shown.parentElement, ground = '';
  for (; under && !ground; under = under.parentElement) {
    const colour = getComputedStyle(under).backgroundColor;
    if (!/, 0\\)$/.test(colour)) ground = colour;
  }
  const inside = [];
  for (const x of [b.left + 4, (b.left + b.right) / 2, b.right - 4])
    for (const y of [b.top + 4, (b.top + b.bottom) / 2, b.bottom - 4]) {
      const top = document.elementFromPoint(x, y);
      inside.push(!!top && (shown.contains(top) || top.contains(shown)));
    }
  return {
    name: e.outerHTML.slice(0, 90), tag: e.tagName, id: e.id, bar: !!e.closest('.bar'),
    line: style.outlineStyle, width: parseFloat(style.outlineWidth), colour: style.outlineColor,
    ground, seen: inside.some(Boolean),
    place: [...document.body.querySelectorAll('*')].indexOf(e),
    index: e.tabIndex,
  };
}"""

# Whether the first table has been scrolled sideways, given two seconds. Asked in the page itself,
# since its policy allows no script made of a text.
SCROLLED = """() => new Promise(done => {
  const from = performance.now();
  (function look() {
    const scrolled = document.querySelector('.box').scrollLeft > 0;
    if (scrolled || performance.now() > from + 2000) done(scrolled);
    else requestAnimationFrame(look);
  })();
})"""


@pytest.fixture(scope="module")
def desk(browser: Browser) -> Iterator[Page]:
    """A narrow window with a keyboard and a mouse, so narrow that rows are shown alone."""
    context = browser.new_context(
        viewport={"width": 390, "height": 640}, reduced_motion="reduce", service_workers="block"
    )
    yield context.new_page()
    context.close()


@pytest.fixture
def served(server_of: Callable[[Path], Server], site: Path) -> Server:
    return server_of(site)


def hexed(colour: str) -> str:
    """Return what a browser says of an opaque colour as `#rrggbb`."""
    red, green, blue = (int(part) for part in re.findall(r"\d+", colour)[:3])
    return f"#{red:02x}{green:02x}{blue:02x}"


def stop(page: Page) -> dict[str, Any]:
    """Return where the focus is, having seen that it shows and that nothing hides it."""
    here: dict[str, Any] | None = page.evaluate(STOP)
    assert here is not None, "the focus is nowhere"
    assert here["line"] == "solid", here
    assert here["width"] >= 3, here
    assert contrast(hexed(here["colour"]), hexed(here["ground"])) >= 3, here
    assert here["seen"], here
    return here


def walk(page: Page, most: int = 400) -> list[dict[str, Any]]:
    """Press Tab from the top of the page until the focus leaves it; return every stop."""
    page.evaluate("document.activeElement.blur(); scrollTo(0, 0)")
    stops = []
    for _ in range(most):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement === document.body"):
            return stops
        here = stop(page)
        if stops and here["place"] == stops[0]["place"]:  # out at the end and in at the top
            return stops
        stops.append(here)
    pytest.fail(f"no way out within {most} stops")


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize(
    "address",
    [
        "index.html",
        "symptoms/gauge-low-steady.html",
        TABLE,
        "worksheet.html",
        LESSON,
        TRAINER,
        COMPARISON,
        CHECKLIST,
    ],
)
def test_tab_reaches_everything_in_reading_order_seen_and_unhidden(
    desk: Page, served: Server, address: str, look: str
) -> None:
    desk.goto(served.url + address)
    settled(desk)
    desk.evaluate("look => document.documentElement.setAttribute('data-look', look)", look)
    stops = walk(desk)
    places = [here["place"] for here in stops]
    assert places == sorted(places)
    assert len(set(places)) == len(places)
    assert {here["index"] for here in stops} == {0}
    assert "skip" in stops[0]["name"]
    assert [here["bar"] for here in stops[-4:]] == [True] * 4
    reachable = desk.evaluate(  # answers of which one alone can be chosen are one stop
        """() => new Set([...document.querySelectorAll(
             'a[href], button, input, select, textarea, summary, .box')]
           .filter(e => e.checkVisibility())
           .map(e => e.type === 'radio' ? e.name : e)).size"""
    )
    assert len(stops) == reachable


def test_the_focus_is_not_hidden_by_the_bar_with_text_twice_as_large(
    desk: Page, served: Server
) -> None:
    desk.goto(f"{served.url}symptoms/gauge-low-steady.html")
    desk.add_style_tag(content=".bar a { font-size: 1.7rem; } main { font-size: 2rem; }")
    desk.wait_for_function("parseFloat(document.documentElement.style.scrollPaddingBottom) > 100")
    walk(desk)


def test_the_link_to_the_text_leads_past_the_heading(desk: Page, served: Server) -> None:
    desk.goto(f"{served.url}symptoms/gauge-low-steady.html")
    desk.keyboard.press("Tab")
    stop(desk)
    desk.keyboard.press("Enter")
    assert desk.url.endswith("#_text")
    desk.keyboard.press("Tab")
    assert desk.evaluate("document.querySelector('main').contains(document.activeElement)")


def test_search_by_keyboard_from_home_to_the_page_and_back_out(desk: Page, served: Server) -> None:
    desk.goto(f"{served.url}index.html")
    link = desk.locator(".bar a[href='search.html']")
    link.focus()
    desk.keyboard.press("Enter")
    desk.wait_for_url("**/search.html")
    field = desk.get_by_role("combobox")
    expect(field).to_be_focused()
    desk.evaluate("refgenSearch.load().then(() => true)")
    stop(desk)
    desk.keyboard.type("milky oil")
    first = desk.locator("#found a").first
    expect(first).to_be_visible()
    desk.keyboard.press("ArrowDown")
    expect(first).to_have_attribute("aria-selected", "true")
    desk.keyboard.press("Escape")
    expect(first).to_have_attribute("aria-selected", "false")
    desk.keyboard.press("Tab")
    expect(first).to_be_focused()
    stop(desk)
    desk.keyboard.press("Shift+Tab")
    expect(field).to_be_focused()
    desk.keyboard.press("ArrowDown")
    desk.keyboard.press("Enter")
    desk.wait_for_url("**/symptoms/milky-oil.html")


def test_a_table_is_scrolled_and_a_row_shown_alone_by_keyboard(desk: Page, served: Server) -> None:
    desk.goto(served.url + TABLE)
    box = desk.locator(".box").first
    box.focus()
    stop(desk)
    desk.keyboard.press("ArrowRight")
    desk.keyboard.press("ArrowRight")
    assert desk.evaluate(SCROLLED)
    desk.keyboard.press("Tab")
    name = desk.locator(".look tbody th :is(a, button)").first
    expect(name).to_be_focused()
    desk.keyboard.press("Enter")
    dialog = desk.get_by_role("dialog")
    expect(dialog).to_be_visible()
    for _ in range(8):  # the focus stays in what is open
        desk.keyboard.press("Tab")
        if desk.evaluate("document.activeElement !== document.body"):
            assert desk.evaluate("!!document.activeElement.closest('dialog')")
            stop(desk)
    desk.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    expect(name).to_be_focused()
    stop(desk)


def test_the_worksheet_is_filled_in_and_answers_by_keyboard(desk: Page, served: Server) -> None:
    desk.goto(f"{served.url}worksheet.html")
    settled(desk)
    desk.locator("#ws-pick-machine").focus()
    desk.keyboard.type("Alder")
    desk.keyboard.press("Tab")
    desk.keyboard.type("Quarter-inch flusher")
    expect(desk.locator("#ws-pick-nozzle")).to_have_value("quarter-flusher")
    expect(desk.locator(".ws-answers .answer")).not_to_be_empty()
    expect(desk.locator("[data-now=gauge] b")).to_contain_text("psi")
    expect(desk.locator(".ws-spoken")).to_contain_text("psi")  # told to who does not see it
    desk.locator("#worksheet summary").first.focus()
    desk.keyboard.press("Enter")
    flow = desk.locator("#ws-pump-flow")
    expect(flow).to_be_visible()
    flow.focus()
    stop(desk)
    desk.keyboard.press("ControlOrMeta+a")
    desk.keyboard.type("many")
    expect(flow).to_have_attribute("aria-invalid", "true")
    desk.keyboard.press("ControlOrMeta+a")
    desk.keyboard.type("3.5")
    expect(flow).not_to_have_attribute("aria-invalid", "true")


def press_here(page: Page, key: str) -> dict[str, Any]:
    """Press a key on what has the focus; return where the focus is then, shown and unhidden."""
    page.keyboard.press(key)
    return stop(page)


def test_a_question_is_answered_by_keyboard_and_the_reasons_follow(
    desk: Page, served: Server
) -> None:
    desk.goto(served.url + LESSON)
    question = desk.locator(".question").first
    inputs = question.locator("input")
    inputs.first.focus()
    stop(desk)
    several = inputs.first.get_attribute("type") == "checkbox"
    press_here(desk, "Space")
    expect(inputs.first).to_be_checked()
    if not several:  # arrows go through answers of which one alone can be chosen
        press_here(desk, "ArrowDown")
        expect(inputs.nth(1)).to_be_checked()
        expect(inputs.first).not_to_be_checked()
    inputs.last.focus()
    press_here(desk, "Tab")
    check = question.locator("button.check")
    expect(check).to_be_focused()
    press_here(desk, "Enter")
    expect(check).to_be_hidden()
    reasons = question.locator("summary")
    expect(reasons).to_be_focused()
    press_here(desk, "Space")
    expect(question.locator("details")).not_to_have_attribute("open", "")
    press_here(desk, "Enter")
    expect(question.locator("details")).to_have_attribute("open", "")


def test_the_machines_of_a_class_are_chosen_by_keyboard(desk: Page, served: Server) -> None:
    desk.goto(served.url + TRAINER)
    box = desk.locator(".class input[name=class]").first
    box.focus()
    stop(desk)
    for now in (True, False):
        press_here(desk, "Space")
        expect(box).to_be_checked(checked=now)
        expect(box).to_be_focused()


def test_ticks_are_set_and_cleared_by_keyboard(desk: Page, served: Server) -> None:
    desk.goto(served.url + CHECKLIST)
    ticks = desk.locator(".ticks input")
    ticks.first.focus()
    stop(desk)
    press_here(desk, "Space")
    press_here(desk, "Tab")
    press_here(desk, "Space")
    assert [tick.is_checked() for tick in ticks.all()[:3]] == [True, True, False]
    clear = desk.locator("button.choose", has_text="2 of")
    clear.focus()
    press_here(desk, "Enter")  # asks whether it is meant
    expect(ticks.first).to_be_checked()
    press_here(desk, "Enter")
    expect(desk.locator(".ticks input:checked")).to_have_count(0)
    expect(ticks.first).to_be_focused()


def test_steps_are_ticked_by_keyboard(desk: Page, served: Server) -> None:
    desk.goto(f"{served.url}procedures/start-machine.html")
    tick = desk.locator("button.tick").first
    tick.focus()
    stop(desk)
    press_here(desk, "Space")
    expect(tick).to_have_attribute("aria-pressed", "true")
    press_here(desk, "Enter")
    expect(tick).to_have_attribute("aria-pressed", "false")


def test_to_show_the_steps_of_all_machines_leaves_the_focus_at_the_heading(
    desk: Page, served: Server
) -> None:
    desk.goto(f"{served.url}my-machine.html")
    desk.locator("button[data-machine]").first.click()
    desk.goto(served.url + CHECKLIST)
    everyone = desk.locator(".mine button")
    everyone.focus()
    press_here(desk, "Enter")
    expect(everyone).to_be_hidden()
    expect(desk.locator("h1")).to_be_focused()
    desk.evaluate("localStorage.clear()")
