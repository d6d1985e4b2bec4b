"""Renaming a record, an item or a figure: every link follows and the old address goes on."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from refgen.rename import CannotRename, rename
from tests.stages import SMALL, catalog_from

WriteLayers = Callable[..., list[Path]]
LOCK = "published.yml"

# Every form in which a part can be named, and words that only look like it.
FORMS = """\
# unloader: a comment about parts/unloader stays as typed
title: Unloader   # parts/unloader
answer: >
  See {parts/unloader#least} and {= 10 ft}; the unloader, parts/unloader-valve.
first: Look at the unloader.
see: [parts/unloader, "parts/unloader", 'parts/unloader#least',
      terms/unloader, parts/unloader-valve]
stop:
  - {id: unloader, text: The unloader leaks., needs: unloader}
causes:
  - id: plain
    title: The unloader
    check: Look.
    fix: Mend the unloader.
    needs: [unloader, pulse-valve]
    parts: [pulse-valve,
            unloader]
  - id: block
    title: T
    check: C
    fix: F
    parts:
      - unloader
      - "unloader"
    unless:
      any:
        - unloader
        - pulse-valve
  - {id: flow, title: T, check: C, fix: F, needs: {any: [unloader]}, parts: [parts/unloader]}
"""
RENAMED = """\
# unloader: a comment about parts/unloader stays as typed
title: Unloader   # parts/unloader
answer: >
  See {parts/regulator#least} and {= 10 ft}; the unloader, parts/unloader-valve.
first: Look at the unloader.
see: [parts/regulator, "parts/regulator", 'parts/regulator#least',
      terms/unloader, parts/unloader-valve]
stop:
  - {id: unloader, text: The unloader leaks., needs: regulator}
causes:
  - id: plain
    title: The unloader
    check: Look.
    fix: Mend the unloader.
    needs: [regulator, pulse-valve]
    parts: [pulse-valve,
            regulator]
  - id: block
    title: T
    check: C
    fix: F
    parts:
      - regulator
      - "regulator"
    unless:
      any:
        - regulator
        - pulse-valve
  - {id: flow, title: T, check: C, fix: F, needs: {any: [regulator]}, parts: [parts/regulator]}
"""
UNLOADER = (
    "title: Unloader\nanswer: Holds.\ndoes: Holds.\n"
    "figures: {least: {is: 10 ft, basis: caution, why: So.}}\n"
)
TERM = "title: T\nanswer: A.\n"


@pytest.fixture
def layers(data: WriteLayers, tmp_path: Path) -> list[Path]:
    """The small layer, copied, with a company's over it that names the unloader in every form."""
    (company,) = data(
        {
            "parts/unloader": UNLOADER.replace("title: Unloader\n", "ask: true\n"),
            "parts/unloader-valve": UNLOADER,
            "terms/unloader": TERM,
            "symptoms/forms": FORMS,
            "brand": "local_rules:\n  - {id: far, text: 'Keep to {parts/unloader#least}.'}\n",
        },
        names=("company",),
    )
    shutil.copytree(SMALL, tmp_path / "small")
    return [tmp_path / "small", company]


def read(layers: list[Path], file: str) -> str:
    return (layers[-1] / file).read_text("utf-8")


def test_a_link_in_every_form_follows_a_record_and_nothing_else_changes(
    layers: list[Path],
) -> None:
    catalog_from(layers)
    rename(layers, "parts/unloader", "regulator")
    assert read(layers, "symptoms/forms.yml") == RENAMED
    assert "{parts/regulator#least}" in read(layers, "brand.yml")
    assert read(layers, "terms/unloader.yml") == TERM
    assert read(layers, "parts/unloader-valve.yml") == UNLOADER
    fitted = "fitted: [petrol-engine, pulse-valve, regulator]\n"
    assert fitted in (layers[0] / "machines" / "barrow.yml").read_text()
    catalog = catalog_from(layers)
    assert ("parts", "unloader") not in catalog.entries
    assert catalog.moved == {("parts", "unloader"): ("parts", "regulator")}
    assert catalog.machines()["barrow"].parts == {"petrol-engine", "pulse-valve", "regulator"}


def test_a_record_is_renamed_in_every_layer_and_keeps_its_old_id_once(
    layers: list[Path],
) -> None:
    changed = rename(layers, "parts/unloader", "regulator").files
    for layer in layers:
        assert not (layer / "parts" / "unloader.yml").exists()
        assert (layer / "parts" / "regulator.yml").exists()
    assert (layers[0] / "parts" / "regulator.yml").read_text().endswith("was: [unloader]\n")
    assert "was" not in read(layers, "parts/regulator.yml")
    # The file itself moves; in the small layer it gains its former id too.
    assert changed[(layers[0] / "parts" / "unloader.yml").as_posix()] == 2
    assert changed[(layers[1] / "parts" / "unloader.yml").as_posix()] == 1
    assert changed[(layers[1] / "symptoms" / "forms.yml").as_posix()] == 12
    assert changed[(layers[0] / "machines" / "barrow.yml").as_posix()] == 1


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ("was: [a]\n", "was: [a, skid]\n"),
        ("was: [a, b]  # long ago\n", "was: [a, b, skid]  # long ago\n"),
        ("was:\n  - a\n  - b  # long ago\n", "was:\n  - a\n  - b  # long ago\n  - skid\n"),
        ("was:\n- a\n", "was:\n- a\n- skid\n"),
        ("was: []\n", "was: [skid]\n"),
        ("", "was: [skid]\n"),
    ],
)
def test_former_ids_of_a_record_add_up(data: WriteLayers, was: str, now: str) -> None:
    layers = [SMALL, *data({"terms/skid": f"title: T\n{was}answer: A.\n"})]
    rename(layers[1:], "terms/skid", "runner")
    text = read(layers, "terms/runner.yml")
    assert text == (f"title: T\n{now}answer: A.\n" if was else f"title: T\nanswer: A.\n{now}")
    assert catalog_from(layers).moved["terms", "skid"] == ("terms", "runner")


