"""Another language is a layer: its words, its brand, and each record's texts."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from refgen.bundled import bundled
from refgen.project import open_project
from tests.reading import read_page

KEPT = re.compile(r"\{\w*\}")


LATIN, GREEK = "abcdefghijklmnopqrstuvwxyz", "αβγδεζηθικλμνξοπρστυφχψωϊϋ"
LETTERS = str.maketrans(LATIN + LATIN.upper(), GREEK + GREEK.upper())


def translated(text: str) -> str:
    """Return a text in a language of its own, of other letters; what is in braces is kept."""
    parts = re.split(r"(\{\w*\})", text)
    return "".join(part if KEPT.fullmatch(part) else part.translate(LETTERS) for part in parts)


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A built site whose every word is in that language, with the texts of one record."""
    root = tmp_path_factory.mktemp("language")
    layer = root / "data" / "doubled"
    words = yaml.safe_load((bundled("data/base") / "words.yml").read_text("utf-8"))["words"]
    words = {
        name: text if name in ("search_skip", "search_endings") else translated(str(text))
        for name, text in words.items()
    }
    (layer / "hazards").mkdir(parents=True)
    (root / "files").mkdir()
    (layer / "words.yml").write_text(yaml.safe_dump({"words": words}, allow_unicode=True), "utf-8")
    (layer / "brand.yml").write_text(
        "name: Ονο\nsite: Ρεφ\nlanguage: el\nlanguages:\n"
        "  - {code: en, name: English, address: https://jet.example/book}\n"
        "  - {code: el, name: Ελλ, address: https://jet.example/el/}\n",
        "utf-8",
    )
    (layer / "hazards" / "injection.yml").write_text(
        "title: Πιδ\nanswer: Οφφ.\nprevent:\n  - {id: in-pipe, text: Μεσα., reason: Μεταφραση.}\n",
        "utf-8",
    )
    (root / "mkdocs.yml").write_text(
        "site_name: X\ndocs_dir: files\nsite_dir: site-el\ntheme: {name: material}\n"
        "plugins:\n  - refgen:\n      layers: [base, data/doubled]\n"
    )
    open_project(root / "mkdocs.yml").build()
    return root / "site-el"


def test_the_pages_say_which_language_they_are_in(site: Path) -> None:
    for path in site.rglob("*.html"):
        assert '<html lang="el"' in path.read_text("utf-8")
    assert '"lang": "el"' in (site / "site.webmanifest").read_text("utf-8")


def test_a_page_leads_to_itself_in_the_other_languages_alone(site: Path) -> None:
    page = (site / "hazards" / "injection.html").read_text("utf-8")
    twin = "https://jet.example/book/hazards/injection.html"
    assert f'<link rel="alternate" hreflang="en" href="{twin}">' in page
    assert f'<a href="{twin}" lang="en" hreflang="en">English</a>' in page
    assert "jet.example/el/" not in page
    # Where nothing is, there is nothing in another language either.
    assert "jet.example" not in (site / "404.html").read_text("utf-8")


def test_no_word_of_the_frame_is_left_in_the_first_language(site: Path) -> None:
    # The search page holds words of the interface alone.
    said = "".join(read_page(site / "search.html").text)
    said = re.sub(r"[0-9a-f]{8}search\.html", "", said)  # its mark and its address
    said = said.replace("English", "")  # a language's own name for itself
    assert "Πιδ" not in said
    assert len(re.findall(r"[α-ϋ]{3,}", said)) > 20
    assert re.findall(r"[A-Za-z]{3,}", said) == []


def test_a_records_texts_change_and_its_addresses_do_not(site: Path) -> None:
    page = read_page(site / "hazards" / "injection.html")
    text = "".join(page.text)
    assert "Πιδ" in text
    assert "Μεσα." in text
    assert "in-pipe" in page.ids
    assert "Μεταφραση." in text  # who reads it may know that a safety text was changed
