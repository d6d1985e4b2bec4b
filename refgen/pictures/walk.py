"""What becomes of the pressure between pump and nozzle."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from refgen.catalog import Catalog
from refgen.hydraulics import Duty, Margins
from refgen.pictures.svg import TEXT, WIDTH, Drawn, Point, bar, label, line, picture
from refgen.tables.duties import fed_by, strongest
from refgen.tables.shape import both, digits_borne, in_words
from refgen.texts import Shown
from refgen.units import System

EDGE = 2.0
LINE, BAR, STEP = 20.0, 20.0, 76.0
"""Height of a line of text and of a bar, and from one bar's text to the next's."""


def walk_of(catalog: Catalog, machine: str, hose: str) -> Drawn | None:
    """Return the pressure walk of a machine's hose, or None where no nozzle has one.

    The nozzle is the one carried for that hose that leaves most pressure at the jets without
    opening the unloader.

    Args:
        catalog: The records.
        machine: Id of the machine.
        hose: Id of the hose on that machine.
    """
    words, first = catalog.w, catalog.brand.units_first
    carried = next(c for c in catalog.machines()[machine].hoses if c.id == hose)
    fed = strongest(fed_by(catalog, machine, carried))
    if fed is None or fed.duty is None or fed.margins is None:
        return None
    duty, margin = fed.duty, fed.margins.nozzle
    nozzle = str(catalog.entries["nozzles", fed.nozzle].record.title)
    title = words["picture_of_walk"].format(hose=fed.hose.title, nozzle=nozzle)
    drawn = pressure_walk(title, fed.rig.pump.limit, duty, fed.margins, words, first)
    if duty.state == "full flow":
        chosen = words["walk_full_flow"].format(nozzle=nozzle)
    else:
        back = in_words(both(duty.bypass, "flow", first, 2))
        chosen = words["walk_regulated"].format(nozzle=nozzle, back=back)
    low = in_words(both(max(duty.nozzle - margin.lower, 0.0), "pressure", first, 2))
    high = in_words(both(duty.nozzle + margin.upper, "pressure", first, 2))
    return Drawn(drawn, (chosen, words["walk_margin"].format(low=low, high=high)))


def pressure_walk(
    title: str,
    limit: float,
    duty: Duty,
    margins: Margins,
    w: Mapping[str, str],
    first: System,
) -> Markup:
    """Return three bars on one scale: gauge, what the hose takes of it, what is left.

    Args:
        title: What it is a picture of.
        limit: What the gauge never passes [Pa]; the whole width.
        duty: The working point.
        margins: How far its numbers may be off.
        w: The words of the interface.
        first: The system of units shown first.
    """

    def across(pressure: float) -> float:
        return EDGE + (WIDTH - 2 * EDGE) * min(max(pressure / limit, 0.0), 1.0)

    def shown(name: str) -> Shown:
        value = getattr(duty, name)
        return both(value, "pressure", first, digits_borne(value, getattr(margins, name)))

    rows = (
        ("gauge_at_pump", "gauge", shown("gauge"), 0.0, duty.gauge),
        ("lost_in_hose", "lost", shown("hose_loss"), duty.nozzle, duty.nozzle + duty.hose_loss),
        ("left_at_nozzle", "left", shown("nozzle"), 0.0, duty.nozzle),
    )
    most = f"{w['picture_limit']} {both(limit, 'pressure', first)}"
    top = LINE + 6
    floor = top + 3 * STEP - (STEP - 2 * LINE - 6 - BAR)

    def height(row: int) -> float:
        return top + row * STEP + 2 * LINE + 6

    pieces = [line("limit", Point(across(limit), LINE + 2), Point(across(limit), floor))]
    for row, pressure in enumerate((duty.gauge, duty.nozzle)):
        x = across(pressure)
        pieces.append(line("falls", Point(x, height(row) + BAR), Point(x, height(row + 1))))
    pieces.append(label("limit", Point(WIDTH - EDGE, TEXT - 2), most, "end"))
    for row, (name, kind, value, start, end) in enumerate(rows):
        x, y = across(start), top + row * STEP + TEXT
        pieces += [
            label("name", Point(EDGE, y), w[name]),
            label("value", Point(EDGE, y + LINE), str(value)),
            bar(kind, Point(x, height(row)), across(end) - x, BAR),
        ]
    told = "; ".join(f"{w[name]}: {value}" for name, _, value, _, _ in rows)
    return picture(title, f"{told}. {most}.", "walk", 0.0, floor + 2, pieces)
