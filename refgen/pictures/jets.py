"""A nozzle from the side, each ring of jets at its true angle from the hose."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import cos, degrees, sin

from markupsafe import Markup

from refgen.model.equipment import JetGroup, Pattern
from refgen.pictures.svg import TEXT, WIDTH, Point, label, line, outline, picture

REAR, NOSE = 150.0, 206.0
"""Where the body begins and ends along the hose's axis, which lies at height 0."""
RADIUS, HOSE = 21.0, 9.0
LENGTH = 96.0
"""Length of a jet as drawn."""
STEEP = 60.0
"""From this angle on [deg] a jet leaves the body's side instead of its shoulder."""
SHALLOW = 30.0
"""Up to this angle [deg] a jet's label stands over its end, beyond it otherwise."""
LETTER = 9.0
"""Width of a character, taken on the wide side."""


def jets_picture(pattern: Pattern, w: Mapping[str, str]) -> Markup:
    """Return a pattern's jets as a picture.

    Of each ring the two outermost jets are drawn, one above and one below the axis, since only
    these show their true angle from the side; the label counts the ring.
    """
    jets = [end for group in pattern.jets for end in _jets(group)]
    labels = list(_labels(pattern.jets, w))
    top = min(-RADIUS, *(e.y for _, e in jets), *(at.y - TEXT for at, _ in labels)) - 6
    bottom = max(RADIUS, *(e.y for _, e in jets), *(at.y for at, _ in labels)) + 6 + TEXT
    pieces = [
        line("hose", Point(0, -HOSE), Point(REAR, -HOSE)),
        line("hose", Point(0, HOSE), Point(REAR, HOSE)),
        line("axis", Point(0, 0), Point(WIDTH, 0)),
        *(line("jet", start, end) for start, end in jets),
        outline("body", _body()),
        *(label("count", at, text, "middle") for at, text in labels),
        label("way", Point(2, bottom), w["picture_rear"]),
        label("way", Point(WIDTH - 2, bottom), w["picture_front"], "end"),
    ]
    title = w["picture_of_jets"].format(title=pattern.title)
    return picture(title, _told(pattern, w), "jets", top, bottom + 6 - top, pieces)


def _told(pattern: Pattern, w: Mapping[str, str]) -> str:
    rings = [
        w["jets_line"].format(count=group.count, way=w[f"faces_{group.faces}"], angle=group.angle)
        for group in pattern.jets
    ]
    said = [f"{'; '.join(rings)}."]
    if pattern.turns:
        said.append(w["picture_spins"])
    return " ".join(said)


def _body() -> list[Point]:
    """Return the outline of the body: hose end, shoulder, side, nose."""
    upper = [
        Point(REAR, -HOSE),
        Point(REAR + 6, -RADIUS + 4),
        Point(REAR + 14, -RADIUS),
        Point(NOSE - 22, -RADIUS),
        Point(NOSE - 6, -HOSE),
        Point(NOSE, -3),
    ]
    return [*upper, *(Point(point.x, -point.y) for point in reversed(upper))]


def _start(group: JetGroup) -> Point:
    """Return where a ring's upper jet leaves the body."""
    angle = degrees(group.angle.si)
    if angle >= STEEP:
        return Point(REAR + 24 if group.faces == "rear" else NOSE - 24, -RADIUS)
    if group.faces == "rear":
        return Point(REAR + 4, -RADIUS + 5)
    if group.count == 1 and angle == 0:
        return Point(NOSE, 0)
    return Point(NOSE - 12, -RADIUS + 8)


def _direction(group: JetGroup) -> Point:
    """Return the way of a ring's upper jet, of length 1."""
    along = cos(group.angle.si)
    return Point(-along if group.faces == "rear" else along, -sin(group.angle.si))


def _jets(group: JetGroup) -> Iterator[tuple[Point, Point]]:
    """Yield start and end of the upper jet of a ring, and of the lower where there is one."""
    start, way = _start(group), _direction(group)
    end = Point(start.x + LENGTH * way.x, start.y + LENGTH * way.y)
    yield start, end
    if group.count > 1:
        yield Point(start.x, -start.y), Point(end.x, -end.y)


def _labels(groups: Iterable[JetGroup], w: Mapping[str, str]) -> Iterator[tuple[Point, str]]:
    """Yield a label for each ring and its place; one that would cover another moves outward."""
    taken: list[tuple[float, float, float]] = []
    for group in sorted(groups, key=lambda g: g.angle.si):
        text = w["picture_jets"].format(count=group.count, angle=group.angle)
        half = len(text) * LETTER / 2
        (_, end), way = next(_jets(group)), _direction(group)
        if degrees(group.angle.si) <= SHALLOW:
            x, y = end.x, end.y - 9
        else:
            x, y = end.x + way.x * (half + 4), end.y + way.y * TEXT + TEXT / 3
        x = min(max(x, half + 2), WIDTH - half - 2)
        while any(
            abs(y - other) < TEXT + 3 and abs(x - at) < half + wide for at, other, wide in taken
        ):
            y -= 4
        taken.append((x, y, half))
        yield Point(x, y), text
