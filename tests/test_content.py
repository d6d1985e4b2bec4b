"""What the reference promises of itself: enough of each kind, whole, findable, plain, sourced."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from html.parser import HTMLParser
from itertools import combinations
from pathlib import Path
from typing import Any, cast

import pytest
import yaml
from markupsafe import escape

from refgen.addresses import UNSURE, index_address, record_address
from refgen.advice import bare_numbers
from refgen.branching import walk_of
from refgen.bundled import bundled
from refgen.catalog import Catalog, Entry
from refgen.compose import read_catalog
from refgen.conditions import condition_of
from refgen.listings import unsure
from refgen.model.trouble import Path as FaultPath
from refgen.pages import Page, render_pages
from refgen.references import contents_of
from refgen.spelling import cut
from refgen.tables import compute_tables
from refgen.views import View

ROOT = Path(__file__).resolve().parents[1]
BASE, COMPANY = ROOT / "data" / "base", ROOT / "data" / "pebblecombe"

FLOORS = {
    "materials": 22,
    "deposits": 14,
    "patterns": 18,
    "parts": 40,
    "symptoms": 60,
    "paths": 6,
    "procedures": 45,
    "checklists": 8,
    "hazards": 28,
    "terms": 85,
    "sources": 60,
    "lessons": 8,
}
# What a page of each kind is opened for; a record without one of these is not written yet.
WHOLE = {
    "materials": "recognise confused_with ceilings heat hurt_by technique keep_off stop hazards",
    "deposits": "know_by confused_with moves goes_wrong stop hazards",
    "patterns": "jets does does_not pipe_from pipe_to care hazards",
    "parts": "does set failing care",
    "symptoms": "first causes stop log hazards",
    "procedures": "who when need steps done stop",
    "checklists": "when sections",
    "hazards": "signal harm prevent stop first_response defer_to",
    "terms": "also_called",
    "lessons": "time aims need steps questions",
    "sources": "body year form read",
}
# Entries of one page each; the index is where they live.
LISTED_ONLY = {"terms", "sources"}
# Kinds that a tech looks for by name.
LOOKED_FOR = {*FLOORS, "machines", "tables"} - {*LISTED_ONLY, "lessons"}


@pytest.fixture(scope="module")
def base() -> Catalog:
    """The shared base by itself, as every company gets it."""
    return read_catalog([BASE], ROOT)


@pytest.fixture(scope="module")
def whole() -> Catalog:
    """The demonstration: the base and the company over it."""
    return read_catalog([BASE, COMPANY], ROOT)


@pytest.fixture(scope="module")
def pages(whole: Catalog) -> dict[str, Page]:
    rendered = render_pages(whole, compute_tables(whole), bundled("site_templates"))
    return {page.address: page for page in rendered}


class Rows(HTMLParser):
    """Gathers the links of a page, and for each the text up to the next one."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.rows: list[tuple[str, str]] = []
        self.ids: set[str] = set()
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.ids.add(found.get("id") or "")
        if tag == "a" and found.get("href"):
            self.rows.append((found["href"] or "", ""))

    def handle_data(self, data: str) -> None:
        if self.rows:
            href, said = self.rows[-1]
            self.rows[-1] = href, said + data


def of_kind(catalog: Catalog, *kinds: str) -> list[Entry]:
    return [entry for entry in catalog.entries.values() if entry.record.kind in kinds]


# ---- enough, and whole


@pytest.mark.parametrize(("kind", "least"), FLOORS.items())
def test_there_are_enough_of_each_kind(base: Catalog, kind: str, least: int) -> None:
    assert len(of_kind(base, kind)) >= least


@pytest.mark.parametrize("kind", WHOLE)
def test_each_says_what_its_kind_is_opened_for(base: Catalog, kind: str) -> None:
    for entry in of_kind(base, kind):
        fields = {field: getattr(entry.record, field) for field in WHOLE[kind].split()}
        assert all(fields.values()), (entry.id, [name for name in fields if not fields[name]])


# Pipe of unknown material has one condition; attacked concrete is never sound.
CONDITIONS = {"unknown-pipe": {"unknown"}, "concrete-attacked": {"unknown", "worn"}}


