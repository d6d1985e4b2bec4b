"""What changed between two revisions: told in words, limits first, the same each time."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

import pytest

from refgen.bundled import bundled
from refgen.compose import Site, compose
from refgen.errors import RefgenError
from refgen.news import changes
from refgen.revisions import read_revision
from refgen.views import View
from tests.conftest import Files, WriteLayers
from tests.stages import SMALL

WORDS = (bundled("data/base") / "words.yml").read_text("utf-8")
TEMPLATES = bundled("site_templates")
PIPE = (
    "title: Pipe\nanswer: Hold to {{worn}}.\nrecognise: [Grey.]\nhurt_by: [Time.]\n"
    "technique: [Go on.]\nceilings:\n  worn: {{is: {0}, basis: practice, why: So.}}\n"
)
STEPS = (
    "title: Wash\nanswer: On the pad.\nwho: All.\nwhen: Daily.\ndone: [Clean.]\n"
    "steps:\n  - {{id: brush, text: Brush it.}}\n  - {{id: rinse, text: {0}}}\n{1}"
)

Publish = Callable[..., Site]


@pytest.fixture
def publish(data: WriteLayers, tmp_path: Path) -> Publish:
    """Return the site of some files over the small layer; `since` keeps the revision before."""
    count = 0

    def build(files: Files, since: Path | None = None) -> Site:
        nonlocal count
        count += 1
        brand = "address: https://jet.example/\n"
        (folder,) = data({"words": WORDS, "brand": brand, **files}, names=(f"layer{count}",))
        return compose([SMALL, folder], TEMPLATES, tmp_path, since)

    return build


def keep(site: Site, folder: Path) -> Path:
    folder.mkdir(parents=True)
    for name in ("catalog.json", "figures.json"):
        (folder / name).write_bytes(site.exports[name])
    return folder


def told(publish: Publish, tmp_path: Path, before: Files, after: Files) -> list[tuple[str, ...]]:
    """Return part, title and words of every change between two revisions."""
    kept = keep(publish(before), tmp_path / "previous")
    site = publish(after, kept)
    view = View(site.catalog, "changes.html")
    return [(c.part, c.title, *c.said) for c in changes(view, read_revision(kept))]


def test_a_lowered_ceiling_is_told_first_with_both_values(publish: Publish, tmp_path: Path) -> None:
    before = {"materials/pipe": PIPE.format("2000 psi"), "procedures/wash": STEPS.format("R.", "")}
    after = {"materials/pipe": PIPE.format("1500 psi"), "procedures/wash": STEPS.format("S.", "")}
    # 2000 × 0.0689476 = 137.9 bar, 1500 × 0.0689476 = 103.4 bar
    assert told(publish, tmp_path, before, after) == [
        (
            "figures",
            "Pipe: old, worn or damaged",
            "Was 2,000 psi (138 bar), now 1,500 psi (103 bar).",
            "The limit came down. Go by the new one from now on.",
        ),
        ("texts", "Wash", "Changed: S."),
    ]


@pytest.mark.parametrize(
    ("was", "now", "words"),
    [
        ("1500 psi", "2000 psi", ("The limit went up. A ceiling is still no setting.",)),
        ("1500 psi", "1500 psi, when: Wet.", ()),
        ("1500 psi", '1500 psi, jet: "no"', ()),
    ],
)
def test_a_ceiling_that_went_up_or_forbids_is_told(
    publish: Publish, tmp_path: Path, was: str, now: str, words: tuple[str, ...]
) -> None:
    before, after = ({"materials/pipe": PIPE.format(value)} for value in (was, now))
    (change,) = told(publish, tmp_path, before, after)
    assert change[0] == "figures"
    assert change[3:] == words


def test_the_same_value_in_another_unit_is_no_change(publish: Publish, tmp_path: Path) -> None:
    # 100 bar = 10 MPa
    before, after = ({"materials/pipe": PIPE.format(value)} for value in ("100 bar", "10 MPa"))
    assert told(publish, tmp_path, before, after) == []


def test_new_moved_and_gone_pages_are_told_in_that_words(publish: Publish, tmp_path: Path) -> None:
    before = {
        "procedures/wash": STEPS.format("Rinse it.", ""),
        "terms/skid": "title: Skid\nanswer: A runner.\n",
        "materials/pipe": PIPE.format("1500 psi"),
    }
    after = {
        "procedures/wash-down": STEPS.format("Rinse it.", "was: [wash]\n"),
        "terms/sledge": "title: Sledge\nanswer: A runner.\nwas: [skid]\n",
        "terms/swivel": "title: Swivel\nanswer: It turns.\n",
        "deposits/froth": "title: Froth\nanswer: It floats.\nknow_by: [White.]\n"
        "moves: [{id: skim, text: Skim it.}]\n",
    }
    assert told(publish, tmp_path, before, after) == [
        ("gone", "Pipe", "This page is no longer there."),
        ("moved", "Wash", "It was called: Wash. Old links lead here."),
        ("new", "Froth", "It floats."),
        ("new", "Swivel", "It turns."),
    ]


def test_steps_are_told_one_by_one_and_a_renamed_one_is_the_same(
    publish: Publish, tmp_path: Path
) -> None:
    before = {"procedures/wash": STEPS.format("Rinse it.", "")}
    after = {
        "procedures/wash": STEPS.format("Rinse it well.", "notes: [More.]\n")
        .replace("id: brush,", "id: scrub, was: [brush],")
        .replace("steps:\n", "steps:\n  - {id: bleed, text: Bleed it.}\n")
    }
    assert told(publish, tmp_path, before, after) == [
        ("texts", "Wash", "The text has changed.", "New: Bleed it.", "Changed: Rinse it well.")
    ]
    shorter = {"procedures/wash": STEPS.format("R", "").replace("  - {id: rinse, text: R}\n", "")}
    gone = ("texts", "Wash", "Gone: Rinse it.")
    assert told(publish, tmp_path / "again", before, shorter) == [gone]


def test_a_removed_end_of_a_path_is_told_by_its_words_and_by_its_id_if_none_are_kept(
    publish: Publish, tmp_path: Path
) -> None:
    path = (SMALL / "paths" / "no-water.yml").read_text("utf-8")
    before = {"paths/dry": path}
    after = {
        "paths/dry": path.replace("go: call", "go: fill").replace(
            "  - {id: call, text: Call the workshop., to: [symptoms/no-pressure#dry]}\n", ""
        )
    }
    asked = "Changed: Is the valve open?"
    assert told(publish, tmp_path, before, after) == [
        ("texts", "No water", asked, "Gone: Call the workshop.")
    ]
    # As a revision has it that was published before titles were kept.
    kept = keep(publish(before), tmp_path / "earlier")
    entries = json.loads((kept / "catalog.json").read_text("utf-8"))
    for entry in entries:
        entry.pop("titles", None)
    (kept / "catalog.json").write_text(json.dumps(entries), "utf-8")
    site = publish(after, kept)
    found = changes(View(site.catalog, "changes.html"), read_revision(kept))
    assert [change.said for change in found] == [(asked, "Gone: call")]


def test_what_is_no_news_for_a_crew_is_not_told(publish: Publish, tmp_path: Path) -> None:
    before = {"procedures/wash": STEPS.format("Rinse it.", "")}
    more = (
        "also_called: [wash down]\nsee: [hazards/injection]\ngroup: care\n"
        "reviewed: {on: 2026-11-20, role: trainer}\n"
    )
    assert (
        told(publish, tmp_path, before, {"procedures/wash": STEPS.format("Rinse it.", more)}) == []
    )


def test_a_new_and_a_dropped_figure_are_told(publish: Publish, tmp_path: Path) -> None:
    figure = "figures: {{{0}: {{label: Soak, is: 5 min, basis: practice, why: So.}}}}\n"
    with_it = {"procedures/wash": STEPS.format("R.", figure.format("soak"))}
    without = {"procedures/wash": STEPS.format("R.", "")}
    assert told(publish, tmp_path, without, with_it) == [("figures", "Wash: soak", "New: 5 min.")]
    assert told(publish, tmp_path / "again", with_it, without) == [
        ("figures", "Wash: soak", "Gone. It was 5 min.")
    ]


def page_of(site: Site) -> str:
    return next(page.html for page in site.pages if page.address == "changes.html")


def test_the_page_says_whether_there_is_anything_to_compare(
    publish: Publish, tmp_path: Path
) -> None:
    site = publish({})
    assert "No earlier revision is kept to compare with." in page_of(site)
    kept = keep(site, tmp_path / "previous")
    assert "Nothing has changed against the revision before." in page_of(publish({}, kept))
    changed = publish({"materials/pipe": PIPE.format("1500 psi")}, kept)
    assert '<a href="materials/pipe.html">' in page_of(changed)


def test_a_folder_that_keeps_nothing_is_no_revision_and_a_broken_one_is_told(
    publish: Publish, tmp_path: Path
) -> None:
    assert read_revision(tmp_path / "nowhere") is None
    kept = keep(publish({}), tmp_path / "previous")
    (kept / "catalog.json").write_text("[{}]")
    with pytest.raises(RefgenError, match="is no list that refgen wrote"):
        publish({}, kept)
    (kept / "catalog.json").write_text("{broken")
    with pytest.raises(RefgenError, match="cannot be read"):
        publish({}, kept)


ATOM = "{http://www.w3.org/2005/Atom}"


def test_the_feed_tells_each_change_once_with_a_whole_address(
    publish: Publish, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    before = {"materials/pipe": PIPE.format("2000 psi")}
    after = {
        "materials/pipe": PIPE.format("1500 psi").replace("title: Pipe", "title: Pipe <&> co"),
        "terms/skid": "title: Skid\nanswer: A.\nreviewed: {on: 2031-05-04, role: trainer}\n",
    }
    kept = keep(publish(before), tmp_path / "previous")
    text = publish(after, kept).exports["changes.atom"]
    root = ElementTree.fromstring(text)
    entries = {entry.findtext(f"{ATOM}title"): entry for entry in root.findall(f"{ATOM}entry")}
    assert sorted(entries) == [
        "Changed: Pipe <&> co",
        "Changed: Pipe <&> co: old, worn or damaged",
        "Skid",
    ]
    lowered = entries["Changed: Pipe <&> co: old, worn or damaged"]
    assert lowered.find(f"{ATOM}link").attrib["href"] == (
        "https://jet.example/materials/pipe.html#worn"
    )
    assert "The limit came down." in (lowered.findtext(f"{ATOM}summary") or "")
    ids = [entry.findtext(f"{ATOM}id") for entry in entries.values()]
    assert len(set(ids)) == 3
    # The last review on record, since nothing may depend on the day of the build.
    assert root.findtext(f"{ATOM}updated") == "2031-05-04T00:00:00Z"
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    again = publish(after, kept).exports["changes.atom"]
    assert ElementTree.fromstring(again).findtext(f"{ATOM}updated") == "1970-01-02T00:00:00Z"


def test_the_same_two_revisions_give_the_same_bytes(publish: Publish, tmp_path: Path) -> None:
    kept = keep(publish({"materials/pipe": PIPE.format("2000 psi")}), tmp_path / "previous")
    after = {"materials/pipe": PIPE.format("1500 psi")}
    one, other = publish(after, kept), publish(after, kept)
    for name in ("changes.atom", "catalog.json", "figures.json"):
        assert one.exports[name] == other.exports[name]
    assert page_of(one) == page_of(other)


def test_a_plate_that_says_otherwise_is_told_with_both_values(
    publish: Publish, tmp_path: Path
) -> None:
    barrow = (SMALL / "machines" / "barrow.yml").read_text("utf-8")
    hose = (SMALL / "hoses" / "half-line.yml").read_text("utf-8")
    before = {"machines/barrow": barrow, "hoses/half-line": hose}
    after = {
        "machines/barrow": barrow.replace("2800 psi", "2500 psi").replace("20 gal", "75.7082 L"),
        "hoses/half-line": f"{hose}warmest: 140 degF\n".replace("0.1 lb/ft", "0.2 lb/ft"),
    }
    # 2800 × 0.0689476 = 193.1 bar, 2500 × 0.0689476 = 172.4 bar; 0.1 lb/ft = 0.45359 / 3.048 kg/m.
    # 20 gal are 75.7082 L, so of the tank there is nothing to tell; nor has any text changed.
    assert told(publish, tmp_path, before, after) == [
        ("figures", "Barrow: unloader set to", "Was 2,800 psi (193 bar), now 2,500 psi (172 bar)."),
        ("figures", "Half line: warmest water", "New: 140 °F (60 °C)."),
        ("figures", "Half line: weight", "Was 0.1 lb/ft (0.15 kg/m), now 0.2 lb/ft (0.30 kg/m)."),
    ]


def test_of_a_page_that_changed_in_many_places_the_first_are_told_and_how_many_more(
    publish: Publish, tmp_path: Path
) -> None:
    steps = "".join(f"  - {{{{id: s{n}, text: {{0}} {n}.}}}}\n" for n in range(6))
    wash = STEPS.replace("{1}", steps)
    before = {"procedures/wash": wash.format("Look")}
    after = {"procedures/wash": wash.format("See")}
    # The step `rinse` and the six: seven in all, three of them told.
    assert told(publish, tmp_path, before, after) == [
        (
            "texts", "Wash", "Changed: See", "Changed: See 0.", "Changed: See 1.",
            "And 4 other places on this page.",
        ),
    ]  # fmt: skip


def test_figures_json_holds_each_figure_in_both_systems(publish: Publish) -> None:
    exports = publish({"materials/pipe": PIPE.format("1500 psi")}).exports
    figures = json.loads(exports["figures.json"])
    (pipe,) = (f for f in figures if (f["kind"], f["id"]) == ("materials", "pipe"))
    # 1500 psi × 6894.757 = 1.03421e7 Pa
    assert pipe == {
        "kind": "materials", "id": "pipe", "figure": "worn", "title": "Pipe",
        "label": "Old, worn or damaged", "us": "1,500 psi", "metric": "103 bar",
        "basis": "practice", "value": "1.03421e+07||",
    }  # fmt: skip
