"""Every nozzle that goes on a machine's hose, with what comes out of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property

from refgen.addresses import record_address
from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics import Duty, Margins, Reading, Rig, margins, working_point
from refgen.model.equipment import Hose, Nozzle, Pattern
from refgen.model.machines import CarriedHose, Machine
from refgen.rigs import STANDARD_WATER, calibration_of, jets_of, pump_of, segment_of
from refgen.tables.grid import Cell, Grid, Head, Record
from refgen.tables.shape import kept


@dataclass(frozen=True)
class Fed:
    """A nozzle on a hose of a machine: its working point, or why there is none."""

    machine: str
    carried: CarriedHose
    hose: Hose
    nozzle: str
    rig: Rig
    duty: Duty | None
    reason: str = ""
    reading: Reading | None = None
    """The gauge reading that sized its jets, if one did."""

    @cached_property
    def margins(self) -> Margins | None:
        """How far the working point can be off; worked out only where it is asked for."""
        return margins(self.rig, reading=self.reading) if self.duty is not None else None


def fed_by(
    catalog: Catalog, name: str, carried: CarriedHose, temperature: float = STANDARD_WATER
) -> list[Fed]:
    """Return what a machine does with each nozzle that goes on one of its hoses.

    The whole hose is counted, coiled as it usually lies, and the nozzle is level with the pump.

    Args:
        catalog: The records.
        name: Id of the machine.
        carried: The hose.
        temperature: Temperature of the water [K].
    """
    machine = catalog.entries["machines", name].record
    assert isinstance(machine, Machine)
    hose = catalog.entries["hoses", carried.hose.id].record
    assert isinstance(hose, Hose)
    return [
        _fed(catalog, name, machine, carried, hose, ref.id, temperature)
        for ref in machine.nozzles_for(carried)
    ]


def machine_grids(
    catalog: Catalog,
    columns: tuple[Head, ...],
    cells: Callable[[Fed], tuple[Cell, ...]],
    temperature: float = STANDARD_WATER,
    caption: str = "{machine}",
) -> tuple[list[Grid], list[Fed]]:
    """Return a grid for each machine, a row for each hose and nozzle, and what the rows are of.

    Args:
        catalog: The records.
        columns: Heads of the columns.
        cells: The cells of one row.
        temperature: Temperature of the water [K].
        caption: Caption of each grid, `{machine}` standing for the machine's title.
    """
    words = catalog.w
    grids: list[Grid] = []
    every: list[Fed] = []
    for name, machine in catalog.machines().items():
        rows = []
        for carried in machine.hoses:
            for fed in fed_by(catalog, name, carried, temperature):
                nozzle = catalog.entries["nozzles", fed.nozzle].record
                title = words["hose_with_nozzle"].format(hose=fed.hose.title, nozzle=nozzle.title)
                address = record_address("machines", name, carried.id)
                head = Head(title, address, f"{name}-{carried.id}-{fed.nozzle}", name)
                rows.append((head, cells(fed)))
                every.append(fed)
        if rows:
            said = caption.format(machine=machine.title)
            grids.append(Grid(said, words["hose_and_nozzle"], columns, tuple(rows)))
    return grids, every


def duty_record(fed: Fed | None, duty: Duty | None) -> Record:
    """Return what was run and how its pump then stands, as data; None where there is neither."""
    return {
        "machine": fed.machine if fed else None,
        "hose": fed.carried.hose.id if fed else None,
        "nozzle": fed.nozzle if fed else None,
        "state": duty.state if duty else None,
        "gauge_pa": kept(duty.gauge) if duty else None,
        "nozzle_pa": kept(duty.nozzle) if duty else None,
    }


def row_ids(grids: Iterable[Grid]) -> tuple[str, ...]:
    """Return the ids of the rows that have one."""
    return tuple(head.id for grid in grids for head, _ in grid.rows if head.id)


def strongest(fed: Iterable[Fed]) -> Fed | None:
    """Return the nozzle that leaves the most pressure at the jets without opening the unloader.

    Where every nozzle opens it, the one that sends the least back; None where none has a
    working point.
    """
    with_duty = [(one, one.duty) for one in fed if one.duty is not None]
    if not with_duty:
        return None
    full = [pair for pair in with_duty if pair[1].state == "full flow"]
    if full:
        return max(full, key=lambda pair: pair[1].nozzle)[0]
    return min(with_duty, key=lambda pair: pair[1].bypass)[0]


def _fed(
    catalog: Catalog,
    name: str,
    machine: Machine,
    carried: CarriedHose,
    hose: Hose,
    nozzle_id: str,
    temperature: float,
) -> Fed:
    nozzle = catalog.entries["nozzles", nozzle_id].record
    assert isinstance(nozzle, Nozzle)
    pattern = catalog.entries["patterns", nozzle.pattern.id].record
    assert isinstance(pattern, Pattern)
    calibration = calibration_of(catalog, machine)
    rig = Rig(
        water_temperature=temperature,
        pump=pump_of(machine),
        hoses=(segment_of(carried, hose),),
        jets=calibration.of(jets_of(nozzle, pattern)),
        velocity_coefficient=pattern.velocity_coefficient,
    )
    duty, reason = None, ""
    try:
        duty = working_point(rig)
    except OutOfRange as error:
        reason = str(error)
    reading = calibration.reading_with(nozzle_id)
    return Fed(name, carried, hose, nozzle_id, rig, duty, reason, reading)
