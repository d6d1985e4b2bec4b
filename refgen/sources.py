"""Layers: folders of YAML files, one record a file, read into located values."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from refgen.errors import Place, Problem, did_you_mean
from refgen.nodes import Node, read_text

MAX_BYTES = 400_000
SINGLE_FILES = ("brand", "words", "published", "overrides")
RECORD_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
# Names that a Windows file system keeps for devices: a record called so could not be checked out.
_DEVICES = {"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(1, 10))}


@dataclass(frozen=True, slots=True)
class Layer:
    """One folder of data: records by kind and id, and the few single files."""

    name: str
    records: dict[tuple[str, str], Node] = field(default_factory=dict)
    singles: dict[str, Node] = field(default_factory=dict)
    unread: set[tuple[str, str]] = field(default_factory=set)
    """Records that are there, but not as anything that can be read."""


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
    layers: list[Layer] = []
    problems: list[Problem] = []
    for folder in folders:
        reader = _Reader(folder, tuple(kinds), shown_from)
        layer = reader.read()
        if layer.name in (other.name for other in layers):
            place = Place(show_path(folder, shown_from), 1, layer.name)
            hint = "Give one of the two folders another name."
            problems.append(Problem(place, "", f"two layers are called '{layer.name}'", hint))
        layers.append(layer)
        problems += reader.problems
    return Sources(tuple(layers), tuple(problems))


def show_path(path: Path, shown_from: Path) -> str:
    """Return a path as the author knows it: relative where it can be, with forward slashes."""
    named = path.parent.resolve() / path.name  # a link is told by its own name, not its target's
    try:
        shown = named.relative_to(shown_from.resolve()).as_posix()
    except ValueError:
        shown = path.as_posix()
    return _printable(shown)


def _printable(name: str) -> str:
    """Return a name without what would break a message or turn it round."""
    return "".join(c if c.isprintable() else ascii(c)[1:-1] for c in name)


class _Reader:
    def __init__(self, folder: Path, kinds: tuple[str, ...], shown_from: Path) -> None:
        self.folder, self.kinds, self.shown_from = folder, kinds, shown_from
        self.problems: list[Problem] = []
        self.above: dict[Path, str] = {}
        """What is shown before the name of a file, by its folder."""

    def read(self) -> Layer:
        layer = Layer(self.folder.name)
        if not self.folder.is_dir():
            self._tell(self.folder, "there is no such folder", "Name a folder of data as layer.")
            return layer
        for path in sorted(self.folder.iterdir()):
            if path.name.startswith(".") or self._told_of_link(path):
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
        if folder.name in ("assets", "examples"):  # pictures of a brand, records to copy from
            return
        if folder.name not in self.kinds:
            hint = did_you_mean(folder.name, self.kinds)
            self._tell(folder, f"'{_printable(folder.name)}' is no kind of record", hint)
            return
        for path in sorted(folder.iterdir()):
            if path.name.startswith(".") or self._told_of_link(path):
                continue
            if path.suffix != ".yml" or not path.is_file():
                hint = "Each record is one file ending in .yml."
                self._tell(path, "only .yml files belong here", hint)
            elif not RECORD_ID.fullmatch(path.stem) or path.stem in _DEVICES or len(path.stem) > 60:
                hint = "Use small letters, digits and single hyphens, such as 'pvc-solid'."
                self._tell(path, f"'{_printable(path.stem)}' cannot be an id", hint)
            elif (node := self._read_file(path)) is not None:
                layer.records[folder.name, path.stem] = node
            else:
                layer.unread.add((folder.name, path.stem))

    def _told_of_link(self, path: Path) -> bool:
        """Tell of a link where a file or a folder of its own belongs, and whether there is one."""
        if not path.is_symlink() or (path.exists() and not path.is_dir()):
            return False
        what = "for a folder" if path.is_dir() else "that leads nowhere"
        self._tell(path, f"a link stands here {what}", "Copy in what is meant.")
        return True

    def _read_file(self, path: Path) -> Node | None:
        if not self._lies_inside(path):
            self._tell(path, "the file lies outside its layer", "Copy it in instead of linking.")
            return None
        try:
            if not path.is_file():  # a pipe would be waited for without end
                self._tell(path, "this is no file", "Put a file of text here, or take it away.")
                return None
            if (size := path.stat().st_size) > MAX_BYTES:
                hint = f"A record holds at most {MAX_BYTES // 1000} kB; divide it."
                self._tell(path, f"the file has {size // 1000} kB", hint)
                return None
            text = path.read_bytes().decode("utf-8-sig")
        except UnicodeDecodeError:
            self._tell(path, "the file is not text in UTF-8", "Save it as UTF-8.")
            return None
        except OSError as error:
            self._tell(path, f"the file cannot be read ({error.strerror})", "")
            return None
        node, problems = read_text(text, self._show(path), self.folder.name)
        self.problems += problems
        return node

    def _lies_inside(self, path: Path) -> bool:
        """Return whether a file lies in this layer; only a link can lead out, folders are none."""
        return not path.is_symlink() or path.resolve().is_relative_to(self.folder.resolve())

    def _show(self, path: Path) -> str:
        """Return a path as `show_path` does; asking where a folder lies is dear, so once each."""
        name = _printable(path.name)
        if path.parent not in self.above:
            self.above[path.parent] = show_path(path, self.shown_from).removesuffix(name)
        return self.above[path.parent] + name

    def _tell(self, path: Path, message: str, hint: str) -> None:
        place = Place(self._show(path), 1, self.folder.name)
        self.problems.append(Problem(place, "", message, hint))
