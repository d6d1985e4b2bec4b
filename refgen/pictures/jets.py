"""A nozzle from the side, each ring of jets at its true angle from the hose."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import count
from math import cos, degrees, sin

from markupsafe import Markup

from refgen.model.equipment import JetGroup, Pattern
from refgen.pictures.svg import TEXT, WIDTH, Point, label, line, outline, picture

REAR, NOSE = 150.0, 206.0
"""Where the body begins and ends along the hose's axis, which lies at height 0."""
RADIUS, HOSE = 21.0, 9.0
LENGTH = 90.0
"""Length of a jet as drawn."""
STEEP = 60.0
"""From this angle on [deg] a jet leaves the body's side instead of its shoulder."""
LETTER, ABOVE, BELOW = 9.0, 13.0, 3.0
"""Width of a character, taken on the wide side; its height over its line, and what hangs under."""


def jets_picture(pattern: Pattern, w: Mapping[str, str]) -> Markup:
    """Return a pattern's jets as a picture.

    Of each ring the two outermost jets are drawn, one above and one below the axis, since only
    these show their true angle from the side; the label counts the ring.
    """
    jets = [end for group in pattern.jets for end in _jets(group)]
    labels = _labels(pattern.jets, jets, w)
    top = min(-RADIUS, *(e.y for _, e in jets), *(one.at.y - ABOVE for one in labels)) - 6
    bottom = max(RADIUS, *(e.y for _, e in jets), *(one.at.y for one in labels)) + 8 + TEXT
    pieces = [
        line("hose", Point(0, -HOSE), Point(REAR, -HOSE)),
        line("hose", Point(0, HOSE), Point(REAR, HOSE)),
        line("axis", Point(0, 0), Point(WIDTH, 0)),
        *(line("jet", start, end) for start, end in jets),
        outline("body", _body()),
        *(label("count", one.at, one.text, "middle") for one in labels),
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


@dataclass(frozen=True, slots=True)
class _Label:
    at: Point
    text: str

    @property
    def half(self) -> float:
        return len(self.text) * LETTER / 2

    def covers(self, point: Point, room: float = 3.0) -> bool:
        """Whether a point lies under the text or closer to it than `room`."""
        beside = abs(point.x - self.at.x) - self.half
        return beside < room and self.at.y - ABOVE - room < point.y < self.at.y + BELOW + room

    def overlaps(self, other: _Label) -> bool:
        """Whether two labels cover one another."""
        aside = abs(self.at.x - other.at.x) < self.half + other.half + 3
        return aside and abs(self.at.y - other.at.y) < ABOVE + BELOW


def _labels(
    groups: Iterable[JetGroup], jets: Iterable[tuple[Point, Point]], w: Mapping[str, str]
) -> list[_Label]:
    """Return a label for each ring, off every jet and every other label."""
    drawn = [point for start, end in jets for point in _along(start, end)]
    placed: list[_Label] = []
    for group in sorted(groups, key=lambda g: -g.angle.si):
        text = w["picture_jets"].format(count=group.count, angle=group.angle)
        tried = (_Label(at, text) for at in _places(group, len(text) * LETTER / 2))
        placed.append(
            next(
                label
                for label in tried
                if not any(map(label.covers, drawn)) and not any(map(label.overlaps, placed))
            )
        )
    return placed


def _places(group: JetGroup, half: float) -> Iterator[Point]:
    """Yield where a ring's label may stand: past its upper jet, past its lower, further off."""
    (_, end), way = next(_jets(group)), _direction(group)
    x, y = end.x + way.x * (half + 9), end.y + way.y * TEXT + TEXT / 3
    x = min(max(x, half + 2), WIDTH - half - 2)
    for step in count(0, 4):
        yield Point(x, y - step)
        if group.count > 1:
            yield Point(x, step - y + ABOVE - BELOW)


def _along(start: Point, end: Point) -> Iterator[Point]:
    """Yield points along a jet, close enough that no label slips between them."""
    for share in range(33):
        part = share / 32
        yield Point(start.x + part * (end.x - start.x), start.y + part * (end.y - start.y))
