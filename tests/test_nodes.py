"""YAML read into located values, without YAML's old traps."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from refgen import nodes
from refgen.errors import Place
from refgen.nodes import Node, plain, read_text

read_anew = read_text.__wrapped__  # what is remembered says nothing of another reader
CASES = sorted((Path(__file__).parent / "cases").glob("*.yml"))


def read(text: str) -> Node:
    node, problems = read_text(text, "a.yml", "base")
    assert problems == []
    assert node is not None
    return node


def test_every_value_knows_its_line() -> None:
    text = (
        "# a comment\n"
        "title: Egg\n"
        "\n"
        "jets:\n"
        "  - id: back\n"
        "    angle: 30 deg\n"
        "  - {id: ahead,\n"
        "     angle: 0 deg}\n"
        "answer: >\n"
        "  Runs\n"
        "  forward.\n"
    )
    fields = read(text).value
    assert isinstance(fields, dict)
    assert fields["title"].place == Place("a.yml", 2, "base")
    assert fields["jets"].place.line == 4
    back, ahead = fields["jets"].value
    assert (back.place.line, back.value["angle"].place.line) == (5, 6)
    assert (ahead.place.line, ahead.value["angle"].place.line) == (7, 8)
    assert fields["answer"].place.line == 9


def test_whoever_edits_the_text_is_told_where_in_it_a_value_and_its_name_stand() -> None:
    text = "title: Egg\njets:\n  - {id: back, see: [a, 'b']}\n"
    node, _ = read_text(text, "a.yml", spans=True)
    assert node is not None
    fields = node.value
    assert isinstance(fields, dict)

    def cut(node: Node) -> tuple[str, str]:
        return text[slice(*node.name_span)], text[slice(*node.span)].rstrip()

    assert cut(fields["title"]) == ("title", "Egg")
    assert cut(fields["jets"]) == ("jets", "- {id: back, see: [a, 'b']}")
    (jet,) = fields["jets"].value
    assert cut(jet) == ("", "{id: back, see: [a, 'b']}")
    assert cut(jet.value["see"]) == ("see", "[a, 'b']")
    assert cut(jet.value["see"].value[1]) == ("", "'b'")


def test_whoever_does_not_ask_is_told_the_line_alone() -> None:
    node, _ = read_text("title: Egg\n", "a.yml")
    assert node is not None
    assert isinstance(node.value, dict)
    title = node.value["title"]
    assert (title.place, title.span, title.name_span) == (Place("a.yml", 1), (0, 0), (0, 0))
    assert node == read_text("title: Egg\n", "a.yml", spans=True)[0]


def test_the_mark_that_some_editors_put_before_a_text_is_passed_over() -> None:
    assert plain(read("\ufefftitle: Egg\n")) == {"title": "Egg"}


def test_without_their_places_values_are_plain() -> None:
    assert plain(read("a: [x, {b: c}]\nd: true\n")) == {"a": ["x", {"b": "c"}], "d": True}


@pytest.mark.parametrize(
    ("written", "value"),
    [
        # YAML 1.1 would make of these: False, True, 8, 750, a float, a date, 31, 1000.
        ("no", "no"),
        ("on", "on"),
        ("010", "010"),
        ("12:30", "12:30"),
        ("1e3", "1e3"),
        ("2026-11-20", "2026-11-20"),
        ("0x1F", "0x1F"),
        ("1_000", "1_000"),
        # YAML 1.2, section 10.3.2, core schema: what is no text.
        ("true", True),
        ("True", True),
        ("TRUE", True),
        ("false", False),
        ("False", False),
        ("FALSE", False),
        ("null", None),
        ("Null", None),
        ("NULL", None),
        ("~", None),
        ("", None),
        ("'true'", "true"),
        ('"null"', "null"),
        ("''", ""),
        ("! 5", "5"),
    ],
)
def test_a_scalar_is_what_was_typed(written: str, value: object) -> None:
    assert plain(read(f"a: {written}\n")) == {"a": value}


def test_a_text_over_lines_is_folded_as_yaml_says() -> None:
    assert plain(read("a: |\n  x\n  y\nb: >-\n  x\n  y\nc: x\n  y\n")) == {
        "a": "x\ny\n",
        "b": "x y",
        "c": "x y",
    }


words = st.text("abc xyz:#'\"-{}[],é½°\n", max_size=12)


@settings(derandomize=True, max_examples=100, deadline=None)
@given(st.dictionaries(words, st.one_of(words, st.lists(words, max_size=3)), max_size=4))
def test_what_another_program_writes_as_yaml_is_read_as_it_was(value: dict[str, Any]) -> None:
    text = yaml.safe_dump(value, default_style='"', allow_unicode=True)
    assert plain(read(text)) == value


def test_a_first_key_keeps_its_value_when_it_stands_twice() -> None:
    node, problems = read_text("a: 1\nb: 2\na: 3\n", "a.yml")
    assert node is not None
    assert plain(node) == {"a": "1", "b": "2"}
    assert [str(problem) for problem in problems] == [
        "a.yml:3: 'a' stands twice\n    It was already given (line 1)."
    ]


def test_nesting_is_read_up_to_its_limit_and_no_deeper() -> None:
    deep = "[" * 23 + "x" + "]" * 23  # the value stands on the 24th level below the file
    read(f"a: {deep}\n")
    _, problems = read_text(f"a: [{deep}]\n", "a.yml")
    assert [problem.message for problem in problems] == ["values are nested too deep"]


def test_a_file_made_to_explode_is_refused_at_once() -> None:
    bomb = "a: &a [x, x]\n" + "".join(
        f"{b}: &{b} [{', '.join([f'*{a}'] * 9)}]\n"
        for a, b in zip("abcdefgh", "bcdefghi", strict=True)
    )
    began = time.perf_counter()
    _, problems = read_text(bomb + "z: " + "[" * 100_000, "a.yml")
    assert [problem.place.line for problem in problems] == [1]
    assert time.perf_counter() - began < 1


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_both_builds_of_the_yaml_reader_tell_the_same(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = yaml.safe_load(path.read_text("utf-8"))["files"]
    texts = [text for text in files.values() if isinstance(text, str)]
    fast = [read_anew(text, "a.yml") for text in texts]
    monkeypatch.setattr(nodes, "_Loader", yaml.SafeLoader)
    assert [read_anew(text, "a.yml") for text in texts] == fast


def test_an_invisible_character_is_told_with_its_line() -> None:
    for text, line in (("\na: b\u200bc\n", 2), ("a: \u202eb\n", 1)):
        (problem,) = read_text(text, "a.yml")[1]
        assert problem.place.line == line


@settings(derandomize=True, max_examples=300, deadline=None)
@given(st.text("ab:- \t\n'\"[]{},#&*!|>%@`?\\\ud7ff", max_size=20))
def test_no_text_at_all_makes_the_reader_fail(text: str) -> None:
    node, problems = read_text(text, "a.yml")
    assert (node is None) <= bool(problems)
    for problem in problems:
        assert 1 <= problem.place.line <= text.count("\n") + 2
        assert problem.hint
