"""What each nozzle in stock passes at a pressure."""

from __future__ import annotations

from refgen.addresses import record_address
from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.orifice import flow_through, jet_speed, number_of_area, total_area
from refgen.hydraulics.water import density
from refgen.model.equipment import Nozzle, Pattern
from refgen.model.lookup import Table
from refgen.rigs import jets_of, water_assumed
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, in_words, kept, trade_number
from refgen.texts import show_quantity
from refgen.units import US_GALLON


def nozzle_flow(table: Table, catalog: Catalog) -> ComputedTable:
    """Return, a row for each nozzle, the flow of all its jets at each pressure at the nozzle."""
    words, first = catalog.w, catalog.brand.units_first
    water = density(water_assumed(table.assume))
    rows, records = [], []
    for name, nozzle in catalog.of_kind("nozzles").items():
        assert isinstance(nozzle, Nozzle)
        pattern = catalog.entries["patterns", nozzle.pattern.id].record
        assert isinstance(pattern, Pattern)
        area = total_area(jets_of(nozzle, pattern))
        number = number_of_area(area)
        cells = [Cell((trade_number(number),))]
        for pressure in table.columns:
            flow, cell = None, Cell()
            try:
                flow = flow_through(area, pressure.si, water)
                cell = Cell((both(flow, "flow", first, 2),))
            except OutOfRange as error:
                cell = Cell(reason=str(error))
            cells.append(cell)
            record: Record = {
                "nozzle": name,
                "trade_number": round(number, 2),
                "nozzle_pa": pressure.si,
                "nozzle_pressure": str(pressure),
                "flow_m3_per_s": kept(flow),
                "flow_gpm": None if flow is None else kept(flow * 60 / US_GALLON, 3),
            }
            records.append(record)
        head = Head(nozzle.title, record_address("nozzles", name), name)
        rows.append((head, tuple(cells)))
    columns = [Head(words["whole_nozzle_number"])]
    columns += [Head(show_quantity(pressure, first)) for pressure in table.columns]
    corner = words["nozzle_by_pressure"]
    grid = Grid(words["flow_of_nozzles"], corner, tuple(columns), tuple(rows))
    assumptions = (
        words["assume_own_coefficient"],
        words["assume_number"],
        words["assume_margin_flow"],
    )
    formulas = (words["formula_orifice"], words["formula_number"])
    working = Working(formulas, _example(table, catalog, water), ("britannica-hydraulics",))
    ids = tuple(head.id for head, _ in rows)
    return ComputedTable((grid,), tuple(records), assumptions, ids, working=working)


def _example(table: Table, catalog: Catalog, water: float) -> str:
    """Return the flow of the first nozzle worked out, values with their units."""
    first, pressure = catalog.brand.units_first, table.columns[-1]
    for nozzle in catalog.of_kind("nozzles").values():
        assert isinstance(nozzle, Nozzle)
        pattern = catalog.entries["patterns", nozzle.pattern.id].record
        assert isinstance(pattern, Pattern)
        area = total_area(jets_of(nozzle, pattern))
        return catalog.w["example_nozzle_flow"].format(
            nozzle=nozzle.title,
            pressure=in_words(show_quantity(pressure, first)),
            area=f"{area * 1e6:.3g}",
            speed=in_words(both(jet_speed(pressure.si, water), "speed", first)),
            flow=in_words(both(flow_through(area, pressure.si, water), "flow", first)),
        )
    return ""
