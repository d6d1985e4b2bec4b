"""Checked records: what the pages and tables are made from.

The catalog is either whole or not made at all: everything that is wrong anywhere in the data is
gathered first and told at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from refgen import fitting, judging
from refgen.errors import DataError, Place, Problem, did_you_mean
from refgen.layers import Key, Laid, Override
from refgen.messages import locate, read_model
from refgen.model import KINDS
from refgen.model.base import Ref
from refgen.model.company import Brand, Words
from refgen.model.equipment import Machine
from refgen.model.figure import Figure
from refgen.model.record import Record
from refgen.nodes import Node
from refgen.published import Lock, check_lock
from refgen.references import CITATION, Contents, anchors_of, contents_of, figure_id
from refgen.units import NotAQuantity, parse_quantity


@dataclass(frozen=True)
class Entry:
    """A record with where it was written and what can be linked in it."""

    record: Record
    node: Node
    contents: Contents
    anchors: tuple[str, ...]
    moved: Mapping[str, str]
    """Former id of an item to its present one."""

    @property
    def key(self) -> Key:
        """Kind and id."""
        return self.record.kind, self.id

    id: str = ""


@dataclass(frozen=True)
class Catalog:
    """All records, checked and linked."""

    entries: Mapping[Key, Entry]
    brand: Brand
    words: Words
    figures: Mapping[tuple[str, str, str], Figure]
    """Every figure with its basis filled in, by kind, record and figure id."""
    backlinks: Mapping[Key, tuple[Key, ...]]
    """Records that link to a record, in the order of kinds and titles."""
    moved: Mapping[Key, Key]
    """Former kind and id of a record to its present one."""
    overrides: tuple[Override, ...] = ()
    """What a later layer changed in a safety text, a ceiling or a hazard."""
    locks: Mapping[str, Lock] = field(default_factory=dict)
    advice: tuple[Problem, ...] = ()
    """What is not wrong but should be looked at."""

    @property
    def w(self) -> Mapping[str, str]:
        """The words of the interface, by name."""
        return dict(self.words.words)

    def of_kind(self, kind: str) -> dict[str, Record]:
        """Return the records of one kind by id, in the order of their titles."""
        found = [e for e in self.entries.values() if e.record.kind == kind]
        found.sort(key=lambda e: (e.record.title.lower(), e.id))
        return {entry.id: entry.record for entry in found}

    def machines(self) -> dict[str, Machine]:
        """Return the machines by id."""
        found = self.of_kind("machines")
        return {name: record for name, record in found.items() if isinstance(record, Machine)}


def load_catalog(laid: Laid) -> Catalog:
    """Return the checked catalog.

    Raises:
        DataError: With every problem in the data.
    """
    loader = _Loader(laid)
    catalog = loader.load()
    if loader.problems or catalog is None:
        raise DataError(loader.problems)
    return catalog


class _Loader:
    def __init__(self, laid: Laid) -> None:
        self.laid = laid
        self.problems: list[Problem] = list(laid.problems)
        self.advice: list[Problem] = []
        self.entries: dict[Key, Entry] = {}
        # A record that could not be read still exists: links to it are not a second mistake.
        self.known: set[Key] = set(laid.records)

    def load(self) -> Catalog | None:
        for key, node in self.laid.records.items():
            self._read(key, node)
        brand, words = self._read_singles()
        moved = self._moved()
        figures = self._figures()
        for entry in self.entries.values():
            self._check_links(entry, figures)
        self.problems += fitting.problems(self.entries, self._at)
        overrides, told = judging.judge(self.laid.overrides)
        self.problems += told
        anchors = {key: {*entry.anchors, *entry.moved} for key, entry in self.entries.items()}
        unread = self.known - set(self.entries)
        locks, told = check_lock(self.laid.published, anchors, set(moved), unread)
        self.problems += told
        if brand is None or words is None:
            return None
        self._check_groups(words)
        return Catalog(
            self.entries,
            brand,
            words,
            figures,
            self._backlinks(),
            moved,
            overrides,
            locks,
            tuple(sorted([*self.advice, *judging.advice(self.entries, self._at)])),
        )

    def _at(self, entry: Entry, path: tuple[str | int, ...]) -> tuple[Place, str]:
        return locate(entry.node, path)

    def _tell(
        self, entry: Entry, path: tuple[str | int, ...], message: str, hint: str = ""
    ) -> None:
        place, name = locate(entry.node, path)
        self.problems.append(Problem(place, name, message, hint))

    def _read(self, key: Key, node: Node) -> None:
        kind, name = key
        record, problems = read_model(KINDS[kind], node)
        self.problems += problems
        if record is None:
            return
        contents = contents_of(record)
        seen: dict[str, str] = {}
        moved: dict[str, str] = {}
        found = anchors_of(contents)
        for path, anchor, was in found:
            place, field_name = locate(node, path)
            if anchor in seen:
                message = f"the id '{anchor}' stands twice in this record"
                hint = f"It also names {seen[anchor]}; give one of them another id."
                self.problems.append(Problem(place, field_name, message, hint))
            seen[anchor] = field_name
            moved |= dict.fromkeys(was, anchor)
        for old in moved.keys() & seen.keys():
            message = f"the former id '{old}' is in use again"
            self.problems.append(Problem(node.place, "was", message, "Give the new item another."))
        self.entries[key] = Entry(record, node, contents, tuple(seen), moved, name)

    def _read_singles(self) -> tuple[Brand | None, Words | None]:
        brand = words = None
        if node := self._single("brand"):
            brand, problems = read_model(Brand, node)
            self.problems += problems
        if node := self._single("words"):
            words, problems = read_model(Words, node)
            self.problems += problems
        return brand, words

    def _single(self, name: str) -> Node | None:
        node = self.laid.singles.get(name)
        if node is None:
            hint = "The shared base has one; name it among the layers."
            problem = Problem(Place(f"{name}.yml", 1), "", "no layer has this file", hint)
            self.problems.append(problem)
        return node

    def _moved(self) -> dict[Key, Key]:
        moved: dict[Key, Key] = {}
        for key, entry in self.entries.items():
            for old in entry.record.was:
                if (entry.record.kind, old) in self.known:
                    hint = "An old address can lead to one place only."
                    self._tell(entry, ("was",), f"a record '{old}' still exists", hint)
                elif (entry.record.kind, old) in moved:
                    other = moved[entry.record.kind, old][1]
                    self._tell(entry, ("was",), f"'{old}' was also the id of '{other}'")
                moved[entry.record.kind, old] = key
        return moved

    def _figures(self) -> dict[tuple[str, str, str], Figure]:
        figures = {}
        for (kind, name), entry in self.entries.items():
            for path, figure in entry.contents.figures:
                record = entry.record
                for problem, hint in judging.missing_grounds(figure, record):
                    self._tell(entry, path, problem, hint)
                if own := figure_id(path):
                    figures[kind, name, own] = judging.grounded(figure, record)
        return figures

    def _check_links(self, entry: Entry, figures: Mapping[tuple[str, str, str], Figure]) -> None:
        for path, ref in entry.contents.refs:
            self._check_ref(entry, path, ref)
        for path, text in entry.contents.texts:
            for citation in CITATION.finditer(text):
                if quantity := citation["quantity"]:
                    try:
                        parse_quantity(quantity)
                    except NotAQuantity as error:
                        self._tell(entry, path, error.message, error.hint)
                    continue
                kind, name = citation["kind"] or entry.record.kind, citation["id"] or entry.id
                wanted = (kind, name, citation["figure"])
                unread = (kind, name) in self.known and (kind, name) not in self.entries
                if wanted not in figures and not unread:
                    mine = [f for k, n, f in figures if (k, n) == (kind, name)]
                    hint = did_you_mean(citation["figure"], mine) or (
                        "Add it under 'figures:', or double the braces to show them as typed."
                    )
                    self._tell(entry, path, f"no figure '{citation[0][1:-1]}'", hint)

    def _check_ref(self, entry: Entry, path: tuple[str | int, ...], ref: Ref) -> None:
        if ref.kind not in KINDS:
            self._tell(
                entry, path, f"no kind of record '{ref.kind}'", did_you_mean(ref.kind, KINDS)
            )
            return
        target = (ref.kind, ref.id)
        if target not in self.known:
            names = [name for kind, name in self.known if kind == ref.kind]
            what = KINDS[ref.kind].__name__.lower()
            self._tell(entry, path, f"no {what} '{ref.id}'", did_you_mean(ref.id, names))
        elif ref.item and target in self.entries:
            anchors = self.entries[target].anchors
            if ref.item not in anchors:
                hint = did_you_mean(ref.item, anchors)
                self._tell(entry, path, f"'{ref.id}' has no item '{ref.item}'", hint)

    def _check_groups(self, words: Words) -> None:
        known = [name[6:].replace("_", "-") for name in words.words if name.startswith("group_")]
        for entry in self.entries.values():
            group = entry.record.group
            if group and group not in known:
                hint = did_you_mean(group, known)
                self._tell(entry, ("group",), f"no group '{group}' in words.yml", hint)

    def _backlinks(self) -> dict[Key, tuple[Key, ...]]:
        links: dict[Key, set[Key]] = {}
        for key, entry in self.entries.items():
            for target in _targets(entry):
                if target != key and target in self.entries:
                    links.setdefault(target, set()).add(key)
        order = list(KINDS)
        return {
            target: tuple(
                sorted(keys, key=lambda k: (order.index(k[0]), self.entries[k].record.title, k))
            )
            for target, keys in links.items()
        }


def _targets(entry: Entry) -> Iterator[Key]:
    for _, ref in entry.contents.refs:
        yield ref.kind, ref.id
    for _, text in entry.contents.texts:
        for citation in CITATION.finditer(text):
            if citation["kind"]:
                yield citation["kind"], citation["id"]
