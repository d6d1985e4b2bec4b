"""What changed underneath an override: told once, until it has been looked at."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from refgen.errors import DataError
from refgen.locks import note_overrides
from refgen.noted import in_words
from refgen.reports import check_report
from tests.stages import SMALL, catalog_from

TODAY = date(2026, 11, 25)
Write = Callable[..., list[Path]]
PIPE = (
    "title: Pipe\nanswer: Hold to {{worn}}.\nrecognise: [Grey.]\nhurt_by: [Time.]\n"
    "technique: [Go on.]\n"
    "ceilings:\n  worn: {{is: {worn}, basis: practice, why: So.}}\n"
)
OURS = "ceilings: {worn: {is: 1900 psi, basis: practice, why: Ours.}}\n"


def pipe(data: Write, worn: str, ours: str = OURS, **more: str) -> list[Path]:
    """Return layers in which a company lays its own ceiling over one of the shared data."""
    base, company = data(
        {"materials/pipe": PIPE.format(worn=worn)},
        {"materials/pipe": ours, **more},
        names=("shared", "company"),
    )
    return [SMALL, base, company]


def noted(layers: list[Path]) -> str:
    """Let `check --lock` note what stands below, and return what it wrote."""
    note_overrides(catalog_from(layers), layers[-1:])
    return (layers[-1] / "overrides.yml").read_text("utf-8")


def test_what_stands_below_is_noted_a_line_each(data: Write) -> None:
    assert noted(pipe(data, "2000 psi")) == (
        "# What the layers below say where this layer says otherwise, when it was last looked at.\n"
        "# `refgen check` tells when that has changed; `refgen check --lock` notes it anew.\n"
        "materials/pipe:\n"
        '  ceilings.worn: {"basis": "practice", "is": "2000 psi", "why": "So."}\n'
    )


def test_while_nothing_changes_below_nothing_is_told(data: Write) -> None:
    layers = pipe(data, "2000 psi")
    assert catalog_from(layers).changed_below == ()  # never noted, so nothing to compare with
    noted(layers)
    assert catalog_from(layers).changed_below == ()


def test_a_limit_that_came_down_but_not_below_yours_is_told_until_it_is_noted(
    data: Write,
) -> None:
    noted(pipe(data, "2000 psi"))
    layers = pipe(data, "1950 psi")
    (told,) = catalog_from(layers).changed_below
    assert str(told) == (
        "company/materials/pipe.yml:1: ceilings.worn: the layers below said 2000 psi"
        " (138 bar), and now say 1950 psi (134 bar); here it is 1900 psi (131 bar)\n"
        "    Look whether yours still holds, then run 'refgen check --lock'."
    )
    assert "Changed underneath what a later layer says:\n  company/" in check_report(
        catalog_from(layers), TODAY
    )
    noted(layers)
    assert catalog_from(layers).changed_below == ()


def test_a_limit_that_came_down_below_yours_stops_the_build_and_says_both(data: Write) -> None:
    noted(pipe(data, "2000 psi"))
    with pytest.raises(DataError) as caught:
        catalog_from(pipe(data, "1500 psi"))
    assert [str(problem) for problem in caught.value.problems] == [
        "company/materials/pipe.yml:1: ceilings.worn: raises a limit of materials/pipe: 1500 psi"
        " (103 bar), here 1900 psi (131 bar)\n"
        "    The layers below said 2000 psi (138 bar), and now say 1500 psi (103 bar). Follow them,"
        " or add 'reason: …'; it is shown on the page."
    ]


def test_of_two_limits_on_one_line_each_is_told_its_own_value_below(data: Write) -> None:
    below = "title: Pipe\nanswer: P.\nrecognise: [Grey.]\nhurt_by: [Time.]\ntechnique: [Go on.]\n"
    below += "basis: practice\nwhy: So.\nceilings: {{sound: {}, worn: {}}}\n"

    def layers(sound: str, worn: str) -> list[Path]:
        shared = {"materials/pipe": below.format(sound, worn)}
        ours = {"materials/pipe": "ceilings: {sound: 1900 psi, worn: 1700 psi}\n"}
        return [SMALL, *data(shared, ours, names=("shared", "ours"))]

    noted(layers("2000 psi", "1800 psi"))
    with pytest.raises(DataError) as caught:
        catalog_from(layers("1500 psi", "1400 psi"))
    assert [problem.hint.partition(". ")[0] for problem in caught.value.problems] == [
        "The layers below said 2000 psi (138 bar), and now say 1500 psi (103 bar)",
        "The layers below said 1800 psi (124 bar), and now say 1400 psi (96.5 bar)",
    ]


def test_a_reworded_text_under_yours_is_told(data: Write) -> None:
    term = {"terms/skid": "title: Skid\nanswer: {}\n"}

    def layers(answer: str) -> list[Path]:
        written = {name: text.format(answer) for name, text in term.items()}
        return [SMALL, *data(written, {"terms/skid": "answer: Ours.\n"}, names=("shared", "ours"))]

    noted(layers("A runner under the nozzle."))
    (told,) = catalog_from(layers("A sled.")).changed_below
    assert "said 'A runner under the nozzle.', and now say 'A sled.'; here it is 'Ours.'" in str(
        told
    )


def test_an_override_that_the_layers_below_have_come_round_to_is_told(data: Write) -> None:
    noted(pipe(data, "2000 psi"))
    same = OURS.replace("Ours.", "So.")
    (told,) = catalog_from(pipe(data, "1900 psi", same)).changed_below
    assert str(told) == (
        "company/overrides.yml:4: materials/pipe ceilings.worn no longer differs from the layers"
        " below\n"
        "    Take your line away if it is still there, then 'refgen check --lock'."
    )


def test_a_layer_that_overrides_nothing_keeps_no_file(data: Write) -> None:
    layers = pipe(data, "2000 psi")
    noted(layers)
    (layers[-1] / "materials" / "pipe.yml").unlink()
    assert note_overrides(catalog_from(layers), layers[-1:]) == [layers[-1] / "overrides.yml"]
    assert not (layers[-1] / "overrides.yml").exists()


def test_the_brand_is_there_to_be_overridden(data: Write) -> None:
    layers = [SMALL, *data({"brand": "name: Ours\n"}, names=("company",))]
    assert note_overrides(catalog_from(layers), layers[-1:]) == []


def test_what_is_hidden_is_noted_too_and_a_long_value_by_its_hash(data: Write) -> None:
    long = "A long story. " * 30
    layers = [
        SMALL,
        *data(
            {"terms/skid": f"title: Skid\nanswer: {long}\nnotes: [One.]\n"},
            {"terms/skid": "answer: Ours.\nnotes: {hide: true}\n"},
            names=("shared", "ours"),
        ),
    ]
    text = noted(layers)
    assert '  notes: ["One."]\n' in text
    assert '  answer: "sha256:' in text
    assert long[:20] not in text
    assert catalog_from(layers).changed_below == ()


def test_a_broken_file_is_told(data: Write) -> None:
    layers = pipe(data, "2000 psi", overrides="materials/pipe: [ceilings]\n")
    with pytest.raises(DataError) as caught:
        catalog_from(layers)
    assert [str(problem) for problem in caught.value.problems] == [
        "company/overrides.yml:1: materials/pipe: must hold fields\n"
        "    Remove the line; `refgen check --lock` writes it anew."
    ]


def test_check_lists_a_changed_limit_with_what_it_was_and_is(data: Write) -> None:
    report = check_report(catalog_from(pipe(data, "2000 psi")), TODAY)
    assert (
        "  company/materials/pipe.yml:1: materials/pipe ceilings.worn: 2000 psi (138 bar),"
        " here 1900 psi (131 bar)." in (report.split("\n"))
    )


@pytest.mark.parametrize(
    ("kept", "words"),
    [
        ('{"is": "3 s", "to": "5 s"}', "3 s to 5 s"),
        ('"120 bar"', "120 bar (1,740 psi)"),  # 120 / 0.0689476 = 1740.5
        ('{"jet": "no"}', "jet: no"),
        ('["a", "b"]', "a list of 2"),
        ('{"a": "b", "c": "d", "e": "f"}', "a map of 3"),
        ('"sha256:00"', "something longer"),
        ("true", "true"),
        (f'"{"word " * 20}"', f"'{('word ' * 12).strip()} …'"),
        (f'"{"x" * 60}"', f"'{'x' * 60}'"),
        (f'"{"word " * 12}x"', f"'{('word ' * 12).strip()} …'"),  # 61 letters
    ],
)
def test_a_value_is_told_as_an_author_would_say_it(kept: str, words: str) -> None:
    assert in_words(kept) == words


def test_a_record_hidden_whole_is_noted_and_told_of_when_it_changes_below(data: Write) -> None:
    def layers(answer: str) -> list[Path]:
        shared = {"terms/skid": f"title: Skid\nanswer: {answer}\n"}
        return [SMALL, *data(shared, {"terms/skid": "hide: true\n"}, names=("shared", "ours"))]

    assert noted(layers("A runner.")).splitlines()[2:] == [
        "terms/skid:",
        '  whole-record: {"answer": "A runner.", "title": "Skid"}',
    ]
    (told,) = catalog_from(layers("A sled.")).changed_below
    assert str(told) == (
        "ours/terms/skid.yml:1: the layers below now say something else\n"
        "    Look whether yours still holds, then run 'refgen check --lock'."
    )


def test_of_two_long_values_that_begin_alike_only_the_change_is_told(data: Write) -> None:
    def layers(end: str) -> list[Path]:
        shared = {"terms/skid": f"title: Skid\nanswer: {'So it goes on and on. ' * 4}{end}\n"}
        ours = {"terms/skid": "answer: Ours.\n"}
        return [SMALL, *data(shared, ours, names=("shared", "ours"))]

    noted(layers("Well."))
    (told,) = catalog_from(layers("Badly.")).changed_below
    assert told.message == "the layers below now say something else; here it is 'Ours.'"


def test_a_value_is_kept_as_written_up_to_240_letters(data: Write) -> None:
    def layers(letters: int) -> list[Path]:
        shared = {"terms/skid": f"title: Skid\nanswer: {'é' * letters}\n"}
        ours = {"terms/skid": "answer: Ours.\n"}
        return [SMALL, *data(shared, ours, names=("shared", "ours"))]

    assert f'  answer: "{"é" * 238}"\n' in noted(layers(238))  # two quotes stand around it
    assert '  answer: "sha256:' in noted(layers(239))
