"""The icon as PNG: a valid file, in the brand's colours, of the same drawing as the SVG."""

from __future__ import annotations

import re
import struct
import zlib
from math import pi

import pytest

from refgen.icons import DRAWING, Polygon, Stroke, icon_png, icon_svg
from refgen.model.company import Brand

BRAND = Brand.model_validate(
    {"name": "N", "site": "S", "colours": {"primary": "#17404a", "on_primary": "#fff0e0"}}
)


def chunks(png: bytes) -> dict[bytes, bytes]:
    """Return the parts of a PNG, their checks checked."""
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    found, at = {}, 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        name, data = png[at + 4 : at + 8], png[at + 8 : at + 8 + length]
        assert png[at + 8 + length :][:4] == struct.pack(">I", zlib.crc32(name + data))
        found[name] = data
        at += 12 + length
    return found


def dots(size: int) -> tuple[list[bytes], bytes]:
    """Return the rows of the icon, a byte a dot, and its palette."""
    parts = chunks(icon_png(BRAND, size))
    assert struct.unpack(">IIBBBBB", parts[b"IHDR"]) == (size, size, 8, 3, 0, 0, 0)
    raw = zlib.decompress(parts[b"IDAT"])
    assert len(raw) == size * (size + 1)
    rows = [raw[n : n + size + 1] for n in range(0, len(raw), size + 1)]
    assert {row[0] for row in rows} == {0}
    return [row[1:] for row in rows], parts[b"PLTE"]


def test_colours_run_from_the_ground_to_the_ink() -> None:
    _, palette = dots(64)
    assert len(palette) == 3 * 256
    assert palette[:3] == bytes([0x17, 0x40, 0x4A])
    assert palette[-3:] == bytes([0xFF, 0xF0, 0xE0])


def test_the_drawing_covers_its_area() -> None:
    # The nozzle: 13 × 20 of body and a triangle of 15 × 20 / 2 before it, of 64 × 64.
    rows, _ = dots(256)
    body = Polygon(((26, 22), (39, 22), (54, 32), (39, 42), (26, 42)))
    assert body in DRAWING
    inside = sum(sum(row[26 * 4 : 54 * 4]) for row in rows[22 * 4 : 42 * 4]) / 255 / 16
    beside = 2.5 * 5 / 2  # where a jet's round end looks out beyond the body's corner, at most
    assert 13 * 20 + 15 * 20 / 2 <= inside + 0.5 <= 410 + 2 * beside + 0.5


def test_a_stroke_is_a_bar_with_two_half_discs() -> None:
    stroke = Stroke(10, 10, 20, 10, 4)
    step = 0.01
    area = 0.0
    for n in range(int(8 / step)):
        if found := stroke.across(6 + (n + 0.5) * step):
            area += (found[1] - found[0]) * step
    assert area == pytest.approx(10 * 4 + pi * 2**2, rel=1e-3)
    assert stroke.across(12.5) is None


def test_corners_are_ground_and_the_middle_of_the_nozzle_is_ink() -> None:
    for size in (192, 512):
        rows, _ = dots(size)
        assert {rows[0][0], rows[0][-1], rows[-1][0], rows[-1][-1]} == {0}
        assert rows[size // 2][int(size * 36 / 64)] == 255


def test_no_mask_cuts_the_drawing() -> None:
    # A phone may cut all but the disc of four fifths of the width.
    rows, _ = dots(128)
    for y, row in enumerate(rows):
        for x, covered in enumerate(row):
            if covered:
                assert ((x + 0.5 - 64) ** 2 + (y + 0.5 - 64) ** 2) ** 0.5 <= 0.4 * 128 + 1


def test_the_svg_draws_the_same_shapes_in_the_same_colours() -> None:
    svg = icon_svg(BRAND)
    assert svg.count("<path") == len(DRAWING)
    assert set(re.findall(r"#[0-9a-f]{6}", svg)) == {"#17404a", "#fff0e0"}
