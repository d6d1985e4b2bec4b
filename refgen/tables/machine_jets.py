"""For each machine with its own hoses: the jets it can feed."""

from __future__ import annotations

from refgen.addresses import record_address
from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.hose import pressure_loss
from refgen.hydraulics.orifice import area_for, bore_for_flow, number_of_area
from refgen.hydraulics.water import water_at
from refgen.model.equipment import Hose
from refgen.model.lookup import Table
from refgen.model.machines import CarriedHose, Machine
from refgen.rigs import calibration_of, pump_of, segment_of, water_assumed
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, in_words, trade_number
from refgen.units import INCH


def machine_jets(table: Table, catalog: Catalog) -> ComputedTable:
    """Return, a row for each machine and hose, what is left at the nozzle and which jets use it.

    The pump gives its rated flow, the gauge stands at the lower of plate and unloader, the whole
    hose is counted, coiled as it usually lies, and the nozzle is level with the pump.
    """
    words = catalog.w
    rows, records = [], []
    for name, machine in catalog.machines().items():
        for carried in machine.hoses:
            hose = catalog.entries["hoses", carried.hose.id].record
            assert isinstance(hose, Hose)
            address = record_address("machines", name, carried.id)
            title = words["machine_with_hose"].format(machine=machine.title, hose=hose.title)
            cells, found = _row(table, catalog, machine, carried, hose)
            head = Head(title, address, f"{name}-{carried.id}", name)
            rows.append((head, cells))
            records.append({"machine": name, "hose": carried.hose.id, **found})
    columns = [words["gauge_at_limit"], words["lost_in_hose"], words["left_at_nozzle"]]
    columns += [words["whole_nozzle_number"]]
    columns += [words["bore_each_of"].format(count=count) for count in table.jets]
    grid = Grid(
        words["at_full_flow"],
        words["machine_and_hose"],
        tuple(Head(column) for column in columns),
        tuple(rows),
    )
    coefficient = table.assume.discharge_coefficient
    assumptions = (
        words["assume_coefficient"].format(coefficient=coefficient),
        words["assume_whole_hose"],
        words["assume_number"],
        words["assume_margin_machine"],
    )
    ids = tuple(head.id for head, _ in rows)
    formulas = (words["formula_left"], words["formula_orifice"], words["formula_coil"])
    sources = ("colebrook-1939", "schmidt-1967", "britannica-hydraulics")
    working = Working(formulas, _example(records, rows, catalog), sources)
    return ComputedTable((grid,), tuple(records), assumptions, ids, working=working)


def _example(
    records: list[Record], rows: list[tuple[Head, tuple[Cell, ...]]], catalog: Catalog
) -> str:
    """Return the first machine worked out, values with their units."""
    first = catalog.brand.units_first
    for record, (head, _) in zip(records, rows, strict=True):
        gauge, lost, left = (record[name] for name in ("gauge_pa", "hose_loss_pa", "nozzle_pa"))
        if lost is None or left is None:
            continue
        shown = [
            in_words(both(float(value or 0), "pressure", first)) for value in (gauge, lost, left)
        ]
        return catalog.w["example_left"].format(
            machine=head.text,
            gauge=shown[0],
            lost=shown[1],
            left=shown[2],
            number=trade_number(float(record["trade_number"] or 0)),
        )
    return ""


def _row(
    table: Table, catalog: Catalog, machine: Machine, carried: CarriedHose, hose: Hose
) -> tuple[tuple[Cell, ...], Record]:
    words, first = catalog.w, catalog.brand.units_first
    water = water_at(water_assumed(table.assume))
    pump = pump_of(machine)
    found: Record = {
        "length_m": carried.length.si,
        "flow_m3_per_s": pump.flow,
        "gauge_pa": pump.limit,
        "hose_loss_pa": None,
        "nozzle_pa": None,
        "trade_number": None,
        **{f"bore_mm_each_of_{count}": None for count in table.jets},
    }
    gauge = Cell((both(pump.limit, "pressure", first),))
    empty = 2 + len(table.jets)
    try:
        loss = pressure_loss(segment_of(carried, hose), pump.flow, water)
    except OutOfRange as error:
        return (gauge, *[Cell(reason=str(error))] * (empty + 1)), found
    found["hose_loss_pa"] = round(loss)
    lost = Cell((both(loss, "pressure", first),))
    left = pump.limit - loss
    if left <= 0:
        return (gauge, lost, *[Cell(reason=words["hose_takes_all"])] * empty), found
    found["nozzle_pa"] = round(left)
    share = calibration_of(catalog, machine).share
    number = number_of_area(area_for(pump.flow, left, water.density) / share)
    found["trade_number"] = round(number, 2)
    cells = [gauge, lost, Cell((both(left, "pressure", first),)), Cell((trade_number(number),))]
    for count in table.jets:
        coefficient = min(table.assume.discharge_coefficient * share, 1.0)
        try:
            bore = bore_for_flow(pump.flow, left, count, coefficient, water.density)
        except OutOfRange as error:
            cells.append(Cell(reason=str(error)))
            continue
        found[f"bore_mm_each_of_{count}"] = round(bore * 1e3, 3)
        pair = (f"{bore / INCH:.3f} in", f"{bore * 1e3:.2f} mm")
        cells.append(Cell(pair if first == "us" else pair[::-1]))
    return tuple(cells), found
