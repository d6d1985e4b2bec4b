"""An mkdocs.yml that is wrong is told with its line, and no site takes the place of data."""

from __future__ import annotations

from pathlib import Path

import pytest

from refgen.errors import RefgenError
from refgen.project import open_project

PROJECT = """\
site_name: Ours
docs_dir: files
theme: {name: material}
plugins:
  - refgen:
      layers: [base, data/ours]
"""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    (tmp_path / "files").mkdir()
    (tmp_path / "data" / "ours").mkdir(parents=True)
    (tmp_path / "data" / "ours" / "brand.yml").write_text("name: Ours\nsite: Ours\n")
    return tmp_path


def refusal(project: Path, text: str) -> str:
    file = project / "mkdocs.yml"
    file.write_text(text)
    with pytest.raises(RefgenError) as caught:
        open_project(file)
    return str(caught.value).replace(f"{project}/", "")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("name: Ours", "name: [a]", "mkdocs.yml:1: site_name: Expected type: text but received:"),
        ("files", "nowhere", "mkdocs.yml:2: docs_dir: The path 'nowhere' isn't an existing"),
        ("material", "mkdocs", "mkdocs.yml:3: theme: write 'theme: {name: material}'"),
        ("- refgen:", "- nothing:", 'mkdocs.yml:4: plugins: The "nothing" plugin is not inst'),
        ("[base, data/ours]", "x", "mkdocs.yml:6: layers: "),
        ("[base", "[base, [", "mkdocs.yml:6: MkDocs encountered an error parsing"),
        ("layers", "templates: none\n      layers", "mkdocs.yml:6: templates: none holds no"),
    ],
)
def test_a_mistake_is_told_with_its_line(project: Path, old: str, new: str, told: str) -> None:
    message = refusal(project, PROJECT.replace(old, new, 1))
    assert message.startswith(told)
    assert "class" not in message


def test_options_that_do_not_exist_are_all_refused_beside_what_else_is_wrong(project: Path) -> None:
    lines = "layer: [data/ours]\n      zzz: x\n      templates: 3"
    assert refusal(project, PROJECT.replace("layers: [base, data/ours]", lines)).split("\n") == [
        "mkdocs.yml:8: templates: Expected type: text but received: a whole number",
        "mkdocs.yml:6: layer: there is no such option. Did you mean 'layers'?",
        "mkdocs.yml:7: zzz: there is no such option. Known: layers, since, templates.",
    ]


@pytest.mark.parametrize(
    ("site", "told"),
    [
        ("data", "the site would take the place of data/ours"),
        ("data/ours", "the site would take the place of data/ours"),
        ("data/ours/site", "the site would stand within data/ours"),
        ("mkdocs.yml", "the site would take the place of mkdocs.yml"),
        ("notes", "notes holds what no build has put there"),
        ("note.txt", "note.txt is a file"),
    ],
)
def test_a_site_never_takes_the_place_of_anything_else(project: Path, site: str, told: str) -> None:
    (project / "notes").mkdir()
    for file in ("note.txt", "notes/a.txt"):
        (project / file).write_text("kept")
    message = refusal(project, f"{PROJECT}site_dir: {site}\n")
    assert message == f"mkdocs.yml:7: site_dir: {told}. Name a folder of its own for the site."


def test_a_site_by_way_of_a_link_into_the_data_is_seen_through(project: Path) -> None:
    (project / "out").symlink_to(project / "data")
    assert "the site would take the place of" in refusal(project, f"{PROJECT}site_dir: out\n")
