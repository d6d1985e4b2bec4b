"""Where the pump's line and what hose and nozzle ask for cross: the working point."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from markupsafe import Markup

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics import Duty, Pump, Rig, working_point
from refgen.hydraulics.duty import UNLIMITED
from refgen.pictures.svg import TEXT, WIDTH, Drawn, Point, curve, dot, label, line, picture
from refgen.tables.duties import Fed, fed_by, strongest
from refgen.tables.shape import both, digits_borne, in_words
from refgen.units import System

LEFT, RIGHT, TOP, FLOOR = 8.0, WIDTH - 8, 30.0, 210.0
STEPS = 30
ROOM = 1.12
"""How far the axes go beyond the pump's flow and limit."""


def curves_of(catalog: Catalog, machine: str, hose: str) -> Drawn | None:
    """Return the curves of a machine's hose with its strongest nozzle, or None without one.

    Args:
        catalog: The records.
        machine: Id of the machine.
        hose: Id of the hose on that machine.
    """
    words, first = catalog.w, catalog.brand.units_first
    carried = next(c for c in catalog.machines()[machine].hoses if c.id == hose)
    fed = strongest(fed_by(catalog, machine, carried))
    if fed is None or fed.duty is None:
        return None
    nozzle = str(catalog.entries["nozzles", fed.nozzle].record.title)
    title = words["picture_of_curves"].format(hose=fed.hose.title, nozzle=nozzle)
    said = words["curves_full"] if fed.duty.state == "full flow" else words["curves_regulated"]
    return Drawn(curves(title, fed, words, first), (said,))


def curves(title: str, fed: Fed, w: Mapping[str, str], first: System) -> Markup:
    """Return pressure over flow: the pump, what hose and nozzle ask for, and where they cross.

    Args:
        title: What it is a picture of.
        fed: The nozzle on its hose, with a working point.
        w: The words of the interface.
        first: The system of units shown first.
    """
    rig, duty, margins = fed.rig, fed.duty, fed.margins
    assert duty is not None
    assert margins is not None
    limit, flow = rig.pump.limit, rig.pump.flow
    scale = limit * ROOM

    def at(flow_there: float, pressure: float) -> Point:
        across = (RIGHT - LEFT) * flow_there / (flow * ROOM)
        return Point(LEFT + across, FLOOR - (FLOOR - TOP) * min(pressure / scale, 1.0))

    digits = {
        name: digits_borne(getattr(duty, name), getattr(margins, name))
        for name in ("gauge", "nozzle")
    }
    gauge = both(duty.gauge, "pressure", first, digits["gauge"])
    left = both(duty.nozzle, "pressure", first, digits["nozzle"])
    out = both(duty.flow, "flow", first, 2)
    most = f"{w['picture_limit']} {both(limit, 'pressure', first)}"
    below = FLOOR + 6 + TEXT
    pieces = [
        line("axis-line", Point(LEFT, TOP - 8), Point(LEFT, FLOOR)),
        line("axis-line", Point(LEFT, FLOOR), Point(RIGHT, FLOOR)),
        curve("pump", [at(0, limit), at(flow, limit), at(flow, 0)]),
        *(curve("asked", points) for points in _asked(rig, scale, at) if len(points) > 1),
        *([line("falls", at(duty.flow, duty.gauge), at(duty.flow, 0))] if duty.bypass else []),
        dot("left", at(duty.flow, duty.nozzle), 7),
        dot("crossing", at(duty.flow, duty.gauge), 8),
        label("limit", Point(LEFT + 8, TOP - 12), most),
        label("way", Point(RIGHT, below), f"{w['flow_out']} {out} →", "end"),
        dot("crossing", Point(LEFT + 8, below + 22), 8),
        label("value", Point(LEFT + 24, below + 28), f"{w['gauge_needle']} {gauge}"),
        dot("left", Point(LEFT + 8, below + 46), 7),
        label("value", Point(LEFT + 24, below + 52), f"{w['nozzle']} {left}"),
    ]
    told = w["told_curves"].format(
        flow=in_words(both(flow, "flow", first)),
        limit=in_words(both(limit, "pressure", first)),
        out=in_words(out),
        gauge=in_words(gauge),
        left=in_words(left),
    )
    return picture(title, told, "curves", 0.0, below + 60, pieces)


def _asked(rig: Rig, scale: float, at: Callable[[float, float], Point]) -> list[list[Point]]:
    """Return the gauge that hose and nozzle ask for, in pieces where no formula holds between."""
    pieces: list[list[Point]] = [[]]
    for step in range(1, STEPS + 1):
        flow = rig.pump.flow * ROOM * step / STEPS
        gauge = _gauge(rig, flow)
        if gauge is None:
            pieces.append([])
        elif gauge > scale:
            break
        else:
            pieces[-1].append(at(flow, max(gauge, 0.0)))
    return pieces


def _gauge(rig: Rig, flow: float) -> float | None:
    try:
        duty: Duty = working_point(replace(rig, pump=Pump(flow, UNLIMITED)))
    except OutOfRange:
        return None
    return duty.gauge
