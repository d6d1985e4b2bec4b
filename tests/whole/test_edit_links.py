"""An edit link on each page of a company's own, and on none that came with refgen."""

from __future__ import annotations

from pathlib import Path

from refgen.project import open_project
from tests.reading import read_page


def edit_links(page: Path) -> list[str]:
    return [link for link in read_page(page).links if link.startswith("https://git.example/")]


def test_own_pages_lead_to_their_file_and_shared_ones_nowhere(company: Path) -> None:
    config = company / "mkdocs.yml"
    config.write_text(
        f"{config.read_text()}repo_url: https://git.example/ours\nedit_uri: edit/main/\n"
    )
    path = company / "data" / "ours" / "deposits" / "froth.yml"
    path.parent.mkdir()
    path.write_text(
        "title: Froth\nanswer: It floats.\nknow_by: [White.]\nmoves: [{id: skim, text: Skim it.}]\n"
    )
    # A page of the shared data that the company has changed is its own to edit.
    (company / "data" / "ours" / "materials").mkdir()
    (company / "data" / "ours" / "materials" / "lead.yml").write_text("notes: [Ours.]\n")
    open_project(config).build()
    edit = "https://git.example/ours/edit/main/data/ours"
    site = company / "site"
    assert edit_links(site / "deposits" / "froth.html") == [f"{edit}/deposits/froth.yml"]
    assert edit_links(site / "materials" / "lead.html") == [f"{edit}/materials/lead.yml"]
    assert edit_links(site / "materials" / "abs.html") == []
    assert edit_links(site / "index.html") == []


def test_without_a_repository_there_is_no_edit_link(quillfen: Path) -> None:
    html = (quillfen / "lessons" / "cart-hour.html").read_text("utf-8")
    assert 'class="edit' not in html