def test_a_former_id_goes_where_the_last_list_of_them_stands(data: WriteLayers) -> None:
    layers = data({"terms/skid": TERM + "was: [a]\n"}, {"terms/skid": "was: [a, b]\n"})
    rename(layers, "terms/skid", "runner")
    assert (layers[0] / "terms" / "runner.yml").read_text() == TERM + "was: [a]\n"
    assert (layers[1] / "terms" / "runner.yml").read_text() == "was: [a, b, skid]\n"


def test_line_ends_and_a_missing_last_one_are_kept(data: WriteLayers) -> None:
    layers = data({"terms/skid": b"title: T\r\nanswer: A."})
    rename(layers, "terms/skid", "runner")
    raw = (layers[0] / "terms" / "runner.yml").read_bytes()
    assert raw == b"title: T\r\nanswer: A.\r\nwas: [skid]\r\n"


def test_line_ends_are_kept_within_a_record_too(data: WriteLayers) -> None:
    text = b"title: T\r\nanswer: A.\r\nknow_by: [K]\r\nmoves:\r\n- id: cut\r\n  text: C.\r\n"
    layers = data({"deposits/trial": text})
    rename(layers, "deposits/trial#cut", "slice")
    kept = b"- id: slice\r\n  was: [cut]\r\n"
    raw = (layers[0] / "deposits" / "trial.yml").read_bytes()
    assert raw == text.replace(b"- id: cut\r\n", kept)


def test_a_record_written_in_braces_keeps_its_old_id_within_them(data: WriteLayers) -> None:
    layers = data({"terms/skid": "{title: T, answer: A.}\n"})
    rename(layers, "terms/skid", "runner")
    assert read(layers, "terms/runner.yml") == "{was: [skid], title: T, answer: A.}\n"


def test_an_old_address_satisfies_the_lock_after_a_rename(layers: list[Path]) -> None:
    (layers[0] / LOCK).write_text("parts/unloader: []\nsymptoms/no-pressure: [dry, leak]\n")
    rename(layers, "parts/unloader", "regulator")
    rename(layers, "symptoms/no-pressure#dry", "empty")
    catalog = catalog_from(layers)
    assert catalog.entries["symptoms", "no-pressure"].moved == {"dry": "empty"}


def test_a_records_new_id_may_be_written_with_its_kind(layers: list[Path]) -> None:
    rename(layers, "terms/unloader", "terms/regulator")
    assert read(layers, "terms/regulator.yml") == f"{TERM}was: [unloader]\n"


@pytest.mark.parametrize("new", ["symptoms/forms#simple", "#simple"])
def test_an_items_new_id_may_be_written_with_its_record(layers: list[Path], new: str) -> None:
    rename(layers, "symptoms/forms#plain", new)
    assert "  - id: simple\n    was: [plain]\n" in read(layers, "symptoms/forms.yml")


# ---- items


