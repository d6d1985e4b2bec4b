"""The export: the same words, links and anchors in both forms, and with another builder."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
import yaml
from markdown_it import MarkdownIt

from refgen.elements import Element, read_html
from refgen.project import Project
from tests.reading import read_page
from tests.whole.test_site import resolve

# Every setting that another builder needs to publish the Markdown at the same addresses.
SETTINGS = """
PATH = {path!r}
OUTPUT_PATH = {output!r}
SITENAME = "Successor"
SITEURL = ""
RELATIVE_URLS = True
THEME = "simple"
TIMEZONE = "UTC"
PAGE_PATHS = STATIC_PATHS = ["."]
ARTICLE_PATHS = DIRECT_TEMPLATES = []
PATH_METADATA = r"(?P<slug>.*)\\.md"
PAGE_URL = PAGE_SAVE_AS = "{{address}}"
AUTHOR_SAVE_AS = CATEGORY_SAVE_AS = TAG_SAVE_AS = ""
FEED_ALL_ATOM = CATEGORY_FEED_ATOM = TRANSLATION_FEED_ATOM = None
AUTHOR_FEED_ATOM = AUTHOR_FEED_RSS = None
"""


@dataclass
class Said:
    """What a page says, with all that only a script brings to life left out."""

    text: str = ""
    links: list[str] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)
    cells: int = 0

    def add(self, element: Element) -> Said:
        for child in element.children:
            if isinstance(child, str):
                self.text += "".join(child.split())
            elif not child.is_scripted:
                if name := child.attributes.get("id"):
                    self.ids.append(name)
                if child.name == "a" and "href" in child.attributes:
                    self.links.append(child.attributes["href"])
                if child.name in ("td", "th"):
                    self.cells += int(child.attributes.get("colspan", 1))
                self.add(child)
        return self


def said_in(html: str) -> Said:
    return Said().add(read_html(html))


def article(html: str) -> str:
    return html.partition('<main id="_text" class="md-typeset">\n')[2].rpartition("\n</main>")[0]


@pytest.fixture(scope="module")
def export(project: Project, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("export") / "handed-on"
    project.export(folder)
    return folder


@pytest.fixture(scope="module")
def index(export: Path) -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads((export / "index.json").read_text("utf-8"))
    return loaded


def test_the_index_lists_what_is_there_and_nothing_else(
    export: Path, index: dict[str, Any], site: Path
) -> None:
    there = {p.relative_to(export).as_posix() for p in export.rglob("*") if p.is_file()}
    listed = {page[form] for page in index["pages"] for form in ("html", "markdown")}
    listed |= {f"{form}/{name}" for name in index["files"] for form in ("html", "markdown")}
    assert there == listed | {"index.json"}
    built = {path.relative_to(site).as_posix() for path in site.rglob("*.html")}
    assert {page["address"] for page in index["pages"]} == built - {"404.html"}


@pytest.mark.parametrize("form", ["html", "markdown"])
def test_nothing_of_todays_builder_is_in_it(export: Path, form: str) -> None:
    kinds = {path.suffix for path in (export / form).rglob("*") if path.is_file()}
    pages = {"html": ".html", "markdown": ".md"}[form]
    assert kinds <= {pages, ".css", ".csv", ".json", ".svg", ".png", ".atom"}
    for path in (export / form).rglob(f"*{pages}"):
        assert "<script" not in path.read_text("utf-8")


def test_every_link_of_the_plain_pages_leads_to_a_file_and_an_anchor(
    export: Path, index: dict[str, Any]
) -> None:
    root = export / "html"
    pages = {page["address"]: read_page(root / page["address"]) for page in index["pages"]}
    dead = []
    for address, page in pages.items():
        for link in page.links + page.loads:
            if urlsplit(link).scheme == "tel":
                continue
            target, anchor = resolve(address, link)
            known = target not in pages or "=" in anchor or anchor in ["", *pages[target].ids]
            if not (root / target).is_file() or not known or link.startswith("/"):
                dead.append(f"{address}: {link}")
    assert dead == []


def test_the_markdown_says_what_the_page_says_in_the_same_order(
    export: Path, index: dict[str, Any]
) -> None:
    reader = MarkdownIt("commonmark").enable("table")
    for page in index["pages"]:
        _, head, body = (export / page["markdown"]).read_text("utf-8").split("---\n", 2)
        assert {"title", "address", "description"} == yaml.safe_load(head).keys()
        assert yaml.safe_load(head)["title"] == page["title"]
        assert yaml.safe_load(head)["address"] == page["address"]
        written = said_in(article((export / page["html"]).read_text("utf-8")))
        assert said_in(reader.render(body)) == written, page["address"]


def test_the_markdown_is_more_than_html_in_disguise(export: Path) -> None:
    text = (export / "markdown/materials/pvc-solid.md").read_text("utf-8")
    assert set(re.findall(r"<(\w+)", text)) == {"a"}  # anchors alone
    assert "\n# Solid PVC pipe\n" in text


def test_another_builder_publishes_every_page_with_every_link(
    export: Path, index: dict[str, Any], tmp_path: Path
) -> None:
    output, settings = tmp_path / "out", tmp_path / "settings.py"
    settings.write_text(SETTINGS.format(path=str(export / "markdown"), output=str(output)))
    command = [sys.executable, "-m", "pelican", "--quiet", "--fatal", "errors", "-s", str(settings)]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    for page in index["pages"]:
        published = (output / page["address"]).read_text("utf-8").rpartition("</article>")[0]
        # Its own heading, which is the title again, stands before ours.
        published = published[published.rindex("<h1") :]
        written = said_in(article((export / page["html"]).read_text("utf-8")))
        assert said_in(published) == written, page["address"]
    for name in index["files"]:
        assert (output / name).read_bytes() == (export / "html" / name).read_bytes()
