"""Pressure lost in straight hose, by flow and bore."""

from __future__ import annotations

from math import pi

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.hose import (
    LAMINAR_TO,
    TURBULENT_FROM,
    Segment,
    friction_factor,
    pressure_loss,
    reynolds_number,
)
from refgen.hydraulics.water import Water, water_at
from refgen.model.lookup import Table
from refgen.rigs import water_assumed
from refgen.setups import SMOOTH_LINER
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, both_or_under, in_words, kept
from refgen.texts import show_quantity
from refgen.units import PSI, parse_quantity

LENGTH = parse_quantity("100 ft")
"""Length the loss is given for, where the record names none."""


def hose_loss(table: Table, catalog: Catalog) -> ComputedTable:
    """Return the loss of each flow in each bore over a length of straight hose.

    A cell is empty where no friction formula holds, and where the loss passes what the record
    calls the most that is of use.
    """
    words, first, assume = catalog.w, catalog.brand.units_first, table.assume
    temperature = water_assumed(assume)
    water = water_at(temperature)
    length = assume.length or LENGTH
    roughness = assume.roughness.si if assume.roughness else SMOOTH_LINER
    shown_length = in_words(show_quantity(length, first))
    reasons = {"between": words["no_formula_between"], "most": ""}
    if assume.most_loss:
        most = in_words(show_quantity(assume.most_loss, first))
        reasons["most"] = words["hose_too_small"].format(loss=most, length=shown_length)
    rows, records = [], []
    for flow in table.rows:
        cells = []
        for bore in table.columns:
            loss, reason = None, ""
            try:
                hose = Segment(bore.si, length.si, roughness)
                if LAMINAR_TO < reynolds_number(flow.si, bore.si, water) < TURBULENT_FROM:
                    reason = reasons["between"]
                else:
                    loss = pressure_loss(hose, flow.si, water)
            except OutOfRange as error:
                reason = str(error)
            if loss is not None and assume.most_loss and loss > assume.most_loss.si:
                loss, reason = None, reasons["most"]
            shown = () if loss is None else (both_or_under(loss, "pressure", first, PSI),)
            cells.append(Cell(shown, reason))
            record: Record = {
                "flow_m3_per_s": flow.si,
                "flow": str(flow),
                "bore_m": bore.si,
                "bore": str(bore),
                "length_m": length.si,
                "loss_pa": kept(loss),
                "loss_psi": None if loss is None else kept(loss / PSI, 3),
            }
            records.append(record)
        rows.append((Head(show_quantity(flow, first)), tuple(cells)))
    grid = Grid(
        words["loss_per_length"].format(length=shown_length),
        words["flow_by_hose_bore"],
        tuple(Head(show_quantity(bore, first)) for bore in table.columns),
        tuple(rows),
    )
    assumptions = (
        words["assume_straight_hose"].format(
            roughness=f"{roughness * 1e3:g}", temperature=f"{temperature - 273.15:.0f}"
        ),
        words["assume_margin_hose"],
        words["assume_formula_hose"],
    )
    formulas = (words["formula_hose"], words["formula_friction"])
    sources = ("colebrook-1939", "iapws-sr6-08")
    working = Working(formulas, _example(table, catalog, water, roughness), sources)
    return ComputedTable((grid,), tuple(records), assumptions, working=working)


def _example(table: Table, catalog: Catalog, water: Water, roughness: float) -> str:
    """Return one loss worked out, from the middle of the table, values with their units."""
    first, length = catalog.brand.units_first, table.assume.length or LENGTH
    for flow in table.rows[len(table.rows) // 2 :]:
        for bore in table.columns[len(table.columns) // 2 :]:
            try:
                reynolds = reynolds_number(flow.si, bore.si, water)
                factor = friction_factor(reynolds, roughness / bore.si)
                loss = pressure_loss(Segment(bore.si, length.si, roughness), flow.si, water)
            except OutOfRange:
                continue
            return catalog.w["example_hose"].format(
                flow=in_words(show_quantity(flow, first)),
                bore=in_words(show_quantity(bore, first)),
                speed=in_words(both(flow.si / (pi / 4 * bore.si**2), "speed", first)),
                reynolds=f"{reynolds:,.0f}",
                factor=f"{factor:.4f}",
                loss=in_words(both(loss, "pressure", first)),
                length=in_words(show_quantity(length, first)),
            )
    return ""
