"""The site's icon, drawn once and given as SVG and as PNG: a nozzle with its rear jets.

The drawing is a list of convex shapes, so that on any line across it each shape is one stretch.
The PNG is filled stretch by stretch, which needs nothing but zlib.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import hypot, sqrt

from refgen.colours import rgb
from refgen.model.company import Brand

SIZE = 64.0
"""Width and height of the drawing, in its own units."""
_LINES = 4
"""Lines looked at across one row of dots."""


@dataclass(frozen=True)
class Stroke:
    """A straight line with round ends."""

    x1: float
    y1: float
    x2: float
    y2: float
    width: float

    def across(self, y: float) -> tuple[float, float] | None:
        """Return where it begins and ends on the line at height y."""
        radius = self.width / 2
        stretches = [
            _disc(self.x1, self.y1, radius, y),
            _disc(self.x2, self.y2, radius, y),
            Polygon(self._corners(radius)).across(y),
        ]
        found = [stretch for stretch in stretches if stretch]
        if not found:
            return None
        return min(left for left, _ in found), max(right for _, right in found)

    def _corners(self, radius: float) -> tuple[tuple[float, float], ...]:
        length = hypot(self.x2 - self.x1, self.y2 - self.y1)
        dx = -(self.y2 - self.y1) / length * radius
        dy = (self.x2 - self.x1) / length * radius
        return (
            (self.x1 + dx, self.y1 + dy),
            (self.x2 + dx, self.y2 + dy),
            (self.x2 - dx, self.y2 - dy),
            (self.x1 - dx, self.y1 - dy),
        )

    def svg(self) -> str:
        """Return it as an element."""
        return (
            f'<path d="M{self.x1:g} {self.y1:g} {self.x2:g} {self.y2:g}" '
            f'stroke-width="{self.width:g}" stroke-linecap="round"/>'
        )


@dataclass(frozen=True)
class Polygon:
    """A filled shape without hollows, by its corners in order."""

    corners: tuple[tuple[float, float], ...]

    def across(self, y: float) -> tuple[float, float] | None:
        """Return where it begins and ends on the line at height y."""
        found = []
        for (x1, y1), (x2, y2) in pairwise((*self.corners, self.corners[0])):
            if (y1 <= y) != (y2 <= y):
                found.append(x1 + (y - y1) / (y2 - y1) * (x2 - x1))
        return (min(found), max(found)) if found else None

    def svg(self) -> str:
        """Return it as an element."""
        points = " ".join(f"{x:g} {y:g}" for x, y in self.corners)
        return f'<path d="M{points}z" stroke-width="0" fill="currentColor"/>'


def _disc(x: float, y: float, radius: float, at: float) -> tuple[float, float] | None:
    if abs(at - y) >= radius:
        return None
    half = sqrt(radius**2 - (at - y) ** 2)
    return x - half, x + half


DRAWING: tuple[Stroke | Polygon, ...] = (
    Stroke(11, 32, 28, 32, 5),
    Stroke(29, 25, 16, 15, 5),
    Stroke(29, 39, 16, 49, 5),
    Polygon(((26, 22), (39, 22), (54, 32), (39, 42), (26, 42))),
)
"""The shapes, all within the middle four fifths, which no phone's mask cuts off."""


def icon_svg(brand: Brand) -> str:
    """Return the icon as SVG, in the colours of the brand."""
    ground, ink = brand.colours.primary, brand.colours.on_primary
    shapes = "".join(shape.svg() for shape in DRAWING)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIZE:g} {SIZE:g}">'
        f'<rect width="{SIZE:g}" height="{SIZE:g}" rx="12" fill="{ground}"/>'
        f'<g fill="none" stroke="{ink}" color="{ink}">{shapes}</g></svg>\n'
    )


def icon_png(brand: Brand, dots: int) -> bytes:
    """Return the icon as a square PNG of so many dots each way.

    It fills its square to the corners: a phone cuts them to its own shape.
    """
    ground, ink = rgb(brand.colours.primary), rgb(brand.colours.on_primary)
    # A dot's value says how much of it the drawing covers, and is its place in the palette.
    palette = bytes(
        round(low + (high - low) * share / 255)
        for share in range(256)
        for low, high in zip(ground, ink, strict=True)
    )
    head = struct.pack(">IIBBBBB", dots, dots, 8, 3, 0, 0, 0)
    chunks = ((b"IHDR", head), (b"PLTE", palette), (b"IDAT", _dotted(dots)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(name, data) for name, data in chunks)


@lru_cache(maxsize=4)
def _dotted(dots: int) -> bytes:
    """Return the drawing's rows, compressed; they are the same in all colours."""
    return zlib.compress(b"".join(b"\0" + row for row in _rows(DRAWING, dots)), 9)


def _chunk(name: bytes, data: bytes) -> bytes:
    check = zlib.crc32(name + data)
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", check)


def _rows(shapes: Sequence[Stroke | Polygon], dots: int) -> Iterator[bytes]:
    """Yield each row as how much of every dot is covered, 0 to 255."""
    scale = dots / SIZE
    for row in range(dots):
        covered = [0.0] * dots
        for line in range(_LINES):
            y = (row + (line + 0.5) / _LINES) / scale
            found = (shape.across(y) for shape in shapes)
            stretches = sorted((a * scale, b * scale) for a, b in filter(None, found))
            reached = 0.0
            for start, end in stretches:
                _cover(covered, max(start, reached), min(end, float(dots)))
                reached = max(reached, end)
        yield bytes(min(255, round(255 * share / _LINES)) for share in covered)


def _cover(covered: list[float], start: float, end: float) -> None:
    """Add a stretch of a line to the dots it lies on, in part where it ends within one."""
    if end <= start:
        return
    first, last = int(start), int(end)
    if first == last:
        covered[first] += end - start
        return
    covered[first] += first + 1 - start
    for dot in range(first + 1, last):
        covered[dot] += 1.0
    if last < len(covered):
        covered[last] += end - last
