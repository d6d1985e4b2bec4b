"""What a figure rests on, and what it lacks."""

from __future__ import annotations

import pytest

from refgen.grounds import grounded, missing_grounds
from refgen.model.figure import Ceiling, Figure
from refgen.model.teaching import Term

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
