"""Antifreeze: what hoses hold, when a mixture freezes, and what water left behind makes of it."""

from __future__ import annotations

from refgen.addresses import record_address
from refgen.catalog import Catalog
from refgen.hydraulics.antifreeze import freezing_point, hose_contents, mixed_strength
from refgen.hydraulics.hose import Segment
from refgen.hydraulics.stored_water import pipe_volume
from refgen.model.equipment import Hose
from refgen.model.lookup import Table
from refgen.model.machines import Machine
from refgen.rigs import segment_of
from refgen.tables.cold_flow import pushing, thickness
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, in_words, kept, percent
from refgen.texts import show_quantity
from refgen.units import US_GALLON

SHARES = tuple(step / 20 for step in range(1, 11))
"""Shares of glycol for which the freezing point is told."""
STRENGTHS = (0.5, 0.4, 0.3)
"""Strengths of the antifreeze that is put in."""
WATER = (0, 1, 2, 3, 5, 10)
"""Parts of water left behind to ten parts of antifreeze."""


def antifreeze(table: Table, catalog: Catalog) -> ComputedTable:
    """Return what hoses and machines hold, when mixtures freeze, and how cold ones flow."""
    words = catalog.w
    contents, records = _contents(table, catalog)
    machines = _machines(catalog)
    freezing, more = _freezing(catalog)
    mixed, rest = _mixed(catalog)
    thick, thicker = thickness(catalog)
    pushed, last = pushing(table, catalog)
    grids = (contents, machines, freezing, mixed, thick, pushed)
    assumptions = (
        words["assume_contents"],
        words["assume_buy_more"],
        words["assume_glycol"],
        words["assume_burst_label"],
        words["assume_thickness"],
    )
    example = ""
    if table.rows and table.columns:
        bore, length, first = table.rows[-1], table.columns[-1], catalog.brand.units_first
        example = words["example_contents"].format(
            bore=in_words(show_quantity(bore, first)),
            length=in_words(show_quantity(length, first)),
            metres=f"{bore.si:.4f}",
            long=f"{length.si:.2f}",
            volume=in_words(both(pipe_volume(bore.si, length.si), "volume", first)),
        )
    formulas = ("formula_contents", "formula_mixture", "formula_thickness", "formula_friction")
    working = Working(
        tuple(words[name] for name in formulas), example, ("melinder-2010", "colebrook-1939")
    )
    ids = tuple(head.id for head, _ in machines.rows)
    return ComputedTable(
        tuple(grid for grid in grids if grid.rows),
        (*records, *more, *rest, *(_record(**found) for found in (*thicker, *last))),
        assumptions,
        ids,
        working=working,
    )


def _record(**found: float | int | str | None) -> Record:
    names = ("bore", "bore_m", "length_m", "volume_m3", "volume_gal", "strength_put_in")
    cold = ("temperature_c", "viscosity_pa_s", "flow_m3_per_s", "loss_pa")
    whole = (*names, "water_to_ten", "strength", "freezing_c", *cold)
    return {name: found.get(name) for name in whole}


def _contents(table: Table, catalog: Catalog) -> tuple[Grid, list[Record]]:
    words, first = catalog.w, catalog.brand.units_first
    rows, records = [], []
    for bore in table.rows:
        cells = []
        for length in table.columns:
            volume = pipe_volume(bore.si, length.si)
            cells.append(Cell((both(volume, "volume", first, 2),)))
            records.append(
                _record(
                    bore=str(bore),
                    bore_m=bore.si,
                    length_m=length.si,
                    volume_m3=kept(volume),
                    volume_gal=kept(volume / US_GALLON, 4),
                )
            )
        rows.append((Head(show_quantity(bore, first)), tuple(cells)))
    columns = tuple(Head(show_quantity(length, first)) for length in table.columns)
    return Grid(words["hose_holds"], words["bore_by_length"], columns, tuple(rows)), records


def _machines(catalog: Catalog) -> Grid:
    """Return what the hoses of each machine hold together."""
    words, first = catalog.w, catalog.brand.units_first
    rows = []
    for name, machine in catalog.machines().items():
        volume = hose_contents(_segments(machine, catalog))
        head = Head(machine.title, record_address("machines", name), name, name)
        rows.append((head, (Cell((both(volume, "volume", first, 2),)),)))
    columns = (Head(words["all_its_hoses"]),)
    return Grid(words["machines_hold"], words["machine"], columns, tuple(rows))


def _segments(machine: Machine, catalog: Catalog) -> list[Segment]:
    found = []
    for carried in machine.hoses:
        hose = catalog.entries["hoses", carried.hose.id].record
        assert isinstance(hose, Hose)
        found.append(segment_of(carried, hose))
    return found


def _freezing(catalog: Catalog) -> tuple[Grid, list[Record]]:
    words, first = catalog.w, catalog.brand.units_first
    rows, records = [], []
    for share in SHARES:
        point = freezing_point(share)
        cells = (Cell((both(point, "temperature", first),)),)
        rows.append((Head(percent(share)), cells))
        records.append(_record(strength=share, freezing_c=kept(point - 273.15, 4)))
    columns = (Head(words["freezes_at"]),)
    return Grid(words["freezing_points"], words["glycol_by_volume"], columns, tuple(rows)), records


def _mixed(catalog: Catalog) -> tuple[Grid, list[Record]]:
    words, first = catalog.w, catalog.brand.units_first
    rows, records = [], []
    for parts in WATER:
        cells = []
        for strength in STRENGTHS:
            share = mixed_strength(10, strength, parts)
            point = freezing_point(share)
            cells.append(Cell((percent(share), both(point, "temperature", first))))
            records.append(
                _record(
                    strength_put_in=strength,
                    water_to_ten=parts,
                    strength=kept(share, 4),
                    freezing_c=kept(point - 273.15, 4),
                )
            )
        rows.append((Head(words["water_to_ten"].format(parts=parts)), tuple(cells)))
    columns = tuple(Head(words["put_in_at"].format(share=percent(s))) for s in STRENGTHS)
    return Grid(
        words["mixed_with_water"], words["water_by_strength"], columns, tuple(rows)
    ), records
