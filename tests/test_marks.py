"""Short addresses behind the marks: stable over renames, typable, never shared."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable

import pytest

from refgen import marks
from refgen.bundled import bundled
from refgen.catalog import Catalog
from refgen.directory import addresses_csv
from refgen.errors import RefgenError
from refgen.pages import render_pages
from refgen.views import View
from tests.conftest import WriteLayers
from tests.stages import SMALL, catalog_from

CatalogOf = Callable[..., Catalog]
ADDRESS = "address: https://jet.example/\n"
WORDS = (bundled("data/base") / "words.yml").read_text("utf-8")
LESSON = "title: Second\nanswer: More.\ntime: 1 h\naims: [Knows.]\nsteps: [{id: one, title: One}]\n"


def shorts(catalog: Catalog) -> dict[str, str]:
    """Return what each short page opens."""
    return {short: opened for short, (opened, _) in marks.short_addresses(catalog).items()}


def test_machines_open_their_handbooks_and_lessons_the_learners_view(
    catalog_of: CatalogOf,
) -> None:
    opened = shorts(catalog_of({"words": WORDS, "brand": ADDRESS}))
    assert sorted(opened.values()) == [
        "emergency.html",
        "index.html",
        "lessons/first.html",
        "machines/barrow-handbook.html",
    ]


def test_a_short_address_can_be_typed_without_mistaking_a_letter(catalog_of: CatalogOf) -> None:
    for short in shorts(catalog_of({"words": WORDS, "brand": ADDRESS})):
        assert re.fullmatch(r"go/[2-9a-hj-km-np-z]{5}\.html", short)


def test_a_printed_mark_goes_on_working_after_two_renames(data: WriteLayers) -> None:
    def opened_by(name: str, more: str = "") -> dict[str, str]:
        files = {"words": WORDS, "brand": ADDRESS, f"lessons/{name}": LESSON + more}
        (folder,) = data(files, names=(name,))
        return shorts(catalog_from([SMALL, folder]))

    before = opened_by("second")
    (printed,) = (short for short, opened in before.items() if opened == "lessons/second.html")
    after = opened_by("third", "was: [second, other]\n")
    assert after[printed] == "lessons/third.html"
    assert list(after.values()).count("lessons/third.html") == 3


def test_without_an_address_there_are_no_marks_and_the_page_says_so(
    catalog_of: CatalogOf,
) -> None:
    small = catalog_of({"words": WORDS})
    assert shorts(small) == {}
    pages = {page.address: page for page in render_pages(small, {}, bundled("site_templates"))}
    assert "No address is set for this reference" in pages["marks.html"].html
    assert "<svg" not in pages["marks.html"].html
    assert not [address for address in pages if address.startswith("go/")]


def test_two_records_never_share_a_mark(
    catalog_of: CatalogOf, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(marks, "code", lambda kind, name: "aaaaa")
    with pytest.raises(
        RefgenError, match="pages/emergency and pages/home would have the same mark"
    ):
        shorts(catalog_of({"words": WORDS, "brand": ADDRESS}))


def test_a_mark_says_whose_page_it_opens_where_script_and_style_are_lacking(
    catalog_of: CatalogOf,
) -> None:
    catalog = catalog_of({"words": WORDS, "brand": f"{ADDRESS}site: Drains & <more>\n"})
    mark = marks.home(View(catalog, "marks.html"))
    assert "<title>Drains &amp; &lt;more&gt;</title>" in mark.symbol
    assert mark.typed == f"jet.example/{mark.short}"


def test_the_list_of_addresses_opens_in_a_spreadsheet_and_runs_nothing(
    catalog_of: CatalogOf,
) -> None:
    hostile = "title: =HYPERLINK(1)\nanswer: Über ½ inch.\n"
    catalog = catalog_of({"words": WORDS, "brand": ADDRESS, "terms/trial": hostile})
    pages = render_pages(catalog, {}, bundled("site_templates"))
    text = addresses_csv(catalog, pages)
    assert text.startswith("\ufeff")
    rows = list(csv.DictReader(io.StringIO(text[1:])))
    by_address = {row["Address"]: row for row in rows}
    assert len(by_address) == len(rows)
    trial = by_address["https://jet.example/terms/index.html#trial"]
    assert (trial["Kind"], trial["Title"]) == ("Word", "'=HYPERLINK(1)")
    step = by_address["https://jet.example/lessons/first.html#look"]
    assert step["Title"] == "First lesson: Look"
    lesson = by_address["https://jet.example/lessons/first.html"]
    assert (
        lesson["Short address"] == f"https://jet.example/go/{marks.code('lessons', 'first')}.html"
    )
    assert by_address["https://jet.example/materials/clay.html#worn"]["Title"].startswith("Clay")
