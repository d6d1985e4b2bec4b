"""YAML read into located values: every value knows its file, line and layer.

YAML is read without its old traps: `no`, `12:30` and `010` stay the text that was typed, equal
keys in one map are refused, and so are aliases, tags and second documents, which nobody who
writes a record needs and which can make a small file explode.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from sys import intern
from typing import Any, NoReturn

import yaml

from refgen.errors import Place, Problem
from refgen.syntax import fault_in

_NOWHERE = (0, 0)
Value = None | bool | str | dict[str, "Node"] | list["Node"]

MAX_DEPTH = 24
# What YAML allows in a file but no sentence needs: control characters, spaces without width, and
# the marks that turn the direction of text, with which one text can be made to look like another.
_HIDDEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff"
    "\ufff9-\ufffb\ufffe\uffff\ud800-\udfff\U0001d173-\U0001d17a\U000e0000-\U000e007f]"
)

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Node:
    """A value with its place; numbers stay the text that was written."""

    value: Value
    place: Place
    span: tuple[int, int] = field(default=_NOWHERE, compare=False)
    """Where in the file's text the value stands, if whoever read it asked."""
    name_span: tuple[int, int] = field(default=_NOWHERE, compare=False)
    """Where the name before it stands."""


def plain(node: Node) -> Any:
    """Return a node's value without places: maps, lists, texts, truths and None."""
    if isinstance(node.value, dict):
        return {name: plain(inner) for name, inner in node.value.items()}
    if isinstance(node.value, list):
        return [plain(inner) for inner in node.value]
    return node.value


@lru_cache(maxsize=32_768)  # while an author edits one file, all others are the same again
def read_text(
    text: str, name: str, layer: str = "", spans: bool = False
) -> tuple[Node | None, list[Problem]]:
    """Return one YAML text as a located map of fields, and what is wrong with it.

    With `spans` each value also knows where in the text it stands, for a program that edits it;
    that takes twice as much memory as all the rest.
    """
    problems: list[Problem] = []
    text = text.removeprefix("\ufeff")  # some editors put this mark before UTF-8
    if hidden := _HIDDEN.search(text):
        line = text.count("\n", 0, hidden.start()) + 1
        message = f"an invisible character (U+{ord(hidden[0]):04X}) stands here"
        return None, [Problem(Place(name, line, layer), "", message, "Type the line anew.")]
    node = _compose(text, _Composer(name, layer, problems, spans))
    if node is not None and not isinstance(node.value, dict):
        hint = "Write fields as 'name: value', one a line."
        problems.append(Problem(node.place, "", "the file holds no fields", hint))
        return None, problems
    return node, problems


def _compose(text: str, composer: _Composer) -> Node | None:
    """Return the file's tree of nodes, or None after telling why there is none."""
    try:
        return composer.compose(yaml.parse(text, Loader=_Loader))
    except yaml.YAMLError as error:
        line, message, hint = fault_in(text, error, _Loader)
        place = Place(composer.file, line, composer.layer)
        composer.problems.append(Problem(place, "", message, hint))
    except _Stop:
        pass
    return None


class _Stop(Exception):
    """The file cannot be used; why has been told."""


class _Composer:
    """Builds the tree from YAML's events, which carry the place of everything."""

    def __init__(self, file: str, layer: str, problems: list[Problem], spans: bool) -> None:
        self.file, self.layer, self.problems, self.spans = file, layer, problems, spans
        self.places: dict[int, Place] = {}

    def compose(self, events: Iterator[Any]) -> Node | None:
        root: Node | None = None
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                if root is not None:
                    self._refuse(event, "a second document starts here", "Remove the line '---'.")
            elif isinstance(event, yaml.NodeEvent):
                root = self._node(event, events, 0)
        if root is None:
            self._say(Place(self.file, 1, self.layer), "the file is empty", "Write the record.")
        return root

    def _node(self, event: Any, events: Iterator[Any], depth: int, key: Any = None) -> Node:
        """Return the value that begins with an event; `key` is the event of the name before it."""
        self._refuse_traps(event)
        if depth > MAX_DEPTH:
            self._refuse(event, "values are nested too deep", "Use fewer levels.")
        value: Value
        last = event
        if isinstance(event, yaml.ScalarEvent):
            value = _scalar(event)
        elif isinstance(event, yaml.SequenceStartEvent):
            value = items = []
            while not isinstance(last := next(events), yaml.SequenceEndEvent):
                items.append(self._node(last, events, depth + 1))
        else:
            value, last = self._fields(events, depth)
        # The line of `name:`, not of a value that starts on the next line.
        place = self._place(event if key is None else key)
        if not self.spans:
            return Node(value, place)
        named = _NOWHERE if key is None else (key.start_mark.index, key.end_mark.index)
        return Node(value, place, (event.start_mark.index, last.end_mark.index), named)

    def _fields(self, events: Iterator[Any], depth: int) -> tuple[dict[str, Node], Any]:
        """Return the fields of a map, and the event that ends it."""
        fields: dict[str, Node] = {}
        key: Any
        while not isinstance(key := next(events), yaml.MappingEndEvent):
            if not isinstance(key, yaml.ScalarEvent):
                self._refuse(key, "a field's name must be one word", "Write 'name: value'.")
            self._refuse_traps(key)
            name = intern(key.value)  # all records of a kind share their names
            value = self._node(next(events), events, depth + 1, key)
            if name in fields:
                first = fields[name].place.line
                told = f"It was already given (line {first})."
                self._say(self._place(key), f"'{name}' stands twice", told)
            else:
                fields[name] = value
        return fields, key

    def _place(self, event: Any) -> Place:
        """Return where an event stands; what begins on one line shares it."""
        line: int = event.start_mark.line + 1
        place = self.places.get(line)
        if place is None:
            place = self.places[line] = Place(self.file, line, self.layer)
        return place

    def _refuse_traps(self, event: Any) -> None:
        """Refuse what neither a name nor a value may have."""
        if isinstance(event, yaml.AliasEvent) or event.anchor:
            hint = "Write it out. A text that begins so needs quotes."
            self._refuse(event, "anchors (&) and aliases (*) are not used here", hint)
        if event.tag and event.tag != "!":
            hint = "Remove it. A text that begins so needs quotes."
            self._refuse(event, "tags (!) are not used here", hint)
        if not isinstance(event, yaml.ScalarEvent) or event.style != '"':
            return
        # The text itself has been looked through, but in double quotes an escape can make one.
        if hidden := _HIDDEN.search(event.value):
            message = f"an escape makes an invisible character (U+{ord(hidden[0]):04X})"
            self._refuse(event, message, "Take the escape out.")

    def _refuse(self, event: Any, message: str, hint: str) -> NoReturn:
        self._say(self._place(event), message, hint)
        raise _Stop

    def _say(self, place: Place, message: str, hint: str) -> None:
        self.problems.append(Problem(place, "", message, hint))


def _scalar(event: Any) -> bool | str | None:
    """Return a scalar by YAML 1.2's core rules, with numbers kept as written."""
    text: str = event.value
    if event.implicit[0]:  # plain, no quotes
        if text in ("", "~", "null", "Null", "NULL"):
            return None
        if text in ("true", "True", "TRUE", "false", "False", "FALSE"):
            return text.lower() == "true"
    return text
