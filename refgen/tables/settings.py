"""Where to set each machine for each pipe, so that the pipe never meets more than its ceiling."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import floor

from refgen.addresses import record_address
from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.choice import fitting_nozzle
from refgen.hydraulics.setting import gauge_error, regulator_setting
from refgen.hydraulics.water import density
from refgen.model.equipment import Hose
from refgen.model.figure import Ceiling
from refgen.model.lookup import Table
from refgen.model.machines import Machine
from refgen.model.pipes import CONDITIONS, Material
from refgen.rigs import (
    GAUGE_CLASS,
    calibration_of,
    dial_for,
    pump_of,
    segment_of,
    water_assumed,
)
from refgen.setups import OVERSHOOT, headroom_of
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import at_most, both, in_words, kept, percent, trade_number
from refgen.units import PSI


@dataclass(frozen=True, slots=True)
class _Case:
    """A pipe in one condition with one machine, and what comes of it."""

    machine: str
    material: str
    condition: str
    ceiling: Ceiling | None
    dial: float
    setting: float | None
    limit: float
    number: float | None
    reason: str


def settings(table: Table, catalog: Catalog) -> ComputedTable:
    """Return, a grid for each machine, the highest setting for each pipe by its condition.

    A setting takes gauge error and the unloader's overshoot off the ceiling, with the nozzle no
    lower than the pump. Hose loss is never counted on.
    """
    words = catalog.w
    columns = tuple(Head(words[f"condition_{name}"]) for name in CONDITIONS)
    grids, cases = [], []
    for name, machine in catalog.machines().items():
        rows = []
        for material_id, material in catalog.of_kind("materials").items():
            assert isinstance(material, Material)
            found = [_case(table, catalog, name, machine, material_id, c) for c in CONDITIONS]
            cases += found
            address = record_address("materials", material_id)
            head = Head(material.title, address, f"{name}-{material_id}")
            rows.append((head, tuple(_cell(case, catalog) for case in found)))
        grids.append(Grid(machine.title, words["pipe_by_condition"], columns, tuple(rows)))
    grids = [grid for grid in grids if grid.rows]
    ids = tuple(head.id for grid in grids for head, _ in grid.rows)
    allowed = {
        "share": percent(_class(table)),
        "overshoot": percent(_overshoot(table)),
    }
    assumptions = (
        words["assume_setting"].format(**allowed),
        words["assume_setting_loss"],
        words["assume_setting_jets"].format(share=percent(headroom_of(catalog))),
        words["assume_setting_level"],
        words["order_of_authority"],
    )
    working = Working(
        (words["formula_setting"], words["formula_gauge_error"]),
        _example(table, catalog, cases),
        ("gauge-standard",),
    )
    records = tuple(map(_record, cases))
    heed = (words["lowest_wins"],)
    return ComputedTable(tuple(grids), records, assumptions, ids, heed, working)


def _class(table: Table) -> float:
    return table.assume.gauge_class.si if table.assume.gauge_class else GAUGE_CLASS


def _overshoot(table: Table) -> float:
    return table.assume.overshoot.si if table.assume.overshoot else OVERSHOOT


def _case(
    table: Table, catalog: Catalog, name: str, machine: Machine, material: str, condition: str
) -> _Case:
    figure = catalog.figures.get(("materials", material, condition))
    assert figure is None or isinstance(figure, Ceiling)
    pump = pump_of(machine)
    given, first = table.assume.dial, catalog.brand.units_first
    dial = given.si if given else dial_for(pump.limit, first)
    empty = _Case(name, material, condition, figure, dial, None, pump.limit, None, "")
    if figure is None:
        return replace(empty, reason=catalog.w["no_ceiling_given"])
    if figure.jet is not None or figure.is_ is None:
        return empty
    water = water_assumed(table.assume)
    carried = machine.hoses[0]
    hose = catalog.entries["hoses", carried.hose.id].record
    assert isinstance(hose, Hose)
    error = gauge_error(dial, _class(table))
    ratings = (pump.pressure, hose.working_pressure.si)
    try:
        setting = regulator_setting(
            figure.is_.si, error, _overshoot(table), 0.0, density(water), ratings
        )
    except OutOfRange as refusal:
        return replace(empty, reason=str(refusal))
    held = replace(pump, unloader=min(setting, pump.limit))
    room = headroom_of(catalog)
    try:
        hoses = (segment_of(carried, hose),)
        number = fitting_nozzle(held, hoses, water, 0.0, room).number
        number /= calibration_of(catalog, machine).share
    except OutOfRange:
        return replace(empty, setting=setting)
    return replace(empty, setting=setting, number=number)


def _cell(case: _Case, catalog: Catalog) -> Cell:
    words, first, ceiling = catalog.w, catalog.brand.units_first, case.ceiling
    if case.reason or ceiling is None:
        return Cell(reason=case.reason)
    address = record_address("materials", case.material, case.condition)
    if ceiling.jet is not None:
        said = words["no_jet"] if ceiling.jet == "no" else words["no_setting"]
        return Cell(words=said, basis=ceiling.basis, address=address)
    assert case.setting is not None
    plate = case.limit <= case.setting
    shown = at_most(min(case.setting, case.limit), "pressure", first)
    # A row of its own each: the setting is acted on, the jets are looked up after it.
    jets = (
        words["jets_in_all"].format(number=trade_number(case.number))
        if case.number is not None
        else words["slower_only"]
    )
    said = words["own_limit_holds"] if plate else ""
    return Cell((shown, jets), words=said, address=address)


def _record(case: _Case) -> Record:
    ceiling = case.ceiling
    value = ceiling.is_ if ceiling and ceiling.jet is None else None
    setting = None if case.setting is None else min(case.setting, case.limit)
    return {
        "machine": case.machine,
        "material": case.material,
        "condition": case.condition,
        "jet": ceiling.jet if ceiling else None,
        "ceiling_pa": value.si if value else None,
        "dial_pa": case.dial,
        "setting_pa": kept(setting),
        # Rounded down, as in its cell: a limit is never told too high.
        "setting_psi": None if setting is None else floor(setting / PSI),
        "trade_number": None if case.number is None else round(case.number, 1),
    }


def _example(table: Table, catalog: Catalog, cases: list[_Case]) -> str:
    """Return the first setting worked out, values with their units."""
    first = catalog.brand.units_first
    for case in cases:
        if case.setting is None or case.ceiling is None or case.ceiling.is_ is None:
            continue
        error = gauge_error(case.dial, _class(table))
        return catalog.w["example_setting"].format(
            material=catalog.entries["materials", case.material].record.title,
            ceiling=in_words(both(case.ceiling.is_.si, "pressure", first)),
            overshoot=f"{1 + _overshoot(table):g}",
            share=percent(_class(table)),
            dial=in_words(both(case.dial, "pressure", first)),
            error=in_words(both(error, "pressure", first)),
            setting=in_words(at_most(case.setting, "pressure", first)),
        )
    return ""
