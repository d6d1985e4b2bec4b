"""Hose loss against flow, a line for each bore, on scales that step up tenfold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import log10

from markupsafe import Markup

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.hose import Segment, friction_factor, pressure_loss, reynolds_number
from refgen.hydraulics.water import water_at
from refgen.model.lookup import Table
from refgen.pictures.svg import TEXT, WIDTH, Drawn, Point, curve, label, line, picture
from refgen.rigs import water_assumed
from refgen.setups import SMOOTH_LINER
from refgen.tables.hose_loss import LENGTH
from refgen.tables.shape import in_words
from refgen.texts import show_quantity
from refgen.units import PSI, US_GALLON, Quantity, System

LEFT, RIGHT, TOP, FLOOR = 54.0, WIDTH - 4, 66.0, 318.0
GPM = US_GALLON / 60
FLOWS = {
    "us": (1.0, 150.0, GPM, (1, 2, 5, 10, 20, 50, 100)),
    "metric": (4.0, 600.0, 1e-3 / 60, (4, 10, 20, 40, 100, 200, 400)),
}
LOSSES = {
    "us": (10.0, 2000.0, PSI, (10, 20, 50, 100, 200, 500, 1000, 2000)),
    "metric": (1.0, 150.0, 1e5, (1, 2, 5, 10, 20, 50, 100)),
}
"""Ends of each axis in its unit, the unit in SI, and the lines across it."""
STEPS = 48
ROWS, ROOM, LETTER = 2, 24.0, 9.0
"""Rows for names over the picture; how near to the top a line ends there; a letter's width."""


def losses_of(table: Table, catalog: Catalog) -> Drawn | None:
    """Return the lines of a table of hose loss, or None where none crosses the picture."""
    words, first = catalog.w, catalog.brand.units_first
    drawn = losses(table, words, first)
    return Drawn(drawn, (words["losses_said"],)) if drawn else None


def losses(table: Table, w: Mapping[str, str], first: System) -> Markup | None:
    """Return the picture: flow across, loss up, both scales stepping up tenfold.

    Args:
        table: The record of the table, with its bores, length, roughness and water.
        w: The words of the interface.
        first: The system of units shown first.
    """
    least, most, flow_unit, flow_marks = FLOWS[first]
    low, high, loss_unit, loss_marks = LOSSES[first]

    def across(flow: float) -> float:
        return LEFT + (RIGHT - LEFT) * log10(flow / least) / log10(most / least)

    def up(loss: float) -> float:
        return FLOOR - (FLOOR - TOP) * log10(loss / low) / log10(high / low)

    pieces = [line("grid", Point(across(m), TOP), Point(across(m), FLOOR)) for m in flow_marks]
    pieces += [line("grid", Point(LEFT, up(m)), Point(RIGHT, up(m))) for m in loss_marks]
    pieces += [
        label("mark-x", Point(across(m), FLOOR + TEXT + 2), str(m), "middle") for m in flow_marks
    ]
    pieces += [label("mark-y", Point(LEFT - 6, up(m) + 5), f"{m:,}", "end") for m in loss_marks]
    units = (
        (w["unit_flow_us"], w["unit_loss_us"])
        if first == "us"
        else (w["unit_flow_metric"], w["unit_loss_metric"])
    )
    pieces.append(label("way", Point(RIGHT, FLOOR + 2 * TEXT + 6), f"{units[0]} →", "end"))
    pieces.append(label("way", Point(2, TEXT - 2), f"↑ {units[1]}"))
    bores = w["unit_bore_us"] if first == "us" else w["unit_bore_metric"]
    pieces.append(label("way", Point(RIGHT, TEXT - 2), bores, "end"))
    told, ends = [], []
    for bore in table.columns:
        points = [
            Point(across(flow / flow_unit), up(loss / loss_unit))
            for flow, loss in _points(table, bore, (least * flow_unit, most * flow_unit))
            if low <= loss / loss_unit <= high
        ]
        if len(points) < 3:
            continue
        pieces.append(curve("asked", points))
        ends.append((points[-1], show_quantity(bore, first).first.rsplit(" ", 1)[0]))
        told.append(str(show_quantity(bore, first)))
    if not ends:
        return None
    pieces += _named(ends)
    length = in_words(show_quantity(table.assume.length or LENGTH, first))
    title = w["picture_of_losses"].format(length=length)
    return picture(
        title, w["told_losses"].format(bores=", ".join(told)), "losses", 0.0, FLOOR + 44, pieces
    )


def _points(
    table: Table, bore: Quantity, span: tuple[float, float]
) -> Iterator[tuple[float, float]]:
    """Yield flow [m³/s] and loss [Pa] of one bore, evenly on a scale that steps up tenfold."""
    length = (table.assume.length or LENGTH).si
    roughness = table.assume.roughness.si if table.assume.roughness else SMOOTH_LINER
    water = water_at(water_assumed(table.assume))
    hose = Segment(bore.si, length, roughness)
    for step in range(STEPS + 1):
        flow = span[0] * (span[1] / span[0]) ** (step / STEPS)
        try:
            friction_factor(reynolds_number(flow, bore.si, water), roughness / bore.si)
            yield flow, pressure_loss(hose, flow, water)
        except OutOfRange:
            continue


def _named(ends: list[tuple[Point, str]]) -> Iterator[Markup]:
    """Yield the name of each line: over its end at the top, or beside its end at the right edge.

    Names over the picture stand on the lower of two rows on which they touch no other.
    """
    taken = [LEFT - ROOM] * ROWS
    for end, name in ends:
        half = len(name) * LETTER / 2
        x = min(end.x, RIGHT - half)
        row = next((n for n in range(ROWS) if x - half > taken[n]), None)
        if row is None or end.y > TOP + ROOM:
            yield label("name", Point(RIGHT - 2, end.y - 9), name, "end")
            continue
        taken[row] = x + half + 4
        yield label("name", Point(x, TOP - 6 - row * (TEXT + 2)), name, "middle")
