"""Hashes of what a record says, part by part, by which a later revision finds what has changed."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Set
from typing import Any

from refgen.messages import Located
from refgen.model.record import Record
from refgen.nodes import Node
from refgen.references import Contents, figure_id
from refgen.units import Quantity

# How a page is found, what it links to and when it was read: no news for a crew.
_ASIDE = frozenset(("was", "moved", "see", "also_called", "reviewed", "id", "group", "figures"))
_LETTERS = 6


def hash_of_rest(node: Node, record: Record, contents: Contents) -> str:
    """Return a hash of what a record says outside of its parts, figures and sizes."""
    apart = {path for path, _ in contents.items}
    apart |= {path for path, _ in contents.figures if figure_id(path)}
    apart |= {(name,) for name, value in record if isinstance(value, Quantity)}
    return _hash(_without(node, (), apart))


def hashes_of_parts(node: Node, contents: Contents) -> dict[str, str]:
    """Return a hash of each part that can be linked, by its id; figures are kept by themselves."""
    found = {}
    for path, item in contents.items:
        inner = {p[len(path) :] for p, _ in contents.items if p != path and p[: len(path)] == path}
        found[item.id] = _hash(_without(_follow(node, path), (), inner))
    return found


def _without(node: Node, path: Located, parts: Set[Located]) -> object:
    """Return a value without what is told by itself: its parts, and what is no news."""
    if path in parts:
        return None
    if isinstance(node.value, dict):
        kept = {k: v for k, v in node.value.items() if k not in _ASIDE}
        return {
            name: _without(inner, (*path, name), parts)
            for name, inner in sorted(kept.items())
            if (*path, name) not in parts
        }
    if isinstance(node.value, list):
        found = [_without(inner, (*path, n), parts) for n, inner in enumerate(node.value)]
        return [value for value in found if value is not None]
    return node.value


def _follow(node: Node, path: Located) -> Node:
    for step in path:
        value: Any = node.value
        node = value[step]
    return node


def _hash(value: object) -> str:
    text = json.dumps(value, ensure_ascii=False, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:_LETTERS]
