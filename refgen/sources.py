"""Layers of YAML files read into located values: every value knows its file and line.

YAML is read without its old traps: `no`, `12:30` and `010` stay the text that was typed, equal
keys in one map are refused, and so are aliases, tags and second documents, which nobody who
writes a record needs and which can make a small file explode.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NoReturn

import yaml

from refgen.errors import Place, Problem, did_you_mean

Value = None | bool | str | dict[str, "Node"] | list["Node"]

MAX_BYTES = 400_000
MAX_DEPTH = 24
SINGLE_FILES = ("brand", "words", "published")
RECORD_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
# Names that a Windows file system keeps for devices: a record called so could not be checked out.
_DEVICES = {"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(1, 10))}
# What YAML allows in a file but no sentence needs: control characters and the marks that turn
# the direction of text, with which one text can be made to look like another.
_HIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Node:
    """A value with its place; numbers stay the text that was written."""

    value: Value
    place: Place


@dataclass(frozen=True, slots=True)
class Layer:
    """One folder of data: records by kind and id, and the few single files."""

    name: str
    records: dict[tuple[str, str], Node] = field(default_factory=dict)
    singles: dict[str, Node] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Sources:
    """All layers in order, and what could not be read."""

    layers: tuple[Layer, ...]
    problems: tuple[Problem, ...]


def read_sources(folders: Iterable[Path], kinds: Iterable[str], shown_from: Path) -> Sources:
    """Read every layer.

    Args:
        folders: One folder a layer, the shared base first.
        kinds: The folder names that hold records.
        shown_from: Folder against which file names are told to the author.
    """
    layers, problems = [], []
    for folder in folders:
        reader = _Reader(folder, tuple(kinds), shown_from)
        layers.append(reader.read())
        problems += reader.problems
    return Sources(tuple(layers), tuple(problems))


def read_text(text: str, name: str, layer: str = "") -> tuple[Node | None, list[Problem]]:
    """Return one YAML text as a located map of fields, and what is wrong with it."""
    problems: list[Problem] = []
    if hidden := _HIDDEN.search(text):
        line = text.count("\n", 0, hidden.start()) + 1
        message = f"an invisible character (U+{ord(hidden[0]):04X}) stands here"
        return None, [Problem(Place(name, line, layer), "", message, "Type the line anew.")]
    node = _compose(text, name, layer, problems)
    if node is not None and not isinstance(node.value, dict):
        hint = "Write fields as 'name: value', one a line."
        problems.append(Problem(node.place, "", "the file holds no fields", hint))
        return None, problems
    return node, problems


def show_path(path: Path, shown_from: Path) -> str:
    """Return a path as the author knows it: relative where it can be, with forward slashes."""
    try:
        return path.resolve().relative_to(shown_from.resolve()).as_posix()
    except ValueError:
        return path.as_posix()


class _Reader:
    def __init__(self, folder: Path, kinds: tuple[str, ...], shown_from: Path) -> None:
        self.folder, self.kinds, self.shown_from = folder, kinds, shown_from
        self.problems: list[Problem] = []

    def read(self) -> Layer:
        layer = Layer(self.folder.name)
        if not self.folder.is_dir():
            self._tell(self.folder, "there is no such folder", "Name a folder of data as layer.")
            return layer
        for path in sorted(self.folder.iterdir()):
            if path.name.startswith("."):
                continue
            if path.is_dir():
                self._read_kind(path, layer)
            elif path.suffix == ".yml" and path.stem in SINGLE_FILES:
                if (node := self._read_file(path)) is not None:
                    layer.singles[path.stem] = node
            elif path.suffix in (".yml", ".yaml"):
                hint = f"Records stand in a folder: {', '.join(self.kinds)}."
                self._tell(path, "no such file belongs at the top of a layer", hint)
        return layer

    def _read_kind(self, folder: Path, layer: Layer) -> None:
        if folder.name == "assets":  # logos and pictures of a brand, not records
            return
        if folder.name not in self.kinds:
            hint = did_you_mean(folder.name, self.kinds)
            self._tell(folder, f"'{folder.name}' is no kind of record", hint)
            return
        for path in sorted(folder.iterdir()):
            if path.name.startswith("."):
                continue
            if path.suffix != ".yml" or not path.is_file():
                hint = "Each record is one file ending in .yml."
                self._tell(path, "only .yml files belong here", hint)
            elif not RECORD_ID.fullmatch(path.stem) or path.stem in _DEVICES or len(path.stem) > 60:
                hint = "Use small letters, digits and single hyphens, such as 'pvc-solid'."
                self._tell(path, f"'{path.stem}' cannot be an id", hint)
            elif (node := self._read_file(path)) is not None:
                layer.records[folder.name, path.stem] = node

    def _read_file(self, path: Path) -> Node | None:
        if not path.resolve().is_relative_to(self.folder.resolve()):
            self._tell(path, "the file lies outside its layer", "Copy it in instead of linking.")
            return None
        try:
            raw = path.read_bytes()
            text = raw.decode("utf-8-sig")
        except UnicodeDecodeError:
            self._tell(path, "the file is not text in UTF-8", "Save it as UTF-8.")
            return None
        except OSError as error:
            self._tell(path, f"the file cannot be read ({error.strerror})", "")
            return None
        if len(raw) > MAX_BYTES:
            hint = f"A record holds at most {MAX_BYTES // 1000} kB; divide it."
            self._tell(path, f"the file has {len(raw) // 1000} kB", hint)
            return None
        name = show_path(path, self.shown_from)
        node, problems = read_text(text, name, self.folder.name)
        self.problems += problems
        return node

    def _tell(self, path: Path, message: str, hint: str) -> None:
        place = Place(show_path(path, self.shown_from), 1, self.folder.name)
        self._add(place, message, hint)

    def _add(self, place: Place, message: str, hint: str) -> None:
        self.problems.append(Problem(place, "", message, hint))


def _compose(text: str, file: str, layer: str, problems: list[Problem]) -> Node | None:
    """Return the file's tree of nodes, or None after telling why there is none."""
    composer = _Composer(file, layer, problems)
    try:
        return composer.compose(yaml.parse(text, Loader=_Loader))
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = mark.line + 1 if mark else 1
        what = f"{error.problem or 'not readable'}"
        hint = "Check indentation, quotes and colons on this line and the one above."
        if "'\\t'" in what or "found character '\t'" in what:
            hint = "Indent with spaces, not with the tab key."
        problems.append(Problem(Place(file, line, layer), "", f"not YAML: {what}", hint))
    except yaml.YAMLError as error:
        first = str(error).splitlines()[0]
        problems.append(Problem(Place(file, 1, layer), "", f"not YAML: {first}", ""))
    except _Stop:
        pass
    return None


