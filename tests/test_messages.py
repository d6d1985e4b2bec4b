"""What pydantic finds wrong, told in the words of someone who edits YAML."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Annotated, Any, get_args, get_origin

import pytest
from pydantic import BaseModel, TypeAdapter, ValidationError

from refgen.messages import field_names, locate, propose_id, read_model
from refgen.model import KINDS
from refgen.model.base import models_within
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
    entries = node_of("see:\n  - a\n")
    assert locate(entries, ("see", 1))[1] == "see"
    assert locate(entries, ("see", 0, "id"))[1] == "see.1"
    assert locate(node_of("steps: [{id: [x]}]\n"), ("steps", 0))[1] == "steps.1"


def test_a_missing_id_is_proposed_from_the_first_words() -> None:
    assert propose_id({"title": "Nozzle is worn out, or too large"}) == "nozzle-is-worn-out"
    assert propose_id({"text": "Don't *park* it!"}) == "don-t-park-it"
    assert propose_id({"ask": "Où est-il?"}) == "o-est-il"
    assert propose_id({"label": "The office", "text": "Ask first."}) == "ask-first"
    assert propose_id({"label": "The office"}) == "the-office"
    assert propose_id({"note": "x"}) == ""
    assert propose_id("text") == ""


def test_a_proposed_id_is_one_however_long_its_words() -> None:
    word = "hydroxyethylcelluloses"  # 22 letters
    assert propose_id({"title": f"{word} {word} {word}"}) == f"{word}-{word}-hydroxyethylce"
    assert propose_id({"title": f"{word[1:]} {word} {word[:15]} {word}"}) == (
        f"{word[1:]}-{word}-{word[:15]}"  # 21 + 1 + 22 + 1 + 15 = 60
    )
    assert propose_id({"title": f"{word} {word} {word[:13]} {word}"}) == (
        f"{word}-{word}-{word[:13]}"  # 59; a hyphen at the end would make it no id
    )


EGG = "title: T\nanswer: A\ndoes: [D]\ndoes_not: [N]\ndischarge_coefficient: %s\njets: [%s]\n"
JET = "{id: a, count: %s, angle: 15 deg, faces: rear}"
VALVE = "title: T\nanswer: A\ndoes: D\n"
BRAND = "name: N\nsite: S\ncolours: {primary: '#000000', on_primary: '%s'}\n"
TEXT, LIST = "Put it in quotes if need be.", "Write each entry on its own line, after '- '."
MAP, WORDS = "Write 'name: value' lines, indented.", "words: {home: Home}\n"
AN_ID = "Use small letters, digits and single hyphens, such as 'worn-jets'."


@pytest.mark.parametrize(
    ("model", "text", "field", "message", "hint"),
    [
        ("patterns", EGG % (0.9, JET % "two"), "jets.a.count", "a whole number, not 'two'", 1),
        ("patterns", EGG % (0.9, JET % "[2]"), "jets.a.count", "a whole number, not a list", 1),
        ("patterns", EGG % (0.9, JET % "true"), "jets.a.count", "a whole number, not 'true'", 1),
        ("patterns", EGG % ("high", JET % 2), "discharge_coefficient", "a number, not 'high'", 2),
        ("patterns", EGG % ("[1]", JET % 2), "discharge_coefficient", "a number, not a list", 2),
        ("patterns", EGG % ("nan", JET % 2), "discharge_coefficient", "a number, not 'nan'", 2),
        ("patterns", EGG % ("false", JET % 2), "discharge_coefficient", "a number, not 'false'", 2),
        ("parts", VALVE + "ask: maybe\n", "ask", "true or false, not 'maybe'", ""),
        ("parts", VALVE + "ask: [x]\n", "ask", "true or false, not a list", ""),
        ("parts", VALVE + "why: {x: y}\n", "why", "text, not a map of fields", TEXT),
        ("parts", VALVE + "also_called: x\n", "also_called", "a list, not 'x'", LIST),
        ("parts", VALVE + "figures: [x]\n", "figures", "a map of fields, not a list", MAP),
        ("parts", VALVE + "reviewed: true\n", "reviewed", "a map of fields, not 'true'", MAP),
    ],
)
def test_what_is_of_another_sort_is_told_with_what_it_must_be(
    model: str, text: str, field: str, message: str, hint: str | int
) -> None:
    hint = {1: "Write digits only.", 2: "Such as 0.75."}[hint] if isinstance(hint, int) else hint
    (problem,) = read_model(KINDS[model], node_of(text))[1]
    assert (problem.field, problem.message, problem.hint) == (field, f"must be {message}", hint)


@pytest.mark.parametrize(
    ("model", "text", "field", "message", "hint"),
    [
        (
            KINDS["patterns"],
            EGG % (0.9, JET % 61),
            "jets.a.count",
            "'61' is too large",
            "At most 60.",
        ),
        (
            KINDS["patterns"],
            EGG % (0.9, JET % 0),
            "jets.a.count",
            "'0' is too small",
            "At least 1.",
        ),
        (
            KINDS["parts"],
            VALVE + "reviewed: {on: May, role: R}\n",
            "reviewed.on",
            "'May' is no date",
            "Such as 2026-11-20.",
        ),
        (
            KINDS["parts"],
            VALVE + "reviewed: {on: [x], role: R}\n",
            "reviewed.on",
            "a list is no date",
            "Such as 2026-11-20.",
        ),
        (
            KINDS["parts"],
            VALVE + "group: Big ones\n",
            "group",
            "'Big ones' is not written right",
            AN_ID,
        ),
        (KINDS["parts"], VALVE + "was: [a--b]\n", "was.1", "'a--b' is not written right", AN_ID),
        (
            Brand,
            BRAND % "white",
            "colours.on_primary",
            "'white' is not written right",
            "Write a colour as '#' and six digits or letters a to f.",
        ),
        (
            Brand,
            BRAND % "#ffffff" + "address: www.ours.example\n",
            "address",
            "'www.ours.example' is not written right",
            "Write an address that starts with https://.",
        ),
        (
            Brand,
            BRAND % "#ffffff" + "language: English\n",
            "language",
            "'English' is not written right",
            "Write it as two small letters, such as 'en', or with a country, such as 'es-MX'.",
        ),
        (
            Brand,
            BRAND % "#ffffff" + "units_first: si\n",
            "units_first",
            "'si' is not one of the choices",
            "Known: metric, us.",
        ),
        (
            Words,
            "words: {Home-page: Home}\n",
            "words.Home-page",
            "'Home-page' is not written right",
            "Use small letters, digits and underscores, such as 'page_mark'.",
        ),
        (
            Words,
            WORDS + "names: {/terms.html: [glossary]}\n",
            "names./terms.html",
            "'/terms.html' is not written right",
            "Write the page's address without '.html', such as 'terms/index'.",
        ),
    ],
)
def test_what_is_not_as_it_must_be_is_told_with_how_to_write_it(
    model: type[BaseModel], text: str, field: str, message: str, hint: str
) -> None:
    (problem,) = read_model(model, node_of(text))[1]
    assert (problem.field, problem.message, problem.hint) == (field, message, hint)


def test_a_text_may_be_as_long_as_told_and_no_longer() -> None:
    def longest(letters: int) -> list[str]:
        return told(KINDS["parts"], f"title: {'t' * letters}\nanswer: A\ndoes: D\n")

    assert longest(300) == []
    assert longest(301) == [
        "a.yml:1: title: is too long (301 characters)\n    Use at most 300; divide it."
    ]


def test_true_is_no_number_in_any_field() -> None:
    def within(kind: Any) -> set[Any]:
        return {kind}.union(*(within(part) for part in get_args(kind)))

    numbers = 0
    for model in models_within(MODELS):
        for info in model.model_fields.values():
            if {int, float} & within(info.annotation):
                numbers += 1
                value = (True,) if get_origin(info.annotation) is tuple else True
                adapter = TypeAdapter(Annotated[info.annotation, info])
                with pytest.raises(ValidationError, match="unable to parse string as"):
                    adapter.validate_python(value)
    assert numbers >= 11


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
    assert told(model, text + row % ("x" * 1501)) == [
        "a.yml:5: given_rows.r.cells.1: is too long (1501 characters)\n"
        "    Use at most 1500; divide it."
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
