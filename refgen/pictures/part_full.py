"""Pipes cut across, the water in them to scale: one flow on several slopes."""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt

from markupsafe import Markup

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.open_channel import PartFull, part_full
from refgen.model.lookup import Table
from refgen.pictures.svg import TEXT, WIDTH, Drawn, Point, dot, label, outline, picture
from refgen.tables.shape import in_words, percent
from refgen.texts import show_quantity
from refgen.units import Quantity

MOST = 4
"""Pipes that stand side by side."""
RADIUS, TOP = 36.0, 6.0
STEPS = 16


def pipes_of(table: Table, catalog: Catalog) -> Drawn | None:
    """Return a flow of a table in one of its pipes on each slope, or None where all run full."""
    words, first = catalog.w, catalog.brand.units_first
    slopes = table.columns[:MOST]
    n = table.assume.manning_n
    best: tuple[int, Quantity, Quantity] | None = None
    # The pipe with the deepest water that is not yet full shows most.
    for flow in table.flows:
        for bore in table.rows:
            found = [_running(flow, bore, slope, n) for slope in slopes]
            if any(found) and (best is None or sum(map(bool, found)) >= best[0]):
                best = (sum(map(bool, found)), flow, bore)
                break
    if best is None:
        return None
    _, flow, bore = best
    shown = [(slope, _running(flow, bore, slope, n)) for slope in slopes]
    title = words["picture_of_pipes"].format(
        flow=in_words(show_quantity(flow, first)), bore=in_words(show_quantity(bore, first))
    )
    return Drawn(pipes(title, shown, words), (f"{title}.", words["pipes_said"]))


def pipes(
    title: str, shown: list[tuple[Quantity, PartFull | None]], w: Mapping[str, str]
) -> Markup:
    """Return pipes side by side, each with its slope and the depth of the water over the bore.

    Args:
        title: What it is a picture of.
        shown: Slope and the water on it; None where the pipe runs full.
        w: The words of the interface.
    """
    pieces, told = [], []
    width = WIDTH / len(shown)
    for place, (slope, water) in enumerate(shown):
        centre = Point(width * (place + 0.5), TOP + RADIUS)
        depth = water.depth_ratio if water else 1.0
        pieces.append(outline("water", _segment(centre, depth)))
        pieces.append(dot("pipe", centre, RADIUS))
        y = TOP + 2 * RADIUS + TEXT + 6
        said = w["so_deep"].format(share=percent(depth)) if water else w["pipe_full"]
        pieces.append(label("value", Point(centre.x, y), percent(depth), "middle"))
        pieces.append(label("way", Point(centre.x, y + TEXT + 4), str(slope), "middle"))
        told.append(f"{w['falling'].format(slope=slope)}: {said}")
    return picture(title, f"{'; '.join(told)}.", "pipes", 0.0, TOP + 2 * RADIUS + 52, pieces)


def _segment(centre: Point, depth: float) -> list[Point]:
    """Return the outline of the water, from one edge of its surface round the bottom."""
    surface = centre.y + RADIUS - 2 * RADIUS * depth
    points = []
    for step in range(STEPS + 1):
        y = surface + (centre.y + RADIUS - surface) * step / STEPS
        half = sqrt(max(RADIUS**2 - (y - centre.y) ** 2, 0.0))
        points.append((y, half))
    left = [Point(centre.x - half, y) for y, half in points]
    right = [Point(centre.x + half, y) for y, half in reversed(points)]
    return [*left, *right]


def _running(flow: Quantity, bore: Quantity, slope: Quantity, n: float) -> PartFull | None:
    try:
        return part_full(flow.si, bore.si, slope.si, n)
    except OutOfRange:
        return None