def test_an_item_is_renamed_with_every_link_to_it(layers: list[Path]) -> None:
    (layers[1] / "terms" / "skid.yml").write_text(
        TERM + "see: [symptoms/no-pressure#dry, symptoms/no-pressure, symptoms/weak-jet#dry]\n"
    )
    rename(layers, "symptoms/no-pressure#dry", "tank-empty")
    text = (layers[0] / "symptoms" / "no-pressure.yml").read_text()
    assert "- {was: [dry], id: tank-empty, title: Tank empty," in text
    weak = (layers[0] / "symptoms" / "weak-jet.yml").read_text()
    assert "- {id: dry, same_as: no-pressure#tank-empty," in weak
    assert "to: [symptoms/no-pressure#tank-empty]" in (layers[0] / "paths/no-water.yml").read_text()
    assert read(layers, "terms/skid.yml").endswith(
        "see: [symptoms/no-pressure#tank-empty, symptoms/no-pressure, symptoms/weak-jet#dry]\n"
    )
    catalog = catalog_from(layers)
    assert catalog.entries["symptoms", "no-pressure"].anchors == ("leak", "tank-empty", "pulse")


def item_renamed(data: WriteLayers, kind: str, text: str, old: str, new: str) -> str:
    layers = [SMALL, *data({f"{kind}/trial": text})]
    rename(layers[1:], f"{kind}/trial#{old}", new)
    moved = catalog_from(layers).entries[kind, "trial"].moved
    assert moved[old] == new
    return read(layers, f"{kind}/trial.yml")


DEPOSIT = "title: T\nanswer: A.\nknow_by: [K]\nmoves:\n"


@pytest.mark.parametrize(
    ("item", "renamed"),
    [
        ("  - id: cut\n    text: Cut.\n", "  - id: slice\n    was: [cut]\n    text: Cut.\n"),
        ("  - text: Cut.\n    id: cut\n", "  - text: Cut.\n    id: slice\n    was: [cut]\n"),
        ("- id: cut\n  text: Cut.\n", "- id: slice\n  was: [cut]\n  text: Cut.\n"),
        ("  - {text: cut, id: cut}\n", "  - {was: [cut], text: cut, id: slice}\n"),
        (
            '  - id: "cut"  # this\n    text: cut\n',
            "  - id: slice\n    was: [cut]  # this\n    text: cut\n",
        ),
        (
            "  - id: cut\n    was: [a]\n    text: Cut.\n",
            "  - id: slice\n    was: [a, cut]\n    text: Cut.\n",
        ),
        (
            "  - id: cut\n    was:\n      - a\n    text: Cut.\n",
            "  - id: slice\n    was:\n      - a\n      - cut\n    text: Cut.\n",
        ),
        ("  - {id: cut, was: [a], text: C}\n", "  - {id: slice, was: [a, cut], text: C}\n"),
    ],
)
def test_an_item_keeps_its_old_id_however_it_is_written(
    data: WriteLayers, item: str, renamed: str
) -> None:
    assert item_renamed(data, "deposits", DEPOSIT + item, "cut", "slice") == DEPOSIT + renamed


def test_an_item_within_an_item_is_found(data: WriteLayers) -> None:
    text = (
        "title: T\nanswer: A.\nwhen: W\nsections:\n  - id: pump\n    title: P\n    ticks:\n"
        "      - id: oil\n        text: O\n"
    )
    assert item_renamed(data, "checklists", text, "oil", "mark").endswith(
        "      - id: mark\n        was: [oil]\n        text: O\n"
    )


def test_the_answers_of_a_path_follow_a_question(data: WriteLayers) -> None:
    choices = "choices: [{id: y, text: 'Yes', go: b}, {id: n, text: b, go: x}]"
    text = (
        f"title: T\nanswer: A.\nquestions:\n  - id: a\n    ask: So?\n    {choices}\n"
        "  - id: b\n    ask: b\n    choices: [{id: b, text: B, go: x}, {id: n, text: N, go: b}]\n"
        "ends:\n  - {id: x, text: End., to: [terms/bypass]}\n"
    )
    assert item_renamed(data, "paths", text, "b", "c") == (
        text.replace("go: b", "go: c").replace("  - id: b\n", "  - id: c\n    was: [b]\n")
    )


