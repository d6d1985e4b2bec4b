"""The few pieces of SVG that the pictures are made of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, radians, sin

from markupsafe import Markup, escape

WIDTH = 328.0
"""Width of every picture: what a page leaves on a screen 360 pixels wide."""
TEXT = 16.0
"""Height of all text."""


@dataclass(frozen=True, slots=True)
class Point:
    """A place in a picture: to the right and downward."""

    x: float
    y: float

    def __str__(self) -> str:
        return f"{_number(self.x)} {_number(self.y)}"


@dataclass(frozen=True, slots=True)
class Drawn:
    """A picture, and the sentences under it."""

    picture: Markup
    said: tuple[str, ...]


def picture(
    title: str, told: str, kind: str, top: float, height: float, pieces: Iterable[Markup]
) -> Markup:
    """Return a whole picture.

    Args:
        title: What it shows, for those who cannot see it.
        told: All that can be read off it, in words.
        kind: Class by which the stylesheet knows it.
        top: Upper edge of what is drawn.
        height: Height of what is drawn.
        pieces: What is drawn.
    """
    return Markup(
        '<svg class="drawn {}" role="img" xmlns="http://www.w3.org/2000/svg" viewBox="0 {} {} {}">'
        "<title>{}</title><desc>{}</desc>{}</svg>"
    ).format(
        kind,
        _number(top),
        _number(WIDTH),
        _number(height),
        title,
        told,
        Markup("").join(pieces),
    )


def line(kind: str, start: Point, end: Point) -> Markup:
    """Return a straight line."""
    return Markup('<line class="{}" x1="{}" y1="{}" x2="{}" y2="{}"/>').format(
        kind, *map(_number, (start.x, start.y, end.x, end.y))
    )


def bar(kind: str, corner: Point, width: float, height: float) -> Markup:
    """Return a bar from its upper left corner."""
    return Markup('<rect class="{}" x="{}" y="{}" width="{}" height="{}"/>').format(
        kind, *map(_number, (corner.x, corner.y, width, height))
    )


def outline(kind: str, points: Iterable[Point]) -> Markup:
    """Return a closed shape."""
    path = " L".join(map(str, points))
    return Markup('<path class="{}" d="M{}Z"/>').format(kind, Markup(escape(path)))


def curve(kind: str, points: Iterable[Point]) -> Markup:
    """Return an open line through points."""
    path = " L".join(map(str, points))
    return Markup('<path class="{}" d="M{}"/>').format(kind, Markup(escape(path)))


def dot(kind: str, centre: Point, radius: float) -> Markup:
    """Return a circle."""
    return Markup('<circle class="{}" cx="{}" cy="{}" r="{}"/>').format(
        kind, *map(_number, (centre.x, centre.y, radius))
    )


def arc(kind: str, centre: Point, radius: float, start: float, end: float) -> Markup:
    """Return part of a circle, clockwise between two angles [deg], 0 at the top."""
    first, last = (on_circle(centre, radius, angle) for angle in (start, end))
    large = 1 if end - start > 180 else 0
    return Markup('<path class="{}" d="M{} A{} {} 0 {} 1 {}"/>').format(
        kind, str(first), _number(radius), _number(radius), large, str(last)
    )


def on_circle(centre: Point, radius: float, angle: float) -> Point:
    """Return the point on a circle at an angle [deg], 0 at the top, clockwise."""
    turned = radians(angle)
    return Point(centre.x + radius * sin(turned), centre.y - radius * cos(turned))


def label(kind: str, at: Point, text: str, anchor: str = "start") -> Markup:
    """Return a line of text; `anchor` is start, middle or end."""
    return Markup('<text class="{}" x="{}" y="{}" text-anchor="{}">{}</text>').format(
        kind, _number(at.x), _number(at.y), anchor, text
    )


def _number(value: float) -> str:
    """Return a coordinate to a tenth, as short as it can be written.

    >>> _number(12.0), _number(-0.04), _number(7.25)
    ('12', '0', '7.2')
    """
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text