def test_a_pipe_has_a_ceiling_for_each_condition_and_patterns_if_it_may_be_jetted(
    base: Catalog,
) -> None:
    for entry in of_kind(base, "materials"):
        material: Any = entry.record
        names = ("unknown", "worn", "sound")
        found = {name: c for name in names if (c := getattr(material.ceilings, name))}
        assert set(found) == CONDITIONS.get(entry.id, set(names)), entry.id
        if any(ceiling.jet is None for ceiling in found.values()):
            assert material.use, entry.id


def test_each_pattern_is_drawn_and_warns_of_the_jet(base: Catalog, pages: dict[str, Page]) -> None:
    for entry in of_kind(base, "patterns"):
        pattern: Any = entry.record
        page = pages[record_address("patterns", entry.id)].html
        assert 'class="picture"' in page, entry.id
        hazards = {ref.id for ref in pattern.hazards}
        assert {"injection", "nozzle-out-of-pipe"} <= hazards, entry.id


def test_each_part_leads_to_what_is_seen_when_it_fails(base: Catalog) -> None:
    for entry in of_kind(base, "parts"):
        part: Any = entry.record
        assert any(failing.symptoms for failing in part.failing), entry.id


def test_each_procedure_says_what_to_do_if_a_step_fails(base: Catalog) -> None:
    for entry in of_kind(base, "procedures"):
        procedure: Any = entry.record
        assert any(step.bad for step in procedure.steps), entry.id
        cautions = [*procedure.cautions, *(c for step in procedure.steps for c in step.cautions)]
        assert cautions, entry.id


def test_each_symptom_is_at_the_end_of_a_path_of_its_area(base: Catalog) -> None:
    ends = {
        (entry.id, ref.id)
        for entry in of_kind(base, "paths")
        for end in cast("FaultPath", entry.record).ends
        for ref in end.to
        if ref.kind == "symptoms"
    }
    reached: dict[str, set[str]] = defaultdict(set)
    for path, symptom in ends:
        reached[symptom].add(path)
    for entry in of_kind(base, "symptoms"):
        assert reached[entry.id] & AREAS[str(entry.record.group)], entry.id


# Which paths a tech with such a symptom would open.
AREAS = {
    "pressure": {"gauge-and-nozzle", "no-pressure"},
    "pump": {"no-pressure", "gauge-and-nozzle"},
    "hose-and-nozzle": {"hose-stuck", "gauge-and-nozzle"},
    "drive-and-controls": {"engine-trouble"},
    "water-and-cold": {"cold-morning", "no-pressure", "gauge-and-nozzle"},
    "on-the-job": {"water-rises"},
    "someone-hurt": {"hose-stuck", "water-rises"},
}


def test_what_one_may_jet_at_names_patterns_to_use_and_to_keep_off(base: Catalog) -> None:
    for entry in of_kind(base, "deposits"):
        deposit: Any = entry.record
        if any(move.patterns for move in deposit.moves):
            assert deposit.use, entry.id
            assert deposit.keep_off, entry.id


def test_each_symptom_has_two_causes_or_more_told_apart_by_their_checks(base: Catalog) -> None:
    for entry in of_kind(base, "symptoms"):
        symptom: Any = entry.record
        assert len(symptom.causes) >= 2, entry.id
        checks = [(cause.id, set(cut(cause.check))) for cause in symptom.causes]
        for (one, words), (other, others) in combinations(checks, 2):
            # By more than a word or two: checks in the same words tell nothing apart.
            assert len(words & others) < 0.7 * len(words | others), (entry.id, one, other)


def test_on_every_machine_a_path_still_asks_and_each_end_still_leads_on(whole: Catalog) -> None:
    for entry in of_kind(whole, "paths"):
        path: Any = entry.record
        for name, machine in whole.machines().items():
            walk = walk_of(path, machine.parts)
            for question, choices in walk.choices.items():
                assert len(choices) >= 2, f"{entry.id}#{question} asks nothing on {name}"
            for end in path.ends:
                rows = [condition_of(whole, ref).applies_to(machine.parts) for ref in end.to]
                assert end.id not in walk.ends or any(rows), (entry.id, end.id, name)


