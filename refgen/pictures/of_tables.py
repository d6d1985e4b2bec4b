"""The pictures that stand on table pages, by what a table computes."""

from __future__ import annotations

from collections.abc import Callable

from refgen.catalog import Catalog
from refgen.model.lookup import Table
from refgen.pictures.bends import bends_of
from refgen.pictures.losses import losses_of
from refgen.pictures.part_full import pipes_of
from refgen.pictures.svg import Drawn

_PICTURES: dict[str, Callable[[Table, Catalog], Drawn | None]] = {
    "hose-loss": losses_of,
    "flow-in-pipe": pipes_of,
    "reach": bends_of,
}


def of_table(catalog: Catalog, table: Table) -> Drawn | None:
    """Return the picture that goes with a table, or None where there is none."""
    draw = _PICTURES.get(table.compute or "")
    return draw(table, catalog) if draw else None
