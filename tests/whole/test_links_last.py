"""Every address that was once published still leads to what it named."""

from __future__ import annotations

import posixpath
import re
from pathlib import Path

import pytest

from tests.moving import OLD, move_all, published, records, run, start
from tests.reading import read_page


@pytest.fixture(scope="module")
def moved(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[str]]:
    """A project after all its moves, and every address it had published before."""
    project = tmp_path_factory.mktemp("moving") / "ours"
    start(project)
    before = published(project)
    move_all(project)
    return project, before


def follow(site: Path, address: str) -> str:
    """Return where an address leads without script: by the pages' own links."""
    for _ in range(5):
        page, _, anchor = address.partition("#")
        html = (site / page).read_text("utf-8")
        forward = re.search(r'data-moved="([^"]+)"', html)
        if forward:
            address = posixpath.normpath(posixpath.join(posixpath.dirname(page), forward[1]))
            if anchor and "#" not in address:
                address += f"#{anchor}"
            continue
        row = (
            re.search(rf'<a class="moved-item" id="{anchor}" href="([^"]+)"', html)
            if anchor
            else None
        )
        if not row:
            return address
        address = posixpath.normpath(posixpath.join(posixpath.dirname(page), row[1]))
    raise AssertionError(f"{address} leads round in a circle")


def test_all_that_was_published_leads_to_a_page_and_a_place_on_it(
    moved: tuple[Path, list[str]],
) -> None:
    project, before = moved
    assert {address for address in OLD if "terms" not in address} <= set(before)
    lost = []
    for address in before:
        page, _, anchor = follow(project / "site", address).partition("#")
        if address.startswith("deposits/froth.html#"):
            continue  # what a record of another kind has no place for is told on the page itself
        if anchor and anchor not in read_page(project / "site" / page).ids:
            lost.append(address)
    assert lost == []


def test_nothing_is_left_under_the_old_names(moved: tuple[Path, list[str]]) -> None:
    project, _ = moved
    ours = {key for key in records(project) if key[1] in ("end-of-day", "grease-it", "sledge")}
    assert ours == {("procedures", "end-of-day"), ("procedures", "grease-it"), ("terms", "sledge")}
    for name in ("yard-wash", "wash-down-yard", "greasing"):
        assert ("procedures", name) not in records(project)


def test_each_old_name_is_a_page_that_leads_on_also_without_script(
    moved: tuple[Path, list[str]],
) -> None:
    project, _ = moved
    for old, new in {
        "procedures/yard-wash.html": "../procedures/end-of-day.html",
        "procedures/wash-down-yard.html": "../procedures/end-of-day.html",
        "procedures/greasing.html": "../procedures/grease-it.html",
        "deposits/froth.html": "../symptoms/froth-ours.html",
    }.items():
        html = (project / "site" / old).read_text("utf-8")
        assert f'<meta http-equiv="refresh" content="0; url={new}">' in html
        assert f'<a class="moved" href="{new}">' in html


def test_the_lock_tells_of_what_would_be_lost(moved: tuple[Path, list[str]]) -> None:
    project, _ = moved
    run(project, "check", "--lock")
    page = project / "data" / "ours" / "procedures" / "end-of-day.yml"
    text = page.read_text("utf-8")
    page.write_text(text.replace("moved: {grease: procedures/grease-it#chain}\n", ""), "utf-8")
    with pytest.raises(
        AssertionError, match=r"'procedures/yard-wash#grease' was published and is gone"
    ):
        run(project, "check")
    page.write_text(text, "utf-8")
    run(project, "check")
