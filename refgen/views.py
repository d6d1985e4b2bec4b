"""What a page's template may ask for: texts set in HTML, links, figures and words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, get_args
from urllib.parse import urlsplit

from markupsafe import Markup

from refgen.addresses import NOT_FOUND, record_address, root_of
from refgen.catalog import Catalog, Entry
from refgen.conditions import attributes_of, condition_of
from refgen.diagnosis import whole_cause
from refgen.fitting import variants_for
from refgen.grounds import grounded
from refgen.layers import Key, Override
from refgen.model import KINDS
from refgen.model.base import Ref
from refgen.model.figure import Ceiling, Differing, Figure
from refgen.model.fit import Fitted, Parts
from refgen.model.lookup import Table
from refgen.model.machines import Machine
from refgen.model.record import Caution
from refgen.model.safety import Hazard, Signal
from refgen.model.trouble import Cause
from refgen.model.work import Procedure, Step, Variant
from refgen.references import figure_id
from refgen.texts import Shown, Typesetter, show_figure, show_quantity, show_range
from refgen.units import Quantity


@dataclass(frozen=True, slots=True)
class Link:
    """A row that leads to another page."""

    title: str
    href: str
    kind: str
    note: str = ""
    fit: str = ""
    """Attributes by which the chosen machine hides a row to what it lacks."""


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A figure as listed at the foot of a page, with what it rests on."""

    id: str
    label: str
    shown: Shown | str
    figure: Figure | Differing
    source: Link | None
    here: bool
    """Whether this row is where links to the figure lead."""
    differs: tuple[FigureRow, ...] = ()


