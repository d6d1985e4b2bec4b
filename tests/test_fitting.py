"""What is fitted decides what is shown, and every machine has exactly one way."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from refgen.catalog import Catalog
from refgen.errors import DataError
from refgen.fitting import variants_for, whole_cause
from refgen.model.fit import Fitted, Parts
from refgen.model.trouble import Symptom
from refgen.model.work import Procedure

CatalogOf = Callable[..., Catalog]


def told(catalog_of: CatalogOf, *layers: dict[str, str]) -> list[str]:
    with pytest.raises(DataError) as caught:
        catalog_of(*layers)
    return [f"{problem.field}: {problem.message}" for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("needs", "unless", "fitted", "shown"),
    [
        (None, None, "", True),
        ("a", None, "a", True),
        ("a", None, "b", False),
        (["a", "b"], None, "a", False),
        (["a", "b"], None, "a b", True),
        ({"any": ["a", "b"]}, None, "b", True),
        ({"any": ["a", "b"]}, None, "c", False),
        ({"all": ["a"], "any": ["b", "c"]}, None, "a c", True),
        ({"all": ["a"], "any": ["b", "c"]}, None, "a", False),
        (None, "a", "", True),
        (None, "a", "a", False),
        (None, ["a", "b"], "a", True),
        (None, ["a", "b"], "a b", False),
        (None, {"any": ["a", "b"]}, "b", False),
        ("a", "b", "a", True),
        ("a", "b", "a b", False),
    ],
)
def test_a_list_means_all_and_any_means_one(
    needs: object, unless: object, fitted: str, shown: bool
) -> None:
    item = Fitted.model_validate({"needs": needs, "unless": unless})
    assert item.applies_to(fitted.split()) is shown


def test_a_condition_names_its_parts() -> None:
    parts = Parts.model_validate({"all": ["a"], "any": ["b", "c"]})
    assert [ref.id for ref in parts.named] == ["a", "b", "c"]


def test_a_machine_is_shown_the_variant_that_holds_for_it(small: Catalog) -> None:
    start = small.entries["procedures", "start"].record
    assert isinstance(start, Procedure)
    turn_on, pulse = start.steps[1:]
    assert [v.id for v in variants_for(turn_on, ["petrol-engine"])] == ["petrol"]
    assert [v.id for v in variants_for(turn_on, ["electric-motor"])] == ["mains"]
    barrow = small.machines()["barrow"]
    assert pulse.applies_to(barrow.parts)
    assert barrow.parts == {"petrol-engine", "pulse-valve", "unloader"}


def test_every_part_asked_for_is_answered_by_every_machine(catalog_of: CatalogOf) -> None:
    layer = {
        "parts/foot-pedal": "title: Foot pedal\nanswer: X.\ndoes: Stops.\nask: true\n",
        "parts/hour-meter": "title: Hour meter\nanswer: X.\ndoes: Counts.\n",
    }
    message = "fitted: does not say whether it has 'foot-pedal' (Foot pedal)"
    assert told(catalog_of, layer) == [message]
    catalog_of({**layer, "machines/barrow": "not_fitted: [electric-motor, foot-pedal]\n"})


def test_a_drive_counts_even_where_it_is_not_asked_for(catalog_of: CatalogOf) -> None:
    layer = {
        "parts/diesel": "title: Diesel\nanswer: X.\ndoes: Turns.\ndrive: true\n",
        "machines/barrow": "fitted: [petrol-engine, pulse-valve, unloader, diesel]\n",
    }
    assert told(catalog_of, layer) == ["fitted: has diesel and petrol-engine"]


def test_where_no_part_is_a_drive_none_is_asked_for(catalog_of: CatalogOf) -> None:
    no_drive = "drive: {hide: true}\n"
    catalog_of({"parts/petrol-engine": no_drive, "parts/electric-motor": no_drive})


def test_a_hose_or_pattern_that_is_not_there_is_one_mistake(catalog_of: CatalogOf) -> None:
    layer = {
        "machines/barrow": "hoses: [{id: drum, hose: half-lin}]\n",
        "nozzles/small-egg": "pattern: eg\n",
    }
    assert told(catalog_of, layer) == [
        "hoses.drum.hose: no hose 'half-lin'",
        "pattern: no pattern 'eg'",
    ]


def test_without_an_unloader_the_plate_is_what_a_hose_must_bear(catalog_of: CatalogOf) -> None:
    hose = {"hoses/half-line": "working_pressure: 2900 psi\n"}
    catalog_of(hose)  # the barrow's unloader is set to 2800 psi, its plate says 3000 psi
    layer = {**hose, "machines/barrow": "unloader: {hide: true}\n"}
    message = "hoses.drum: Half line is rated 2,900 psi, below 3,000 psi"
    assert told(catalog_of, layer) == [message]


def test_a_step_not_shown_on_a_machine_needs_no_variant_for_it(catalog_of: CatalogOf) -> None:
    variants = "variants: [{id: mains, text: Plug it in., needs: electric-motor}]"
    step = f"steps:\n  - {{id: extra, {variants}%s}}\n"
    message = "steps.extra.variants: machine 'barrow' matches none of the variants"
    assert told(catalog_of, {"procedures/start": step % ""}) == [message]
    catalog_of({"procedures/start": step % ", needs: electric-motor"})


def test_the_sizes_of_a_nozzle_may_come_in_any_order(catalog_of: CatalogOf) -> None:
    nozzle = (
        "title: Big egg\nanswer: X.\npattern: egg\nthread: 1/2 in\nstiff_length: 3 in\n"
        "jets: [{id: ahead, number: 3}, {id: back, number: 2}]\n"
    )
    catalog_of({"nozzles/big-egg": nozzle})
    twice = nozzle.replace("ahead", "back")
    assert "jets: sizes are given for back, back" in told(catalog_of, {"nozzles/big-egg": twice})


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
