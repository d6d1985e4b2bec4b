"""How a mistake in the data is told: place, field, fact, hint."""

from __future__ import annotations

import pytest

from refgen.errors import (
    MOST_TOLD,
    DataError,
    OutOfRange,
    Place,
    Problem,
    RefgenError,
    did_you_mean,
    first_of,
)


def test_a_problem_is_told_as_place_field_fact_and_hint() -> None:
    problem = Problem(Place("a/b.yml", 3, "a"), "jets.back", "has no bore", "Add one.")
    assert str(problem) == "a/b.yml:3: jets.back: has no bore\n    Add one."
    assert str(Problem(Place("a/b.yml", 3), "", "is empty")) == "a/b.yml:3: is empty"


def test_problems_are_told_once_each_sorted_by_file_and_line() -> None:
    one, two, ten = (Problem(Place("b.yml", line), "", "is wrong") for line in (1, 2, 10))
    other = Problem(Place("a.yml", 5), "x", "is wrong", "Mend it.")
    assert str(DataError([ten, two, other, one, two])) == (
        "4 problems in the data\n"
        "  a.yml:5: x: is wrong\n"
        "    Mend it.\n"
        "  b.yml:1: is wrong\n"
        "  b.yml:2: is wrong\n"
        "  b.yml:10: is wrong"
    )
    assert str(DataError([one])) == "1 problem in the data\n  b.yml:1: is wrong"


def test_both_errors_that_cross_borders_can_be_caught_as_one() -> None:
    for error in (DataError([]), OutOfRange("no formula holds")):
        assert isinstance(error, RefgenError)
    assert isinstance(OutOfRange("x"), ValueError)


@pytest.mark.parametrize(
    ("word", "known", "hint"),
    [
        ("answerr", ["answer", "title"], "Did you mean 'answer'?"),
        ("colour", ["title", "answer"], "Known: answer, title."),
        ("colour", [f"word-{n}" for n in range(13)], ""),
        ("colour", [], ""),
        ("x", ["b", "a", "b"], "Known: a, b."),
    ],
)
def test_a_hint_names_the_nearest_word_or_the_few_there_are(
    word: str, known: list[str], hint: str
) -> None:
    assert did_you_mean(word, known) == hint


def test_of_very_many_mistakes_in_a_file_the_first_are_told_and_that_there_are_more() -> None:
    many = (Problem(Place("a.yml", n), "", "wrong") for n in range(1, 100_000))
    told = first_of(many, Place("a.yml", 1))
    assert len(told) == MOST_TOLD + 1
    assert str(told[-1]).startswith(f"a.yml:1: more is wrong here than the {MOST_TOLD} mistakes")
    few = [Problem(Place("a.yml", n), "", "wrong") for n in range(1, MOST_TOLD + 1)]
    assert first_of(iter(few), Place("a.yml", 1)) == few
