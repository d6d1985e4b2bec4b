"""What worn jets do to pressure and pull, and what the gauge of each machine then shows."""

from __future__ import annotations

from dataclasses import replace

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics import Duty, working_point
from refgen.hydraulics.wear import pressure_when_worn, worn
from refgen.model.lookup import Table
from refgen.rigs import water_assumed
from refgen.setups import wear_limit_of
from refgen.tables.duties import Fed, duty_record, machine_grids, row_ids
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, in_words, kept, percent
from refgen.units import PSI


def jet_wear(table: Table, catalog: Catalog) -> ComputedTable:
    """Return pressure and pull left by growth of the bores, and each machine's gauge then."""
    words, first = catalog.w, catalog.brand.units_first
    limit = wear_limit_of(catalog)
    temperature = water_assumed(table.assume)
    growths = [quantity.si for quantity in table.rows]
    rows, records = [], []
    for quantity in table.rows:
        growth = quantity.si
        left, pull = pressure_when_worn(1.0, growth), 1 / (1 + growth) ** 2
        do = words["renew_jets"] if growth >= limit else words["still_good"]
        cells = (Cell((percent(left),)), Cell((percent(pull),)), Cell(words=do))
        rows.append((Head(str(quantity)), cells))
        records.append(_record(growth, left=left, pull=pull))
    heads = ("left_at_nozzle", "pull", "what_to_do")
    any_nozzle = Grid(
        words["worn_at_full_flow"],
        words["bores_grown_by"],
        tuple(Head(words[name]) for name in heads),
        tuple(rows),
    )
    found: list[tuple[Fed, list[Duty | None]]] = []

    def cells_of(fed: Fed) -> tuple[Cell, ...]:
        duties = [_duty(fed, growth) for growth in (0.0, *growths)]
        found.append((fed, duties))
        if fed.duty is None:
            return (Cell(reason=fed.reason),) * len(duties)
        return tuple(
            Cell(reason=words["no_formula_here"])
            if duty is None
            else Cell((both(duty.gauge, "pressure", first, 2),))
            for duty in duties
        )

    columns = (Head(words["as_new"]), *(Head(str(quantity)) for quantity in table.rows))
    grids, _ = machine_grids(catalog, columns, cells_of, temperature, words["gauge_of"])
    for fed, duties in found:
        for growth, duty in zip((0.0, *growths), duties, strict=True):
            records.append(_record(growth, fed, duty))
    assumptions = (
        words["assume_worn_alike"],
        words["assume_whole_hose_at"].format(temperature=f"{temperature - 273.15:.0f}"),
        words["assume_worn_gauge"],
        words["assume_margin_worn"],
    )
    example = ""
    if growths:
        example = words["example_worn"].format(
            growth=percent(growths[-1]),
            factor=f"{1 + growths[-1]:g}",
            left=percent(pressure_when_worn(1.0, growths[-1])),
            whole=in_words(both(2000 * PSI, "pressure", first)),
            rest=in_words(both(pressure_when_worn(2000 * PSI, growths[-1]), "pressure", first, 2)),
        )
    working = Working(
        (words["formula_worn"], words["formula_worn_pull"]), example, ("britannica-hydraulics",)
    )
    return ComputedTable(
        (any_nozzle, *grids), tuple(records), assumptions, row_ids(grids), working=working
    )


def _duty(fed: Fed, growth: float) -> Duty | None:
    jets = tuple(worn(jet, growth) for jet in fed.rig.jets)
    try:
        return working_point(replace(fed.rig, jets=jets))
    except OutOfRange:
        return None


def _record(
    growth: float,
    fed: Fed | None = None,
    duty: Duty | None = None,
    *,
    left: float | None = None,
    pull: float | None = None,
) -> Record:
    return {
        "growth": growth,
        "pressure_left": kept(left, 3),
        "pull_left": kept(pull, 3),
        **duty_record(fed, duty),
        "pull_n": kept(duty.pull) if duty else None,
    }
