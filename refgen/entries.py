"""A record with where each of its values was written and what can be linked in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from refgen.errors import Place, Problem
from refgen.hashes import hash_of_rest, hashes_of_parts
from refgen.layers import Key
from refgen.messages import Located, locate, read_model
from refgen.model import KINDS
from refgen.model.record import Record
from refgen.nodes import Node, read_text
from refgen.references import Contents, anchors_of, contents_of


@dataclass(frozen=True)
class Entry:
    """A record that could be read."""

    id: str
    record: Record
    node: Node
    contents: Contents
    anchors: tuple[str, ...]
    moved: Mapping[str, str]
    """Former id of an item to its present one."""
    rest: str
    """Hash of what it says outside of its parts, figures and sizes."""
    parts: Mapping[str, str]
    """Hash of each part that can be linked, by its id."""

    @property
    def key(self) -> Key:
        """Kind and id."""
        return self.record.kind, self.id

    def settled(self) -> Entry:
        """Return the entry with the place of the record alone, for when all is checked.

        Where each value was written takes as much memory as the values.
        """
        return replace(self, node=Node(None, self.node.place))

    def at(self, path: Located) -> tuple[Place, str]:
        """Return where a value stands, and its name as an author would say it."""
        return locate(self.node, path)

    def problem(self, path: Located, message: str, hint: str = "") -> Problem:
        """Return a problem with a value of this record."""
        place, name = self.at(path)
        return Problem(place, name, message, hint)

    def anchored(self) -> list[tuple[Located, str, tuple[str, ...]]]:
        """Return every address within the record: path, id, former ids."""
        return anchors_of(self.contents)


_last_read: dict[Key, Entry] = {}
"""Entries without a problem: while an author edits one record, all others are the same again."""


def read_entry(key: Key, node: Node) -> tuple[Entry | None, list[Problem]]:
    """Return a record's node as an entry, if it can be read, and every problem with it."""
    last = _last_read.get(key)
    if last is not None and last.node is node:
        return last, []
    kind, name = key
    record, problems = read_model(KINDS[kind], node)
    if record is None:
        return None, problems
    contents = contents_of(record)
    found = anchors_of(contents)
    moved = {old: anchor for _, anchor, was in found for old in was}
    anchors = tuple(dict.fromkeys(anchor for _, anchor, _ in found))
    rest, parts = hash_of_rest(node, record, contents), hashes_of_parts(node, contents)
    entry = Entry(name, record, node, contents, anchors, moved, rest, parts)
    problems = [*_taken(entry), *_local_twins(entry)]
    if not problems:
        _last_read[key] = entry
    return entry, problems


def forget() -> None:
    """Let go of what is remembered for the next build."""
    _last_read.clear()
    read_text.cache_clear()


def _taken(entry: Entry) -> Iterator[Problem]:
    """Tell of ids, present or former, that stand for two things in one record."""
    found = [(path, entry.at(path)[1], anchor, was) for path, anchor, was in entry.anchored()]
    named: dict[str, str] = {}
    for path, field, anchor, _ in found:
        if anchor in named:
            hint = f"It also names {named[anchor]}; give one of them another id."
            yield entry.problem(path, f"the id '{anchor}' stands twice in this record", hint)
        named.setdefault(anchor, field)
    for old, ref in entry.record.moved.items():
        if old in named:
            message = f"'{old}' still stands in {named[old]}"
            yield entry.problem(("moved", old), message, f"It cannot lead on to {ref} as well.")
    former: dict[str, str] = {}
    hint = "An old link can lead to one place only."
    for path, field, _, was in found:
        for old in was:
            other = named.get(old) or former.get(old)
            if other:
                message = f"the former id '{old}' also belongs to {other}"
                yield entry.problem((*path, "was"), message, hint)
            former.setdefault(old, field)


def _local_twins(entry: Entry) -> Iterator[Problem]:
    """Tell of equal ids within one list, by which layers could not tell the two apart."""
    seen: set[tuple[Located, str]] = set()
    for path, part in entry.contents.parts:
        if (path[:-1], part.id) in seen:
            yield entry.problem(path, f"the id '{part.id}' stands twice in this list")
        seen.add((path[:-1], part.id))
