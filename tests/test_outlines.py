"""Edges of a picture: counted by hand on a small one, whatever filter its lines were kept by."""

from __future__ import annotations

import struct
import zlib

import pytest

from refgen.outlines import outline

BLACK, WHITE, GREY = b"\0\0\0\xff", b"\xff\xff\xff\xff", b"\x77\x77\x77\xff"


def nearest(left: int, above: int, corner: int) -> int:
    """Return the neighbour nearest to left + above - corner, in the order of the standard."""
    guess = left + above - corner
    far_left, far_above, far_corner = (abs(guess - n) for n in (left, above, corner))
    if far_left <= far_above and far_left <= far_corner:
        return left
    return above if far_above <= far_corner else corner


def png(rows: list[bytes], kind: int) -> bytes:
    """Return a picture of red, green, blue and alpha with every line kept by one filter.

    Source: W3C, Portable Network Graphics, third edition, table 9.1.
    """
    long = len(rows[0])
    kept, above = b"", bytes(long)
    for row in rows:
        line = []
        for i in range(long):
            left, corner = (row[i - 4], above[i - 4]) if i > 3 else (0, 0)
            minus = [0, left, above[i], (left + above[i]) // 2, nearest(left, above[i], corner)]
            line.append((row[i] - minus[kind]) % 256)
        kept += bytes([kind, *line])
        above = row
    parts = (
        (b"IHDR", struct.pack(">IIBBBBB", long // 4, len(rows), 8, 6, 0, 0, 0)),
        (b"IDAT", zlib.compress(kept)),
        (b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in parts
    )


@pytest.mark.parametrize("kind", range(5))
def test_an_edge_is_counted_whatever_filter_a_line_was_kept_by(kind: int) -> None:
    upright = [BLACK * 4 + WHITE * 4] * 6
    # Two dots apart across the edge in each of 6 lines: the third with the fifth, the fourth
    # with the sixth.
    assert outline(png(upright, kind)) == 2 * 6
    lying = [WHITE * 8] * 3 + [BLACK * 8] * 3
    assert outline(png(lying, kind)) == 2 * 8


def test_what_has_less_than_three_to_one_is_no_edge() -> None:
    # Relative luminance of #777777 is 0.184: on black (0.184 + 0.05) / 0.05 = 4.7 to 1, and
    # #333333, with 0.033, has (0.184 + 0.05) / (0.033 + 0.05) = 2.8 to 1.
    assert outline(png([GREY * 4 + BLACK * 4], 0)) == 2
    assert outline(png([GREY * 4 + b"\x33\x33\x33\xff" * 4], 0)) == 0
