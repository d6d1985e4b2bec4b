"""How far a nozzle draws its hose, straight and round one bend after another."""

from __future__ import annotations

from collections.abc import Mapping
from math import pi

from markupsafe import Markup

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.reach import Bend
from refgen.model.lookup import Table
from refgen.pictures.svg import TEXT, WIDTH, Drawn, Point, bar, label, line, picture
from refgen.tables.duties import Fed, fed_by, strongest
from refgen.tables.reach import BEND_AT, Reach, reach_of, span_of
from refgen.tables.shape import both, in_words
from refgen.texts import show_quantity
from refgen.units import System

MOST = 3
EDGE, BAR, STEP = 2.0, 16.0, 56.0


def bends_of(table: Table, catalog: Catalog) -> Drawn | None:
    """Return the reach of the machine with the longest hose by bends, or None without one."""
    words, first = catalog.w, catalog.brand.units_first
    fed = _longest(catalog)
    if fed is None:
        return None
    at = table.assume.bend_at or BEND_AT
    found = []
    for count in range(MOST + 1):
        bends = tuple(Bend(at.si * (place + 1), pi / 2) for place in range(count))
        try:
            found.append(reach_of(fed, bends))
        except OutOfRange:
            return None
    nozzle = str(catalog.entries["nozzles", fed.nozzle].record.title)
    title = words["picture_of_bends"].format(hose=fed.hose.title, nozzle=nozzle)
    said = words["bends_said"].format(at=in_words(show_quantity(at, first)))
    return Drawn(reaches(title, found, words, first), (f"{title}.", said))


def reaches(title: str, found: list[Reach], w: Mapping[str, str], first: System) -> Markup:
    """Return a bar for each number of bends: sure to the first mark, at most to the second.

    Args:
        title: What it is a picture of.
        found: Reach with none, one, two … right-angle bends.
        w: The words of the interface.
        first: The system of units shown first.
    """
    whole = max(reach.hose for reach in found)
    pieces, told = [], []

    def across(length: float) -> float:
        return EDGE + (WIDTH - 2 * EDGE) * length / whole

    for count, reach in enumerate(found):
        name = w["bends_none"] if not count else w["bends_one"]
        if count > 1:
            name = w["bends_so_many"].format(count=count)
        value = str(span_of(reach, first))
        y = count * STEP + TEXT
        pieces += [
            label("name", Point(EDGE, y), f"{name}: {value}"),
            bar("left", Point(EDGE, y + 8), across(reach.shortest) - EDGE, BAR),
        ]
        if reach.longest > reach.shortest:
            start = across(reach.shortest)
            pieces.append(bar("lost", Point(start, y + 8), across(reach.longest) - start, BAR))
        told.append(f"{name}: {value}")
    floor = len(found) * STEP - 4
    pieces.append(line("limit", Point(across(whole), TEXT + 6), Point(across(whole), floor)))
    end = f"{w['end_of_hose']} {both(whole, 'length', first, 2)}"
    pieces.append(label("limit", Point(WIDTH - EDGE, floor + TEXT + 2), end, "end"))
    return picture(title, f"{'; '.join(told)}. {end}.", "bends", 0.0, floor + TEXT + 8, pieces)


def _longest(catalog: Catalog) -> Fed | None:
    """Return the strongest nozzle on the longest hose whose weight is known."""
    best: Fed | None = None
    for name, machine in catalog.machines().items():
        for carried in machine.hoses:
            fed = strongest(fed_by(catalog, name, carried))
            if fed is None or fed.duty is None or fed.duty.pull <= 0 or fed.hose.weight is None:
                continue
            if best is None or carried.length.si > best.carried.length.si:
                best = fed
    return best
