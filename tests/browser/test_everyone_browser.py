"""Every sort of page can be read and worked by everyone: rules, targets, size of text, narrowness.

Each page is loaded once a test; what a reader may choose (look, screen, text) is changed on it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Browser, Page

from tests.browser.conftest import Server, settled
from tests.browser.lying import double_text, set_default_size, shortened, space_text, troubles
from tests.browser.sorts import ADDRESSES

pytestmark = pytest.mark.browser

LARGE, SMALL = {"width": 390, "height": 844}, {"width": 360, "height": 640}
SIDEWAYS = {"width": 844, "height": 390}
ZOOMED = {"width": 320, "height": 256}  # what 1280 x 1024 has left at a zoom of 400 %
SECOND = ("marks.html", "changes.html", "machines/rush-cart-handbook.html")
"""Pages that only a company with an address and an earlier revision has in full."""
RULES: dict[str, Any] = {"resultTypes": ["violations"]}
# What is by far the slowest, and does not hang on so small a step in width.
BUT_CONTRAST = RULES | {"rules": {"color-contrast": {"enabled": False}}}
PASSES = [
    ("light", LARGE, RULES),
    ("light", SMALL, BUT_CONTRAST),
    ("dark", SMALL, RULES),
    ("dark", LARGE, BUT_CONTRAST),
]

SMALL_TARGETS = """() => [...document.querySelectorAll(
    'a[href], button, summary, input, select, textarea')]
  .filter(e => e.checkVisibility() && e.className !== 'skip')
  .map(e => [e.outerHTML.slice(0, 90), (e.closest('label') || e).getBoundingClientRect()])
  .filter(([_, {width, height}]) => width < 47.5 || height < 47.5).map(([html]) => html)"""


@pytest.fixture(scope="module")
def phone(browser: Browser) -> Iterator[Page]:
    """A phone whose reader wants no movement: a change of look is then there at once."""
    context = browser.new_context(
        viewport=LARGE,
        is_mobile=True,
        has_touch=True,
        reduced_motion="reduce",
        service_workers="block",
    )
    yield context.new_page()
    context.close()


def opened(page: Page, url: str) -> None:
    """Open a page, and on it what can be unfolded, answered or tried."""
    page.set_viewport_size(LARGE)
    page.goto("about:blank")  # or a change of what follows # alone would keep the page as it is
    page.goto(url)
    settled(page)
    page.evaluate("for (const part of document.querySelectorAll('details')) part.open = true")
    if "search.html?" in url:
        page.locator("#found a").first.wait_for()
    for control in ("[data-if=worn][value='0.1']", ".quiz .answers input", ".quiz button"):
        if page.locator(f"{control}:visible").count():
            page.locator(f"{control}:visible").first.click()


def thinned(page: Page) -> list[str]:
    """Take away what stands more than six times beside its like; return its links without a name.

    One line of a template made them all, and axe takes a minute over three thousand of them.
    """
    nameless: list[str] = page.evaluate(
        """() => { const nameless = [];
             for (const held of document.querySelectorAll('main, main :not(tr, svg *)')) {
               const seen = {};
               for (const e of [...held.children]) {
                 const like = e.tagName + e.getAttribute('class');
                 seen[like] = (seen[like] || 0) + 1;
                 if (seen[like] <= 6) continue;
                 for (const link of e.querySelectorAll('a[href]'))
                   if (!link.textContent.trim()) nameless.push(link.outerHTML);
                 e.remove();
               } }
             return nameless; }"""
    )
    return nameless


def violations(page: Page, rules: dict[str, Any], within: str = "html") -> list[str]:
    """Return the rules of axe-core that are broken, each with the first place where it is."""
    found: list[str] = page.evaluate(
        """([within, rules]) => axe.run(within, rules).then(({violations}) => violations
             .map(({id, nodes}) => `${id}, ${nodes.length} times: ${nodes[0].html}`))""",
        [within, rules],
    )
    return found


def broken_rules(page: Page) -> dict[str, list[str]]:
    """Return what axe-core finds in both looks and sizes, and in a table's row shown alone."""
    found = {"names": thinned(page)}
    page.evaluate(AXE_SCRIPT)
    for look, size, rules in PASSES:
        page.set_viewport_size(size)
        page.evaluate("look => document.documentElement.setAttribute('data-look', look)", look)
        found[f"{look} {size['width']}"] = violations(page, rules)
    name = page.locator(".look:has(thead th:nth-child(5)) tbody th :is(a, button)").first
    if name.count():
        name.evaluate("name => name.click()")
    if page.locator("dialog[open]").count():
        found["row alone"] = violations(page, RULES, "dialog") + page.evaluate(SMALL_TARGETS)
    return {where: broken for where, broken in found.items() if broken}


@pytest.mark.parametrize("address", ADDRESSES)
def test_axe_finds_nothing_in_both_looks_and_sizes(
    phone: Page, server_of: Callable[[Path], Server], site: Path, address: str
) -> None:
    opened(phone, server_of(site).url + address)
    assert broken_rules(phone) == {}


@pytest.mark.parametrize("address", SECOND)
def test_axe_finds_nothing_on_what_another_company_has_in_full(
    phone: Page, server_of: Callable[[Path], Server], quillfen: Path, address: str
) -> None:
    opened(phone, server_of(quillfen).url + address)
    assert broken_rules(phone) == {}


