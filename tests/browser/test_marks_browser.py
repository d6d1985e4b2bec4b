"""The marks as printed: the page goes through a printer's PDF, and a decoder reads the dots."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pypdfium2
import pytest
import zxingcpp
from playwright.sync_api import Browser, Page

from tests.browser.conftest import Server, settled

pytestmark = pytest.mark.browser

MILLIMETRES = 25.4
# A cheap phone's preview, 1280 dots over a view of 65 degrees, 70 cm from the card: the view is
# 2 × 700 mm × tan(32.5°) = 892 mm wide, so a dot covers 0.70 mm, which is 36 dots an inch.
ARMS_LENGTH = 36


def printed(browser: Browser, address: str, path: Path, paper: str) -> pypdfium2.PdfDocument:
    page: Page = browser.new_page()
    page.goto(address)
    settled(page)
    page.pdf(path=path, format=paper, prefer_css_page_size=False)
    page.close()
    return pypdfium2.PdfDocument(path)


def dots(document: pypdfium2.PdfDocument, number: int, per_inch: float) -> Any:
    """Return a page as a camera would see it: a grey value a dot."""
    return document[number].render(scale=per_inch / 72, grayscale=True).to_numpy().copy()


def read(image: Any) -> list[zxingcpp.Barcode]:
    return list(zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode))


def width_of(mark: zxingcpp.Barcode, per_inch: float) -> float:
    """Return the width of a symbol in millimetres, without its quiet zone."""
    corners = mark.position
    return (corners.top_right.x - corners.top_left.x) / per_inch * MILLIMETRES


@pytest.fixture(scope="module", params=["A4", "Letter"])
def cards(
    request: pytest.FixtureRequest,
    browser: Browser,
    quillfen: Path,
    tmp_path_factory: pytest.TempPathFactory,
) -> pypdfium2.PdfDocument:
    path = tmp_path_factory.mktemp("print") / "marks.pdf"
    return printed(browser, (quillfen / "marks.html").as_uri(), path, request.param)


def test_every_printed_mark_is_read_and_its_page_is_there(
    cards: pypdfium2.PdfDocument, quillfen: Path
) -> None:
    found = [mark for number in range(len(cards)) for mark in read(dots(cards, number, 100))]
    root = "https://book.quillfen.example/jet/"
    shorts = sorted(mark.text.removeprefix(root) for mark in found)
    assert shorts == sorted(f"go/{path.name}" for path in (quillfen / "go").iterdir())
    for short in shorts:
        assert 'http-equiv="refresh"' in (quillfen / short).read_text("utf-8")


def test_the_address_to_type_stands_under_each_mark(cards: pypdfium2.PdfDocument) -> None:
    for number in range(len(cards)):
        text = cards[number].get_textpage().get_text_range()
        for mark in read(dots(cards, number, 100)):
            typed = mark.text.removeprefix("https://")
            assert typed in "".join(text.split()), typed


def test_each_is_large_enough_and_stands_up_to_dirt(cards: pypdfium2.PdfDocument) -> None:
    for number in range(len(cards)):
        for mark in read(dots(cards, number, 200)):
            # A tenth of 70 cm, its quiet zone counted: of 45 modules 37 are the symbol, 80 × 37/45.
            assert width_of(mark, 200) == pytest.approx(65.8, abs=1.5)
            assert mark.ec_level == "Q"


def test_they_are_read_at_arms_length_by_a_cheap_phone(cards: pypdfium2.PdfDocument) -> None:
    for number in range(len(cards)):
        sharp = {mark.text for mark in read(dots(cards, number, 200))}
        assert {mark.text for mark in read(dots(cards, number, ARMS_LENGTH))} == sharp


@pytest.mark.parametrize("damage", ["scratch", "blot"])
def test_they_are_read_although_damaged(cards: pypdfium2.PdfDocument, damage: str) -> None:
    for number in range(len(cards)):
        image = dots(cards, number, 100)
        clean = read(image)
        for mark in clean:
            left, top = mark.position.top_left.x, mark.position.top_left.y
            wide = mark.position.top_right.x - left
            if damage == "scratch":  # from side to side, 1.5 mm across: a module
                image[top + wide // 3 : top + wide // 3 + 6, left : left + wide] = 0
            else:  # 13 mm each way in the middle
                place = slice(top + wide * 2 // 5, top + wide * 3 // 5)
                image[place, left + wide * 2 // 5 : left + wide * 3 // 5] = 255
        assert {mark.text for mark in read(image)} == {mark.text for mark in clean}


@pytest.fixture
def served(server_of: Any, quillfen: Path) -> Server:
    found: Server = server_of(quillfen)
    return found


def test_a_machines_mark_opens_its_handbook(page: Page, served: Server) -> None:
    page.goto(f"{served.url}marks.html")
    card = page.locator(".card", has_text="Rush cart")
    card.locator("a").click()
    page.wait_for_url("**/machines/rush-cart-handbook.html")
    assert page.locator("h1").inner_text() == "Handbook: Rush cart"


def test_a_handbook_ends_with_marks_that_are_read_from_the_page(
    browser: Browser, quillfen: Path, tmp_path: Path
) -> None:
    address = (quillfen / "machines" / "rush-cart-handbook.html").as_uri()
    document = printed(browser, address, tmp_path / "book.pdf", "A4")
    found = [mark.text for n in range(len(document)) for mark in read(dots(document, n, 100))]
    assert len(found) == 3
    assert len(set(found)) == 3
