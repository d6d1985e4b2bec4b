"""Where an export may be written, and what is never touched."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner

from refgen.bundled import bundled
from refgen.cli import main
from refgen.compose import Site, compose
from refgen.errors import RefgenError
from refgen.export import write_export
from tests.stages import SMALL

TEMPLATES = bundled("site_templates")


@pytest.fixture(scope="module")
def words(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A layer of words alone, since the small one holds only a few."""
    layer = tmp_path_factory.mktemp("words")
    shutil.copy(bundled("data/base") / "words.yml", layer)
    return layer


@pytest.fixture(scope="module")
def site(words: Path) -> Site:
    return compose([words, SMALL], TEMPLATES, SMALL.parent)


def contents(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_the_same_site_gives_the_same_bytes_over_an_earlier_export(
    site: Site, tmp_path: Path
) -> None:
    count = write_export(site, TEMPLATES, tmp_path / "out")
    first = contents(tmp_path / "out")
    assert count == sum(name.startswith("markdown/") and name.endswith(".md") for name in first)
    write_export(site, TEMPLATES, tmp_path / "out")
    assert contents(tmp_path / "out") == first
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_a_page_that_is_gone_is_gone_from_the_next_export(site: Site, tmp_path: Path) -> None:
    write_export(site, TEMPLATES, tmp_path / "out")
    fewer = replace(site, pages=site.pages[:-1])
    write_export(fewer, TEMPLATES, tmp_path / "out")
    assert not (tmp_path / "out" / "html" / site.pages[-1].address).exists()


def test_an_empty_folder_may_be_written_to(site: Site, tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    assert write_export(site, TEMPLATES, tmp_path / "out")


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("notes.txt", "mine"),
        ("index.json", "{}"),
        ("index.json", "[1]"),
        ("index.json", '{"made_by": "refgen export"}'),
        ("index.json", '{"made_by": "someone else", "pages": [], "files": []}'),
        ("index.json", "no json"),
    ],
)
def test_a_folder_with_anything_else_in_it_is_refused_and_left_alone(
    site: Site, tmp_path: Path, file: str, text: str
) -> None:
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / file).write_text(text)
    with pytest.raises(RefgenError, match=r"out: holds .* Nothing was written\."):
        write_export(site, TEMPLATES, folder)
    assert contents(folder) == {file: text.encode()}


@pytest.mark.parametrize("place", ["mine.txt", "html/mine.html", "markdown/a/b.md"])
def test_a_file_put_into_an_export_is_told_and_kept(site: Site, tmp_path: Path, place: str) -> None:
    folder = tmp_path / "out"
    write_export(site, TEMPLATES, folder)
    (folder / place).parent.mkdir(exist_ok=True)
    (folder / place).write_text("mine")
    with pytest.raises(RefgenError, match=f"holds {place}, which no export wrote"):
        write_export(site, TEMPLATES, folder)
    assert (folder / place).read_text() == "mine"


def test_neither_a_file_nor_a_link_is_taken_for_a_folder(site: Site, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "elsewhere")
    for name in ("file", "link"):
        with pytest.raises(RefgenError, match="is no folder"):
            write_export(site, TEMPLATES, tmp_path / name)
    assert list((tmp_path / "elsewhere").iterdir()) == []


@pytest.mark.parametrize("address", ["../out.html", "a/../../../b.html"])
def test_nothing_is_written_outside_of_the_folder(site: Site, tmp_path: Path, address: str) -> None:
    wrong = replace(site, pages=(*site.pages, replace(site.pages[-1], address=address)))
    with pytest.raises(RefgenError, match="outside of the folder"):
        write_export(wrong, TEMPLATES, tmp_path / "in" / "out")
    assert contents(tmp_path) == {}


def test_an_export_that_fails_leaves_the_last_one(
    site: Site, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "out"
    write_export(site, TEMPLATES, folder)
    before = contents(folder)

    def full(*_: object) -> None:
        raise OSError("no space left")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(OSError, match="no space left"):
        write_export(site, TEMPLATES, folder)
    monkeypatch.undo()
    assert contents(folder) == before
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize(
    "title",
    [
        "Plain",
        "A: b",
        "# c",
        "'quoted'",
        '"so"',
        "yes",
        "Null",
        "1900 psi",
        "- d",
        "Ø: {x} [y]",
        "a\\b",
    ],
)
def test_every_title_reads_back_from_the_head_of_the_markdown(
    site: Site, tmp_path: Path, title: str
) -> None:
    page = replace(site.pages[-1], title=title)
    write_export(replace(site, pages=(page,)), TEMPLATES, tmp_path / "out")
    path = (tmp_path / "out" / "markdown" / page.address).with_suffix(".md")
    assert yaml.safe_load(path.read_text("utf-8").split("---\n")[1])["title"] == title


def test_the_command_tells_how_many_and_where(words: Path, tmp_path: Path) -> None:
    shutil.copytree(SMALL, tmp_path / "data" / "small")
    shutil.copytree(words, tmp_path / "words")
    (tmp_path / "assets").mkdir()
    (tmp_path / "mkdocs.yml").write_text(
        "site_name: Ours\ndocs_dir: assets\ntheme: {name: material}\n"
        "plugins:\n  - refgen:\n      layers: [words, data/small]\n"
    )
    out = tmp_path / "out"
    command = ["export", str(out), "-f", str(tmp_path / "mkdocs.yml")]
    done = CliRunner().invoke(main, command)
    pages = len(list((out / "html").rglob("*.html")))
    assert (done.exit_code, done.output) == (
        0,
        f"{pages} pages in {out}, as html and as markdown\n",
    )
    (out / "mine").write_text("")
    done = CliRunner().invoke(main, command)
    assert done.exit_code == 1
    assert done.output.startswith(f"{out}: holds mine, which no export wrote.")
