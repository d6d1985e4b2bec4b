"""A logo: what may not be in it, what is dropped, and the icons drawn from it."""

from __future__ import annotations

import re
import struct
import zlib
from pathlib import Path

import pytest

from refgen.assets import icons
from refgen.compose import read_catalog
from refgen.errors import DataError
from refgen.logos import MOST_BYTES, Logo, icon_dots
from refgen.model.company import Brand
from refgen.vectors import Unsafe, safe_svg
from tests.stages import SMALL

HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    ' viewBox="0 0 40 20">'
)
BRAND = Brand.model_validate(
    {"name": "N", "site": "S", "colours": {"primary": "#17404a", "on_primary": "#ffffff"}}
)

DISC = "<circle cx='20' cy='10' r='9'/>"


def svg(inside: str) -> bytes:
    return f"{HEAD}\n{inside}</svg>".encode()


def png(width: int, height: int, rows: bytes, *more: tuple[bytes, bytes]) -> bytes:
    """Return a PNG of red, green and blue bytes, with further chunks before the picture."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", head), *more, (b"IDAT", zlib.compress(rows)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunk(*part) for part in parts)


RED = png(2, 1, b"\0" + b"\xff\0\0" * 2)


@pytest.mark.parametrize(
    ("inside", "message"),
    [
        ("<script>alert(1)</script>", "the SVG has a 'script' in it"),
        ("<g onload='alert(1)'/>", "the SVG has a handler 'onload' in it"),
        ("<g ONCLICK='alert(1)'/>", "the SVG has a handler 'ONCLICK' in it"),
        ("<foreignObject/>", "the SVG has a 'foreignObject' in it"),
        ("<a xlink:href='#x'/>", "the SVG has a 'a' in it"),
        ("<animate attributeName='href'/>", "the SVG has a 'animate' in it"),
        ("<set attributeName='onload'/>", "the SVG has a 'set' in it"),
        ("<text>Ours</text>", "the SVG has text in it"),
        (
            "<use href='https://x.example/a.svg#b'/>",
            "leads outside, to 'https://x.example/a.svg#b'",
        ),
        ("<use xlink:href='other.svg#b'/>", "the SVG leads outside, to 'other.svg#b'"),
        ("<image href='//x.example/a.png'/>", "the SVG leads outside, to '//x.example/a.png'"),
        ("<image href='data:image/svg+xml;base64,AAAA'/>", "the SVG leads outside"),
        ("<image href='javascript:alert(1)'/>", "the SVG leads outside"),
        ("<g fill='url(https://x.example/#a)'/>", "has 'url(' in its 'fill'"),
        ("<g style='background: u\\72l(x)'/>", "in its 'style'"),
        ("<style>@import 'x.css';</style>", "the SVG has '@import' in its style"),
        ("<style>@im<!-- -->port 'x.css';</style>", "the SVG has '@import' in its style"),
        ("<style>@&#105;mport 'x.css';</style>", "the SVG has '@import' in its style"),
        ("<style>g { fill: image-set('x.png' 1x) }</style>", "has 'image-set(' in its style"),
        ("<?xml-stylesheet href='x.css'?>", "the SVG has an instruction 'xml-stylesheet'"),
        ("<use href='#a'/>" * 21, "the SVG has more than 20 copies"),
        ("<g>", "the SVG cannot be read (mismatched tag)"),
    ],
)
def test_what_acts_or_fetches_is_refused_with_its_line(inside: str, message: str) -> None:
    with pytest.raises(Unsafe) as caught:
        safe_svg(svg(inside))
    assert message in caught.value.message
    assert caught.value.line == 2
    assert caught.value.hint


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('<!DOCTYPE svg [<!ENTITY a "b">]>' + HEAD + "&a;</svg>", "the SVG declares entities"),
        ("<html/>", "the file is no SVG"),
        ("<svg/>", "the file is no SVG"),
        ('<svg xmlns="http://www.w3.org/2000/svg"/>', "the SVG has no size"),
        ('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 0 9"/>', "the SVG has no size"),
        ('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 nan 9"/>', "the SVG has no size"),
        ("", "the SVG cannot be read (no element found)"),
    ],
)
def test_what_is_no_plain_svg_is_refused(text: str, message: str) -> None:
    with pytest.raises(Unsafe) as caught:
        safe_svg(text.encode())
    assert caught.value.message == message


def test_what_draws_stays_and_what_an_editor_left_is_dropped() -> None:
    text, width, height = safe_svg(
        b'<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x.dtd">'
        b'<svg:svg xmlns:svg="http://www.w3.org/2000/svg" xmlns:e="urn:editor" width="40px"'
        b' height="20" e:zoom="2"><!-- mine --><e:view onload="x"><svg:script/></e:view>'
        b"<svg:metadata>me</svg:metadata><svg:title>A &amp; B</svg:title>"
        b'<svg:style>.a{fill:url(#g)}</svg:style><svg:path class="a" d="M0 0h9"/>loose'
        b"</svg:svg>"
    )
    assert text == (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"><title>A &amp; B</title>'
        '<style>.a{fill:url(#g)}</style><path class="a" d="M0 0h9"></path></svg>'
    )
    assert (width, height) == (40, 20)


def brand(tmp_path: Path, name: str, content: bytes | None) -> list[Path]:
    layer = tmp_path / "ours"
    (layer / "assets").mkdir(parents=True)
    (layer / "brand.yml").write_text(f"name: Ours\nlogo: {name}\n")
    if content is not None:
        (layer / "assets" / name).write_bytes(content)
    return [SMALL, layer]


def logo_of(tmp_path: Path, name: str, content: bytes | None) -> Logo:
    found = read_catalog(brand(tmp_path, name, content), tmp_path).logo
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("logo.svg", None, "ours/brand.yml:2: logo: there is no file 'logo.svg'"),
        ("logo.gif", b"GIF", "ours/brand.yml:2: logo: 'logo.gif' is no name of a logo"),
        ("a/logo.svg", None, "ours/brand.yml:2: logo: 'a/logo.svg' is no name of a logo"),
        ("logo.svg", svg("<script/>"), "ours/assets/logo.svg:2: the SVG has a 'script' in it"),
        ("logo.png", b"GIF89a", "ours/assets/logo.png:1: the file is no PNG"),
        ("logo.png", RED[:-12], "ours/assets/logo.png:1: the PNG is cut short"),
        ("logo.png", RED.replace(b"IDAT", b"IDAX"), "ours/assets/logo.png:1: the PNG is damaged"),
        ("logo.png", png(0, 1, b""), "ours/assets/logo.png:1: the PNG has no size"),
        ("logo.svg", svg(""), "ours/assets/logo.svg:1: nothing can be seen in it"),
        ("logo.png", png(9, 9, b"x"), "ours/assets/logo.png:1: nothing can be seen in it"),
        (
            "logo.svg",
            svg("<!--" + "x" * MOST_BYTES + "-->"),
            "ours/assets/logo.svg:1: the logo has 60 kB",
        ),
    ],
)
def test_a_logo_that_cannot_be_published_is_told_as_any_other_mistake(
    tmp_path: Path, name: str, content: bytes | None, told: str
) -> None:
    with pytest.raises(DataError) as caught:
        read_catalog(brand(tmp_path, name, content), tmp_path)
    assert str(caught.value.problems[0]).split("\n")[0] == told


def test_a_png_loses_what_does_not_draw_it(tmp_path: Path) -> None:
    private = png(2, 1, b"\0" + b"\xff\0\0" * 2, (b"tEXt", b"Author\0Someone"), (b"eXIf", b"place"))
    assert logo_of(tmp_path, "logo.png", private).content == RED


def test_the_logo_keeps_its_proportions_in_the_heading_bar(tmp_path: Path) -> None:
    assert logo_of(tmp_path, "logo.svg", svg(DISC)).shown_width == 64  # 40 × 20, 32 high


def dots_of(data: bytes) -> tuple[int, list[bytes]]:
    """Return the width and rows of an 8-bit RGBA PNG, its lines unfiltered."""
    width, height, depth, kind = struct.unpack(">IIBB", data[16:26])
    assert (depth, kind) == (8, 6)
    packed, at = b"", 8
    while at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        if data[at + 4 : at + 8] == b"IDAT":
            packed += data[at + 8 : at + 8 + length]
        at += 12 + length
    raw, step, rows = zlib.decompress(packed), width * 4 + 1, []
    before = bytes(width * 4)
    for row in range(height):
        line = raw[row * step : (row + 1) * step]
        done = bytearray()
        for place, value in enumerate(line[1:]):
            left = done[place - 4] if place >= 4 else 0
            up, corner = before[place], before[place - 4] if place >= 4 else 0
            guess = left + up - corner
            nearest = min((left, up, corner), key=lambda x: abs(guess - x))
            added = (0, left, up, (left + up) // 2, nearest)[line[0]]
            done.append((value + added) % 256)
        before = bytes(done)
        rows.append(before)
    return width, rows


@pytest.mark.parametrize("content", [RED, svg("<rect width='40' height='20' fill='#ff0000'/>")])
def test_icons_show_the_logo_whole_on_the_brands_ground(tmp_path: Path, content: bytes) -> None:
    name = "logo.png" if content == RED else "logo.svg"
    made = icons(BRAND, logo_of(tmp_path, name, content))
    assert set(made) == {
        f"assets/{name}", "assets/icon.svg", "assets/icon-192.png", "assets/icon-512.png",
    }  # fmt: skip
    width, rows = dots_of(made["assets/icon-192.png"])
    assert (width, len(rows)) == (192, 192)
    assert rows[0][:4] == bytes([0x17, 0x40, 0x4A, 255])  # to the corners, which a phone cuts
    assert rows[96][96 * 4 :][:4] == b"\xff\0\0\xff"
    red = [
        (x, y)
        for y, row in enumerate(rows)
        for x in range(192)
        if row[x * 4 : x * 4 + 2] == b"\xff\0"
    ]
    # Twice as wide as high, its corners on the disc of four fifths: 153.6 × 2/√5 by half of that.
    wide, high = (max(n) - min(n) + 1 for n in zip(*red, strict=True))
    assert (wide, high) == (pytest.approx(137.4, abs=2), pytest.approx(68.7, abs=2))


def test_a_logo_may_have_a_ground_of_its_own(tmp_path: Path) -> None:
    colours = {"primary": "#17404a", "on_primary": "#ffffff", "logo_ground": "#ffffff"}
    own = Brand.model_validate({"name": "N", "site": "S", "colours": colours})
    made = icons(own, logo_of(tmp_path, "logo.svg", svg(DISC)))
    assert dots_of(made["assets/icon-192.png"])[1][0][:4] == b"\xff\xff\xff\xff"


def test_icons_are_the_same_bytes_each_time(tmp_path: Path) -> None:
    logo = logo_of(tmp_path, "logo.svg", svg(DISC))
    assert icon_dots(logo.icon("#ffffff"), 64) == icon_dots(logo.icon("#ffffff"), 64)


def test_a_small_png_that_stands_for_more_dots_than_memory_holds_is_refused(tmp_path: Path) -> None:
    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 6, 0, 0, 0)
    png = b"\x89PNG\r\n\x1a\n"
    for kind, data in ((b"IHDR", head), (b"IDAT", zlib.compress(bytes(9))), (b"IEND", b"")):
        png += struct.pack(">I", len(data)) + kind + data
        png += struct.pack(">I", zlib.crc32(kind + data))
    with pytest.raises(DataError, match="the PNG is more than 2000 dots wide or high"):
        read_catalog(brand(tmp_path, "logo.png", png), tmp_path)


BARS = "<path d='M5 4h30v4H5zM5 12h30v4H5z' fill='{ink}'/>"
BOX = "<rect width='40' height='20' fill='{box}'/>"
DOT = "<circle cx='5' cy='4' r='2' fill='#ff8800'/>"


@pytest.mark.parametrize(
    ("name", "content", "colours", "share", "instead"),
    [
        # Luminances: #102030 has 0.014, so white on it 1.05 / 0.064 = 16 to 1, and #203040,
        # with 0.029, has (0.029 + 0.05) / 0.064 = 1.2 to 1.
        ("logo.svg", svg(BARS.format(ink="#203040")), "", 0, "#ffffff"),
        ("logo.svg", svg(BARS.format(ink="#ffffff")), "", None, ""),
        # White on white, on which its own ground puts it; black has all of it.
        ("logo.svg", svg(BARS.format(ink="#ffffff")), ", logo_ground: '#ffffff'", 0, "#000000"),
        # Letters in a box are read by the box, whatever is behind it.
        ("logo.svg", svg(BOX.format(box="#203040") + BARS.format(ink="#ffffff")), "", None, ""),
        ("logo.svg", svg(BOX.format(box="#ffffff") + BARS.format(ink="#203040")), "", None, ""),
        # The dot alone is seen: its edge is 4π = 13 long, the bars' 2 × 68 = 136.
        ("logo.svg", svg(BARS.format(ink="#203040") + DOT), "", 13 / (13 + 136), "#ffffff"),
        ("logo.png", png(4, 2, (b"\0" + b"\x20\x30\x40" * 4) * 2), "", 0, "#ffffff"),
        ("logo.png", png(4, 2, (b"\0" + b"\xff\xff\xff" * 4) * 2), "", None, ""),
    ],
)
def test_a_logo_that_cannot_be_seen_is_told_with_the_ground_that_shows_it(
    tmp_path: Path, name: str, content: bytes, colours: str, share: float | None, instead: str
) -> None:
    layers = brand(tmp_path, name, content)
    with (layers[-1] / "brand.yml").open("a") as file:
        file.write(f"colours: {{primary: '#102030', on_primary: '#ffffff'{colours}}}\n")
    told = [str(one) for one in read_catalog(layers, tmp_path).advice if one.field == "logo"]
    if share is None:
        assert told == []
        return
    (line,) = told
    fact, hint = line.split("\n")
    found = re.fullmatch(r"ours/brand.yml:2: logo: (\d+) % of it can be told from #\w{6}, .*", fact)
    assert found is not None, fact
    assert int(found[1]) == pytest.approx(100 * share, abs=5)
    assert hint.strip() == f"Write 'logo_ground: \"{instead}\"' under 'colours'."
