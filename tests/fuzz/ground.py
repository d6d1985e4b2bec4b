"""The real data in a folder of their own, and what of them can be broken where.

A set of broken data is the real one with a few paths written, linked or removed. What is not
touched is read once for all sets: the texts of the files and the records in them never change.
"""

from __future__ import annotations

import os
import random
import shutil
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel

from refgen.bundled import bundled
from refgen.model import KINDS
from refgen.model.base import Of, Plain, RefTo, Text
from refgen.model.company import Brand, Words
from refgen.nodes import Node, read_text

ROOT = Path(__file__).resolve().parents[2]
MODELS: dict[str, type[BaseModel]] = {**KINDS, "brand": Brand, "words": Words}
STEERING = ("hide", "reason", "after", "before")
PROJECT = """\
site_name: Broken
docs_dir: files
theme: {name: material}
plugins:
  - refgen:
      layers: [data/base, data/pebblecombe]
"""
LAST_GOOD = {"index.html": b"the last good site", "materials/pvc-solid.html": b"good too"}


@dataclass(frozen=True)
class Linked:
    """A symbolic link to be made."""

    to: str


@dataclass(frozen=True)
class Sparse:
    """A file of so many bytes, all of them nothing."""

    size: int


PIPE, FOLDER, GONE = object(), object(), object()
Edits = Mapping[str, Any]
"""What becomes of paths below the project: bytes, a link, a pipe, a folder, or nothing."""


@dataclass(frozen=True)
class Value:
    """One value of one file, and what the model takes it for."""

    file: str
    path: tuple[str | int, ...]
    node: Node
    sort: str
    of: Any = None

    @property
    def line(self) -> int:
        return self.node.place.line


@dataclass(frozen=True)
class Map:
    """One map of fields of one file, and its model."""

    file: str
    node: Node
    model: type[BaseModel]
    root: bool


@dataclass
class Ground:
    """A copy of the real data."""

    root: Path
    texts: dict[str, str] = field(default_factory=dict)
    nodes: dict[str, Node] = field(default_factory=dict)
    values: dict[str, list[Value]] = field(default_factory=dict)
    maps: list[Map] = field(default_factory=list)

    @property
    def records(self) -> list[str]:
        """Every file that holds a record."""
        return [name for name in self.texts if name.count("/") == 3]

    def any_record(self, rng: random.Random, kind: str = "") -> str:
        names = self.records
        return rng.choice([name for name in names if f"/{kind}/" in name] if kind else names)

    def replaced(self, value: Value, written: str) -> dict[str, bytes]:
        """Return the file of a value with another text in its place."""
        start, end = value.node.span
        text = self.texts[value.file]
        return {value.file: (text[:start] + written + text[end:]).encode()}

    def apply(self, edits: Edits) -> None:
        for name, content in edits.items():
            path = self.root / name
            _clear(path)
            if content is GONE:
                continue
            path.parent.mkdir(parents=True, exist_ok=True)
            if content is PIPE:
                os.mkfifo(path)
            elif content is FOLDER:
                path.mkdir()
            elif isinstance(content, Linked):
                path.symlink_to(content.to)
            elif isinstance(content, Sparse):
                with path.open("wb") as file:
                    file.truncate(content.size)
            else:
                path.write_bytes(content)

    def restore(self, edits: Edits) -> None:
        for name in edits:
            _clear(self.root / name)
            for above in (self.root / name).parents:
                if above == self.root or not above.is_dir() or any(above.iterdir()):
                    break
                above.rmdir()
        (self.root / "files").mkdir(exist_ok=True)
        for name in self.texts:
            if any(name == edited or name.startswith(f"{edited}/") for edited in edits):
                path = self.root / name
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_bytes(self.texts[name].encode())
        if any(name.startswith("data/pebblecombe/assets/") for name in edits):
            self._copy_assets()

    def _copy_assets(self) -> None:
        assets = ROOT / "data" / "pebblecombe" / "assets"
        shutil.copytree(assets, self.root / "data/pebblecombe/assets", dirs_exist_ok=True)

    def whole(self) -> dict[str, bytes]:
        """Return what the last good site consists of now."""
        site = self.root / "site"
        return {
            path.relative_to(site).as_posix(): path.read_bytes()
            for path in site.rglob("*")
            if path.is_file()
        }


