"""The gauge's face: where the needle stands, the unloader's limit and the plate."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from refgen.catalog import Catalog
from refgen.pictures.svg import (
    TEXT,
    WIDTH,
    Drawn,
    Point,
    arc,
    dot,
    label,
    line,
    on_circle,
    picture,
)
from refgen.rigs import BAR, dial_for, pump_of
from refgen.tables.duties import fed_by, strongest
from refgen.tables.shape import both, digits_borne
from refgen.texts import Shown, show_quantity
from refgen.units import PSI, System

CENTRE = Point(WIDTH / 2, 128.0)
RADIUS, SWEEP = 104.0, 270.0
MARKS = 5


@dataclass(frozen=True, slots=True)
class Face:
    """What a gauge's face shows: end of the dial, limit, plate and needle [Pa]."""

    dial: float
    limit: float
    plate: float
    needle: float | None


def gauge_of(catalog: Catalog, machine: str) -> Drawn | None:
    """Return the face of a machine's gauge, the needle where its strongest nozzle puts it."""
    words, first = catalog.w, catalog.brand.units_first
    record = catalog.machines()[machine]
    pump = pump_of(record)
    fed = strongest(one for carried in record.hoses for one in fed_by(catalog, machine, carried))
    if fed is None or fed.duty is None or fed.margins is None:
        return None
    dial = dial_for(pump.limit, first)
    nozzle = str(catalog.entries["nozzles", fed.nozzle].record.title)
    needle = both(
        fed.duty.gauge, "pressure", first, digits_borne(fed.duty.gauge, fed.margins.gauge)
    )
    shown = {
        "plate": show_quantity(record.pressure, first),
        "limit": both(pump.limit, "pressure", first),
        "needle": needle,
    }
    title = words["picture_of_gauge"].format(machine=record.title)
    face = Face(dial, pump.limit, record.pressure.si, fed.duty.gauge)
    drawn = gauge_face(title, face, shown, words, first)
    said = words["gauge_said"].format(dial=both(dial, "pressure", first), nozzle=nozzle)
    return Drawn(drawn, (said,))


def gauge_face(
    title: str, face: Face, shown: Mapping[str, Shown], w: Mapping[str, str], first: System
) -> Markup:
    """Return the face with its working range, limit, plate and needle, and a legend.

    Args:
        title: What it is a picture of.
        face: The pressures.
        shown: How plate, limit and needle are told.
        w: The words of the interface.
        first: The system of units shown first.
    """

    def turn(pressure: float) -> float:
        return -SWEEP / 2 + SWEEP * min(pressure / face.dial, 1.0)

    pieces = [
        arc("rim", CENTRE, RADIUS, -SWEEP / 2, SWEEP / 2),
        arc("working", CENTRE, RADIUS - 12, -SWEEP / 2, turn(face.limit)),
        arc("beyond", CENTRE, RADIUS - 12, turn(face.plate), SWEEP / 2),
    ]
    unit = PSI if first == "us" else BAR
    for step in range(MARKS + 1):
        pressure = face.dial * step / MARKS
        angle = turn(pressure)
        pieces.append(
            line("grid", on_circle(CENTRE, RADIUS, angle), on_circle(CENTRE, RADIUS - 22, angle))
        )
        at = on_circle(CENTRE, RADIUS - 42, angle)
        pieces.append(label("mark-x", Point(at.x, at.y + 6), f"{pressure / unit:,.0f}", "middle"))
    for kind, pressure in (("limit", face.limit), ("plate", face.plate)):
        angle = turn(pressure)
        pieces.append(
            line(kind, on_circle(CENTRE, RADIUS + 8, angle), on_circle(CENTRE, RADIUS - 22, angle))
        )
    if face.needle is not None:
        pieces.append(line("needle", CENTRE, on_circle(CENTRE, RADIUS - 26, turn(face.needle))))
    pieces.append(dot("crossing", CENTRE, 8))
    rows = [
        ("needle", w["gauge_needle"], shown["needle"]),
        ("limit", w["picture_limit"], shown["limit"]),
        ("plate", w["plate"], shown["plate"]),
    ]
    y = CENTRE.y + RADIUS + 8
    for place, (kind, name, value) in enumerate(rows):
        row = y + place * (TEXT + 10)
        pieces.append(line(kind, Point(4, row - 5), Point(30, row - 5)))
        pieces.append(label("value", Point(38, row), f"{name} {value}"))
    told = "; ".join(f"{name} {value}" for _, name, value in rows)
    return picture(title, f"{told}.", "face", 0.0, y + 3 * (TEXT + 10) - 12, pieces)