class _Stop(Exception):
    """The file cannot be used; why has been told."""


class _Composer:
    """Builds the tree from YAML's events, which carry the place of everything."""

    def __init__(self, file: str, layer: str, problems: list[Problem]) -> None:
        self.file, self.layer, self.problems = file, layer, problems

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

    def _node(self, event: Any, events: Iterator[Any], depth: int) -> Node:
        place = Place(self.file, event.start_mark.line + 1, self.layer)
        if isinstance(event, yaml.AliasEvent) or event.anchor:
            self._refuse(event, "anchors (&) and aliases (*) are not used here", "Write it out.")
        if event.tag and event.tag != "!":
            self._refuse(event, f"tags such as {event.tag} are not used here", "Remove the tag.")
        if depth > MAX_DEPTH:
            self._refuse(event, "values are nested too deep", "Use fewer levels.")
        if isinstance(event, yaml.ScalarEvent):
            return Node(_scalar(event), place)
        if isinstance(event, yaml.SequenceStartEvent):
            items = []
            while not isinstance(inner := next(events), yaml.SequenceEndEvent):
                items.append(self._node(inner, events, depth + 1))
            return Node(items, place)
        fields: dict[str, Node] = {}
        key: Any
        while not isinstance(key := next(events), yaml.MappingEndEvent):
            if not isinstance(key, yaml.ScalarEvent):
                self._refuse(key, "a field's name must be one word", "Write 'name: value'.")
            name: str = key.value
            mark: Any = key.start_mark
            at = Place(self.file, mark.line + 1, self.layer)
            value = self._node(next(events), events, depth + 1)
            if name in fields:
                first = fields[name].place.line
                self._say(at, f"'{name}' stands twice", f"It was already given (line {first}).")
            else:
                # The line of `name:`, not of a value that starts on the next line.
                fields[name] = Node(value.value, at)
        return Node(fields, place)

    def _refuse(self, event: Any, message: str, hint: str) -> NoReturn:
        self._say(Place(self.file, event.start_mark.line + 1, self.layer), message, hint)
        raise _Stop

    def _say(self, place: Place, message: str, hint: str) -> None:
        self.problems.append(Problem(place, "", message, hint))


def _scalar(event: Any) -> bool | str | None:
    """Return a scalar by YAML 1.2's core rules, with numbers kept as written."""
    text: str = event.value
    if event.implicit[0]:  # plain, no quotes
        if text in ("", "~", "null"):
            return None
        if text in ("true", "false"):
            return text == "true"
    return text