def _clear(path: Path) -> None:
    if path.is_symlink() or path.is_file() or path.is_fifo():
        path.unlink()
    elif path.is_dir():
        shutil.rmtree(path)


def lay_ground(root: Path) -> Ground:
    """Copy base and demonstration into a folder, with a project and a site that was good."""
    ground = Ground(root)
    for name, folder in (
        ("base", bundled("data/base")),
        ("pebblecombe", ROOT / "data/pebblecombe"),
    ):
        for path in sorted(folder.rglob("*.yml")):
            ground.texts[f"data/{name}/{path.relative_to(folder).as_posix()}"] = path.read_text(
                "utf-8"
            )
    ground.texts["mkdocs.yml"] = PROJECT
    for name, text in ground.texts.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, "utf-8")
    (root / "files").mkdir()
    ground._copy_assets()
    for name, content in LAST_GOOD.items():
        (root / "site" / name).parent.mkdir(parents=True, exist_ok=True)
        (root / "site" / name).write_bytes(content)
    for name, text in ground.texts.items():
        model = MODELS.get(Path(name).stem if name.count("/") == 2 else Path(name).parent.name)
        if model is None:
            continue
        node, problems = read_text(text, name, spans=True)
        assert node is not None, (name, problems)
        ground.nodes[name] = node
        for found in _walk(name, (), node, model, root=True):
            if isinstance(found, Map):
                ground.maps.append(found)
            else:
                ground.values.setdefault(found.sort, []).append(found)
    return ground


def _walk(
    file: str, path: tuple[str | int, ...], node: Node, kind: Any, root: bool = False
) -> Iterator[Value | Map]:
    """Yield every value and map of a node, by what the model says of it."""
    metadata: list[Any] = []
    while get_origin(kind) is Annotated:
        kind, *more = get_args(kind)
        metadata += more
    if get_origin(kind) in (Union, UnionType):
        choices = [choice for choice in get_args(kind) if choice is not NoneType]
        kind = _chosen(choices, node)
        yield from _walk(file, path, node, Annotated[kind, *metadata] if metadata else kind)
        return
    value = node.value
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        if isinstance(value, dict):
            yield Map(file, node, kind, root)
            fields = {info.alias or name: info for name, info in kind.model_fields.items()}
            for name, inner in value.items():
                if name in fields:
                    info = fields[name]
                    inside = Annotated[info.annotation, *info.metadata] if info.metadata else None
                    yield from _walk(file, (*path, name), inner, inside or info.annotation)
        else:
            yield Value(file, path, node, "short", kind)
    elif get_origin(kind) is tuple and isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _walk(file, (*path, number), inner, get_args(kind)[0])
    elif get_origin(kind) is dict and isinstance(value, dict):
        for name, inner in value.items():
            yield from _walk(file, (*path, name), inner, get_args(kind)[1])
    elif not isinstance(value, (dict, list)) and value is not None:
        yield Value(file, path, node, *_sort(kind, metadata))


def _chosen(choices: list[Any], node: Node) -> Any:
    for choice in choices:
        bare = get_args(choice)[0] if get_origin(choice) is Annotated else choice
        is_map = isinstance(bare, type) and issubclass(bare, BaseModel)
        if is_map == isinstance(node.value, dict):
            return choice
    return choices[0]


def _sort(kind: Any, metadata: Iterable[Any]) -> tuple[str, Any]:
    for mark in metadata:
        if isinstance(mark, Of):
            return "quantity", mark.dimension
        if isinstance(mark, RefTo):
            return "ref", mark.kind
    if kind is Text or kind is Plain:
        return kind.__name__.lower(), None
    if get_origin(kind) is Literal:
        return "choice", get_args(kind)
    return {bool: "truth", int: "whole", float: "number"}.get(kind, "other"), None
