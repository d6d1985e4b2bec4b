"""Every pipe material by its condition: the most pressure at the nozzle."""

from __future__ import annotations

from collections.abc import Mapping

from refgen.addresses import record_address
from refgen.catalog import Catalog
from refgen.model.figure import Ceiling
from refgen.model.lookup import Table
from refgen.model.pipes import CONDITIONS, Material
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record
from refgen.texts import show_range
from refgen.units import System


def ceilings(table: Table, catalog: Catalog) -> ComputedTable:
    """Return, a row for each material and a grid for each group, its ceilings by condition.

    Nothing is computed here but the layout: every value is the material's own figure, shown with
    what it rests on, and each cell leads to where its source stands.
    """
    words, first = catalog.w, catalog.brand.units_first
    columns = tuple(Head(words[f"condition_{name}"]) for name in CONDITIONS)
    groups: dict[str, list[tuple[Head, tuple[Cell, ...]]]] = {
        group: [] for group in catalog.words.groups
    }
    records: list[Record] = []
    for name, material in catalog.of_kind("materials").items():
        assert isinstance(material, Material)
        cells = []
        for condition in CONDITIONS:
            own = getattr(material.ceilings, condition)
            # The catalog's copy has taken over basis and source of its record.
            figure = catalog.figures["materials", name, condition] if own else None
            assert figure is None or isinstance(figure, Ceiling)
            cells.append(_cell(name, condition, figure, words, first))
            records.append(_record(name, condition, figure))
        head = Head(material.title, record_address("materials", name), name)
        groups.setdefault(material.group or "", []).append((head, tuple(cells)))
    grids = tuple(
        Grid(words[_caption(group)], words["pipe_by_condition"], columns, tuple(rows))
        for group, rows in groups.items()
        if rows
    )
    ids = tuple(head.id for grid in grids for head, _ in grid.rows)
    assumptions = (
        words["order_of_authority"],
        words["assume_at_nozzle"],
        words["assume_margin_gauge"],
    )
    return ComputedTable(grids, tuple(records), assumptions, ids, (words["lowest_wins"],))


def _caption(group: str) -> str:
    return f"group_{group.replace('-', '_')}" if group else "kind_materials"


def _cell(
    material: str,
    condition: str,
    ceiling: Ceiling | None,
    words: Mapping[str, str],
    first: System,
) -> Cell:
    if ceiling is None:
        return Cell(reason=words["no_ceiling_given"])
    address = record_address("materials", material, condition)
    if ceiling.jet == "no":
        return Cell(words=words["no_jet"], basis=ceiling.basis, address=address)
    lines = (show_range(ceiling.is_, ceiling.to, first),) if ceiling.is_ else ()
    said = ceiling.jet or ""
    if said:
        said = said[:1].upper() + said[1:]
        if lines:
            said = f"{said}, {words['then_at_most']}"
    return Cell(lines, words=said, basis=ceiling.basis, address=address)


def _record(material: str, condition: str, ceiling: Ceiling | None) -> Record:
    value = ceiling.is_ if ceiling and ceiling.jet != "no" else None
    source = ceiling.source if ceiling else None
    return {
        "material": material,
        "condition": condition,
        "ceiling_pa": value.si if value else None,
        "ceiling": str(value) if value else None,
        "jet": ceiling.jet if ceiling else None,
        "basis": ceiling.basis if ceiling else None,
        "source": source.id if source else None,
    }
