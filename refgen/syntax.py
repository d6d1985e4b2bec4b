"""What keeps a file from being read as YAML, in the words of someone who writes records.

The reader's own wording ("did not find expected key") is for programmers and differs between its
two builds; the table gives, for each kind of error, the fact and what to do about it.
"""

from __future__ import annotations

import re
from typing import Any, NamedTuple

import yaml
from yaml import Mark, MarkedYAMLError, YAMLError

_QUOTE = "Put the whole text in quotes."
_CLOSE = "Close it. Inside brackets a text with a comma, colon or bracket needs quotes."
_BEGIN = "a text cannot begin with '{sign}'"


class _Fault(NamedTuple):
    """Words of the reader, and what is told instead."""

    words: str
    message: str
    hint: str = _QUOTE
    at_stop: bool = False
    """Whether the fault lies where the reader stopped, not where what it read began."""


# The first whose words occur is told.
_FAULTS = (
    _Fault(
        "could not find expected ':'",
        "no colon stands on this line",
        "Write 'name: value'; indent a text that goes on.",
    ),
    _Fault("cannot start any token", _BEGIN),
    _Fault("scanning an alias", _BEGIN),
    _Fault("scanning an anchor", _BEGIN),
    _Fault("keys are not allowed", _BEGIN),
    _Fault("tag", _BEGIN),
    _Fault("block scalar", _BEGIN),
    _Fault("unknown escape", "a backslash stands in double quotes", "Use single quotes.", True),
    _Fault(
        "quoted scalar",
        "a quote opens here and never closes",
        "Close it. Inside single quotes write an apostrophe twice.",
    ),
    _Fault(
        "node content",
        "'{sign}' stands where a value belongs",
        "Write a value before it, or take it out.",
    ),
    _Fault("flow", "'{sign}' opens here and does not close", _CLOSE),
    _Fault(
        "entries are not allowed",
        "a list cannot begin behind a colon",
        "Begin each entry on a line of its own, or put the text in quotes.",
    ),
    _Fault(
        "document start",
        "the file goes on after its end",
        "Remove the line '...'.",
    ),
)


def fault_in(text: str, error: YAMLError, loader: Any) -> tuple[int, str, str]:
    """Return the line (from 1) on which a file stops being YAML, what is wrong, what to do.

    `loader` is the build of the reader that found the error; the two differ about tabs.
    """
    if not isinstance(error, MarkedYAMLError) or error.problem_mark is None:
        return 1, "the file cannot be read as YAML", "Begin it anew from a record that works."
    lines = [*re.split(r"\r\n?|\n", text), ""]  # the fast build may stop behind the last
    stop = error.problem_mark
    start = error.context_mark or stop
    row, sign = lines[stop.line], _sign(lines, stop)
    before = row[: stop.column]
    if "\t" in row[: len(row) - len(row.lstrip())] or sign == "\t":
        hint = "Indent with spaces, not with the tab key."
        return stop.line + 1, "a tab stands before the text", hint
    said = f"{error.context} {error.problem}"
    if "values are not allowed" in said and ": " in before:
        return stop.line + 1, "a second ': ' stands on this line", _QUOTE
    if "values are not allowed" in said:
        hint = "Check the indentation. A text with ': ' in it needs quotes."
        return stop.line + 1, "this line does not go on from the one above", hint
    if "node content" in said and not "".join(lines[stop.line :]).strip():
        bracket, line = _last_open(text, loader)
        return line, f"'{bracket}' opens here and does not close", _CLOSE
    for fault in _FAULTS:
        if fault.words in said:
            mark = stop if fault.at_stop else start
            return mark.line + 1, fault.message.format(sign=_sign(lines, mark)), fault.hint
    if sign == ":" and not before.strip(" -"):
        return stop.line + 1, "no name stands before the colon", "Write 'name: value'."
    if before.strip():
        return stop.line + 1, "a text goes on after a quote or bracket that closed", _QUOTE
    hint = "Give the fields of one map, or the entries of one list, the same indentation."
    return stop.line + 1, "this line is not indented like its neighbours", hint


def _last_open(text: str, loader: Any) -> tuple[str, int]:
    """Return the last bracket that nothing closes, and its line."""
    opened = []
    for token in yaml.scan(text, Loader=loader):
        if isinstance(token, (yaml.FlowSequenceStartToken, yaml.FlowMappingStartToken)):
            opened.append(token.start_mark)
        elif isinstance(token, (yaml.FlowSequenceEndToken, yaml.FlowMappingEndToken)):
            opened.pop()
    return text[opened[-1].index], opened[-1].line + 1


def _sign(lines: list[str], mark: Mark) -> str:
    return lines[mark.line][mark.column : mark.column + 1]