class View:
    """One page being set. Templates call it `p`; `p.w` holds the words of the interface."""

    def __init__(self, catalog: Catalog, address: str, key: Key = ("", "")) -> None:
        self.catalog, self.address, self.key = catalog, address, key
        self.w: Mapping[str, str] = catalog.w
        self.brand = catalog.brand
        self.root = root_of(address)
        if address == NOT_FOUND:  # shown in place of any missing page, however deep
            self.root = urlsplit(self.brand.address or "/").path.rstrip("/") + "/"
        self.setter = Typesetter(catalog.figures, self.brand.units_first, self.w, key)
        self.hazards_met: dict[str, None] = {}

    # ---- texts and values

    def text(self, text: str, home: Ref | Key | None = None) -> Markup:
        """Set a text of the data; `home` is the record it was written in, if another."""
        key = (home.kind, home.id) if isinstance(home, Ref) else home
        return self.setter.html(text, key)

    def plain(self, text: str) -> str:
        """Set a text without markup."""
        return self.setter.plain(text)

    def quantity(self, quantity: Quantity) -> Shown:
        """Show a describing quantity in both systems."""
        return show_quantity(quantity, self.brand.units_first)

    def figure(self, name: str, home: Key | None = None) -> Markup:
        """Show a figure with its mark: one of the record's own, or of the record `home`."""
        key = (*(home or self.key), name)
        self.setter.value(key)
        whole = self.catalog.figures[key]
        return self._marked(self.shown(whole), whole)

    def _marked(self, shown: Shown | str | None, figure: Figure) -> Markup:
        mark = self.setter.mark(figure)
        return Markup('<span class="fig">{}{}</span>').format(shown, mark)

    # ---- links

    def href(self, address: str) -> str:
        """Return the way from this page to an address given from the site's root."""
        return self.root + address

    def link(self, ref: Ref | Key, note: str = "") -> Link:
        """Return a row to a record or to an item in it."""
        kind, name, item = (*ref, "") if isinstance(ref, tuple) else (ref.kind, ref.id, ref.item)
        record = self.catalog.entries[kind, name].record
        title = str(record.title)
        if item and (found := self.item_title(kind, name, item)):
            title = f"{title}: {found}"
        word = self.w[f"kind_{kind}_one"]
        fit = attributes_of(condition_of(self.catalog, Ref(kind, name, item)))
        return Link(title, self.href(record_address(kind, name, item)), word, note, fit)

    def links(self, refs: Iterable[Ref | Key]) -> list[Link]:
        """Return rows to records, each once, in the order given."""
        return list(dict.fromkeys(self.link(ref) for ref in refs))

    def item_title(self, kind: str, name: str, item: str) -> str:
        """Return what an item of a record is called, or how its text begins, '' if neither."""
        figure = self.catalog.figures.get((kind, name, item))
        if figure is not None:
            return str(figure.label or self.figure_name(kind, item))
        entry = self.catalog.entries[kind, name]
        found = next((found for _, found in entry.contents.items if found.id == item), None)
        if isinstance(found, Cause):
            found = self.cause(found)
        if isinstance(found, Step) and isinstance(entry.record, Procedure) and found.variants:
            # None of its texts holds for every machine.
            return self.w["step_number"].format(number=entry.record.steps.index(found) + 1)
        if title := getattr(found, "title", None):
            return str(title)
        text = getattr(found, "text", None) or getattr(found, "ask", None)
        said = self.setter.plain(text, (kind, name)) if text else ""
        return said if len(said) <= 60 else said[:60].rsplit(" ", 1)[0] + " …"

    def linked_from(self) -> list[Link]:
        """Return the records that link here and are not already linked from here."""
        mine = {(ref.kind, ref.id) for _, ref in self.entry.contents.refs}
        keys = [key for key in self.catalog.backlinks.get(self.key, ()) if key not in mine]
        return [self.link(key) for key in keys if key[0] != "terms"]

    @property
    def entry(self) -> Entry:
        """The entry this page is about."""
        return self.catalog.entries[self.key]

    # ---- cautions and what is fitted

    def hazard(self, ref: Ref) -> Hazard:
        """Return a hazard, and note that the page speaks of it."""
        self.hazards_met.setdefault(ref.id)
        record = self.catalog.entries["hazards", ref.id].record
        assert isinstance(record, Hazard)
        return record

    def by_signal(self, cautions: Iterable[Caution]) -> list[tuple[str, list[Caution]]]:
        """Return cautions by the signal word of their hazard, the gravest word first."""
        grouped: dict[str, list[Caution]] = {signal: [] for signal in get_args(Signal)}
        for caution in cautions:
            grouped[self.hazard(caution.hazard).signal].append(caution)
        return [(signal, found) for signal, found in grouped.items() if found]

    def hazard_links(self, more: Iterable[Ref] = ()) -> list[Link]:
        """Return rows to every hazard the page has spoken of."""
        names = dict.fromkeys([*self.hazards_met, *(ref.id for ref in more)])
        return [self.link(("hazards", name)) for name in names if ("hazards", name) != self.key]

    def fit_attributes(self, item: Fitted) -> Markup:
        """Return the attributes by which the chosen machine shows or hides an element."""
        return attributes_of(item)

    def fit_words(self, item: Fitted) -> str:
        """Say in words which machines an element is for, or '' if for all."""
        said = []
        for name, parts in (("only_with", item.needs), ("only_without", item.unless)):
            if parts is not None:
                said.append(f"{self.w[name]} {self._parts_in_words(parts)}")
        return "; ".join(said)

    def _parts_in_words(self, parts: Parts) -> str:
        def names(refs: Iterable[Ref]) -> list[str]:
            titles = [str(self.catalog.entries["parts", ref.id].record.title) for ref in refs]
            return [title[:1].lower() + title[1:] for title in titles]

        both = f" {self.w['and']} ".join(names(parts.all))
        either = f" {self.w['or']} ".join(names(parts.any))
        return " ".join(filter(None, (both, either)))

    def cause(self, cause: Cause) -> Cause:
        """Return a cause with what it takes over from where it is written out."""
        return whole_cause(cause, self.catalog.symptoms)

    def record(self, ref: Ref | Key) -> Any:
        """Return the record a reference leads to."""
        kind, name = ref if isinstance(ref, tuple) else (ref.kind, ref.id)
        return self.catalog.entries[kind, name].record

    # ---- the foot of the page

    def figure_rows(self) -> Iterator[FigureRow]:
        """Yield every figure the page has shown, with what it rests on."""
        entry = self.catalog.entries.get(self.key)
        found = entry.contents.figures if entry else ()
        own = [(*self.key, name) for path, _ in found if (name := figure_id(path))]
        for key in dict.fromkeys([*own, *self.setter.cited]):
            kind, name, own_id = key
            figure = self.catalog.figures[key]
            record = self.catalog.entries[kind, name].record
            label = figure.label or self.figure_name(kind, own_id)
            mine = (kind, name) == self.key
            if not mine:
                label = f"{record.title}: {label[:1].lower()}{label[1:]}"
            shown = self.shown(figure)
            differs = tuple(self._differing(other) for other in figure.differs)
            here = mine and own_id in record.figures
            yield FigureRow(own_id, label, shown, figure, self._source(figure), here, differs)

    def shown(self, figure: Figure) -> Shown | str:
        """Return a figure's value, or the words by which it forbids."""
        if (shown := show_figure(figure, self.brand.units_first)) is not None:
            return shown
        assert isinstance(figure, Ceiling)
        return self.w["no_jet"] if figure.jet == "no" else str(figure.jet)

    def figure_name(self, kind: str, figure_id: str) -> str:
        """Return the name of a figure that has no label of its own."""
        if f"condition_{figure_id}" in self.w and kind == "materials":
            return self.w[f"condition_{figure_id}"]
        if figure_id == "heat":
            return self.w["warmest_water"]
        return figure_id.replace("-", " ").capitalize()

    def _differing(self, other: Differing) -> FigureRow:
        shown = show_range(other.is_, other.to, self.brand.units_first)
        return FigureRow("", other.when or "", shown, other, self._source(other), False)

    def _source(self, grounds: Figure | Differing) -> Link | None:
        return self.link(grounds.source) if grounds.source is not None else None

    def overrides(self) -> list[Override]:
        """Return what a company changed in the safety texts and limits of this record."""
        return [o for o in self.catalog.overrides if o.record == self.key]

    @property
    def withdrawn(self) -> str:
        """Why the record of this page must no longer be gone by, or ''."""
        found = [one for one in self.brand.withdrawn if (one.page.kind, one.page.id) == self.key]
        return found[0].why if found else ""

    def kind_word(self, kind: str) -> str:
        """Return the name of a kind in the plural."""
        return self.w[f"kind_{kind}"]

    @property
    def kinds(self) -> list[str]:
        """The kinds of record that have at least one, in reading order."""
        present = {kind for kind, _ in self.catalog.entries}
        return [kind for kind in KINDS if kind in present]

    # ---- what single kinds of page ask for

    def fitting(self, items: Iterable[Fitted], machine: Machine) -> list[Fitted]:
        """Return what is shown for a machine."""
        return [item for item in items if item.applies_to(machine.parts)]

    def handbook_procedures(self) -> list[tuple[Key, Procedure]]:
        """Return the procedures that are printed in handbooks; each machine has its own steps."""
        found = []
        for name, record in self.catalog.of_kind("procedures").items():
            if isinstance(record, Procedure) and record.handbook:
                found.append((("procedures", name), record))
        return found

    def steps_for(
        self, procedure: Procedure, machine: Machine
    ) -> list[tuple[Step, Variant | None]]:
        """Return the steps of a procedure on a machine, each with its one variant if it has any."""
        steps: list[tuple[Step, Variant | None]] = []
        for step in procedure.steps:
            if step.applies_to(machine.parts):
                variants = variants_for(step, machine.parts)
                steps.append((step, variants[0] if variants else None))
        return steps

    def seen_in(self, items: Iterable[Any]) -> list[Ref]:
        """Return the pages that steps or ticks refer to, each once."""
        return list(dict.fromkeys(ref for item in items for ref in item.see))

    def cell(self, cell: str | Figure, table: Table) -> Markup | str:
        """Show one cell of a given table."""
        if isinstance(cell, str):
            return self.text(cell)
        whole = grounded(cell, table)
        return self._marked(show_figure(whole, self.brand.units_first), whole)

    def present(self, kind: str, names: Iterable[str]) -> list[Key]:
        """Return the records of these names that the data have."""
        return [(kind, name) for name in names if (kind, name) in self.catalog.entries]
