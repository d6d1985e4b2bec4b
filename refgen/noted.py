"""What the layers below said where a layer says otherwise, noted when it was last looked at.

`overrides.yml` in a layer holds it, kept by `refgen check --lock` as `published.yml` is. So a
company that once said 1900 psi hears of it when the shared data come down to 1500. The brand is
left out: it is there to be overridden.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from refgen.errors import Place, Problem
from refgen.layers import Key, Override
from refgen.nodes import Node, plain
from refgen.units import NotAQuantity, both_ways, parse_quantity

FILE = "overrides.yml"
_WHOLE = "whole-record"
_LONGEST = 240
"""Letters of a value that are kept as they are; of a longer one only its hash is."""

Where = tuple[Key, str]


@dataclass(frozen=True)
class Noted:
    """What one layer's `overrides.yml` holds: the values below, and where they stand in it."""

    values: Mapping[Where, str] = field(default_factory=dict)
    places: Mapping[Where, Place] = field(default_factory=dict)


def read_noted(nodes: Mapping[str, Node]) -> tuple[dict[str, Noted], list[Problem]]:
    """Return what each layer has noted, by layer, and what cannot be read of it."""
    found: dict[str, Noted] = {}
    problems: list[Problem] = []
    for layer, node in nodes.items():
        values: dict[Where, str] = {}
        places: dict[Where, Place] = {}
        for address, inner in _fields(node).items():
            kind, _, name = address.partition("/")
            if not isinstance(inner.value, dict):
                hint = "Remove the line; `refgen check --lock` writes it anew."
                problems.append(Problem(inner.place, address, "must hold fields", hint))
            for path, value in _fields(inner).items():
                values[(kind, name), path] = _kept(value)
                places[(kind, name), path] = value.place
        found[layer] = Noted(values, places)
    return found, problems


def changed_below(
    overrides: Iterable[Override], noted: Mapping[str, Noted]
) -> Iterator[tuple[Override, str]]:
    """Yield each override under which something changed, with what became of the layers below."""
    for override in overrides:
        known = noted.get(override.place.layer, Noted()).values.get(_where(override))
        if known is not None and known != (now := _kept(override.was)):
            yield override, _difference(in_words(known), in_words(now))


def _difference(was: str, now: str) -> str:
    """Return what became of a value; two that look the same when cut short are not both told."""
    return f"said {was}, and now say {now}" if was != now else "now say something else"


def told_changes(overrides: Sequence[Override], noted: Mapping[str, Noted]) -> Iterator[Problem]:
    """Yield what an author should look at: changes below, and overrides that do nothing now."""
    hint = "Look whether yours still holds, then run 'refgen check --lock'."
    for override, difference in changed_below(overrides, noted):
        message = f"the layers below {difference}"
        if override.now is not None:
            message += f"; here it is {said(override.now)}"
        yield Problem(override.place, ".".join(override.path), message, hint)
    standing = {(override.place.layer, _where(override)) for override in overrides}
    for layer, kept in noted.items():
        for where, place in kept.places.items():
            if (layer, where) not in standing:
                (kind, name), path = where
                message = f"{kind}/{name} {path} no longer differs from the layers below"
                hint = "Take your line away if it is still there, then 'refgen check --lock'."
                yield Problem(place, "", message, hint)


def write_noted(overrides: Iterable[Override], layer: str) -> str:
    """Return the text of `overrides.yml` of a layer, '' if it overrides nothing."""
    records: dict[Key, dict[str, str]] = {}
    for override in overrides:
        if override.place.layer == layer and override.record[0] != "brand":
            key, path = _where(override)
            records.setdefault(key, {})[path] = _kept(override.was)
    if not records:
        return ""
    lines = [
        "# What the layers below say where this layer says otherwise, when it was last looked at.",
        "# `refgen check` tells when that has changed; `refgen check --lock` notes it anew.",
    ]
    for (kind, name), values in sorted(records.items()):
        lines.append(f"{kind}/{name}:")
        lines += [f"  {path}: {value}" for path, value in sorted(values.items())]
    return "\n".join(lines) + "\n"


def said(node: Node) -> str:
    """Return a value as an author would say it, a long one cut short."""
    return in_words(json.dumps(plain(node)))


def in_words(kept: str) -> str:
    """Return a noted value as an author would say it.

    >>> in_words('{"is": "1740 psi", "basis": "test"}'), in_words('"Keep off."')
    ('1740 psi (120 bar)', "'Keep off.'")
    """
    value = json.loads(kept)
    if isinstance(value, dict) and ("is" in value or "jet" in value):
        ends = [str(value[end]) for end in ("is", "to") if value.get(end) is not None]
        span = " to ".join(_both_ways(end) or end for end in ends)
        return f"jet: {value['jet']}" if value.get("jet") is not None else span
    if isinstance(value, str):
        if value.startswith("sha256:"):
            return "something longer"
        if both := _both_ways(value):
            return both
        return f"'{value}'" if len(value) <= 60 else f"'{value[:60].rsplit(' ', 1)[0]} …'"
    if isinstance(value, (list, dict)):
        return f"{'a list' if isinstance(value, list) else 'a map'} of {len(value)}"
    return kept


def _both_ways(text: str) -> str:
    """Return a quantity as written with its twin, so that one says it in psi and one in bar."""
    try:
        quantity = parse_quantity(text)
    except NotAQuantity:
        return ""
    _, twin = both_ways(quantity, quantity.unit.system or "us")
    return f"{text} ({twin})" if twin else text


def _where(override: Override) -> Where:
    return override.record, ".".join(override.path) or _WHOLE


def _kept(node: Node) -> str:
    """Return a value on one line, as JSON, which is YAML too."""
    text = json.dumps(plain(node), ensure_ascii=False, sort_keys=True)
    if len(text) <= _LONGEST:
        return text
    return json.dumps(f"sha256:{hashlib.sha256(text.encode()).hexdigest()[:16]}")


def _fields(node: Node) -> dict[str, Node]:
    return node.value if isinstance(node.value, dict) else {}
