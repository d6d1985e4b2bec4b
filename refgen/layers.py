"""Layers laid over each other, while every value still knows its file, line and layer.

Maps merge by field and lists of items by `id`; any other list, and a figure, is replaced whole,
because half of one figure on half of another would be a number nobody ever gave. What a later
layer changes or hides is kept as an override, so that it can be judged and shown.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from refgen.errors import Place, Problem, did_you_mean
from refgen.nodes import Node, plain
from refgen.sources import Layer, Sources

Key = tuple[str, str]
# Words of a later layer about the merge itself; they never reach a record.
_HIDE, _REASON, _AFTER, _BEFORE = "hide", "reason", "after", "before"
_MERGE_WORDS = {_HIDE, _REASON, _AFTER, _BEFORE}


@dataclass(frozen=True, slots=True)
class Override:
    """A value of an earlier layer that a later one changed (`now`) or hid (`now` is None)."""

    record: Key
    path: tuple[str, ...]
    fields: tuple[str, ...]
    """What of the path names fields; the rest are ids of items, which may be called anything."""
    was: Node
    now: Node | None
    reason: str
    place: Place


@dataclass(frozen=True, slots=True)
class Laid:
    """The merged records and single files, with what was overridden on the way."""

    records: dict[Key, Node] = field(default_factory=dict)
    singles: dict[str, Node] = field(default_factory=dict)
    published: dict[str, Node] = field(default_factory=dict)
    noted: dict[str, Node] = field(default_factory=dict)
    overrides: tuple[Override, ...] = ()
    problems: tuple[Problem, ...] = ()
    unread: frozenset[Key] = frozenset()
    """Records that some layer has, but not as anything that can be read."""


def lay(sources: Sources) -> Laid:
    """Merge the layers in order, the later over the earlier."""
    laid = Laid(problems=sources.problems)
    merger = _Merger()
    for layer in sources.layers:
        _lay_one(layer, laid, merger)
    return Laid(
        {key: laid.records[key] for key in sorted(laid.records)},
        laid.singles,
        laid.published,
        laid.noted,
        tuple(merger.overrides),
        (*laid.problems, *merger.problems),
        frozenset(key for layer in sources.layers for key in layer.unread),
    )


def _lay_one(layer: Layer, laid: Laid, merger: _Merger) -> None:
    for name, node in layer.singles.items():
        if name == "published":
            laid.published[layer.name] = node
        elif name == "overrides":
            laid.noted[layer.name] = node
        elif name in laid.singles:
            laid.singles[name] = merger.merge(laid.singles[name], node, _Spot((name, "")))
        else:
            laid.singles[name] = node
    for key, node in layer.records.items():
        base = laid.records.get(key)
        if merger.hides(node, ()):
            if base is None:
                hint = did_you_mean(key[1], [name for kind, name in laid.records if kind == key[0]])
                message = "no earlier layer has this record to hide"
                merger.problems.append(Problem(node.place, "", message, hint))
            else:
                merger.note(_Spot(key).told_by(node), base, None, node.place)
                del laid.records[key]
        elif base is None:
            laid.records[key] = node
        else:
            laid.records[key] = merger.merge(base, node, _Spot(key))


def is_figure(node: Node) -> bool:
    """Whether a map is a figure: one value with its basis, never merged in part."""
    return isinstance(node.value, dict) and ("is" in node.value or "jet" in node.value)


def _text(node: Node, word: str) -> str:
    value = node.value.get(word) if isinstance(node.value, dict) else None
    return value.value if value is not None and isinstance(value.value, str) else ""


def _bare(node: Node) -> Node:
    """Return a map without the words that only steer the merge."""
    if not isinstance(node.value, dict):
        return node
    return Node({k: v for k, v in node.value.items() if k not in _MERGE_WORDS}, node.place)


def _items(node: Node) -> dict[str, Node] | None:
    """Return a list of items by id, or None if it is any other list."""
    if not isinstance(node.value, list) or not node.value:
        return None
    found = {_text(item, "id"): item for item in node.value}
    return found if "" not in found and len(found) == len(node.value) else None


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where in a record two layers meet, and the reason given for all that lies below it."""

    record: Key
    path: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()
    reason: str = ""

    def inner(self, name: str) -> _Spot:
        return replace(self, path=(*self.path, name), fields=(*self.fields, name))

    def item(self, item_id: str) -> _Spot:
        return replace(self, path=(*self.path, item_id))

    def told_by(self, node: Node) -> _Spot:
        """Return the spot with the reason that a value gives, if it gives one."""
        return replace(self, reason=_text(node, _REASON) or self.reason)


