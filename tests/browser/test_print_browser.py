"""What Chromium prints, on A4 and Letter: all of the text, a foot on every sheet, nothing torn."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import Server, settled
from tests.browser.sorts import EACH_SORT

pytestmark = pytest.mark.browser

SHEETS = ["A4", "Letter"]
FOOT = 48
"""Height of the narrowest foot in the stylesheet: 17 mm, in points of 1/72 in."""

# What is on the page when it is printed: without words for a reading voice, of what can be chosen
# the one that is, and without pictures, whose letters are drawn. A space parts a mark from a word.
SEEN = """() => {
  const unseen = "main .hide, main svg *, main option:not(:checked)";
  document.querySelectorAll(unseen).forEach((e) => e.remove());
  document.querySelectorAll("main .mark, main .fit").forEach((e) => e.before(" "));
  const main = document.querySelector("main");
  const told = (e) => e ? e.textContent : "";
  const shown = (e) => e.checkVisibility();
  const panels = Array.from(main.querySelectorAll("li .caution")).filter(shown);
  const steps = panels.map((panel) => {
    const step = panel.closest(".variant, li");
    const does = Array.from(step.querySelectorAll(".do")).find(shown) || step.lastChild;
    return [told(panel), told(does)];
  });
  const headings = Array.from(main.querySelectorAll("h1, h2, h3, h4")).filter((e) => e.innerText);
  const cells = Array.from(main.querySelectorAll("th, td, dt, dd")).map((e) => e.innerText);
  return {
    foot: document.documentElement.dataset.foot, text: main.innerText, steps: steps,
    cells: cells.join(" "), headings: headings.map((e) => e.innerText), mark: main.dataset.mark
  };
}"""


@dataclass(frozen=True)
class Sheet:
    """The text of one sheet of paper, and what of it stands in the margin below."""

    body: str
    foot: str


def bare(text: str) -> str:
    """Return letters and digits alone: a print may break a line anywhere and draws no bullets."""
    return re.sub(r"[\W_]+", "", text)


def words(text: str) -> Counter[str]:
    """Return how often what stands between spaces and line ends occurs."""
    return Counter(found for word in text.split() if (found := bare(word)))


def printed(page: Page, size: str) -> list[Sheet]:
    """Return each sheet of paper."""
    settled(page)
    document = pypdfium2.PdfDocument(page.pdf(format=size))
    texts = [(sheet.get_textpage(), sheet.get_height()) for sheet in document]
    sheets = [
        Sheet(t.get_text_bounded(bottom=FOOT, top=height), t.get_text_bounded(top=FOOT))
        for t, height in texts
    ]
    document.close()
    return sheets


def seen(page: Page) -> dict[str, Any]:
    """Return what stands on an open page for paper."""
    settled(page)
    page.emulate_media(media="print")
    return dict(page.evaluate(SEEN))


def faults(on_page: dict[str, Any], sheets: list[Sheet]) -> list[str]:
    """Return what is wrong with a print, in words."""
    found = []
    every = " ".join(sheet.body for sheet in sheets)
    read, run_together = words(every), bare(every)
    lost = [
        word
        for word, times in words(on_page["text"]).items()
        # A cell's last word and the next cell's first may stand so close that they read as one.
        if read[word] < times and run_together.count(word) < times
    ]
    if lost:
        found.append(f"not on paper: {lost[:8]}")
    headings = [bare(heading) for heading in on_page["headings"]]
    bodies = [bare(sheet.body) for sheet in sheets]
    for number, (sheet, body) in enumerate(zip(sheets, bodies, strict=True), 1):
        if words(sheet.foot) != words(f"{on_page['foot']} {number}/{len(sheets)}"):
            found.append(f"foot of sheet {number}: {sheet.foot!r}")
        if not body:
            found.append(f"sheet {number} is empty")
        # One that ends the whole page has no text of its own, such as a list that is empty.
        alone = [h for h in headings if body.endswith(h)] if number < len(sheets) else []
        if alone and body.count(alone[0]) <= bare(on_page["cells"]).count(alone[0]):
            found.append(f"heading alone at the end of sheet {number}: {alone[0]}")
    for caution, does in on_page["steps"]:
        if not any(_follows(bare(caution), bare(does), body) for body in bodies):
            found.append(f"torn from its step: {caution}")
    return found


def _follows(caution: str, does: str, sheet: str) -> bool:
    _, both, rest = sheet.partition(caution)
    return bool(both) and does in rest


@pytest.fixture
def served(server_of: Callable[[Path], Server], site: Path) -> Server:
    return server_of(site)


@pytest.mark.parametrize("size", SHEETS)
def test_every_sort_of_page_is_whole_on_paper(page: Page, served: Server, size: str) -> None:
    wrong = {}
    for sort, address in EACH_SORT.items():
        page.goto("about:blank")  # two addresses may differ in what follows # alone
        page.goto(served.url + address)
        if sort == "worksheet filled in":
            page.locator("#ws-pipe .water[d]").wait_for(state="attached")
        if found := faults(seen(page), printed(page, size)):
            wrong[sort] = found
    assert wrong == {}


@pytest.mark.parametrize("size", SHEETS)
def test_every_column_of_every_table_is_on_paper(
    page: Page, served: Server, site: Path, size: str
) -> None:
    wrong = {}
    for path in sorted((site / "tables").glob("*.html")):
        page.goto(f"{served.url}tables/{path.name}", wait_until="domcontentloaded")
        if found := faults(seen(page), printed(page, size)):
            wrong[path.name] = found
    assert wrong == {}


@pytest.mark.parametrize("size", SHEETS)
def test_checklists_and_cards_fit_one_sheet(
    page: Page, served: Server, site: Path, size: str
) -> None:
    lists = {f"checklists/{path.name}" for path in (site / "checklists").glob("*.html")}
    cards = ["emergency.html", "hazards/injection-card.html"]
    for address in [*sorted(lists - {"checklists/index.html"}), *cards]:
        page.goto(served.url + address, wait_until="domcontentloaded")
        assert len(printed(page, size)) == 1, address


@pytest.mark.parametrize("size", SHEETS)
def test_a_path_is_whole_on_one_sheet(page: Page, served: Server, site: Path, size: str) -> None:
    paths = [path for path in (site / "paths").glob("*.html") if path.stem != "index"]
    assert len(paths) >= 6
    for path in paths:
        page.goto(f"{served.url}paths/{path.name}", wait_until="domcontentloaded")
        wanted = page.locator(".path > section").count()
        sheets = printed(page, size)
        assert len(sheets) == 1, path.name
        assert faults(seen(page), sheets) == [], path.name
        # A reader with paper alone finds each number that an answer sends to.
        sent = set(re.findall(r"go to (\d+)", sheets[0].body))
        assert sent == {str(number) for number in range(2, wanted + 1)}, path.name


def test_paper_is_white_whatever_the_look(page: Page, served: Server) -> None:
    page.emulate_media(media="print", color_scheme="dark")
    page.goto(served.url)
    settled(page)
    page.evaluate("document.documentElement.setAttribute('data-look', 'dark')")
    colours = "e => [getComputedStyle(e).color, getComputedStyle(e).backgroundColor]"
    assert page.locator("body").evaluate(colours) == ["rgb(0, 0, 0)", "rgb(255, 255, 255)"]
    assert page.locator("main .answer").evaluate(colours)[0] == "rgb(0, 0, 0)"


def test_without_script_the_page_is_set_for_paper_too(browser: Browser, served: Server) -> None:
    reader = browser.new_context(java_script_enabled=False)
    page = reader.new_page()
    page.goto(served.url)
    assert page.locator(".bar").is_visible()
    page.emulate_media(media="print")
    assert page.locator(".bar").is_hidden()
    reader.close()


def test_a_print_for_one_machine_says_for_which(page: Page, served: Server) -> None:
    page.goto(f"{served.url}machines/hazel-van.html")
    page.get_by_role("button", name="This is my machine").click()
    page.goto(f"{served.url}procedures/start-machine.html")
    on_page = seen(page)
    assert "Shown for Hazel van unit" in on_page["text"]
    assert "Only with: radio remote" not in on_page["text"]
    assert faults(on_page, printed(page, "A4")) == []
