"""What pydantic finds wrong, told in the words of someone who edits YAML."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, get_args, get_origin

import pytest
from pydantic import BaseModel

from refgen.messages import field_names, locate, propose_id, read_model
from refgen.model import KINDS
from refgen.model.company import Brand, Words
from refgen.model.setup import Setup
from refgen.model.trouble import Symptom
from refgen.model.work import Procedure
from refgen.nodes import Node, read_text

MODELS: list[type[BaseModel]] = [*KINDS.values(), Brand, Words, Setup]


def node_of(text: str) -> Node:
    node, problems = read_text(text, "a.yml")
    assert node is not None, problems
    return node


def told(model: type[BaseModel], text: str) -> list[str]:
    return [str(problem) for problem in read_model(model, node_of(text))[1]]


def test_a_path_is_named_by_ids_where_there_are_and_by_numbers_from_one() -> None:
    node = node_of("steps:\n  - id: fill\n    see:\n      - a\n      - b\n  - text: x\n")
    assert locate(node, ("steps", 0, "see", 1))[1] == "steps.fill.see.2"
    assert locate(node, ("steps", 1, "text"))[1] == "steps.2.text"
    assert locate(node, ("steps", 0, "see", 1))[0].line == 5


def test_what_was_never_written_is_told_at_the_nearest_thing_that_was() -> None:
    node = node_of("a:\n  b: c\n")
    place, name = locate(node, ("a", "function-after[x]", "missing", 4, "deep"))
    assert (place.line, name) == (1, "a")
    assert locate(node, ())[1] == ""


def test_a_missing_id_is_proposed_from_the_first_words() -> None:
    assert propose_id({"title": "Nozzle is worn out, or too large"}) == "nozzle-is-worn-out"
    assert propose_id({"text": "Don't *park* it!"}) == "don-t-park-it"
    assert propose_id({"ask": "Où est-il?"}) == "o-est-il"
    assert propose_id({"note": "x"}) == ""
    assert propose_id("text") == ""


def test_a_proposed_id_is_told_as_the_hint() -> None:
    text = "title: T\nanswer: A\nwho: W\nwhen: W\ndone: [D]\nsteps:\n  - text: Fill the tank.\n"
    assert told(Procedure, text) == [
        "a.yml:7: steps.1: 'id' is missing\n    Add 'id: fill-the-tank'; once published it stays."
    ]


def test_of_text_or_map_only_what_was_written_is_told_of() -> None:
    text = "title: T\nanswer: A\ngiven_columns: [{id: a, title: A}]\nhow_to_read: [X]\n"
    row = "given_rows: [{id: r, title: R, cells: [%s]}]\n"
    model = KINDS["tables"]
    assert told(model, text + row % "{is: 10, basis: caution}") == [
        "a.yml:5: given_rows.r.cells.1.is: '10' has no unit\n"
        "    Write a number and a unit, for example '1900 psi', '3/8 in' or '45 L/min'."
    ]
    assert told(model, text + row % "''") == [
        "a.yml:5: given_rows.r.cells.1: is empty\n    Write a text, or remove the line."
    ]


def test_every_entry_of_a_list_is_told_of_and_the_list_is_not_called_short() -> None:
    text = (
        "title: T\nanswer: A\nfirst: F\nstop: [{id: A, text: x}]\n"
        "causes:\n  - {id: a, check: C, title: T}\n  - {id: b, check: 5 > 3, fix: [x], title: T}\n"
    )
    assert [line.split("\n")[0] for line in told(Symptom, text)] == [
        "a.yml:4: stop.A.id: 'A' is not written right",
        "a.yml:6: causes.a: needs a title and a fix",
        "a.yml:7: causes.b.fix: must be text, not a list",
    ]


def test_a_long_value_is_told_by_its_beginning() -> None:
    text = "title: T\nanswer: A\ndiscovered: x\nask: %s\n"
    sixty, more = "y" * 60, "y" * 61
    assert f"a.yml:4: ask: must be true or false, not '{sixty}'" in told(
        KINDS["parts"], text % sixty
    )
    cut = f"a.yml:4: ask: must be true or false, not '{sixty}…'"
    assert cut in told(KINDS["parts"], text % more)


def test_a_hint_names_fields_of_the_record_and_of_all_within() -> None:
    names = field_names(Symptom)
    assert {"title", "causes", "check", "hazard", "is", "basis"} <= names
    assert "is_" not in names


def places_in(model: type[BaseModel], outer: str = "%s", depth: int = 0) -> Iterator[str]:
    """Yield a text for each field of a model and of those within it, with %s for its value."""
    for name, info in model.model_fields.items():
        field = outer % f"{info.alias or name}: %s"
        yield field
        waiting: list[tuple[Any, str]] = [(info.annotation, "%s")]
        while waiting and depth < 3:
            kind, form = waiting.pop()
            inner = [part for part in get_args(kind) if part is not Ellipsis]
            if get_origin(kind) is tuple:
                form = form % "[%s]"
            elif get_origin(kind) is dict:
                form = form % "{some-id: %s}"
            elif isinstance(kind, type) and issubclass(kind, BaseModel):
                yield from places_in(kind, field % (form % "{%s}"), depth + 1)
            waiting += [(part, form) for part in inner]


WRONG = ("[]", "[[x]]", "{x: y}", "''", "~", "true", "-7", "x y", "[x, {y: z}]", "1e999")


def test_places_are_found_deep_within_a_record() -> None:
    places = set(places_in(Symptom))
    assert "causes: [{cautions: [{hazard: %s}]}]" in places
    assert "figures: {some-id: {differs: [{is: %s}]}}" in places


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_no_message_of_pydantics_own_ever_reaches_an_author(model: type[BaseModel]) -> None:
    # pydantic's wording: "Input should be …", "Value error, …", "a valid string", "[type=…".
    foreign = re.compile(r"input|valid|value error|instance|pydantic|type=|union|tuple|NoneType")
    places = list(places_in(model))
    for place in places:
        for value in WRONG:
            for problem in read_model(model, node_of(place % value + "\n"))[1]:
                said = f"{problem.message} {problem.hint}"
                assert not foreign.search(said), (place % value, said)


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_one_wrong_value_is_told_in_one_message(model: type[BaseModel]) -> None:
    for place in places_in(model):
        for value in WRONG:
            told_of: dict[str, list[str]] = {}
            for problem in read_model(model, node_of(place % value + "\n"))[1]:
                told_of.setdefault(problem.field, []).append(problem.message)
            for field, messages in told_of.items():
                missing = [message for message in messages if message.endswith("is missing")]
                assert len(messages) - len(missing) <= 1, (place % value, field, messages)