def test_paths_ask_of_what_is_fitted_and_of_nothing_else(whole: Catalog) -> None:
    told: dict[str, str] = {}
    for name, machine in whole.machines().items():
        told[name] = " ".join(
            choice.text.lower()
            for entry in of_kind(whole, "paths")
            for choices in walk_of(cast("FaultPath", entry.record), machine.parts).choices.values()
            for choice in choices
        )
    for word, part in (
        ("electric motor", "electric-motor"),
        ("pedal", "dump-pedal shut-off-pedal"),
        ("remote", "radio-remote"),
        ("burst disc", "burst-disc"),
        ("dump outlet", "dump-pedal"),
    ):
        for name, machine in whole.machines().items():
            has = bool(machine.parts & {*part.split()})
            assert (word in told[name]) == has, (word, name)


def test_a_term_is_told_in_one_sentence(base: Catalog) -> None:
    answers = {entry.id: entry.record.answer for entry in of_kind(base, "terms")}
    assert [name for name, said in answers.items() if re.search(r"[.?!]\s+\S", said)] == []


def test_a_hazard_of_danger_says_what_to_do_at_once(base: Catalog) -> None:
    for entry in of_kind(base, "hazards"):
        hazard: Any = entry.record
        led_on = any(ref.kind == "procedures" for ref in hazard.see)
        assert hazard.signal != "danger" or hazard.first_response or led_on, entry.id


def test_every_record_was_read_through_and_says_when_it_is_to_be_read_again(
    whole: Catalog,
) -> None:
    reviews = {entry.key: entry.record.reviewed for entry in whole.entries.values()}
    assert [key for key, review in reviews.items() if review is None or not review.next] == []


def test_each_page_with_a_limit_says_whose_word_goes_before_it(
    whole: Catalog, pages: dict[str, Page]
) -> None:
    for entry in of_kind(whole, "materials"):
        html = pages[record_address("materials", entry.id)].html
        # Beside the limits, before anything is done with them.
        assert html.index("the lowest wins") < html.index('id="_technique"'), entry.id
    for entry in of_kind(whole, "hazards"):
        hazard: Any = entry.record
        html = pages[record_address("hazards", entry.id)].html
        assert escape(whole.w["not_enough"]) in html, entry.id
        assert html.count("<li", html.index('id="_defer"')) >= len(hazard.defer_to), entry.id
    for entry in of_kind(whole, "procedures"):
        procedure: Any = entry.record
        if procedure.urgent:
            notes = " ".join(procedure.notes)
            assert re.search("overrules? this page", notes), entry.id


# ---- reached and found


def test_no_record_stands_alone(whole: Catalog) -> None:
    alone = [key for key in whole.entries if not whole.backlinks.get(key)]
    assert [key for key in alone if key[0] not in LISTED_ONLY] == []


def test_each_record_is_on_the_index_of_its_kind(whole: Catalog, pages: dict[str, Page]) -> None:
    missing = []
    for kind in {kind for kind, _ in whole.entries}:
        index = Rows(pages[index_address(kind)].html)
        linked = {href for href, _ in index.rows}
        for name in (name for k, name in whole.entries if k == kind):
            if name not in index.ids and f"../{record_address(kind, name)}" not in linked:
                missing.append(f"{kind}/{name}")
    assert missing == []


def test_what_a_tech_looks_for_goes_by_the_names_a_tech_uses(whole: Catalog) -> None:
    for entry in of_kind(whole, *LOOKED_FOR):
        least = 1 if entry.record.kind == "machines" else 4
        assert len(entry.record.also_called) >= least, entry.key


def test_no_two_records_claim_the_same_word(whole: Catalog) -> None:
    claimed: dict[str, set[str]] = defaultdict(set)
    titles: dict[str, set[str]] = defaultdict(set)
    for (kind, name), entry in whole.entries.items():
        # As search reads it: 'pop-off valve' and 'pop off valve' are one name.
        for word in entry.record.also_called:
            claimed["".join(cut(word))].add(f"{kind}/{name}")
        # The glossary explains words that are other pages' titles; that is what it is for.
        if kind != "terms":
            titles["".join(cut(entry.record.title))].add(f"{kind}/{name}")
    assert {word: who for word, who in claimed.items() if len(who) > 1} == {}
    assert {title: who for title, who in titles.items() if len(who) > 1} == {}
    stolen = {word: who | titles[word] for word, who in claimed.items() if titles.get(word)}
    assert {word: who for word, who in stolen.items() if len(who) > 1} == {}


