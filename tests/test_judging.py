"""What only judgement can tell: grounds of figures, overridden safety, texts to look at."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from refgen.catalog import Catalog
from refgen.errors import DataError
from refgen.judging import bare_numbers, grounded, missing_grounds
from refgen.model.figure import Ceiling, Figure
from refgen.model.teaching import Term

CatalogOf = Callable[..., Catalog]
PLAIN = Term(title="Skid", answer="A runner.")
SOURCED = Term(title="Skid", answer="A runner.", basis="code", source="some-code", why="So it is.")


def lacks(figure: Figure, record: Term = PLAIN) -> list[str]:
    return [message for message, _ in missing_grounds(figure, record)]


def figure(**fields: object) -> Figure:
    return Figure.model_validate({"is": "10 ft", **fields})


@pytest.mark.parametrize("basis", ["regulation", "code", "test", "maker", "owner"])
def test_a_figure_from_elsewhere_names_its_source(basis: str) -> None:
    assert lacks(figure(basis=basis)) == [f"basis '{basis}' needs a source"]
    assert lacks(figure(basis=basis, why="x")) == [f"basis '{basis}' needs a source"]
    assert lacks(figure(basis=basis, source="some-code")) == []


@pytest.mark.parametrize("basis", ["practice", "caution"])
def test_a_figure_of_our_own_says_why(basis: str) -> None:
    assert lacks(figure(basis=basis, source="some-code")) == [f"basis '{basis}' needs a reason"]
    assert lacks(figure(basis=basis, why="So it is.")) == []


def test_a_figure_from_physics_shows_its_formula() -> None:
    assert lacks(figure(basis="physics")) == ["basis 'physics' needs its formula"]
    assert lacks(figure(basis="physics", formula="F = ρ Q v")) == []


def test_a_figure_without_a_basis_takes_its_records() -> None:
    assert lacks(figure()) == ["the figure has no basis"]
    assert lacks(figure(), SOURCED) == []
    whole = grounded(figure(), SOURCED)
    assert (whole.basis, str(whole.source), whole.why) == ("code", "sources/some-code", "So it is.")


def test_of_source_and_reason_a_figures_own_go_first() -> None:
    whole = grounded(figure(source="other-code", why="Ours."), SOURCED)
    assert (whole.basis, str(whole.source), whole.why) == ("code", "sources/other-code", "Ours.")


def test_a_figure_with_a_basis_takes_nothing_from_its_record() -> None:
    own = figure(basis="test")
    assert grounded(own, SOURCED) is own
    assert lacks(own, SOURCED) == ["basis 'test' needs a source"]


def test_a_differing_value_has_grounds_of_its_own() -> None:
    differs = {"is": "12 ft"}
    message = ["the differing value has no basis"]
    assert lacks(figure(differs=[differs]), SOURCED) == message
    assert lacks(figure(differs=[{**differs, "basis": "test"}]), SOURCED) == [
        "basis 'test' needs a source"
    ]
    assert lacks(figure(differs=[{**differs, "basis": "caution"}]), SOURCED) == [
        "basis 'caution' needs a reason"
    ]


def test_of_two_ceilings_the_lower_stands_first_whatever_its_unit() -> None:
    def ceiling(first: str, other: str) -> Ceiling:
        differs = [{"is": other, "basis": "test", "source": "some-code"}]
        return Ceiling.model_validate({"is": first, "differs": differs})

    wrong = ["the cautious value must stand first"]
    assert lacks(ceiling("2600 psi", "1740 psi"), SOURCED) == wrong
    assert lacks(ceiling("1740 psi", "2600 psi"), SOURCED) == []
    # 120 bar is 1740.5 psi.
    assert lacks(ceiling("1741 psi", "120 bar"), SOURCED) == wrong
    assert lacks(ceiling("1740 psi", "120 bar"), SOURCED) == []


def clay(text: str) -> dict[str, str]:
    return {"materials/clay": text}


@pytest.mark.parametrize(
    ("was", "now", "free"),
    [
        ("1500 psi", "1500 psi", True),
        ("1500 psi", "{is: 1500 psi, when: Always}", True),
        ("1500 psi", "1499 psi", True),
        ("1500 psi", "103 bar", True),  # 1494 psi
        ("1500 psi", "104 bar", False),  # 1508 psi
        ("1500 psi", "{is: 1400 psi, to: 1600 psi}", False),
        ("{is: 1400 psi, to: 1600 psi}", "1500 psi", False),
        ("{is: 1500 psi, to: 1600 psi}", "{is: 1500 psi, to: 1550 psi}", True),
        ("1500 psi", "{jet: no}", True),
        ("1500 psi", "{jet: with the owner's consent}", True),
        ("{jet: no}", "{jet: no, when: Always}", True),
        ("{jet: no}", "{jet: with the owner's consent}", False),
        ("{jet: no}", "100 psi", False),
        ("{jet: with consent}", "{jet: no}", True),
        ("{jet: with consent}", "{jet: by day}", False),
        ("{jet: with consent}", "100 psi", False),
        ("1500 psi", "{hide: true}", False),
    ],
)
def test_a_limit_may_be_made_stricter_by_anyone_and_laxer_with_a_reason(
    catalog_of: CatalogOf, was: str, now: str, free: bool
) -> None:
    grounds = "basis: test\nsource: sewer-trial\n"
    base = clay(f"reason: Trial.\nceilings: {{sound: {was}}}\n{grounds}")
    lax = clay(f"ceilings: {{sound: {now}}}\n")
    if free:
        catalog_of(base, lax)
    else:
        with pytest.raises(DataError, match="raises or removes a limit of materials/clay"):
            catalog_of(base, lax)
    catalog_of(base, clay(f"reason: We know this pipe.\nceilings: {{sound: {now}}}\n"))


def test_a_warmer_limit_needs_a_reason_and_a_colder_one_none(catalog_of: CatalogOf) -> None:
    def heat(value: str) -> dict[str, str]:
        return clay(f"heat: {{is: {value}, basis: practice, why: Ours.}}\n")

    catalog_of(heat("60 degC"))  # 140 °F
    with pytest.raises(DataError, match="raises or removes a limit"):
        catalog_of(heat("61 degC"))


@pytest.mark.parametrize(
    ("record", "text"),
    [
        ("hazards/injection", "signal: caution\n"),
        ("hazards/injection", "harm: [A scratch.]\n"),
        ("hazards/injection", "prevent: [{id: gloves, text: Wear gloves.}]\n"),
        ("hazards/injection", "prevent: [{id: gloves, hide: true}]\n"),
        ("hazards/injection", "first_response: [{id: hospital, text: Rest a while.}]\n"),
        ("hazards/injection", "defer_to: [Us.]\n"),
        ("hazards/injection", "figures: {stand-clear: 3 ft}\n"),
        ("hazards/injection", "figures: {hide: true}\n"),
        ("symptoms/no-pressure", "first: Turn it up.\n"),
        ("symptoms/no-pressure", "stop: [{id: leak, text: A hose bursts.}]\n"),
        ("symptoms/no-pressure", "hazards: []\n"),
        ("procedures/start", "stop: {hide: true}\n"),
        ("procedures/start", "steps: [{id: turn-on, hide: true}]\n"),
        ("materials/clay", "cautions: [{hazard: injection, text: Mind it.}]\n"),
        ("parts/pulse-valve", "set: [{id: turn, hide: true}]\n"),
        ("parts/pulse-valve", "hide: true\n"),
    ],
)
def test_whatever_takes_from_safety_needs_a_reason(
    catalog_of: CatalogOf, record: str, text: str
) -> None:
    with pytest.raises(DataError) as caught:
        catalog_of({record: text})
    hints = {problem.hint for problem in caught.value.problems}
    assert "Add 'reason: …'; it is shown on the page." in hints


def test_what_is_no_safety_text_changes_without_a_reason_and_is_not_listed(
    catalog_of: CatalogOf,
) -> None:
    catalog = catalog_of(
        {
            "symptoms/no-pressure": "title: No jet\ncauses: [{id: dry, fix: Fill up.}]\n",
            "procedures/start": "steps: [{id: fill, hide: true}]\n",
            "hazards/injection": "title: Injected\n",
        }
    )
    assert catalog.overrides == ()


def test_an_override_with_its_reason_is_kept_for_the_page(catalog_of: CatalogOf) -> None:
    text = "reason: Our nozzles whistle.\nstop: [It smells of fuel or gas.]\n"
    (kept,) = catalog_of({"procedures/start": text}).overrides
    assert (kept.record, kept.path) == (("procedures", "start"), ("stop",))
    assert kept.reason == "Our nozzles whistle."


def test_a_lowered_limit_is_kept_for_the_page_too(catalog_of: CatalogOf) -> None:
    (kept,) = catalog_of(clay("ceilings: {worn: 1400 psi}\n")).overrides
    assert kept.path == ("ceilings", "worn")


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
        "    Add 'also_called: […]': slang, short forms, how it is misspelt.",
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
