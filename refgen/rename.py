"""Renaming a record or an item without breaking one link to it.

Only the ids are edited, each where it stands, so that comments and the author's way of writing
stay. The old id is kept under `was`, by which old addresses go on working.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from refgen.edits import Edit, cited_within, edited, former_kept, replaced_within
from refgen.entries import Entry, read_entry
from refgen.errors import RefgenError, did_you_mean
from refgen.layers import lay
from refgen.model import KINDS
from refgen.model.base import ID_PATTERN, Ref
from refgen.nodes import Node, read_text
from refgen.references import bare_fields
from refgen.sources import read_sources


class CannotRename(RefgenError):
    """The rename asked for makes no sense."""


@dataclass(frozen=True)
class Renamed:
    """What a rename changed: files with the number of places in each."""

    files: dict[str, int]


@dataclass
class _File:
    """One file of data with the edits it gets."""

    path: Path
    text: str
    node: Node
    edits: list[Edit] = field(default_factory=list)

    def is_of(self, ref: Ref) -> bool:
        return (self.path.parent.name, self.path.stem) == (ref.kind, ref.id)


def rename(layers: list[Path], old: str, new: str) -> Renamed:
    """Give a record (`kind/id`) or an item (`kind/id#item`) a new id, in all layers.

    The new one may be written as the old one is, with the same kind, or record, before it.

    Raises:
        CannotRename: If the old one is not there, or the new one is no id or taken.
    """
    ref = _read(old)
    new = _id_in(new, ref)
    entry = _entry_of(layers, ref, new)
    files = [file for layer in layers for file in _files(layer)]
    homes = [file for file in files if file.is_of(ref)]
    if ref.item:
        _rename_item(entry, homes, ref, new)
    else:
        keeper = next((f for f in reversed(homes) if "was" in _fields(f.node)), homes[0])
        keeper.edits.append(_record_kept(keeper, ref.id))
    for file in files:
        file.edits += _links_in(file, ref, new)
    changed = {file.path.as_posix(): len(file.edits) for file in files if file.edits}
    texts = {file.path: _edited(file) for file in files if file.edits}
    for path, text in texts.items():
        path.write_bytes(text.encode())
    if not ref.item:
        for file in homes:
            file.path.rename(file.path.with_name(f"{new}.yml"))
            changed.setdefault(file.path.as_posix(), 0)
            changed[file.path.as_posix()] += 1
    return Renamed(changed)


def _read(text: str) -> Ref:
    match = re.fullmatch(r"([a-z]+)/([a-z0-9-]+)(?:#([a-z0-9-]+))?", text)
    if not match or match[1] not in KINDS:
        hint = did_you_mean(text.partition("/")[0], KINDS)
        raise CannotRename(f"'{text}' is no address. Write kind/id or kind/id#item. {hint}".strip())
    return Ref(match[1], match[2], match[3] or "")


def _id_in(text: str, ref: Ref) -> str:
    """Return the new id out of a text that is the id alone, or the whole address it will have."""
    home = f"{ref.kind}/{ref.id}" if ref.item else ref.kind
    given, _, name = text.rpartition("#" if ref.item else "/")
    if not re.fullmatch(ID_PATTERN, name):
        raise CannotRename(f"'{text}' cannot be an id: use small letters, digits, single hyphens.")
    if given not in ("", home):
        raise CannotRename(f"{ref} stays in {home}, since a rename changes the id alone.")
    return name


def _entry_of(layers: list[Path], ref: Ref, new: str) -> Entry:
    """Return the record as these layers have it, after making sure it can be renamed."""
    records = lay(read_sources(layers, KINDS, Path())).records
    where = f"{ref.kind}/{ref.id}"
    if (ref.kind, ref.id) not in records:
        hint = did_you_mean(ref.id, [name for kind, name in records if kind == ref.kind])
        raise CannotRename(f"there is no {where} in this project's own layers. {hint}".strip())
    entry, _ = read_entry((ref.kind, ref.id), records[ref.kind, ref.id])
    if entry is None:
        raise CannotRename(f"{where} comes from a layer of another project, which is not edited.")
    if not ref.item:
        if (ref.kind, new) in records:
            raise CannotRename(f"there is already a {ref.kind}/{new}.")
        return entry
    if ref.item not in entry.anchors:
        hint = did_you_mean(ref.item, entry.anchors)
        raise CannotRename(f"{where} has no item '{ref.item}'. {hint}".strip())
    if new in (*entry.anchors, *entry.moved):
        raise CannotRename(f"{where} already has, or had, an item '{new}'.")
    return entry


def _files(layer: Path) -> Iterator[_File]:
    """Yield every file of a layer that can hold a link."""
    for path in sorted([*layer.glob("*/*.yml"), *layer.glob("brand.yml")]):
        if path.parent.name in KINDS or path.parent == layer:
            text = path.read_bytes().decode().removeprefix("\ufeff")
            node, _ = read_text(text, path.as_posix(), spans=True)
            if node is not None:
                yield _File(path, text, node)


def _edited(file: _File) -> str:
    text = edited(file.text, file.edits)
    _, problems = read_text(text, file.path.as_posix())
    assert not problems, (file.path, problems)  # before anything is written
    return text


def _fields(node: Node) -> dict[str, Node]:
    return node.value if isinstance(node.value, dict) else {}


def _record_kept(file: _File, old: str) -> Edit:
    """Return the edit that keeps a record's former id, at the end if it has none yet."""
    if "was" in _fields(file.node) or file.text[file.node.span[0]] == "{":
        return former_kept(file.text, file.node, old)
    newline = "\r\n" if "\r\n" in file.text else "\n"
    end = len(file.text)
    begin = "" if file.text.endswith("\n") else newline
    return Edit(end, end, f"{begin}was: [{old}]{newline}")


