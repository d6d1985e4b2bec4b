"""What keeps a file from being YAML, told in plain words, the same by both builds of the reader."""

from __future__ import annotations

from typing import Any

import pytest
import yaml

from refgen import nodes
from refgen.nodes import read_text
from refgen.syntax import fault_in

QUOTE = "Put the whole text in quotes."
CLOSE = "Close it. Inside brackets a text with a comma, colon or bracket needs quotes."
CLOSE_QUOTE = "Close it. Inside single quotes write an apostrophe twice."
ALIGN = "Give the fields of one map, or the entries of one list, the same indentation."
INDENT = "Check the indentation. A text with ': ' in it needs quotes."
SPACES = "Indent with spaces, not with the tab key."
VALUE = "Write a value before it, or take it out."
ENTRIES = "Begin each entry on a line of its own, or put the text in quotes."
NEIGHBOURS = "this line is not indented like its neighbours"
AFTER = "a text goes on after a quote or bracket that closed"
NOT_ON = "this line does not go on from the one above"
TAB = "a tab stands before the text"


@pytest.mark.parametrize(
    ("text", "line", "message", "hint"),
    [
        ("a: 1\nb: %c\n", 2, "a text cannot begin with '%'", QUOTE),
        ("a: `b`\n", 1, "a text cannot begin with '`'", QUOTE),
        ("a: ? b\n", 1, "a text cannot begin with '?'", QUOTE),
        ("a: !b!c d\n", 1, "a text cannot begin with '!'", QUOTE),
        ("a: | b\n", 1, "a text cannot begin with '|'", QUOTE),
        ("a: 1\nb: * c\n", 2, "a text cannot begin with '*'", QUOTE),
        ("a: 1\nb: & c\n", 2, "a text cannot begin with '&'", QUOTE),
        ("a: 'b\n\n\n", 1, "a quote opens here and never closes", CLOSE_QUOTE),
        ("a: 1\nb: 'c\n", 2, "a quote opens here and never closes", CLOSE_QUOTE),
        ("a: {b: c\nd: e\n", 1, "'{' opens here and does not close", CLOSE),
        ("a: [b, c]]\n", 1, AFTER, QUOTE),
        ("a: [\n", 1, "'[' opens here and does not close", CLOSE),
        ("a: 1\nb: {\n\n", 2, "'{' opens here and does not close", CLOSE),
        ("x: 1\na: [b, [c, d], {e: f},\n", 2, "'[' opens here and does not close", CLOSE),
        ("a: [b,\n  {c: [d,\n", 2, "'[' opens here and does not close", CLOSE),
        ('a: "b\n  c\\q"\n', 2, "a backslash stands in double quotes", "Use single quotes."),
        ("a: [b,, c]\n", 1, "',' stands where a value belongs", VALUE),
        ("a: ]\n", 1, "']' stands where a value belongs", VALUE),
        ("a: 'b' c\n", 1, AFTER, QUOTE),
        ("a: b: c\n", 1, "a second ': ' stands on this line", QUOTE),
        ("a: - b\n", 1, "a list cannot begin behind a colon", ENTRIES),
        ("a:\n  - b\n - c\n", 3, NEIGHBOURS, ALIGN),
        ("a:\n- b\n  c: d\n", 3, NOT_ON, INDENT),
        ("- a\nb: c\n", 2, NEIGHBOURS, ALIGN),
        ("a: b\n...\nc: d\n", 3, "the file goes on after its end", "Remove the line '...'."),
        ("a: 1\n\tb: c\n", 2, TAB, SPACES),
        ("a: [b,\n\t@c]\n", 2, TAB, SPACES),
        ("a:\n  -\tb: c\n", 2, TAB, SPACES),
        ("{\n", 1, "'{' opens here and does not close", CLOSE),
        ("x: 1\na: ['b]', (c),\n\n", 2, "'[' opens here and does not close", CLOSE),
        ("x: 1\na: don't [b]\nc: [it's,\n", 3, "'[' opens here and does not close", CLOSE),
        ("a: 1\r\nb: %c\r\n", 2, "a text cannot begin with '%'", QUOTE),
        ("a: 1\rb: %c\r", 2, "a text cannot begin with '%'", QUOTE),
        ("a:\n  - : b\n", 2, "no name stands before the colon", "Write 'name: value'."),
        ("a:\n  b: 1\n  \tc: d\n", 3, TAB, SPACES),
        (
            "a: 1\nbut\nc: 2\n",
            2,
            "no colon stands on this line",
            "Write 'name: value'; indent a text that goes on.",
        ),
    ],
)
@pytest.mark.parametrize("loader", [yaml.SafeLoader, yaml.CSafeLoader], ids=["slow", "fast"])
def test_what_is_not_yaml_is_told_in_plain_words(
    text: str, line: int, message: str, hint: str, loader: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(nodes, "_Loader", loader)
    node, problems = read_text.__wrapped__(text, "a.yml")  # as if never read by the other
    assert node is None
    assert [(problem.place.line, problem.message, problem.hint) for problem in problems] == [
        (line, message, hint)
    ]


def test_a_tab_within_a_text_is_not_taken_for_an_indent() -> None:
    text = "a: b\tc: d\n"  # the slow build stops at the tab, the fast one behind it
    with pytest.raises(yaml.YAMLError) as caught:
        list(yaml.parse(text, Loader=yaml.CSafeLoader))
    told = fault_in(text, caught.value, yaml.CSafeLoader)
    assert told == (1, "a second ': ' stands on this line", QUOTE)


@pytest.mark.parametrize(
    "error", [yaml.YAMLError("cannot say where"), yaml.MarkedYAMLError(problem="nor this")]
)
def test_a_fault_without_a_place_is_told_at_the_beginning(error: yaml.YAMLError) -> None:
    assert fault_in("x: 1\na: b\n", error, yaml.SafeLoader) == (
        1,
        "the file cannot be read as YAML",
        "Begin it anew from a record that works.",
    )