def test_the_lessons_are_one_course_listed_in_its_order(
    whole: Catalog, pages: dict[str, Page]
) -> None:
    course = {entry.record.number: entry.id for entry in of_kind(whole, "lessons")}
    assert sorted(course) == list(range(1, len(course) + 1))
    assert course[1] == "first-day"
    assert course[len(course)] == "assessment"
    rows = Rows(pages[index_address("lessons")].html).rows
    listed = [href.removesuffix(".html").split("/")[-1] for href, _ in rows]
    assert listed == [course[number] for number in sorted(course)]
    said = [" ".join(said.split()) for _, said in rows]
    assert all(f"Lesson {number} of {len(course)}." in said[number - 1] for number in course)


def test_each_stretch_of_a_lesson_has_its_time_and_they_fill_most_of_it(whole: Catalog) -> None:
    for entry in of_kind(whole, "lessons"):
        lesson: Any = entry.record
        assert all(step.time for step in lesson.steps), entry.id
        taken = sum(step.time.si for step in lesson.steps)
        # What is left is for breaks and questions; more than that means a step was forgotten.
        assert 0.75 * lesson.time.si <= taken <= lesson.time.si, entry.id


def test_the_hospital_gets_a_card_with_what_to_fill_in(
    whole: Catalog, pages: dict[str, Page]
) -> None:
    for entry in of_kind(whole, "hazards"):
        hazard: Any = entry.record
        address = f"hazards/{entry.id}-card.html"
        assert (address in pages) == bool(hazard.on_card), entry.id
    card = pages["hazards/injection-card.html"].html
    injection: Any = whole.entries["hazards", "injection"].record
    for fact in injection.on_card:
        assert f"<span>{fact}</span>" in card
    assert card.count('class="line wide"') == len(injection.on_card) + 3  # name, date, place
    for wanted in ("X-ray", "antibiotics", "tetanus", "surgical review", "injection"):
        assert wanted in card
    # Those who need it come from here.
    for address in ("hazards/injection", "procedures/injection-first-response", "emergency"):
        rows = Rows(pages[f"{address}.html"].html).rows
        assert [href for href, _ in rows if href.endswith("injection-card.html")], address


def test_rows_that_read_the_same_lead_to_the_same(pages: dict[str, Page]) -> None:
    same = []
    for address, page in pages.items():
        for rows in re.findall(r'<ul class="rows">(.*?)</ul>', page.html, re.DOTALL):
            leads: dict[str, set[str]] = defaultdict(set)
            # What only some machines are shown may stand twice: each sees one of them.
            for href, said in re.findall(r'<li><a href="([^"]+)"[^>]*>(.*?)</a>', rows):
                leads[said].add(href)
            same += [(address, said) for said, hrefs in leads.items() if len(hrefs) > 1]
    assert same == []


# ---- plainly said


def sentences(text: str) -> list[str]:
    return [part for part in re.split(r"(?<=[.?!:])\s+", text) if re.search(r"\w", part)]


def words_in(sentence: str) -> int:
    return len(re.findall(r"\S*\w\S*", sentence))


def steps_and_first_lines(catalog: Catalog) -> Iterator[str]:
    """Yield each step and each first line as a reader sees it, figures set in."""
    for (kind, name), entry in catalog.entries.items():
        view = View(catalog, record_address(kind, name), (kind, name))
        for path, text in entry.contents.texts:
            first_line = path in (("answer",), ("first",)) and kind != "sources"
            step = path[0] in ("steps", "moves", "set", "first_response") and path[-1] == "text"
            if first_line or (step and "cautions" not in path):
                yield view.plain(text)


