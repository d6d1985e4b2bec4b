"""What Chromium prints: every cell of every table, on A4 and Letter; cards on one sheet."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pytest
from playwright.sync_api import Page

from tests.browser.conftest import Server

pytestmark = pytest.mark.browser

SHEETS = ["A4", "Letter"]


def bare(text: str) -> str:
    """Return letters and digits alone: a print may break a line anywhere and draws no bullets."""
    return re.sub(r"[\W_]+", "", text)


def words(text: str) -> list[str]:
    """Return what stands between spaces and line ends."""
    return [found for word in text.split() if (found := bare(word))]


def printed(page: Page, sheet: str) -> list[str]:
    """Return the text of each sheet of paper."""
    document = pypdfium2.PdfDocument(page.pdf(format=sheet, prefer_css_page_size=False))
    texts = [sheet.get_textpage().get_text_bounded() for sheet in document]
    document.close()
    return texts


@pytest.fixture
def served(server_of: Callable[[Path], Server], site: Path) -> Server:
    return server_of(site)


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_text_of_every_cell_is_on_paper(
    page: Page, served: Server, site: Path, sheet: str
) -> None:
    cut = {}
    for path in [*sorted((site / "tables").glob("*.html")), site / "machines" / "compare.html"]:
        address = path.relative_to(site).as_posix()
        page.goto(served.url + address)
        # Words for a reading voice only are not for paper.
        page.evaluate("document.querySelectorAll('.box .hide').forEach(e => e.remove())")
        page.evaluate("document.querySelectorAll('.box .mark').forEach(e => e.before(' '))")
        cells = page.locator(".box th, .box td, .beside dt, .beside dd").all_inner_texts()
        assert len(cells) > 3 or address == "tables/index.html", address
        # Word by word with their number: cells beside one another are read across.
        wanted = Counter(words(" ".join(cells)))
        if lost := wanted - Counter(words(" ".join(printed(page, sheet)))):
            cut[address] = lost.most_common(8)
    assert cut == {}


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize(
    "address",
    [
        "emergency.html",
        "checklists/before-job.html",
        "checklists/weekly.html",
        "hazards/injection-card.html",
    ],
)
def test_cards_fit_one_sheet(page: Page, served: Server, address: str, sheet: str) -> None:
    page.goto(served.url + address)
    assert len(printed(page, sheet)) == 1


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize(
    "address",
    ["symptoms/milky-oil.html", "procedures/start-machine.html", "tables/nozzle-size.html",
     "materials/pvc-solid.html", "hazards/injection.html", "checklists/before-job.html"],
)  # fmt: skip
def test_a_print_tells_where_it_is_from(
    page: Page, served: Server, address: str, sheet: str
) -> None:
    page.goto(served.url + address)
    mark = page.locator("main").get_attribute("data-mark")
    where = page.locator(".page-foot .address").text_content()
    assert mark
    assert where
    text = bare("".join(printed(page, sheet)))
    for told in (mark, where, "Approved by: Training lead"):
        assert bare(told) in text, told


def test_a_caution_stays_with_its_step(page: Page, served: Server) -> None:
    page.goto(f"{served.url}procedures/start-machine.html")
    sheets = [bare(text) for text in printed(page, "A4")]
    steps = page.locator(".steps > li:has(.caution)")
    assert steps.count() >= 1
    for step in steps.all():
        caution = bare(step.locator(".caution span").first.inner_text())
        does = bare(step.locator(".do").first.inner_text())
        assert any(caution in sheet and does in sheet for sheet in sheets), caution
