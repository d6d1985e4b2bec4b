"""How water runs in a part-full pipe: depth, speed, and what it carries with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.open_channel import SHEAR_DENSITY, PartFull, part_full
from refgen.hydraulics.transport import SEWER_SAND, largest_grain_moved
from refgen.hydraulics.water import GRAVITY, Water, water_at
from refgen.model.lookup import Table
from refgen.rigs import water_assumed
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, in_words, kept, percent
from refgen.texts import show_quantity
from refgen.units import Quantity, System

GRAVEL = 0.002
"""Grains from this size on [m] are gravel: ISO 14688-1."""


@dataclass(frozen=True, slots=True)
class Running:
    """One flow in one pipe on one slope: how it runs, or None where the pipe is full."""

    flow: Quantity
    bore: Quantity
    slope: Quantity
    water: PartFull | None


def flow_in_pipe(table: Table, catalog: Catalog) -> ComputedTable:
    """Return, a grid for each flow, how the water runs by bore and slope."""
    words, first = catalog.w, catalog.brand.units_first
    temperature = water_assumed(table.assume)
    water, n = water_at(temperature), table.assume.manning_n
    grids, records, example = [], [], ""
    columns = tuple(Head(words["falling"].format(slope=slope)) for slope in table.columns)
    for flow in table.flows:
        rows = []
        for bore in table.rows:
            cells = []
            for slope in table.columns:
                try:
                    running = Running(flow, bore, slope, part_full(flow.si, bore.si, slope.si, n))
                except OutOfRange as error:
                    cells.append(Cell(reason=str(error)))
                    records.append(_record(Running(flow, bore, slope, None), water, "no formula"))
                    continue
                cells.append(_cell(running, water, words, first))
                records.append(_record(running, water, "" if running.water else "full"))
                if running.water is not None:
                    example = example or _example(running, n, words, first)
            rows.append((Head(show_quantity(bore, first)), tuple(cells)))
        caption = words["water_running"].format(flow=in_words(show_quantity(flow, first)))
        grids.append(Grid(caption, words["bore_by_slope"], columns, tuple(rows)))
    assumptions = (
        words["assume_manning"].format(n=n),
        words["assume_grains"],
        words["assume_steady"],
        words["assume_margin_running"],
    )
    working = Working(
        (words["formula_manning"], words["formula_shear"], words["formula_grains"]),
        example,
        ("manning-formula",),
    )
    return ComputedTable(tuple(grids), tuple(records), assumptions, working=working)


def _cell(running: Running, water: Water, words: Mapping[str, str], first: System) -> Cell:
    if running.water is None:
        return Cell(words=words["runs_full"])
    found = running.water
    depth = words["so_deep"].format(share=f"{found.depth_ratio * 100:.0f}%")
    speed = both(found.velocity, "speed", first, 2)
    return Cell((depth, speed), words=moved(found, water, words))


def moved(found: PartFull, water: Water, words: Mapping[str, str]) -> str:
    """Return in a few words what the water carries by itself."""
    grain = largest_grain_moved(found.shear, water)
    if grain is None:
        return words["moves_nothing"]
    if found.shear < SEWER_SAND:
        return words["moves_fine_sand"]
    return words["moves_gravel"] if grain >= GRAVEL else words["moves_sand"]


def _record(running: Running, water: Water, state: str) -> Record:
    found = running.water
    return {
        "flow_m3_per_s": running.flow.si,
        "flow": str(running.flow),
        "bore_m": running.bore.si,
        "bore": str(running.bore),
        "slope": running.slope.si,
        "state": state or "part full",
        "depth_ratio": kept(found.depth_ratio, 4) if found else None,
        "velocity_m_per_s": kept(found.velocity, 4) if found else None,
        "shear_pa": kept(found.shear, 4) if found else None,
        "largest_grain_m": kept(largest_grain_moved(found.shear, water), 3) if found else None,
        "moves_sewer_sand": int(found.shear >= SEWER_SAND) if found else None,
    }


def _example(running: Running, n: float, words: Mapping[str, str], first: System) -> str:
    found = running.water
    assert found is not None
    return words["example_running"].format(
        flow=in_words(show_quantity(running.flow, first)),
        bore=in_words(show_quantity(running.bore, first)),
        slope=running.slope,
        n=n,
        depth=percent(found.depth_ratio),
        speed=in_words(both(found.velocity, "speed", first, 2)),
        radius=f"{found.shear / (SHEAR_DENSITY * GRAVITY * running.slope.si) * 1e3:.2g}",
        shear=f"{found.shear:.2g}",
    )