class _Merger:
    """Merges one record after another, and keeps what was overridden and what was wrong."""

    def __init__(self) -> None:
        self.overrides: list[Override] = []
        self.problems: list[Problem] = []

    def merge(self, base: Node, over: Node, spot: _Spot) -> Node:
        """Return `over` laid upon `base`."""
        spot = spot.told_by(over)
        if isinstance(base.value, dict) and isinstance(over.value, dict):
            if not is_figure(base) and not is_figure(over):
                return Node(self._merge_maps(base.value, over.value, spot), over.place)
        else:
            old, new = _items(base), _items(over)
            if old is not None and new is not None:
                return Node(self._merge_items(old, new, spot), over.place)
        bare = _bare(over)
        if plain(base) != plain(bare):
            self.note(spot, base, bare, over.place)
        return bare

    def note(self, spot: _Spot, was: Node, now: Node | None, place: Place) -> None:
        """Keep an override that a later layer makes at a place."""
        found = Override(spot.record, spot.path, spot.fields, was, now, spot.reason, place)
        self.overrides.append(found)

    def hides(self, node: Node, path: tuple[str, ...]) -> bool:
        """Whether a value of a later layer takes away what stands there."""
        said = node.value.get(_HIDE) if isinstance(node.value, dict) else None
        if said is None or isinstance(said.value, bool):
            return said is not None and said.value is True
        name = ".".join((*path, _HIDE))
        hint = "Write 'hide: true', or remove the line."
        self.problems.append(Problem(said.place, name, "must be true or false", hint))
        return False

    def _merge_maps(
        self, old: dict[str, Node], new: dict[str, Node], spot: _Spot
    ) -> dict[str, Node]:
        fields = dict(old)
        for name, node in new.items():
            if name not in _MERGE_WORDS:
                self._lay_upon(fields, "name", name, node, spot.inner(name))
        return fields

    def _merge_items(self, old: dict[str, Node], new: dict[str, Node], spot: _Spot) -> list[Node]:
        items = dict(old)
        for item_id, node in new.items():
            here = spot.item(item_id)
            self._lay_upon(items, "id", item_id, node, here)
            if item_id in items:
                items = self._place(items, item_id, node, here.path)
        return list(items.values())

    def _lay_upon(
        self, merged: dict[str, Node], called: str, name: str, node: Node, spot: _Spot
    ) -> None:
        """Add, change or take away one field or item in `merged`."""
        if not self.hides(node, spot.path):
            old = merged.get(name)
            merged[name] = _bare(node) if old is None else self.merge(old, node, spot)
        elif name in merged:
            self.note(spot.told_by(node), merged.pop(name), None, node.place)
        else:
            self._tell(node, spot.path, f"there is nothing of this {called} to hide", merged)

    def _place(
        self, merged: dict[str, Node], item_id: str, node: Node, path: tuple[str, ...]
    ) -> dict[str, Node]:
        """Return the items with one moved behind `after` or before `before`."""
        for word in (_AFTER, _BEFORE):
            if not (mark := _text(node, word)):
                continue
            order = [key for key in merged if key != item_id]
            if mark not in order:
                self._tell(node, path, f"no item '{mark}' to stand {word}", order, mark)
                continue
            order.insert(order.index(mark) + (word == _AFTER), item_id)
            return {key: merged[key] for key in order}
        return merged

    def _tell(
        self,
        node: Node,
        path: tuple[str, ...],
        message: str,
        known: Iterable[str],
        sought: str = "",
    ) -> None:
        hint = did_you_mean(sought or path[-1], known)
        self.problems.append(Problem(node.place, ".".join(path), message, hint))
