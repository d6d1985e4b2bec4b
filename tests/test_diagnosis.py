"""Causes taken over from another symptom, and questions that lead to an end."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from refgen.branching import walk_of
from refgen.catalog import Catalog
from refgen.diagnosis import whole_cause
from refgen.errors import DataError
from refgen.model.trouble import Path, Symptom

CatalogOf = Callable[..., Catalog]


def told(catalog_of: CatalogOf, *layers: dict[str, str]) -> list[str]:
    with pytest.raises(DataError) as caught:
        catalog_of(*layers)
    return [f"{problem.field}: {problem.message}" for problem in caught.value.problems]


def test_a_cause_taken_over_brings_all_but_its_check(catalog_of: CatalogOf) -> None:
    origin = (
        "causes:\n  - id: pulse\n    parts: [pulse-valve]\n    fix_by: [start]\n"
        "    cautions: [{hazard: injection, text: Bleed down.}]\n"
    )
    taken = "causes:\n  - {id: shakes, same_as: no-pressure#pulse, check: The hose is still.}\n"
    catalog = catalog_of({"symptoms/no-pressure": origin, "symptoms/weak-jet": taken})
    symptoms = {k: v for k, v in catalog.of_kind("symptoms").items() if isinstance(v, Symptom)}
    cause = whole_cause(symptoms["weak-jet"].causes[-1], symptoms)
    assert (cause.id, cause.title, cause.fix) == ("shakes", "Pulse left on", "Turn it off.")
    assert cause.check == "The hose is still."
    assert [ref.id for ref in (*cause.parts, *cause.fix_by)] == ["pulse-valve", "start"]
    assert [caution.text for caution in cause.cautions] == ["Bleed down."]
    assert cause.needs is not None
    assert not cause.applies_to(["unloader"])


def test_what_a_cause_says_itself_goes_before_what_it_takes_over(catalog_of: CatalogOf) -> None:
    taken = "causes:\n  - {id: dry, title: Tank dry again}\n"
    catalog = catalog_of({"symptoms/weak-jet": taken})
    symptoms = {k: v for k, v in catalog.of_kind("symptoms").items() if isinstance(v, Symptom)}
    cause = whole_cause(symptoms["weak-jet"].causes[0], symptoms)
    assert (cause.title, cause.fix) == ("Tank dry again", "Fill it.")


def path_of(*questions: tuple[str, str, str], ends: str = "x") -> dict[str, str]:
    """Return a path: each question with where yes and no lead; an end a letter."""
    asked = "".join(
        f"  - id: {name}\n    ask: So?\n"
        f"    choices: [{{id: yes, text: Yes, go: {yes}}}, {{id: no, text: No, go: {no}}}]\n"
        for name, yes, no in questions
    )
    ended = "".join(f"  - {{id: {end}, text: End., to: [terms/bypass]}}\n" for end in ends)
    return {"paths/trial": f"title: T\nanswer: T.\nquestions:\n{asked}ends:\n{ended}"}


def test_a_path_may_go_back_as_long_as_an_end_can_be_reached(catalog_of: CatalogOf) -> None:
    catalog_of(path_of(("a", "b", "x"), ("b", "a", "c"), ("c", "b", "x")))


@pytest.mark.parametrize(
    ("questions", "messages"),
    [
        (
            [("a", "b", "x"), ("b", "c", "c"), ("c", "b", "b")],
            ["questions.b: never", "questions.c: never"],
        ),
        ([("a", "x", "x"), ("b", "a", "x")], ["questions.b: here"]),
        ([("a", "x", "q")], ["questions.a.choices.no.go: nowhere"]),
        (  # where b was to lead is not known, so it is not also told to lead to no end
            [("a", "b", "x"), ("b", "q", "q")],
            ["questions.b.choices.yes.go: nowhere", "questions.b.choices.no.go: nowhere"],
        ),
        ([("a", "a", "a")], ["ends.x: here", "questions.a: never"]),
    ],
)
def test_a_path_that_loses_its_reader_is_told(
    catalog_of: CatalogOf, questions: list[tuple[str, str, str]], messages: list[str]
) -> None:
    said = {
        "never": "its answers never lead to an end",
        "here": "no answer leads here",
        "nowhere": "leads nowhere: no 'q'",
    }
    expected = {f"{m.split(': ')[0]}: {said[m.split(': ')[1]]}" for m in messages}
    assert set(told(catalog_of, path_of(*questions))) == expected


def machine_with(*fitted: str) -> str:
    """Return a machine that has a drive and these parts, and lacks the others that are asked."""
    lacking = {"petrol-engine", "electric-motor", "pulse-valve"} - {*fitted}
    return (
        "title: Cart\nanswer: X.\nflow: 8 gpm\npressure: 3000 psi\nunloader: 2800 psi\n"
        "hoses: [{id: drum, hose: half-line, length: 200 ft}]\nnozzles: [small-egg]\n"
        f"fitted: [{', '.join(fitted)}]\nnot_fitted: [{', '.join(sorted(lacking))}]\n"
    )


@pytest.mark.parametrize(
    ("fitted", "reached"),
    [
        (None, {"first", "shake", "still", "x", "y"}),
        (["electric-motor"], {"first", "x"}),
        (["petrol-engine"], {"first", "still", "x", "y"}),
        (["petrol-engine", "pulse-valve"], {"first", "shake", "x", "y"}),
    ],
)
def test_a_path_is_walked_by_the_answers_a_machine_can_give(
    fitted: list[str] | None, reached: set[str]
) -> None:
    def answer(go: str, **fit: str) -> dict[str, str]:
        return {"id": go, "text": go, "go": go, **fit}

    def question(name: str, *choices: dict[str, str], **fit: str) -> dict[str, object]:
        return {"id": name, "ask": "So?", "choices": choices, **fit}

    pulse = {"needs": "pulse-valve"}
    no_pulse = {"needs": "petrol-engine", "unless": "pulse-valve"}
    path = Path.model_validate(
        {
            "title": "T",
            "answer": "T.",
            "questions": [
                question(
                    "first", answer("shake", **pulse), answer("still", **no_pulse), answer("x")
                ),
                question("shake", answer("x"), answer("y"), **pulse),
                question("still", answer("x"), answer("y"), **no_pulse),
            ],
            "ends": [
                {"id": "x", "text": "X.", "to": ["terms/bypass"]},
                {"id": "y", "text": "Y.", "to": ["terms/bypass"], "needs": "petrol-engine"},
            ],
        }
    )
    walk = walk_of(path, fitted)
    assert walk.reached == reached
    assert walk.ending == set(walk.choices) == reached - {"x", "y"}


def test_one_line_tells_every_machine_that_a_path_loses(catalog_of: CatalogOf) -> None:
    path = path_of(("a", "x", "y"), ends="xy")
    lost = {"paths/trial": path["paths/trial"].replace("go: y}", "go: y, needs: electric-motor}")}
    layer = {
        **lost,
        "machines/cart": machine_with("petrol-engine"),
        "machines/van": machine_with("electric-motor"),
    }
    message = "ends.y: no answer leads here on machines 'barrow', 'cart'"
    assert told(catalog_of, layer) == [message]


def test_a_question_no_machine_is_led_to_must_not_be_shown_to_it(catalog_of: CatalogOf) -> None:
    path = path_of(("a", "b", "x"), ("b", "x", "x"))["paths/trial"]
    path = path.replace("go: b}", "go: b, needs: electric-motor}")
    message = "questions.b: no answer leads here on machine 'barrow'"
    assert told(catalog_of, {"paths/trial": path}) == [message]
    hidden = path.replace("id: b\n", "id: b\n    needs: electric-motor\n")
    catalog_of({"paths/trial": hidden})
