"""Antifreeze that flows: how thick it is when cold, and what it takes to push it through a hose."""

from __future__ import annotations

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.antifreeze import freezing_point
from refgen.hydraulics.hose import (
    LAMINAR_TO,
    TURBULENT_FROM,
    Segment,
    pressure_loss,
    reynolds_number,
)
from refgen.hydraulics.mixture import mixture_at
from refgen.hydraulics.water import water_at
from refgen.model.lookup import Table
from refgen.setups import SMOOTH_LINER
from refgen.tables.grid import Cell, Grid, Head, Record
from refgen.tables.shape import both, both_or_under, in_words, kept, percent
from refgen.texts import show_quantity
from refgen.units import PSI, parse_quantity, round_to

SHARES = (0.2, 0.3, 0.4, 0.5)
"""Shares of glycol by volume that are told."""
STRONG = (0.3, 0.4, 0.5)
"""Shares that are pushed through hoses."""
COLDS = tuple(parse_quantity(text).si for text in ("10 degC", "0 degC", "-10 degC", "-20 degC"))
"""Temperatures that are told [K]."""
COMPARED = 283.15
"""Temperature of the water it is compared with [K]."""
FLOW, LENGTH, COLD = map(parse_quantity, ("2 gpm", "100 ft", "-10 degC"))
"""Flow, length and temperature of the pushing, where the record names none."""


def thickness(catalog: Catalog) -> tuple[Grid, list[Record]]:
    """Return how many times thicker than water a mixture is, by strength and temperature."""
    words, first = catalog.w, catalog.brand.units_first
    water = water_at(COMPARED).viscosity
    rows, records = [], []
    for share in SHARES:
        cells = []
        for cold in COLDS:
            if cold < freezing_point(share):
                cells.append(Cell(reason=words["slush_there"]))
                continue
            viscosity = mixture_at(cold, share).viscosity
            cells.append(Cell((words["times"].format(number=round_to(viscosity / water, 2)),)))
            found: Record = {
                "strength": share,
                "temperature_c": kept(cold - 273.15, 4),
                "viscosity_pa_s": kept(viscosity, 3),
            }
            records.append(found)
        rows.append((Head(percent(share)), tuple(cells)))
    columns = tuple(Head(both(cold, "temperature", first)) for cold in COLDS)
    caption = words["times_as_thick"].format(
        water=in_words(both(COMPARED, "temperature", first)),
    )
    return Grid(caption, words["glycol_by_temperature"], columns, tuple(rows)), records


def pushing(table: Table, catalog: Catalog) -> tuple[Grid, list[Record]]:
    """Return the pressure that a flow of cold antifreeze takes, by bore and strength.

    No number where the flow runs between calm and broken.
    """
    words, first, assume = catalog.w, catalog.brand.units_first, table.assume
    flow, length = assume.flow or FLOW, assume.length or LENGTH
    cold = assume.water.si if assume.water else COLD.si
    most = ""
    if assume.most_loss:
        shown = in_words(show_quantity(assume.most_loss, first))
        most = words["hose_too_small"].format(
            loss=shown, length=in_words(show_quantity(length, first))
        )
    rows, records = [], []
    for bore in table.rows:
        cells = []
        for share in STRONG:
            loss, reason = None, ""
            try:
                water = mixture_at(cold, share)
                if LAMINAR_TO < reynolds_number(flow.si, bore.si, water) < TURBULENT_FROM:
                    reason = words["no_formula_between"]
                else:
                    loss = pressure_loss(Segment(bore.si, length.si, SMOOTH_LINER), flow.si, water)
            except OutOfRange:
                reason = words["slush_there"]
            if loss is not None and assume.most_loss and loss > assume.most_loss.si:
                loss, reason = None, most
            cells.append(
                Cell(reason=reason)
                if loss is None
                else Cell((both_or_under(loss, "pressure", first, PSI),))
            )
            found: Record = {
                "bore": str(bore),
                "bore_m": bore.si,
                "length_m": length.si,
                "strength": share,
                "temperature_c": kept(cold - 273.15, 4),
                "flow_m3_per_s": flow.si,
                "loss_pa": kept(loss, 3),
            }
            records.append(found)
        rows.append((Head(show_quantity(bore, first)), tuple(cells)))
    caption = words["to_push_it"].format(
        flow=in_words(show_quantity(flow, first)),
        length=in_words(show_quantity(length, first)),
        cold=in_words(both(cold, "temperature", first)),
    )
    columns = tuple(Head(words["with_glycol"].format(share=percent(share))) for share in STRONG)
    return Grid(caption, words["bore_by_strength"], columns, tuple(rows)), records
