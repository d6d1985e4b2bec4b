"""For each machine, hose and nozzle that go together: what comes out, and how hard it pulls."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import ceil

from refgen.addresses import WORKSHEET
from refgen.catalog import Catalog
from refgen.hydraulics import Duty, Margins
from refgen.model.lookup import Table
from refgen.rigs import water_assumed
from refgen.tables.duties import Fed, machine_grids, row_ids
from refgen.tables.grid import Cell, ComputedTable, Head, Record, Working
from refgen.tables.shape import both, digits_borne, in_words, kept
from refgen.units import POUND_FORCE, PSI, US_GALLON, System

# Name in the data, field of duty and margins, what it is, factor of its trade unit and its name.
_NUMBERS = (
    ("flow", "m3_per_s", "flow", US_GALLON / 60, "gpm"),
    ("bypass", "m3_per_s", "flow", US_GALLON / 60, "gpm"),
    ("gauge", "pa", "pressure", PSI, "psi"),
    ("hose_loss", "pa", "pressure", PSI, "psi"),
    ("nozzle", "pa", "pressure", PSI, "psi"),
    ("pull", "n", "force", POUND_FORCE, "lbf"),
)


def at_the_nozzle(table: Table, catalog: Catalog) -> ComputedTable:
    """Return, a grid for each machine and a row for each hose and nozzle, the working point."""
    words, first = catalog.w, catalog.brand.units_first
    temperature = water_assumed(table.assume)
    columns = tuple(
        Head(words[name])
        for name in (
            "left_at_nozzle",
            "gauge_at_pump",
            "pull",
            "flow_out",
            "back_to_tank",
            "what_the_pump_does",
        )
    )
    grids, computed = machine_grids(
        catalog, columns, lambda fed: _cells(fed, words, first, len(columns)), temperature
    )
    records = [_record(fed) for fed in computed]
    formulas = ("formula_left", "formula_orifice", "formula_pull", "formula_hose", "formula_coil")
    working = Working(
        tuple(words[name] for name in formulas),
        _example(computed, catalog),
        ("britannica-hydraulics", "colebrook-1939", "schmidt-1967", "iapws-sr6-08"),
    )
    assumptions = _assumptions(computed, words, temperature)
    return ComputedTable(tuple(grids), tuple(records), assumptions, row_ids(grids), working=working)


def _example(computed: Iterable[Fed], catalog: Catalog) -> str:
    """Return the first working point as a balance at the gauge."""
    first = catalog.brand.units_first
    for fed in computed:
        if fed.duty is None:
            continue
        duty = fed.duty
        pressures = {"lost": duty.hose_loss, "left": duty.nozzle, "gauge": duty.gauge}
        shown = {name: in_words(both(si, "pressure", first)) for name, si in pressures.items()}
        return catalog.w["example_duty"].format(
            nozzle=catalog.entries["nozzles", fed.nozzle].record.title,
            flow=in_words(both(duty.flow, "flow", first)),
            limit=in_words(both(fed.rig.pump.limit, "pressure", first)),
            **shown,
        )
    return ""


def _cells(fed: Fed, words: Mapping[str, str], first: System, columns: int) -> tuple[Cell, ...]:
    duty, margins = fed.duty, fed.margins
    if duty is None or margins is None:
        return (Cell(reason=fed.reason),) * columns

    def shown(field: str, what: str) -> Cell:
        value = getattr(duty, field)
        return Cell((both(value, what, first, digits_borne(value, getattr(margins, field))),))

    state = words["state_full_flow"] if duty.state == "full flow" else words["state_regulated"]
    back = shown("bypass", "flow") if duty.bypass else Cell(words=words["nothing"])
    pull = shown("pull", "force")
    if duty.pull < 0:
        pull = Cell(pull.lines, words=words["pushes_back"])
    setup = f"{WORKSHEET}#machine={fed.machine}/{fed.carried.id}&nozzle={fed.nozzle}"
    return (
        replace(shown("nozzle", "pressure"), address=setup),
        shown("gauge", "pressure"),
        pull,
        shown("flow", "flow"),
        back,
        Cell(words=state),
    )


def _record(fed: Fed) -> Record:
    found: Record = {
        "machine": fed.machine,
        "hose": fed.carried.hose.id,
        "length_m": fed.carried.length.si,
        "nozzle": fed.nozzle,
        "state": fed.duty.state if fed.duty else None,
    }
    for field, unit, _, factor, trade_unit in _NUMBERS:
        value = getattr(fed.duty, field) if fed.duty else None
        margin = getattr(fed.margins, field) if fed.margins else None
        found[f"{field}_{unit}"] = kept(value)
        found[f"{field}_{unit}_less"] = kept(margin.lower) if margin else None
        found[f"{field}_{unit}_more"] = kept(margin.upper) if margin else None
        found[f"{field}_{trade_unit}"] = None if value is None else kept(value / factor, 3)
    return found


def _assumptions(
    computed: Iterable[Fed], words: Mapping[str, str], temperature: float
) -> tuple[str, ...]:
    duties = [(f.duty, f.margins) for f in computed if f.duty and f.margins]
    said = [
        words["assume_whole_hose_at"].format(temperature=f"{temperature - 273.15:.0f}"),
        words["assume_own_coefficient"],
        words["assume_number"],
    ]
    if duties:
        shares = {name: _widest(name, duties) for name in ("flow", "nozzle", "pull")}
        said.append(words["assume_margin_duty"].format(**shares))
    if any("coil-beyond-published-range" in duty.notes for duty, _ in duties):
        said.append(words["note_coil"])
    return tuple(said)


def _widest(field: str, duties: Iterable[tuple[Duty, Margins]]) -> str:
    """Return the widest margin of a number, as a share of it, up to the next twentieth."""
    share = 0.0
    for duty, margins in duties:
        value, margin = getattr(duty, field), getattr(margins, field)
        if value > 0:
            share = max(share, margin.lower / value, margin.upper / value)
    return f"{ceil(share * 20 - 1e-9) * 5}%"
