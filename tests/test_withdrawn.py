"""A record that a layer marks as withdrawn says so on its page and to every phone that kept it."""

from __future__ import annotations

import html
import json
from collections.abc import Callable
from pathlib import Path

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config

from refgen.catalog import Catalog
from refgen.errors import DataError

CatalogOf = Callable[..., Catalog]
REASON = "Ceiling <too> high & wrong; keep to half."


def brand(*lines: str) -> dict[str, str]:
    return {"brand": "withdrawn:\n" + "".join(f"  - {line}\n" for line in lines)}


def test_the_page_the_worker_and_nothing_else_tell_it(tmp_path: Path) -> None:
    (tmp_path / "docs").mkdir()
    for layer, line in (
        ("ours", "{id: clay, page: materials/clay-old, why: Older.}"),
        ("depot", f"{{id: brick, page: materials/brick, why: '{REASON}'}}"),
    ):
        (tmp_path / layer).mkdir()
        (tmp_path / layer / "brand.yml").write_text(brand(line)["brand"])
    (tmp_path / "mkdocs.yml").write_text(
        "site_name: Ours\ndocs_dir: docs\ntheme: {name: material}\n"
        "plugins:\n  - refgen:\n      layers: [base, ours, depot]\n"
    )
    site = tmp_path / "site"
    config = load_config(str(tmp_path / "mkdocs.yml"), site_dir=str(site))
    config.plugins.on_startup(command="build", dirty=False)
    build(config)
    first = (site / "sw.js").read_text("utf-8").split("\n", 1)[0]
    listed = json.loads(first.removeprefix("const SITE = ").removesuffix(";"))
    assert listed["withdrawn"] == {
        "materials/brick.html": REASON,
        "materials/clay-old.html": "Older.",
    }
    said = [p.relative_to(site).as_posix() for p in sorted(site.rglob("*.html"))
            if 'id="_withdrawn"' in p.read_text("utf-8")]  # fmt: skip
    assert said == ["materials/brick.html", "materials/clay-old.html"]
    text = (site / "materials" / "brick.html").read_text("utf-8")
    assert html.escape(REASON) in text
    assert text.index('id="_withdrawn"') < text.index("<h1")


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("{id: a, page: materials/no-such, why: Wrong.}", "no material 'no-such'"),
        ("{id: a, page: terms/bypass, why: Wrong.}", "only a record with a page of its own"),
        (
            "{id: a, page: 'materials/pvc#worn', why: Wrong.}",
            "only a record with a page of its own",
        ),
        ("{id: a, page: materials/pvc}", "why"),
    ],
)
def test_what_has_no_page_or_no_reason_cannot_be_withdrawn(
    catalog_of: CatalogOf, line: str, told: str
) -> None:
    with pytest.raises(DataError) as caught:
        catalog_of(brand(line))
    assert told in str(caught.value)
