"""Marks to scan: on a machine's lid, in a truck, on a lesson's sheet, each with a short address.

A mark leads to a page of its own, `go/<code>.html`, which leads on. The code is made from kind
and id, former ids too, so a card printed years ago goes on working after any rename.

How they are made: a laminated card is scanned at arm's length, some 70 cm. Common advice is a
symbol a tenth of the distance wide; the print gives it 80 mm with its quiet zone of four modules
(ISO/IEC 18004). Cards get scratched and dirty, so a quarter of the symbol may be lost (level Q),
and the version is the smallest that holds the short address, so that each module is large.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass

import segno
from markupsafe import Markup

from refgen.addresses import EMERGENCY, HOME, beside_address, record_address
from refgen.catalog import Catalog
from refgen.errors import RefgenError
from refgen.layers import Key
from refgen.views import View

QUIET_MODULES = 4
ERROR_CORRECTION = "q"
# Without 0, 1, i, l and o, which are read for one another.
_LETTERS = "23456789abcdefghjkmnpqrstuvwxyz"
_CODE_LENGTH = 5


@dataclass(frozen=True, slots=True)
class Mark:
    """One card: what it opens, the address to type, and the symbol."""

    title: str
    opens: str
    short: str
    """Short page from the site's root."""
    typed: str
    """What to type where nothing can scan: the address without its scheme."""
    symbol: Markup


def code(kind: str, name: str) -> str:
    """Return the code of a record's short address.

    >>> len(code("machines", "some-barrow"))
    5
    """
    number = int.from_bytes(hashlib.sha256(f"{kind}/{name}".encode()).digest()[:8], "big")
    letters = []
    for _ in range(_CODE_LENGTH):
        number, digit = divmod(number, len(_LETTERS))
        letters.append(_LETTERS[digit])
    return "".join(letters)


def short_addresses(catalog: Catalog) -> dict[str, tuple[str, str]]:
    """Return each short page with the page it leads on to and that page's title.

    There are none while the site has no address: a code is only worth something on paper.

    Raises:
        RefgenError: If two records would share a code.
    """
    if catalog.brand.address is None:
        return {}
    found: dict[str, tuple[str, str]] = {}
    whose: dict[str, str] = {}
    for (kind, name), target, title in _targets(catalog):
        short = f"go/{code(kind, name)}.html"
        if short in found and found[short][0] != target:
            hint = "Give the newer of the two another id."
            raise RefgenError(f"{kind}/{name} and {whose[short]} would have the same mark. {hint}")
        found[short], whose[short] = (target, title), f"{kind}/{name}"
    return found


def _targets(catalog: Catalog) -> Iterator[tuple[Key, str, str]]:
    """Yield what a mark can be made for, former ids after present ones."""
    yield ("pages", "home"), HOME, catalog.brand.site
    yield ("pages", "emergency"), EMERGENCY, catalog.w["title_emergency"]
    present = {
        (kind, name): (_opened(kind, name), str(record.title))
        for kind in ("machines", "lessons")
        for name, record in catalog.of_kind(kind).items()
    }
    for key, (address, title) in present.items():
        yield key, address, title
    for former, key in catalog.moved.items():
        if key in present:
            yield former, *present[key]


def _opened(kind: str, name: str) -> str:
    if kind == "machines":
        return beside_address(kind, name, "handbook")
    return record_address(kind, name)


def groups(view: View) -> Iterator[tuple[str, list[Mark]]]:
    """Yield the marks of a site by where they are put up."""
    machines, lessons = (view.catalog.of_kind(kind) for kind in ("machines", "lessons"))
    yield "trucks", [home(view), emergency(view)]
    if machines:
        yield "machines", [machine(view, name) for name in machines]
    if lessons:
        yield "lessons", [lesson(view, name) for name in lessons]


def home(view: View) -> Mark:
    """Return the mark of the whole reference."""
    return _mark(view, ("pages", "home"), str(view.brand.site), view.w["mark_opens_home"])


def emergency(view: View) -> Mark:
    """Return the mark of the emergency page."""
    title, opens = view.w["title_emergency"], view.w["about_emergency"]
    return _mark(view, ("pages", "emergency"), title, opens)


def machine(view: View, name: str) -> Mark:
    """Return the mark of a machine, which opens its handbook."""
    title = str(view.catalog.entries["machines", name].record.title)
    return _mark(view, ("machines", name), title, view.w["mark_opens_handbook"])


def lesson(view: View, name: str) -> Mark:
    """Return the mark of a lesson, which opens the learner's view."""
    title = str(view.catalog.entries["lessons", name].record.title)
    return _mark(view, ("lessons", name), title, view.w["mark_opens_lesson"])


def _mark(view: View, key: Key, title: str, opens: str) -> Mark:
    assert view.brand.address is not None
    short = f"go/{code(*key)}.html"
    address = f"{view.brand.address.rstrip('/')}/{short}"
    return Mark(title, opens, short, address.partition("://")[2], symbol_of(address, title))


def symbol_of(address: str, title: str) -> Markup:
    """Return the symbol of an address as inline SVG, black on white in every look of the page."""
    made = segno.make_qr(address, error=ERROR_CORRECTION, boost_error=False)
    svg: str = made.svg_inline(
        border=QUIET_MODULES,
        omitsize=True,
        light="#ffffff",
        dark="#000000",
        title=title,
        svgclass="symbol",
        lineclass=None,
    )
    return Markup(svg.replace("<svg ", '<svg role="img" ', 1))