# ---- links to what is renamed


def _links_in(file: _File, ref: Ref, new: str) -> Iterator[Edit]:
    """Yield the edits of every link that a file holds to the renamed record or item."""
    target = str(ref)
    renamed = f"{ref.kind}/{ref.id}#{new}" if ref.item else f"{ref.kind}/{new}"
    bare, bare_renamed = target.partition("/")[2], renamed.partition("/")[2]
    fields = bare_fields(ref.kind)
    for name, node in _scalars(file.node, ""):
        value = str(node.value)
        if target in value:
            yield from replaced_within(file.text, node, target, renamed)
        elif name in fields and value.partition("#")[0] == ref.id:
            yield from replaced_within(file.text, node, bare, bare_renamed)


def _scalars(node: Node, name: str) -> Iterator[tuple[str, Node]]:
    """Yield every text with the name of the field it stands in."""
    if isinstance(node.value, dict):
        for inner_name, inner in node.value.items():
            yield from _scalars(inner, inner_name)
    elif isinstance(node.value, list):
        for inner in node.value:
            yield from _scalars(inner, name)
    elif isinstance(node.value, str):
        yield name, node


# ---- the item itself


def _rename_item(entry: Entry, homes: list[_File], ref: Ref, new: str) -> None:
    path = next(path for path, anchor, _ in entry.anchored() if anchor == ref.item)
    names = _by_name(entry.node, path)
    if path[-1] == ref.item and names[:-1] != ["figures"]:
        raise CannotRename(f"'{ref.item}' is a fixed name in every one of the {ref.kind}.")
    kept = False
    for file in homes:
        node = _follow(file.node, names)
        if node is not None:
            file.edits += _own_id(
                file, node, ref.item, new, keep=not kept or "was" in _fields(node)
            )
            kept = True
        siblings = _follow(file.node, names[:-1])
        for name, scalar in _scalars(file.node, ""):
            if name == "go" and ref.kind == "paths" and scalar.value == ref.item:
                file.edits.append(Edit(*scalar.span, new))
            file.edits += cited_within(file.text, scalar, ref.item, new)
        for item in siblings.value if siblings and isinstance(siblings.value, list) else []:
            for word in ("after", "before"):
                mark = _fields(item).get(word)
                if mark is not None and mark.value == ref.item:
                    file.edits.append(Edit(*mark.span, new))


def _own_id(file: _File, node: Node, old: str, new: str, keep: bool) -> list[Edit]:
    """Return the edits that give an item or figure its new id and keep the old one."""
    name = _fields(node).get("id")
    renamed = Edit(*(name.span if name else node.name_span), new)
    if not keep:
        return [renamed]
    if isinstance(node.value, str):  # a figure in its short form
        start, end = node.span
        return [renamed, Edit(start, end, f"{{is: {file.text[start:end]}, was: [{old}]}}")]
    return [renamed, former_kept(file.text, node, old)]


def _by_name(node: Node, path: tuple[str | int, ...]) -> list[str]:
    """Return a path with the id of each item instead of its number, which differs by layer."""
    names = []
    for step in path:
        if isinstance(node.value, dict) and isinstance(step, str):
            node = node.value[step]
            names.append(step)
        elif isinstance(node.value, list) and isinstance(step, int):
            node = node.value[step]
            names.append(_id(node))
    return names


def _follow(node: Node | None, names: list[str]) -> Node | None:
    """Return what stands at a path of names and ids in one layer's file, if anything does."""
    for name in names:
        if node is not None and isinstance(node.value, list):
            node = next((item for item in node.value if _id(item) == name), None)
        else:
            node = _fields(node).get(name) if node is not None else None
    return node


def _id(item: Node) -> str:
    name = _fields(item).get("id")
    return str(name.value) if name is not None else ""
