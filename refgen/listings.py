"""Lists that run through the whole catalog: emergencies, A to Z, figures nobody has proved."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from refgen.addresses import beside_address
from refgen.catalog import Catalog
from refgen.layers import Key
from refgen.model.base import ENTRY_KINDS
from refgen.model.figure import Basis, Grounds
from refgen.model.record import Record
from refgen.model.safety import Hazard
from refgen.texts import Shown, show_range
from refgen.views import Link, View


def urgent(catalog: Catalog) -> list[tuple[Key, Record]]:
    """Return what belongs on the emergency page: what to do, then what is seen, then hazards."""
    found = []
    for kind in ("procedures", "symptoms", "hazards"):
        for name, record in catalog.of_kind(kind).items():
            if getattr(record, "urgent", False):
                found.append(((kind, name), record))
    return found


def hospital_cards(view: View, names: Iterable[str]) -> list[Link]:
    """Return rows to the cards for the hospital of those hazards that have one."""
    rows = []
    for name in names:
        hazard = view.catalog.entries["hazards", name].record
        if isinstance(hazard, Hazard) and hazard.on_card:
            href = view.href(beside_address("hazards", name, "card"))
            rows.append(Link(view.w["card_of"].format(title=hazard.title), href, view.w["card"]))
    return rows


def a_to_z(view: View) -> Iterator[tuple[str, list[Link]]]:
    """Yield each letter with rows for the titles and other names that begin with it.

    Of a record's other names the first under another letter than its title, and none of a word's,
    which stand with it on the page of words: with all of them the list would be too long for
    anyone to read. The search knows them all.
    """
    letters: dict[str, dict[tuple[str, str], Link]] = {}
    for (kind, name), entry in view.catalog.entries.items():
        if kind == "sources":
            continue
        title, link = entry.record.title, view.link((kind, name))
        letters.setdefault(_letter(title), {})[title.casefold(), link.href] = link
        elsewhere = (word for word in entry.record.also_called if _letter(word) != _letter(title))
        if kind not in ENTRY_KINDS and (other := next(elsewhere, None)):
            row = Link(str(other), link.href, link.kind, link.title)
            letters.setdefault(_letter(other), {})[other.casefold(), link.href] = row
    for letter in sorted(letters):
        yield letter, [letters[letter][key] for key in sorted(letters[letter])]


def _letter(word: str) -> str:
    first = word[:1].upper()
    return first if first.isascii() and first.isalpha() else "#"


def unsure(view: View, basis: Basis) -> Iterator[tuple[Link, Grounds, str, Shown | str]]:
    """Yield every value that rests on this basis, with its page, name and value.

    Where sources differ, each value is listed by what it rests on itself.
    """
    rows: list[tuple[Link, Grounds, str, Shown | str]] = []
    first = view.brand.units_first
    for (kind, name, figure_id), figure in view.catalog.figures.items():
        link = view.link((kind, name))
        label = figure.label or view.figure_name(kind, figure_id)
        anchored = Link(link.title, link.href.split("#")[0] + f"#{figure_id}", link.kind)
        if figure.basis == basis:
            rows.append((anchored, figure, label, view.shown(figure)))
        for other in figure.differs:
            if other.basis == basis:
                said = f"{label} ({view.w['differing']})"
                rows.append((anchored, other, said, show_range(other.is_, other.to, first)))
    yield from sorted(rows, key=lambda row: (row[0].kind, row[0].title, row[2]))
