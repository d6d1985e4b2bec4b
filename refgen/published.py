"""The lock on addresses: what was once published goes on existing, or leads on.

`published.yml` in a layer lists each record's address with the ids in it. A record or item may
be renamed (its old id kept under `was`), never lost.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Set
from dataclasses import dataclass, field

from refgen.errors import Place, Problem, did_you_mean
from refgen.layers import Key, Override
from refgen.nodes import Node


@dataclass(frozen=True)
class Lock:
    """What one layer has published: ids within each record."""

    published: Mapping[Key, tuple[str, ...]] = field(default_factory=dict)


def check_lock(
    nodes: Mapping[str, Node],
    anchors: Mapping[Key, Iterable[str]],
    excused: Set[Key],
    overrides: Iterable[Override] = (),
    moved: Mapping[Key, Key] | None = None,
) -> tuple[dict[str, Lock], list[Problem]]:
    """Return each layer's lock, and what has vanished.

    Args:
        nodes: The layers' `published.yml`, by layer.
        anchors: Present and former ids within each record.
        excused: Records that exist but could not be read.
        overrides: Among them what a later layer hid: that is no longer the earlier one's to keep.
        moved: Former keys of records with their present ones, whose items must go on too. A record
            that became one of another kind keeps its address only.
    """
    locks: dict[str, Lock] = {}
    problems: list[Problem] = []
    for layer, node in nodes.items():
        hidden = _hidden(overrides, layer)
        published: dict[Key, tuple[str, ...]] = {}
        for address, place, items in _lines(node, problems):
            kind, _, name = address.partition("/")
            published[kind, name] = tuple(item for item, _ in items)
            hidden_here = hidden.get((kind, name), set())
            now = (moved or {}).get((kind, name), (kind, name))
            if now[0] != kind or now in excused or "" in hidden_here:
                continue
            if now not in anchors:
                known = [n for k, n in anchors if k == kind]
                hint = f"Bring it back, or keep 'was: [{name}]' in the record it became. "
                hint += did_you_mean(name, known)
                message = f"'{address}' was published and is gone"
                problems.append(Problem(place, "", message, hint.strip()))
                continue
            there = {*anchors[now], *hidden_here, *hidden.get(now, set())}
            for item, at in items:
                if item not in there:
                    hint = f"Bring it back, or keep 'was: [{item}]' in the item it became."
                    message = f"'{address}#{item}' was published and is gone"
                    problems.append(Problem(at, "", message, hint))
        locks[layer] = Lock(published)
    return locks, problems


def _hidden(overrides: Iterable[Override], layer: str) -> dict[Key, set[str]]:
    """Return the ids that other layers hid in each record, '' for the whole of it."""
    hidden: dict[Key, set[str]] = {}
    for override in overrides:
        if override.now is None and override.place.layer != layer:
            names = hidden.setdefault(override.record, set())
            names.add(override.path[-1] if override.path else "")
            names.update(_names_in(override.was))
    return hidden


def _names_in(node: Node) -> Iterator[str]:
    """Yield everything in a value that may be an id: names of fields, and values of `id`."""
    if isinstance(node.value, dict):
        for name, inner in node.value.items():
            yield inner.value if name == "id" and isinstance(inner.value, str) else name
            yield from _names_in(inner)
    elif isinstance(node.value, list):
        for inner in node.value:
            yield from _names_in(inner)


def _lines(
    node: Node, problems: list[Problem]
) -> Iterable[tuple[str, Place, list[tuple[str, Place]]]]:
    fields = node.value if isinstance(node.value, dict) else {}
    for address, inner in fields.items():
        items = inner.value if isinstance(inner.value, list) else []
        if not isinstance(inner.value, list) or any(not isinstance(i.value, str) for i in items):
            hint = "Write 'kind/id: [item, item]'; `refgen check --lock` does it for you."
            problems.append(Problem(inner.place, address, "must be a list of ids", hint))
            continue
        yield address, inner.place, [(str(item.value), item.place) for item in items]


def write_lock(lock: Lock, anchors: Mapping[Key, Iterable[str]]) -> tuple[str, int]:
    """Return the text of `published.yml` with everything that exists now, and how much is new."""
    merged = {key: set(items) for key, items in lock.published.items()}
    before = sum(len(items) + 1 for items in merged.values())
    for key, items in anchors.items():
        merged.setdefault(key, set()).update(items)
    lines = ["# Addresses that have been published. Never remove a line: links rest on them."]
    for (kind, name), items in sorted(merged.items()):
        lines.append(f"{kind}/{name}: [{', '.join(sorted(items))}]")
    return "\n".join(lines) + "\n", sum(len(i) + 1 for i in merged.values()) - before
