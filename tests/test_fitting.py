"""What is fitted decides what is shown, and every machine has exactly one way."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from refgen.catalog import Catalog
from refgen.errors import DataError
from refgen.fitting import variants_for
from refgen.model.fit import Fitted, Parts
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