@pytest.mark.parametrize(
    ("figure", "renamed"),
    [
        ("  far: 10 ft\n", "  away: {is: 10 ft, was: [far]}\n"),
        ('  far: "10 ft"  # so\n', '  away: {is: "10 ft", was: [far]}  # so\n'),
        ("  far: {is: 10 ft}\n", "  away: {was: [far], is: 10 ft}\n"),
        ("  far:\n    is: 10 ft\n", "  away:\n    was: [far]\n    is: 10 ft\n"),
        ("  far:\n    is: 10 ft\n    was: [a]\n", "  away:\n    is: 10 ft\n    was: [a, far]\n"),
    ],
)
def test_a_figure_is_renamed_with_every_citation_of_it(
    data: WriteLayers, figure: str, renamed: str
) -> None:
    head = (
        "title: far\nanswer: |\n  Stay {far} off; {{far}} is no citation.\n"
        "notes: ['{terms/trial#far}', 'a{far}b']\nbasis: caution\nwhy: far\nfigures:\n"
    )
    cited = head.replace("Stay {far}", "Stay {away}").replace("trial#far", "trial#away")
    cited = cited.replace("a{far}b", "a{away}b")
    assert item_renamed(data, "terms", head + figure, "far", "away") == cited + renamed


def test_an_item_is_renamed_in_every_layer_with_what_is_placed_by_it(
    data: WriteLayers,
) -> None:
    layers = [
        SMALL,
        *data(
            {"deposits/trial": DEPOSIT + "  - {id: cut, text: C}\n  - {id: end, text: E}\n"},
            {
                "deposits/trial": "moves:\n  - {id: cut, text: cut}\n"
                "  - {id: more, text: M, after: cut}\n  - {id: less, text: L, before: cut}\n"
            },
        ),
    ]
    rename(layers[1:], "deposits/trial#cut", "slice")
    assert read(layers, "deposits/trial.yml") == (
        "moves:\n  - {id: slice, text: cut}\n"
        "  - {id: more, text: M, after: slice}\n  - {id: less, text: L, before: slice}\n"
    )
    entry = catalog_from(layers).entries["deposits", "trial"]
    assert entry.anchors == ("less", "slice", "more", "end")
    assert entry.moved == {"cut": "slice"}


# ---- what cannot be


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            "part/unloader",
            "x",
            "'part/unloader' is no address. Write kind/id or kind/id#item. Did you mean 'parts'?",
        ),
        (
            "parts/unloder",
            "x",
            "there is no parts/unloder in this project's own layers. Did you mean 'unloader'?",
        ),
        (
            "parts/unloader",
            "The Unloader",
            "'The Unloader' cannot be an id: use small letters, digits, single hyphens.",
        ),
        ("parts/unloader", "pulse-valve", "there is already a parts/pulse-valve."),
        ("parts/unloader", "parts/pulse-valve", "there is already a parts/pulse-valve."),
        (
            "parts/unloader",
            "parts/x#y",
            "'parts/x#y' cannot be an id: use small letters, digits, single hyphens.",
        ),
        (
            "parts/unloader",
            "terms/regulator",
            "parts/unloader stays in parts, since a rename changes the id alone.",
        ),
        (
            "symptoms/no-pressure#dry",
            "symptoms/weak-jet#empty",
            "symptoms/no-pressure#dry stays in symptoms/no-pressure, "
            "since a rename changes the id alone.",
        ),
        (
            "symptoms/no-pressure#drry",
            "x",
            "symptoms/no-pressure has no item 'drry'. Did you mean 'dry'?",
        ),
        (
            "symptoms/no-pressure#dry",
            "leak",
            "symptoms/no-pressure already has, or had, an item 'leak'.",
        ),
        (
            "materials/clay#worn",
            "old",
            "'worn' is a fixed name in every one of the materials.",
        ),
        (
            "paths/no-water#yes",
            "aye",
            "paths/no-water has no item 'yes'. Known: call, fill, tank, valve.",
        ),
    ],
)
def test_what_cannot_be_renamed_is_told_and_nothing_is_touched(
    layers: list[Path], old: str, new: str, message: str
) -> None:
    before = {p: p.read_bytes() for layer in layers for p in layer.rglob("*.yml")}
    with pytest.raises(CannotRename) as caught:
        rename(layers, old, new)
    assert str(caught.value) == message
    assert {p: p.read_bytes() for layer in layers for p in layer.rglob("*.yml")} == before


def test_a_record_of_another_project_is_not_renamed_by_its_changes(layers: list[Path]) -> None:
    with pytest.raises(CannotRename) as caught:
        rename(layers[1:], "parts/unloader", "regulator")
    assert str(caught.value) == (
        "parts/unloader comes from a layer of another project, which is not edited."
    )


def test_an_old_name_is_not_given_to_something_else(data: WriteLayers) -> None:
    layers = data({"deposits/trial": DEPOSIT + "  - {id: cut, was: [saw], text: C}\n"})
    with pytest.raises(CannotRename, match="already has, or had, an item 'saw'"):
        rename(layers, "deposits/trial#cut", "saw")
