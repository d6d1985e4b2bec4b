"""What the tests of tables share: a catalog under the base's words, and what a table holds."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from refgen.bundled import bundled
from refgen.catalog import Catalog
from refgen.pages import render_pages
from refgen.tables import ComputedTable, compute_tables
from tests.stages import catalog_from

Files = dict[str, str | bytes]
Load = Callable[..., Catalog]


def loader(data: Callable[..., list[Path]]) -> Load:
    """Return what loads records under the base's own words and brand."""
    own: Files = {
        name: (bundled("data/base") / name).read_bytes() for name in ("words.yml", "brand.yml")
    }

    def catalog(files: Files, *over: Files) -> Catalog:
        return catalog_from(data({**own, **files}, *over))

    return catalog


def record(compute: str, **fields: Any) -> str:
    """Return a record of a computed table; JSON is YAML."""
    whole = {"title": "T", "answer": "A.", "how_to_read": ["Across."], "compute": compute}
    return json.dumps({**whole, **fields})


def table_of(catalog: Catalog) -> ComputedTable:
    (table,) = compute_tables(catalog).values()
    return table


def text(cell: Any) -> str:
    return " | ".join(filter(None, [cell.words, *map(str, cell.lines)]))


def pages_of(catalog: Catalog) -> dict[str, str]:
    """Return the article of every page by its address."""
    pages = render_pages(catalog, compute_tables(catalog), bundled("site_templates"))
    return {page.address: page.html for page in pages}


def page_of(catalog: Catalog, address: str) -> str:
    return pages_of(catalog)[address]


def workings_of(catalog: Catalog) -> dict[str, str]:
    """Return what each table's page folds away, by the id of the table."""
    return {
        address.split("/")[1].removesuffix(".html"): html.split('<details class="working"')[
            1
        ].split("</details>")[0]
        for address, html in pages_of(catalog).items()
        if address.startswith("tables/") and not address.endswith("index.html")
    }


def number(value: object) -> float:
    """Return a number of a record."""
    assert isinstance(value, (int, float))
    return float(value)


# Trade number 10 takes 8.66 of the 12 gpm at 3000 psi: the unloader opens. Number 14 takes all 12
# at 4000·(12/14)² = 2939 psi less nothing, and number 20 at 1440 psi. 5 ft of 1 in hose lose no
# pressure worth telling, so gauge and nozzle are the same to three digits.
def barrow(first: str, second: str = "", **changes: str) -> Files:
    size = (
        "title: S\nanswer: S.\npattern: straight\nthread: x\nstiff_length: 3 in\n"
        "jets: [{id: rear, number: %s}]\n"
    )
    hose = "bore: 1 in\nroughness: 0 mm\nworking_pressure: 4000 psi\nburst_pressure: 16000 psi\n"
    files: Files = {
        "patterns/straight": (
            "title: P\nanswer: P.\njets: [{id: rear, count: 1, angle: 20 deg, faces: rear}]\n"
            "discharge_coefficient: 0.75\ndoes: [x]\ndoes_not: [x]\n"
        ),
        "nozzles/tight": size % 10,
        "nozzles/right": size % 14,
        "nozzles/wide": size % 20,
        "hoses/wide-line": f"title: Wide line\nanswer: H.\n{hose}",
        "machines/barrow": (
            "title: Barrow\nanswer: M.\nflow: 12 gpm\npressure: 3000 psi\nfitted: []\n"
            "nozzles: [tight, right, wide]\nhoses:\n"
            f"  - {{id: main, hose: wide-line, length: 5 ft{first}}}\n{second}"
        ),
        "tables/t": record("at-the-nozzle"),
    }
    return {**files, **changes}
