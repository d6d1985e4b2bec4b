"""Renaming a record or an item without breaking one link to it.

Files are edited line by line, so that comments and the author's way of writing stay. The old id
is kept under `was`, by which old addresses go on working.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from refgen.errors import RefgenError, did_you_mean
from refgen.model import KINDS
from refgen.model.base import ID_PATTERN, Ref


class CannotRename(RefgenError):
    """The rename asked for makes no sense."""


@dataclass(frozen=True)
class Renamed:
    """What a rename changed: files with the number of places in each."""

    files: dict[str, int]


def rename(layers: list[Path], old: str, new: str) -> Renamed:
    """Give a record (`kind/id`) or an item (`kind/id#item`) a new id, in all layers.

    Raises:
        CannotRename: If the old one is not there, or the new one is no id or taken.
    """
    ref = _read(old)
    if not re.fullmatch(ID_PATTERN, new):
        raise CannotRename(f"'{new}' cannot be an id: use small letters, digits, single hyphens.")
    texts = {path: path.read_text("utf-8") for layer in layers for path in _files(layer)}
    homes = [path for path in texts if path.parent.name == ref.kind and path.stem == ref.id]
    if not homes:
        known = [path.stem for path in texts if path.parent.name == ref.kind]
        hint = did_you_mean(ref.id, known)
        raise CannotRename(f"there is no {ref.kind}/{ref.id}. {hint}".strip())
    edits = _rename_item(texts, homes, ref, new) if ref.item else _rename_record(texts, ref, new)
    changed: dict[str, int] = {}
    for path, text in edits.items():
        if text != texts[path]:
            changed[path.as_posix()] = (
                sum(
                    a != b
                    for a, b in zip(text.splitlines(), texts[path].splitlines(), strict=False)
                )
                or 1
            )
            path.write_text(text, "utf-8")
    if not ref.item:
        for path in homes:
            path.rename(path.with_name(f"{new}.yml"))
            changed[path.as_posix()] = changed.get(path.as_posix(), 0) + 1
    return Renamed(changed)


def _read(text: str) -> Ref:
    match = re.fullmatch(r"([a-z]+)/([a-z0-9-]+)(?:#([a-z0-9-]+))?", text)
    if not match or match[1] not in KINDS:
        hint = did_you_mean(text.partition("/")[0], KINDS)
        raise CannotRename(f"'{text}' is no address. Write kind/id or kind/id#item. {hint}")
    return Ref(match[1], match[2], match[3] or "")


def _files(layer: Path) -> list[Path]:
    return [path for path in sorted(layer.glob("*/*.yml")) if path.parent.name in KINDS]


def _fields_to(kind: str) -> str:
    """Return a pattern of the field names that hold bare ids of a kind."""
    from refgen.references import bare_fields

    return "|".join(sorted(bare_fields(kind))) or "(?!)"


def _rename_record(texts: dict[Path, str], ref: Ref, new: str) -> dict[Path, str]:
    if any(p.parent.name == ref.kind and p.stem == new for p in texts):
        raise CannotRename(f"there is already a {ref.kind}/{new}.")
    edits = {}
    for path, text in texts.items():
        text = re.sub(rf"\b{ref.kind}/{ref.id}(?![a-z0-9-])", f"{ref.kind}/{new}", text)
        text = _in_fields(text, _fields_to(ref.kind), ref.id, new)
        if path.parent.name == ref.kind and path.stem == ref.id:
            text = _keep_former(text, ref.id)
        edits[path] = text
    return edits


def _in_fields(text: str, fields: str, old: str, new: str) -> str:
    """Replace a bare id in the values of some fields, in line and in lists below them."""
    word = re.compile(rf"(?<![a-z0-9/-]){old}(?=(#[a-z0-9-]+)?(?![a-z0-9-]))")
    head = re.compile(rf"^(\s*)(- )?(.*?\b(?:{fields}):)(.*)$")
    lines, inside = [], -1
    for line in text.splitlines(keepends=True):
        indent = len(line) - len(line.lstrip(" "))
        if (
            inside >= 0
            and line.strip()
            and not (indent > inside or (indent == inside and line.lstrip().startswith("- ")))
        ):
            inside = -1
        if match := head.match(line.rstrip("\n")):
            line = re.sub(
                rf"(\b(?:{fields}):)((?:\s*\[[^\]]*\]|\s*\{{[^}}]*\}}|[^,}}\n]*))",
                lambda m: m[1] + word.sub(new, m[2]),
                line,
            )
            inside = len(match[1]) + (2 if match[2] else 0) if not match[4].strip() else -1
        elif inside >= 0:
            line = word.sub(new, line)
        lines.append(line)
    return "".join(lines)


def _keep_former(text: str, old: str) -> str:
    """Return a record's text with its former id under `was`."""
    if match := re.search(r"^was: \[(.*)\]", text, re.MULTILINE):
        return text[: match.end(1)] + f", {old}" + text[match.end(1) :]
    return text + ("" if text.endswith("\n") else "\n") + f"was: [{old}]\n"


def _rename_item(texts: dict[Path, str], homes: list[Path], ref: Ref, new: str) -> dict[Path, str]:
    edits = dict(texts)
    found = False
    for path in homes:
        text = texts[path]
        if re.search(rf"\bid: {new}(?![a-z0-9-])|^  {new}:", text, re.MULTILINE):
            raise CannotRename(f"{ref.kind}/{ref.id} already has an item '{new}'.")
        block = re.compile(rf"^(\s*)- id: {ref.item}[ \t]*$", re.MULTILINE)
        flow = re.compile(rf"\{{id: {ref.item}(?=[,}}])")
        key = re.compile(rf"^(  ){ref.item}:[ \t]*$", re.MULTILINE)
        if block.search(text):
            text = block.sub(rf"\1- id: {new}\n\1  was: [{ref.item}]", text, count=1)
        elif flow.search(text):
            text = flow.sub(f"{{id: {new}, was: [{ref.item}]", text, count=1)
        elif key.search(text):
            text = key.sub(rf"\1{new}:\n\1  was: [{ref.item}]", text, count=1)
        else:
            continue
        found = True
        text = re.sub(rf"(?<!\{{)\{{{ref.item}\}}(?!\}})", f"{{{new}}}", text)
        text = re.sub(rf"\b(go|after|before): {ref.item}(?![a-z0-9-])", rf"\1: {new}", text)
        edits[path] = text
    if not found:
        raise CannotRename(f"{ref.kind}/{ref.id} has no item '{ref.item}' that can be renamed.")
    for path, text in edits.items():
        edits[path] = re.sub(
            rf"(?<![a-z0-9-]){ref.id}#{ref.item}(?![a-z0-9-])", f"{ref.id}#{new}", text
        )
    return edits
