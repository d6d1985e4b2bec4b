"""Everything in a record that points somewhere or can be pointed at."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, get_args

from pydantic import BaseModel

from refgen.model import KINDS
from refgen.model.base import Item, LocalItem, Model, Ref, RefTo, Text, models_within
from refgen.model.figure import Figure

Path = tuple[str | int, ...]
FigureKey = tuple[str, str, str]
"""Kind and id of the record, and the figure's own id."""

# `{worn}`, `{materials/pvc-solid#worn}` and `{= 10 ft}`; doubled braces are plain text.
CITATION = re.compile(
    r"(?<!\{)\{(?:=\s*(?P<quantity>[^{}\n]{1,40})"
    r"|(?:(?P<kind>[a-z]+)/(?P<id>[a-z0-9-]+)#)?(?P<figure>[a-z0-9]+(?:-[a-z0-9]+)*))\}(?!\})"
)


@dataclass(slots=True)
class Contents:
    """What a walk through one record found, each with the path to it."""

    refs: list[tuple[Path, Ref]] = field(default_factory=list)
    texts: list[tuple[Path, Text]] = field(default_factory=list)
    figures: list[tuple[Path, Figure]] = field(default_factory=list)
    items: list[tuple[Path, Item]] = field(default_factory=list)
    parts: list[tuple[Path, LocalItem]] = field(default_factory=list)


def contents_of(record: Model) -> Contents:
    """Walk a record, or another set of fields, once and return all it holds."""
    contents = Contents()
    for path, value in _walk(record, ()):
        if isinstance(value, Ref):
            contents.refs.append((path, value))
        elif isinstance(value, Text):
            contents.texts.append((path, value))
        elif isinstance(value, Figure):
            contents.figures.append((path, value))
        elif isinstance(value, Item):
            contents.items.append((path, value))
        elif isinstance(value, LocalItem):
            contents.parts.append((path, value))
    return contents


def _walk(value: Any, path: Path) -> Iterator[tuple[Path, Any]]:
    if isinstance(value, BaseModel):
        if path:
            yield path, value
        for name, info in type(value).model_fields.items():
            inner = getattr(value, name)
            if inner:
                yield from _walk(inner, (*path, info.alias or name))
    elif isinstance(value, (Ref, Text)):
        yield path, value
    elif isinstance(value, tuple):
        for number, inner in enumerate(value):
            yield from _walk(inner, (*path, number))
    elif isinstance(value, dict):
        for name, inner in value.items():
            yield from _walk(inner, (*path, name))


def figure_id(path: Path) -> str:
    """Return the id of the figure at a path: the name under which it stands, '' in a list."""
    return path[-1] if path and isinstance(path[-1], str) else ""


def anchors_of(contents: Contents) -> list[tuple[Path, str, tuple[str, ...]]]:
    """Return every address within the record: path, id, former ids."""
    found: list[tuple[Path, str, tuple[str, ...]]] = []
    for path, item in contents.items:
        found.append((path, item.id, item.was))
    for path, figure in contents.figures:
        if name := figure_id(path):
            found.append((path, name, figure.was))
    return found


def bare_fields(kind: str) -> set[str]:
    """Return the names of all fields that hold ids of one kind without naming the kind."""
    found: set[str] = set()
    for model in models_within(KINDS.values()):
        for name, info in model.model_fields.items():
            if any(m.kind == kind for m in _ref_metadata([info.annotation, *info.metadata])):
                found.add(info.alias or name)
    if kind == "parts":
        found |= {"needs", "unless"}
    return found


def _ref_metadata(annotations: list[Any]) -> Iterator[RefTo]:
    for annotation in annotations:
        if isinstance(annotation, RefTo):
            yield annotation
        else:
            yield from _ref_metadata([*get_args(annotation)])
