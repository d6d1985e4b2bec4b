"""Where things are found in the built site: one place that knows how an address is made."""

from __future__ import annotations

from refgen.model.base import ENTRY_KINDS, Ref
from refgen.model.company import Brand, Language

HOME = "index.html"
SEARCH = "search.html"
EMERGENCY = "emergency.html"
MY_MACHINE = "my-machine.html"
WORKSHEET = "worksheet.html"
A_TO_Z = "a-to-z.html"
UNSURE = "unsure-figures.html"
MARKS = "marks.html"
CHANGES = "changes.html"
NOT_FOUND = "404.html"
BESIDE = {"machines": ("handbook",), "lessons": ("trainer", "sheets"), "hazards": ("card",)}
"""Pages that stand beside the one of a record, by its kind."""


def index_address(kind: str) -> str:
    """Return the address of a kind's index, from the site's root."""
    return f"{kind}/index.html"


def record_address(kind: str, name: str, item: str = "") -> str:
    """Return the address of a record, or of an item in it, from the site's root.

    >>> record_address("materials", "pvc-solid", "worn")
    'materials/pvc-solid.html#worn'
    >>> record_address("terms", "bypass")
    'terms/index.html#bypass'
    """
    if kind in ENTRY_KINDS:
        return f"{index_address(kind)}#{name}"
    return f"{kind}/{name}.html" + (f"#{item}" if item else "")


def ref_address(ref: Ref) -> str:
    """Return the address a reference leads to, from the site's root."""
    return record_address(ref.kind, ref.id, ref.item)


def beside_address(kind: str, name: str, what: str) -> str:
    """Return the address of a page beside a record's own: a handbook, a trainer's view.

    >>> beside_address("machines", "some-barrow", "handbook")
    'machines/some-barrow-handbook.html'
    """
    return f"{kind}/{name}-{what}.html"


def root_of(address: str) -> str:
    """Return the way from a page to the site's root: '' or '../'."""
    return "../" * address.split("#")[0].count("/")


def twins(brand: Brand, address: str) -> list[tuple[Language, str]]:
    """Return the other languages of the reference, with the whole address of a page in each.

    A page that says that there is no page has no such address.
    """
    if address == NOT_FOUND:
        return []
    others = (one for one in brand.languages if one.code != brand.language)
    return [(one, f"{one.address.rstrip('/')}/{address}") for one in others]
