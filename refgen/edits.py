"""Edits of a YAML text at exact places; whatever else the author typed stays as it is."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from refgen.nodes import Node


@dataclass(frozen=True, slots=True, order=True)
class Edit:
    """What to put in place of the characters from `start` to `end`."""

    start: int
    end: int
    text: str


def edited(text: str, edits: Iterable[Edit]) -> str:
    """Return a text after some edits, which must not overlap."""
    parts, last = [], 0
    for edit in sorted(set(edits)):
        assert edit.start >= last
        parts += [text[last : edit.start], edit.text]
        last = edit.end
    return "".join([*parts, text[last:]])


def replaced_within(text: str, node: Node, old: str, new: str) -> list[Edit]:
    """Return the edits that write `new` for the whole word `old` in a value."""
    word = re.compile(rf"(?<![a-z0-9/#-]){re.escape(old)}(?![a-z0-9-])")
    start, end = node.span
    return [Edit(m.start(), m.end(), new) for m in word.finditer(text, start, end)]


def cited_within(text: str, node: Node, old: str, new: str) -> list[Edit]:
    """Return the edits that cite the figure `new` where a text cites `old` of its own record."""
    citation = re.compile(rf"(?<!\{{)\{{{re.escape(old)}\}}(?!\}})")
    start, end = node.span
    return [Edit(m.start(), m.end(), f"{{{new}}}") for m in citation.finditer(text, start, end)]


def former_kept(text: str, fields: Node, old: str) -> Edit:
    """Return the edit that adds a former id to the `was` of a map, behind its id if it has one."""
    assert isinstance(fields.value, dict)
    newline = "\r\n" if "\r\n" in text else "\n"
    was = fields.value.get("was")
    if was is not None and isinstance(was.value, list) and was.value:
        end = was.value[-1].span[1]
        if text[was.span[0]] == "[":
            return Edit(end, end, f", {old}")
        row = text[text.rfind("\n", 0, end) + 1 : end]
        line_end = (text + newline).index(newline, end)
        return Edit(line_end, line_end, f"{newline}{row[: row.index('-')]}- {old}")
    if was is not None:
        return Edit(*was.span, f"[{old}]")
    start = fields.span[0]
    if text[start : start + 1] == "{":
        return Edit(start + 1, start + 1, f"was: [{old}], ")
    if (name := fields.value.get("id")) is not None:
        margin = " " * (name.name_span[0] - text.rfind("\n", 0, name.name_span[0]) - 1)
        return Edit(name.span[1], name.span[1], f"{newline}{margin}was: [{old}]")
    margin = " " * (start - text.rfind("\n", 0, start) - 1)
    return Edit(start, start, f"was: [{old}]{newline}{margin}")
