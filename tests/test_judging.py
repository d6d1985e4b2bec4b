"""What later layers may not do to safety without a reason."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from refgen.catalog import Catalog
from refgen.errors import DataError

CatalogOf = Callable[..., Catalog]


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
        with pytest.raises(DataError, match=r"(raises|takes away) a limit of materials/clay"):
            catalog_of(base, lax)
    catalog_of(base, clay(f"reason: We know this pipe.\nceilings: {{sound: {now}}}\n"))


def test_a_warmer_limit_needs_a_reason_and_a_colder_one_none(catalog_of: CatalogOf) -> None:
    def heat(value: str) -> dict[str, str]:
        return clay(f"heat: {{is: {value}, basis: practice, why: Ours.}}\n")

    catalog_of(heat("60 degC"))  # 140 °F
    with pytest.raises(DataError, match="raises a limit"):
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
        ("procedures/start", "steps: {hide: true}\n"),  # only one of them has a caution
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
    ("was", "now"),
    [
        ("tell_hospital: [High pressure went in.]\n", "tell_hospital: [It may be dirty.]\n"),
        ("urgent: true\n", "urgent: false\n"),
    ],
)
def test_what_a_layer_between_said_of_an_emergency_needs_a_reason_too(
    catalog_of: CatalogOf, was: str, now: str
) -> None:
    with pytest.raises(DataError) as caught:
        catalog_of({"hazards/injection": was}, {"hazards/injection": now})
    assert [problem.message for problem in caught.value.problems] == [
        "changes a safety text of hazards/injection"
    ]


def test_an_item_or_figure_that_is_called_as_a_safety_field_is_none(
    catalog_of: CatalogOf,
) -> None:
    called_so = (
        "moves: [{id: stop, text: Wait.}, {id: heat, text: Warm it.}, {id: ceilings, text: Up.}]\n"
        "figures: {heat: {is: 60 degC, basis: practice, why: It melts.}}\n"
    )
    ours = (
        "moves: [{id: stop, text: Wait more.}, {id: heat, hide: true}, {id: ceilings, text: On.}]\n"
        "figures: {heat: {is: 70 degC, basis: practice, why: It melts faster.}}\n"
    )
    catalog = catalog_of({"deposits/grease": called_so}, {"deposits/grease": ours})
    assert catalog.overrides == ()
    assert len(catalog.every_override) == 4


def test_a_limit_that_cannot_be_read_is_told_as_that_alone(catalog_of: CatalogOf) -> None:
    with pytest.raises(DataError) as caught:
        catalog_of(clay("ceilings: {worn: lots}\n"))
    assert [problem.message for problem in caught.value.problems] == ["'lots' is no pressure"]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "ceilings: {worn: 1600 psi}\n",
            "raises a limit of materials/clay: 1500 psi (103 bar), here 1600 psi (110 bar)",
        ),
        ("heat: {hide: true}\n", "takes away a limit of materials/clay: 140 degF (60 °C)"),
        ("cautions: {hide: true}\n", "hides a safety text of materials/clay"),
        ("hide: true\n", "hides a safety text of materials/clay"),
    ],
)
def test_what_was_done_to_safety_is_told_for_what_it_is(
    catalog_of: CatalogOf, text: str, message: str
) -> None:
    with pytest.raises(DataError) as caught:
        catalog_of(clay(text))
    judged = [p.message for p in caught.value.problems if "reason: …" in p.hint]
    assert judged == [message]
