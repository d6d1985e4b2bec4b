"""A company's logo: an SVG made safe, or a PNG, the icons drawn from it, and whether it is seen.

An SVG is a document that can run scripts and fetch things. What could do either is refused, so
that nobody wonders why the logo looks different; what only an editor left behind is dropped.
"""

from __future__ import annotations

import struct
import zlib
from base64 import b64encode
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import hypot
from pathlib import Path, PurePosixPath

from resvg_py import svg_to_bytes

from refgen.errors import DataError, Place, Problem
from refgen.nodes import Node
from refgen.outlines import outline
from refgen.sources import show_path
from refgen.vectors import Unsafe, safe_svg

MOST_BYTES = 60_000
"""Every phone keeps the logo, and an icon that may hold it once more."""
MOST_DOTS = 2_000
"""Dots of a PNG each way: a small file can stand for more of them than any memory holds."""
SHOWN_HEIGHT = 32
"""Height of the logo in the heading bar, in CSS pixels."""
LEAST_SHOWN = 0.5
"""Of the outline that is seen of a logo on white or on black, whichever shows more of it."""
_ICON = 64.0
_DOTS = 64
_PNG = b"\x89PNG\r\n\x1a\n"
# What draws the picture. Left out: where and when it was taken, and with what.
_DRAWING_CHUNKS = (b"IHDR", b"PLTE", b"tRNS", b"gAMA", b"sRGB", b"IDAT", b"IEND")


@dataclass(frozen=True)
class Logo:
    """A logo as published."""

    address: str
    content: bytes
    width: float
    height: float

    @property
    def shown_width(self) -> int:
        """Width in the heading bar, in CSS pixels."""
        return max(1, round(SHOWN_HEIGHT * self.width / self.height))

    def icon(self, ground: str) -> str:
        """Return the icon as SVG: the logo on a ground, within the disc that no phone cuts off."""
        scale = 0.8 * _ICON / hypot(self.width, self.height)
        width, height = self.width * scale, self.height * scale
        at = (
            f'x="{(_ICON - width) / 2:.3f}" y="{(_ICON - height) / 2:.3f}" '
            f'width="{width:.3f}" height="{height:.3f}"'
        )
        if self.address.endswith(".svg"):
            drawing = self.content.decode().replace("<svg", f"<svg {at}", 1)
        else:
            data = b64encode(self.content).decode()
            drawing = f'<image {at} href="data:image/png;base64,{data}"/>'
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_ICON:g} {_ICON:g}">'
            f'<rect width="{_ICON:g}" height="{_ICON:g}" fill="{ground}"/>{drawing}</svg>\n'
        )


def icon_dots(svg: str, dots: int) -> bytes:
    """Return an icon as a square PNG of so many dots each way."""
    return svg_to_bytes(svg_string=svg, width=dots, height=dots, skip_system_fonts=True)


def read_logo(named: Node | None, layers: Iterable[Path], shown_from: Path) -> Logo | None:
    """Return the logo that a brand names, from the last layer that has the file.

    Raises:
        DataError: If there is no such file, or if it is none that can be published.
    """
    if named is None or not isinstance(named.value, str):
        return None
    name = named.value
    if PurePosixPath(name).name != name or Path(name).suffix not in (".svg", ".png"):
        hint = "Put an .svg or .png into the folder 'assets' of the layer, and name the file."
        raise DataError([Problem(named.place, "logo", f"'{name}' is no name of a logo", hint)])
    folders = [layer / "assets" for layer in layers]
    file = next((f / name for f in reversed(folders) if (f / name).is_file()), None)
    if file is None:
        hint = f"Put it into the folder 'assets' of the layer '{named.place.layer}'."
        raise DataError([Problem(named.place, "logo", f"there is no file '{name}'", hint)])
    try:
        return _logo(file.read_bytes(), file.suffix)
    except Unsafe as error:
        place = Place(show_path(file, shown_from), error.line, named.place.layer)
        raise DataError([Problem(place, "", error.message, error.hint)]) from error


def hardly_seen(named: Node, logo: Logo, ground: str) -> Iterator[Problem]:
    """Yield what to write instead, if a logo can hardly be told from the ground it stands on."""
    shown = {on: outline(icon_dots(logo.icon(on), _DOTS)) for on in (ground, "#ffffff", "#000000")}
    best = max(("#ffffff", "#000000"), key=lambda on: shown[on])
    if shown[ground] < LEAST_SHOWN * shown[best]:
        share = round(100 * shown[ground] / shown[best])
        fact = f"{share} % of it can be told from {ground}, the colour behind it"
        hint = f"Write 'logo_ground: \"{best}\"' under 'colours'."
        yield Problem(named.place, "logo", fact, hint)


def _logo(content: bytes, suffix: str) -> Logo:
    if len(content) > MOST_BYTES:
        hint = f"Bring it under {MOST_BYTES // 1000} kB; every phone keeps it."
        raise Unsafe(1, f"the logo has {len(content) // 1000} kB", hint)
    if suffix == ".svg":
        text, width, height = safe_svg(content)
        logo = Logo("assets/logo.svg", text.encode(), width, height)
    else:
        kept = b"".join(_png_chunks(content))
        width, height = struct.unpack(">II", kept[16:24])
        logo = Logo("assets/logo.png", kept, width, height)
    if not any(_shows(logo, ground) for ground in ("#ffffff", "#000000")):
        raise Unsafe(1, "nothing can be seen in it", "Save it again from a drawing program.")
    return logo


def _shows(logo: Logo, ground: str) -> bool:
    """Whether a logo can be seen on a ground; what cannot be decoded draws nothing."""
    nothing = Logo("assets/logo.svg", b"<svg/>", logo.width, logo.height)
    try:
        return icon_dots(logo.icon(ground), 64) != icon_dots(nothing.icon(ground), 64)
    except ValueError:
        return False


def _png_chunks(content: bytes) -> Iterator[bytes]:
    """Yield a PNG's signature and those of its chunks that draw it.

    Source: W3C, Portable Network Graphics, third edition, 5.3: length, type, data, CRC.
    """
    hint = "Save it again as PNG."
    if not content.startswith(_PNG):
        raise Unsafe(1, "the file is no PNG", hint)
    yield _PNG
    at, name = len(_PNG), b""
    while name != b"IEND":
        head = content[at : at + 8]
        if len(head) < 8:
            raise Unsafe(1, "the PNG is cut short", hint)
        length, name = struct.unpack(">I4s", head)
        chunk = content[at : at + 12 + length]
        if len(chunk) < 12 + length or zlib.crc32(chunk[4:-4]) != int.from_bytes(chunk[-4:], "big"):
            raise Unsafe(1, "the PNG is damaged", hint)
        if at == len(_PNG) and (
            name != b"IHDR" or length != 13 or 0 in struct.unpack(">II", chunk[8:16])
        ):
            raise Unsafe(1, "the PNG has no size", hint)
        if name == b"IHDR" and max(struct.unpack(">II", chunk[8:16])) > MOST_DOTS:
            raise Unsafe(
                1, f"the PNG is more than {MOST_DOTS} dots wide or high", "Make it smaller."
            )
        if name in _DRAWING_CHUNKS:
            yield chunk
        at += len(chunk)
