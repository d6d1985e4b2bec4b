"""What an author should look at though it is not wrong."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from refgen.advice import bare_numbers
from refgen.catalog import Catalog
from tests.stages import SMALL

CatalogOf = Callable[..., Catalog]


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("Hold it under 1900 psi.", ["1900 psi"]),
        ("Hold it under 1,900 psi or 131 bar.", ["1,900 psi", "131 bar"]),
        ("Wait 5 min, then 10min more.", ["5 min", "10min"]),
        ("Keep {= 10 ft} off.", []),
        ("Keep {stand-clear} off.", []),
        ("The 2-inch pipe of 1950.", []),
        ("Three of 4 jets.", []),
        ("At 60% it turns.", ["60%"]),
        ("It flows at 3 ft/s.", ["3 ft/s"]),
        # Letters that stand for much else: a plan, a belt, a pipe's class, a time of day.
        ("Cut 2 A, 3 V, 4 K, 5 h, 6 s, 7 m, 8 ×.", []),
    ],
)
def test_numbers_typed_into_a_text_are_found(text: str, numbers: list[str]) -> None:
    assert bare_numbers(text) == numbers


def test_a_typed_number_and_a_name_claimed_twice_are_things_to_look_at(
    catalog_of: CatalogOf,
) -> None:
    catalog = catalog_of(
        {
            "terms/skid": "title: Skid\nanswer: Up to 1900 psi.\nalso_called: [Runner, RETURN]\n",
            "terms/sledge": "title: Sledge\nanswer: X.\nalso_called:\n  - slide\n  - runner\n",
        }
    )
    assert [str(problem) for problem in catalog.advice] == [
        "company/terms/skid.yml:2: answer: '1900 psi' is typed as plain text\n"
        "    Write '{= 1900 psi}', or cite a figure, so that both units are shown.",
        "company/terms/skid.yml:3: also_called.2: 'RETURN' is also claimed by terms/bypass\n"
        "    Leave it to the page that answers it.",
        "company/terms/sledge.yml:5: also_called.2: 'runner' is also claimed by terms/skid\n"
        "    Leave it to the page that answers it.",
    ]


def test_a_record_that_only_its_title_finds_is_told_of(catalog_of: CatalogOf) -> None:
    silt = "title: Silt\nanswer: X.\nknow_by: [Fine.]\nmoves: [{id: wash, text: Wash it.}]\n"
    catalog = catalog_of(
        {
            "deposits/silt": silt,
            "deposits/loam": f"{silt.replace('Silt', 'Loam')}also_called: [black earth]\n",
            "terms/tine": "title: Tine\nanswer: Of a rake.\n",
        }
    )
    assert [str(problem) for problem in catalog.advice] == [
        "company/deposits/silt.yml:1: title: goes by no other name, so few words find it\n"
        "    Add 'also_called: […]': slang, short forms, what a customer says.",
    ]


def test_a_name_is_claimed_twice_however_it_is_written_and_by_a_title_too(
    catalog_of: CatalogOf,
) -> None:
    catalog = catalog_of(
        {
            "deposits/silt": "title: Yellow silt\nanswer: X.\nknow_by: [Fine.]\n"
            "moves: [{id: wash, text: Wash it.}]\nalso_called: [Pop-off sand]\n",
            "terms/plop": "title: Plop\nanswer: X.\nalso_called: [popoff sand, yellow-silt]\n",
            "terms/yellow": "title: Yellow silt\nanswer: What a page's title means.\n",
        }
    )
    assert [str(problem) for problem in catalog.advice] == [
        f"company/terms/plop.yml:3: also_called.{number}: '{name}' is also claimed"
        " by deposits/silt\n"
        "    Leave it to the page that answers it."
        for number, name in ((1, "popoff sand"), (2, "yellow-silt"))
    ]


def test_stock_and_what_is_looked_up_by_its_title_needs_no_other_name(
    catalog_of: CatalogOf,
) -> None:
    named = [
        path.relative_to(SMALL).with_suffix("").as_posix()
        for path in SMALL.glob("*/*.yml")
        if "also_called" in path.read_text("utf-8")
    ]
    catalog = catalog_of(dict.fromkeys(named, "also_called: {hide: true}\n"))
    told = {problem.place.file.split("/")[1] for problem in catalog.advice}
    looked_for = "symptoms paths procedures checklists hazards "
    looked_for += "materials deposits patterns parts machines tables"
    assert told == {*looked_for.split()}


def test_the_word_that_the_glossary_explains_may_be_claimed_by_another_page(
    catalog_of: CatalogOf,
) -> None:
    silt = "title: Silt\nanswer: X.\nknow_by: [Fine.]\nmoves: [{id: wash, text: Wash it.}]\n"
    catalog = catalog_of(
        {"deposits/silt": f"{silt}also_called: [bypass, trial of jets on old pipe]\n"}
    )
    assert catalog.advice == ()