def test_steps_and_first_lines_are_short(whole: Catalog) -> None:
    lengths = [words_in(s) for text in steps_and_first_lines(whole) for s in sentences(text)]
    assert len(lengths) > 2500
    assert sum(lengths) / len(lengths) < 16


def test_no_number_is_typed_with_its_unit_into_a_text(whole: Catalog) -> None:
    contents = [(str(entry.key), entry.contents) for entry in whole.entries.values()]
    contents.append(("brand", contents_of(whole.brand)))
    typed = [
        f"{key} {path}: {bare_numbers(text)}"
        for key, content in contents
        for path, text in content.texts
        if bare_numbers(text)
    ]
    assert typed == []


def test_the_name_and_the_case_of_a_figure_give_both_systems(whole: Catalog) -> None:
    # Names cannot hold a quantity, so both units are typed: '5000 psi (345 bar)'.
    pair = re.compile(r"\d[^()]{0,14} \([^()]*\d[^()]*\)")
    twofold = re.compile("(psi|bar|in|mm|ft|m|°F|°C|gal|L|gpm|L/min|lb|kg)$")
    single = [
        f"{key}: {text}"
        for key, figure in whole.figures.items()
        for text in (figure.label or "", figure.when or "")
        for number in bare_numbers(pair.sub(" ", text))
        if twofold.search(number)
    ]
    assert single == []


# ---- sourced


def test_each_source_is_cited_by_a_record(whole: Catalog) -> None:
    contents = [entry.contents for entry in whole.entries.values()]
    cited = {ref.id for c in contents for _, ref in c.refs if ref.kind == "sources"}
    assert {entry.id for entry in of_kind(whole, "sources")} - cited == set()


def unsure_figures() -> Iterator[tuple[str, str]]:
    """Yield where each value is that no document stands behind, and why, from the files."""
    for file in sorted([*BASE.glob("*/*.yml"), *COMPANY.glob("*/*.yml")]):
        record = yaml.safe_load(file.read_text("utf-8"))
        found = {**record.get("figures", {}), **record.get("ceilings", {})}
        if "heat" in record:
            found["heat"] = record["heat"]
        address = record_address(file.parent.name, file.stem).split("#")[0]
        for name, written in found.items():
            figure = written if isinstance(written, dict) else {}
            inherited = figure if "basis" in figure else {**record, **figure}
            for value in (inherited, *figure.get("differs", [])):
                if value.get("basis") in ("practice", "caution"):
                    why = value.get("why") or record.get("why")
                    yield f"{address}#{name}", " ".join(str(why).split())


def test_one_page_lists_every_value_without_a_document_behind_it(pages: dict[str, Page]) -> None:
    listed = [(href, " ".join(said.split())) for href, said in Rows(pages[UNSURE].html).rows]
    expected = list(unsure_figures())
    assert len(expected) > 100
    for href, why in expected:
        assert [said for at, said in listed if at == href and why in said], (href, why)
    # None twice, and none that is proved: address by address there are as many as there should be.
    assert Counter(at for at, _ in listed) == Counter(at for at, _ in expected)


def test_where_sources_differ_each_value_is_listed_by_its_own_basis(
    catalog_of: Callable[..., Catalog],
) -> None:
    gap = """
figures:
  gap:
    is: 10 ft
    basis: code
    source: sewer-trial
    differs:
      - {is: 6 ft, to: 8 ft, basis: practice, why: Often said., when: By day}
      - {is: 3 ft, basis: test, source: sewer-trial}
"""
    said = ("differing: differ", "kind_hazards_one: H", "kind_materials_one: M", "warmest_water: W")
    words = f"words: {{{', '.join(said)}}}\n"
    catalog = catalog_of({"hazards/injection": gap, "words": words})
    view = View(catalog, UNSURE)
    found = [
        (link.href, name, str(shown), value.why, value.when)
        for link, value, name, shown in unsure(view, "practice")
        if link.href.endswith("#gap")
    ]
    address = "hazards/injection.html#gap"
    span = "6 to 8 ft (1.8 to 2.4 m)"  # 1.83 and 2.44 m
    assert found == [(address, "Gap (differ)", span, "Often said.", "By day")]
    assert not [link for link, *_ in unsure(view, "caution") if link.href == address]
