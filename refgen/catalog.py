"""Checked records: what the pages and tables are made from.

The catalog is either whole or not made at all: everything that is wrong anywhere in the data is
gathered first and told at once.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeVar, cast

from refgen import diagnosis, fitting, judging
from refgen.advice import worth_a_look
from refgen.entries import Entry, read_entry
from refgen.errors import DataError, Place, Problem, RefgenError, did_you_mean, first_of
from refgen.grounds import grounded, missing_grounds
from refgen.layers import Key, Laid, Override
from refgen.linking import Figures, Links, backlinks, moved_records, one_page_each
from refgen.logos import Logo
from refgen.messages import read_model
from refgen.model.base import Model
from refgen.model.company import Brand, Words
from refgen.model.machines import Machine
from refgen.model.record import Record
from refgen.model.teaching import Lesson
from refgen.model.trouble import Symptom
from refgen.noted import read_noted, told_changes
from refgen.published import Lock, check_lock
from refgen.references import figure_id

M = TypeVar("M", bound=Model)
R = TypeVar("R", bound=Record)

__all__ = ["Catalog", "Entry", "load_catalog"]


@dataclass(frozen=True)
class Catalog:
    """All records, checked and linked."""

    entries: Mapping[Key, Entry]
    brand: Brand
    words: Words
    figures: Figures
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
    every_override: tuple[Override, ...] = ()
    """All that a later layer changed, safety or not."""
    changed_below: tuple[Problem, ...] = ()
    """What has changed under an override since it was last looked at."""
    logo: Logo | None = None

    @cached_property
    def w(self) -> Mapping[str, str]:
        """The words of the interface, by name."""
        return _Said(self.words.words)

    @cached_property
    def _by_kind(self) -> dict[str, dict[str, Record]]:
        kinds: dict[str, dict[str, Record]] = {}
        for entry in sorted(self.entries.values(), key=_order):
            kinds.setdefault(entry.record.kind, {})[entry.id] = entry.record
        return kinds

    def of_kind(self, kind: str) -> Mapping[str, Record]:
        """Return the records of one kind by id, in the order of their titles; lessons by number."""
        return self._by_kind.get(kind, {})

    @cached_property
    def symptoms(self) -> Mapping[str, Symptom]:
        """The symptoms by id, where causes are taken over from."""
        return self._all(Symptom)

    def machines(self) -> dict[str, Machine]:
        """Return the machines by id."""
        return self._all(Machine)

    def _all(self, model: type[R]) -> dict[str, R]:
        return cast("dict[str, R]", dict(self.of_kind(model.kind)))


class _Said(dict[str, str]):
    """Words by name; whoever asks for one that no layer has is told which."""

    def __missing__(self, name: str) -> str:
        hint = "Lay 'base' below, or take it from the words.yml of the base."
        raise RefgenError(f"words.yml: no layer has the word '{name}'. {hint}")


def _order(entry: Entry) -> tuple[float, str, str]:
    number = entry.record.number if isinstance(entry.record, Lesson) else None
    return (number or math.inf, entry.record.title.lower(), entry.id)


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
        self.entries: dict[Key, Entry] = {}

    def load(self) -> Catalog | None:
        for key, node in self.laid.records.items():
            entry, told = read_entry(key, node)
            self.problems += told
            if entry is not None:
                self.entries[key] = entry
        known = self.laid.records.keys() | self.laid.unread
        brand, words = self._single("brand", Brand), self._single("words", Words)
        moved, told = moved_records(self.entries, known)
        self.problems += told
        self.problems += one_page_each(self.entries, moved)
        figures = self._figures()
        links = Links(self.entries, known, figures)
        for entry in self.entries.values():
            self.problems += first_of(links.of_entry(entry), entry.node.place)
        if brand is not None:
            self.problems += links.of_brand(brand, self.laid.singles["brand"])
        self.problems += fitting.problems(self.entries)
        self.problems += diagnosis.problems(self.entries)
        noted, told = read_noted(self.laid.noted)
        self.problems += told
        overrides, told = judging.judge(self.laid.overrides, noted)
        self.problems += told
        anchors = {
            key: {*entry.anchors, *entry.moved, *entry.record.moved}
            for key, entry in self.entries.items()
        }
        unread = (known - self.entries.keys()) | self.laid.unread
        locks, told = check_lock(self.laid.published, anchors, unread, self.laid.overrides, moved)
        self.problems += told
        if brand is None or words is None:
            return None
        self._check_groups(words)
        self._check_course()
        return Catalog(
            entries=self.entries,
            brand=brand,
            words=words,
            figures=figures,
            backlinks=backlinks(self.entries),
            moved=moved,
            overrides=overrides,
            locks=locks,
            advice=tuple(sorted(worth_a_look(self.entries))),
            every_override=self.laid.overrides,
            changed_below=tuple(sorted(told_changes(self.laid.overrides, noted))),
        )

    def _single(self, name: str, model: type[M]) -> M | None:
        node = self.laid.singles.get(name)
        if node is None:
            hint = "The shared base has one; name it among the layers."
            problem = Problem(Place(f"{name}.yml", 1), "", "no layer has this file", hint)
            self.problems.append(problem)
            return None
        found, told = read_model(model, node)
        self.problems += told
        return found

    def _figures(self) -> Figures:
        figures = {}
        for (kind, name), entry in self.entries.items():
            for path, figure in entry.contents.figures:
                for message, hint in missing_grounds(figure, entry.record):
                    self.problems.append(entry.problem(path, message, hint))
                if own := figure_id(path):
                    figures[kind, name, own] = grounded(figure, entry.record)
        return figures

    def _check_groups(self, words: Words) -> None:
        for entry in self.entries.values():
            group = entry.record.group
            if group and group not in words.groups:
                hint = did_you_mean(group, words.groups)
                message = f"no group '{group}' in words.yml"
                self.problems.append(entry.problem(("group",), message, hint))

    def _check_course(self) -> None:
        taken: dict[int, str] = {}
        for entry in self.entries.values():
            number = entry.record.number if isinstance(entry.record, Lesson) else None
            if number and taken.setdefault(number, entry.id) != entry.id:
                message = f"lesson {number} is 'lessons/{taken[number]}' already"
                hint = "Each lesson has its own place; number the later ones anew."
                self.problems.append(entry.problem(("number",), message, hint))
