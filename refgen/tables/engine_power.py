"""What height and heat leave of an engine's power, and whether each machine still has enough."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from refgen.addresses import record_address
from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.derate import AltitudeRule, Fuel, altitude_share, heat_share
from refgen.hydraulics.power import PUMP_EFFICIENCY, engine_power
from refgen.model.lookup import Table
from refgen.model.machines import Machine
from refgen.rigs import pump_of
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, in_words, kept, percent
from refgen.texts import show_quantity
from refgen.units import Quantity

RULES: tuple[AltitudeRule, ...] = ("cautious", "mild", "air density")
FUELS: dict[str, Fuel] = {"petrol-engine": "petrol", "diesel-engine": "diesel"}
"""The part that is an engine, and what it burns."""


@dataclass(frozen=True, slots=True)
class _Left:
    """The share of the rating left, as the cautious and the mildest of the rules give it."""

    cautious: float
    mildest: float

    def __str__(self) -> str:
        low, high = percent(self.cautious), percent(self.mildest)
        return low if low == high else f"{low.removesuffix('%')} to {high}"


def engine_powers(table: Table, catalog: Catalog) -> ComputedTable:
    """Return the share of power left by height and heat, and each machine's by height."""
    words, first = catalog.w, catalog.brand.units_first
    records: list[Record] = []
    grids = []
    columns = tuple(Head(show_quantity(warmth, first)) for warmth in table.columns)
    fuels: tuple[tuple[Fuel, str], ...] = (
        ("petrol", words["fuel_petrol"]),
        ("diesel", words["fuel_diesel"]),
    )
    for fuel, caption in fuels:
        rows = []
        for height in table.rows:
            cells = []
            for warmth in table.columns:
                record: Record = {
                    "fuel": fuel,
                    "altitude_m": height.si,
                    "altitude": str(height),
                    "air_k": warmth.si,
                    "air": str(warmth),
                    "cautious": None,
                    "mildest": None,
                    "machine": None,
                    "power_left_w": None,
                    "power_needed_w": None,
                }
                try:
                    left = _left(height.si, warmth.si, fuel)
                except OutOfRange as error:
                    cells.append(Cell(reason=str(error)))
                else:
                    record["cautious"] = kept(left.cautious, 4)
                    record["mildest"] = kept(left.mildest, 4)
                    cells.append(Cell((str(left),)))
                records.append(record)
            rows.append((Head(show_quantity(height, first)), tuple(cells)))
        grids.append(Grid(caption, words["height_by_air"], columns, tuple(rows)))
    own, more = _machines(table, catalog)
    if own.rows:
        grids.append(own)
        records += more
    assumptions = (
        words["assume_derate"],
        words["assume_turbo"],
        words["assume_pump_power"].format(share=percent(PUMP_EFFICIENCY)),
        words["assume_continuous"],
    )
    working = Working(
        (words["formula_derate"], words["formula_heat"], words["formula_pump_power"]),
        _example(table, catalog),
        ("farm-engine-text",),
    )
    ids = tuple(head.id for head, _ in own.rows)
    return ComputedTable(tuple(grids), tuple(records), assumptions, ids, working=working)


def _left(height: float, warmth: float, fuel: Fuel) -> _Left:
    heat = heat_share(warmth, fuel)
    shares = [altitude_share(height, rule) * heat for rule in RULES]
    return _Left(min(shares), max(shares))


def _machines(table: Table, catalog: Catalog) -> tuple[Grid, list[Record]]:
    """Return what each machine with an engine has left by height, in the warmest air given."""
    words, first = catalog.w, catalog.brand.units_first
    warmest = max(table.columns, key=lambda warmth: warmth.si, default=None)
    rows, records = [], []
    for name, machine in catalog.machines().items():
        fuel = next((FUELS[part] for part in FUELS if part in machine.parts), None)
        if fuel is None or machine.power is None or warmest is None:
            continue
        cells = []
        for height in table.rows:
            cell, record = _of_machine(name, machine, fuel, height, warmest, words, catalog)
            cells.append(cell)
            records.append(record)
        address = record_address("machines", name)
        rows.append((Head(machine.title, address, name, name), tuple(cells)))
    columns = tuple(Head(show_quantity(height, first)) for height in table.rows)
    shown = in_words(show_quantity(warmest, first)) if warmest else ""
    caption = words["power_of_machines"].format(air=shown)
    return Grid(caption, words["machine_by_height"], columns, tuple(rows)), records


def _of_machine(
    name: str,
    machine: Machine,
    fuel: Fuel,
    height: Quantity,
    warmest: Quantity,
    words: Mapping[str, str],
    catalog: Catalog,
) -> tuple[Cell, Record]:
    assert machine.power is not None
    pump = pump_of(machine)
    needed = engine_power(pump.flow, pump.limit)
    record: Record = {
        "fuel": fuel,
        "altitude_m": height.si,
        "altitude": str(height),
        "air_k": warmest.si,
        "air": str(warmest),
        "cautious": None,
        "mildest": None,
        "machine": name,
        "power_left_w": None,
        "power_needed_w": kept(needed),
    }
    try:
        left = _left(height.si, warmest.si, fuel)
    except OutOfRange as error:
        return Cell(reason=str(error)), record
    power = machine.power.si * left.cautious
    record["cautious"], record["mildest"] = kept(left.cautious, 4), kept(left.mildest, 4)
    record["power_left_w"] = kept(power)
    said = words["power_enough"] if power >= needed else words["power_short"]
    if power < needed:
        said = said.format(share=percent(power / needed))
    return Cell((both(power, "power", catalog.brand.units_first, 2),), words=said), record


def _example(table: Table, catalog: Catalog) -> str:
    """Return one share worked out, values with their units."""
    first = catalog.brand.units_first
    if not table.rows:
        return ""
    height = table.rows[-1]
    try:
        shares = {rule: percent(altitude_share(height.si, rule), 3) for rule in RULES}
    except OutOfRange:
        return ""
    return catalog.w["example_derate"].format(
        height=in_words(show_quantity(height, first)),
        thousands=f"{height.si / 304.8:.3g}",
        cautious=shares["cautious"],
        mild=shares["mild"],
        air=shares["air density"],
    )
