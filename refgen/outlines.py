"""How much of a drawing can be told from the ground that it stands on.

What is seen of a drawing are the edges at which its colour changes enough. They are counted in
dots, so that it makes no difference how the drawing was made.

Sources:
    W3C, Web Content Accessibility Guidelines 2.2, 1.4.11: what has to be seen needs 3 to 1.
    W3C, Portable Network Graphics, third edition, 9: how the lines of a picture are filtered.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from functools import lru_cache

from refgen.colours import contrast

LEAST_CONTRAST = 3.0
_APART = 2
"""Dots from one side of an edge to the other: the one between is a blend of both."""
_CHANNELS = 4


def outline(png: bytes) -> int:
    """Return how many dots of a picture stand at an edge, to their right or below them.

    Args:
        png: 8 bits a channel with alpha, not interlaced, nothing to be seen through.
    """
    lines = list(_lines(png))
    dots = [[line[at : at + 3] for at in range(0, len(line), _CHANNELS)] for line in lines]
    across = (pair for row in dots for pair in zip(row, row[_APART:], strict=False))
    down = (
        pair
        for row, below in zip(dots, dots[_APART:], strict=False)
        for pair in zip(row, below, strict=True)
    )
    return sum(
        one != other and _can_be_told(one, other)
        for pairs in (across, down)
        for one, other in pairs
    )


@lru_cache(maxsize=65_536)
def _can_be_told(one: bytes, other: bytes) -> bool:
    return contrast(f"#{one.hex()}", f"#{other.hex()}") >= LEAST_CONTRAST


def _lines(png: bytes) -> Iterator[bytes]:
    """Yield the lines of a picture, the filters undone."""
    width, _ = struct.unpack(">II", png[16:24])
    packed, at = b"", 8
    while at < len(png):
        length, name = struct.unpack(">I4s", png[at : at + 8])
        if name == b"IDAT":
            packed += png[at + 8 : at + 8 + length]
        at += 12 + length
    data, long = zlib.decompress(packed), width * _CHANNELS
    above = bytes(long)
    for start in range(0, len(data), long + 1):
        line = bytearray(data[start + 1 : start + 1 + long])
        for i in range(long):
            left, corner = (line[i - 4], above[i - 4]) if i >= _CHANNELS else (0, 0)
            line[i] = (line[i] + _expected(data[start], left, above[i], corner)) & 0xFF
        yield (above := bytes(line))


def _expected(kind: int, left: int, above: int, corner: int) -> int:
    """Return what a filter takes a byte to be, from its neighbours."""
    match kind:
        case 0:
            return 0
        case 1:
            return left
        case 2:
            return above
        case 3:
            return (left + above) // 2
    return min(left, above, corner, key=lambda byte: abs(left + above - corner - byte))
