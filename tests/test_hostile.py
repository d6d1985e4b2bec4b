"""Texts stay texts: in every page, and in every file that another program reads."""

from __future__ import annotations

import csv
import io
import json
import re
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest

from refgen.project import open_project
from tests.hostile import PAYLOADS, tamed, text_fields, write_project

# What differs since it is made from the content: hashes.
_HASHES = re.compile(r"\b[0-9a-f]{8}\b")


class Tree(HTMLParser):
    """A page as a list of what begins, what is said and what ends, with every attribute."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[tuple[str, ...]] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        tame = [(name, tamed(value or "")) for name, value in attrs if name != "data-mark"]
        kept = [(n, _HASHES.sub("", said) if n == "data-foot" else said) for n, said in tame]
        self.found.append((tag, *(f"{name}={value}" for name, value in kept)))

    def handle_endtag(self, tag: str) -> None:
        self.found.append((f"/{tag}",))

    def handle_data(self, data: str) -> None:
        said = _HASHES.sub("", tamed(data))
        if self.found and self.found[-1][0] == "":
            said = self.found.pop()[1] + said
        self.found.append(("", said))

    def handle_comment(self, data: str) -> None:
        self.found.append(("comment",))


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The hostile site and the tame one."""
    found = []
    for name, dress in (("hostile", str), ("tame", tamed)):
        root = tmp_path_factory.mktemp(name)
        filled = write_project(root, dress)
        assert text_fields() - filled == set()
        project = open_project(root / "mkdocs.yml")
        project.build()
        found.append(project.site)
    return found[0], found[1]


def test_every_page_is_the_tame_one_with_other_letters(sites: tuple[Path, Path]) -> None:
    hostile, tame = sites
    names = sorted(path.relative_to(hostile) for path in hostile.rglob("*.html"))
    assert names == sorted(path.relative_to(tame) for path in tame.rglob("*.html"))
    assert len(names) > 50
    for name in names:
        pages = [Tree((site / name).read_text("utf-8")).found for site in sites]
        assert pages[0] == pages[1], name


def test_each_page_carries_the_policy_and_no_script_of_its_own(sites: tuple[Path, Path]) -> None:
    for path in sites[0].rglob("*.html"):
        text = path.read_text("utf-8")
        head = text.partition("</head>")[0]
        assert 'content="script-src &#39;self&#39;; object-src &#39;none&#39;' in head, path
        assert head.index("Content-Security-Policy") < head.index("<script")
        assert all(' src="' in script for script in re.findall(r"<script\b[^>]*>", text)), path
        tags = re.sub(r'"[^"]*"', '""', text)
        assert not re.search(r"<[^>]*\son\w+\s*=", tags), path


def test_the_ids_of_the_frame_leave_all_others_to_the_author(sites: tuple[Path, Path]) -> None:
    for path in sites[0].rglob("*.html"):
        text = path.read_text("utf-8")
        frame = text.partition("<main")[0] + text.rpartition('<footer class="page-foot"')[2]
        assert [i for i in re.findall(r'\bid="([^"]*)"', frame) if i[0] != "_"] == [], path


def test_data_for_other_programs_hold_the_texts_as_written(sites: tuple[Path, Path]) -> None:
    hostile, _ = sites
    said = json.dumps(PAYLOADS[0])[1:-1]
    for path in [*hostile.rglob("*.json"), hostile / "site.webmanifest"]:
        json.loads(path.read_text("utf-8"))
    assert said in (hostile / "catalog.json").read_text("utf-8")
    feed = ElementTree.parse(hostile / "changes.atom")
    assert feed.getroot().tag == "{http://www.w3.org/2005/Atom}feed"


def test_no_cell_of_a_table_file_is_a_formula(sites: tuple[Path, Path]) -> None:
    found = 0
    for path in sites[0].rglob("*.csv"):
        for row in csv.reader(io.StringIO(path.read_text("utf-8-sig"))):
            for cell in row:
                found += 1
                number = re.fullmatch(r"[-+−]?[\d.,]+", cell)
                assert number or not cell.startswith(("=", "+", "-", "@", "\t", "\r")), (path, cell)
    assert found > 50


def test_scripts_that_hold_data_are_plain_and_cannot_be_left(sites: tuple[Path, Path]) -> None:
    for name in ("assets/search-index.js", "assets/site.js", "sw.js"):
        text = (sites[0] / name).read_text("utf-8")
        assert "</script" not in text.lower(), name
        assert not set("\u2028\u2029") & set(text), name