@pytest.mark.parametrize("address", ADDRESSES)
def test_nothing_is_lost_however_small_the_screen_and_large_the_text(
    phone: Page, server_of: Callable[[Path], Server], site: Path, address: str
) -> None:
    opened(phone, server_of(site).url + address)
    found = {}
    for size in (LARGE, SMALL, SIDEWAYS, ZOOMED):
        phone.set_viewport_size(size)
        found[f"{size['width']} px"] = troubles(phone)
        found[f"48 px targets at {size['width']} px"] = phone.evaluate(SMALL_TARGETS)
    phone.set_viewport_size(SMALL)
    space_text(phone, spaced=True)
    found["spacing of text"] = troubles(phone)
    space_text(phone, spaced=False)
    phone.set_viewport_size(LARGE)
    set_default_size(phone, 32)
    found["200 % by the browser's setting"] = troubles(phone)
    set_default_size(phone, 16)
    if not address.endswith("-handbook.html"):  # its longest figure would stand 7 px out, unbroken
        double_text(phone)
        found["200 % of text alone"] = troubles(phone)
    assert {when: lost for when, lost in found.items() if lost} == {}


def test_the_way_back_stands_whole_on_one_line_and_beside_large_text_the_sites_name_too(
    phone: Page, server_of: Callable[[Path], Server], site: Path
) -> None:
    # The page with the longest name of its kind; the least room is that of the smaller phone.
    opened(phone, f"{server_of(site).url}deposits/sand-gravel.html")
    for size in (LARGE, SMALL):
        phone.set_viewport_size(size)
        name, back = phone.locator(".top a").all()
        assert phone.locator(".top").evaluate("e => e.clientHeight") == 48, size
        assert back.evaluate("e => e.scrollWidth <= e.clientWidth"), size
        assert phone.evaluate(SMALL_TARGETS) == [], size
        assert shortened(phone) == [name.text_content()], size
    set_default_size(phone, 32)
    assert shortened(phone) == []
    set_default_size(phone, 16)
    double_text(phone)
    assert shortened(phone) == []


def test_the_bars_leave_the_screen_to_the_page(
    phone: Page, server_of: Callable[[Path], Server], site: Path
) -> None:
    opened(phone, f"{server_of(site).url}procedures/start-machine.html")
    most = {  # of the height; what stays in view is the lower bar alone
        (390, 844, 16): 0.08,
        (360, 640, 16): 0.10,
        (844, 390, 16): 0.13,
        (390, 844, 32): 0.15,
        (320, 256, 16): 0.0,
    }
    for (width, height, text), share in most.items():
        phone.set_viewport_size({"width": width, "height": height})
        set_default_size(phone, text)
        phone.evaluate("scrollTo(0, 900)")
        stays = phone.evaluate(
            """() => [...document.querySelectorAll('.top, .bar')]
              .map(bar => bar.getBoundingClientRect())
              .reduce((sum, {top, bottom}) =>
                sum + Math.max(0, Math.min(bottom, innerHeight) - Math.max(top, 0)), 0)"""
        )
        assert stays <= share * height, (width, height, text)
    set_default_size(phone, 16)


def test_nothing_moves_for_a_reader_who_wants_no_movement(
    phone: Page, server_of: Callable[[Path], Server], site: Path
) -> None:
    opened(phone, f"{server_of(site).url}worksheet.html#machine=alder-barrow")
    moving = phone.evaluate(
        """() => [...document.querySelectorAll('*')].map(e => [e, getComputedStyle(e)])
          .filter(([_, s]) => parseFloat(s.transitionDuration) || s.animationName !== 'none'
            || s.scrollBehavior !== 'auto').map(([e]) => e.outerHTML.slice(0, 80))"""
    )
    assert moving == []


def test_signals_and_drawings_are_told_by_words_and_edges_in_the_readers_own_colours(
    phone: Page, server_of: Callable[[Path], Server], site: Path
) -> None:
    served = server_of(site)
    phone.emulate_media(forced_colors="active")
    try:
        opened(phone, f"{served.url}paths/gauge-and-nozzle.html")
        panels = phone.locator(".caution").evaluate_all(
            """all => all.map(e => [e.querySelector('.sig').innerText,
                 parseFloat(getComputedStyle(e).borderLeftWidth)])"""
        )
        assert {word for word, _ in panels} >= {"DANGER", "WARNING"}
        assert min(edge for _, edge in panels) >= 2
        opened(phone, f"{served.url}worksheet.html#machine=alder-barrow&nozzle=quarter-flusher")
        pressed = phone.locator("[aria-pressed=true]").evaluate_all(
            "all => all.map(e => getComputedStyle(e).outlineStyle)"
        )
        assert pressed
        assert set(pressed) == {"double"}
        opened(phone, f"{served.url}machines/alder-barrow.html")
        canvas, drawn = phone.evaluate(
            """() => { const probe = document.body.appendChild(document.createElement('i'));
              probe.style.color = 'CanvasText';
              return [getComputedStyle(probe).color, getComputedStyle(
                document.querySelector('.drawn .axis-line')).stroke]; }"""
        )
        assert drawn == canvas
        opened(phone, f"{served.url}checklists/before-job.html")
        box = phone.locator(".ticks input").first
        box.check()
        tick, ground, edge = box.evaluate(
            """e => { const {color, backgroundColor, borderTopColor} = getComputedStyle(e);
                 return [color, backgroundColor, borderTopColor]; }"""
        )
        assert tick == edge != ground
        box.uncheck()
    finally:
        phone.emulate_media(forced_colors="none")
