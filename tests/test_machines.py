"""Every procedure, symptom and checklist on every machine: all that applies, nothing else.

The pages are rendered as they are published and read as they stand once a machine is chosen:
without the elements whose parts it lacks. What is left is compared with the records.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from refgen.bundled import bundled
from refgen.catalog import Catalog
from refgen.compose import read_catalog
from refgen.diagnosis import whole_cause
from refgen.fitting import variants_for
from refgen.model.equipment import Part
from refgen.model.fit import Fitted
from refgen.model.machines import Machine
from refgen.model.trouble import Cause, Symptom
from refgen.model.trouble import Path as FaultPath
from refgen.model.work import Checklist, Procedure, Step, Tick
from refgen.pages import render_pages
from refgen.tables import compute_tables
from refgen.views import View
from tests.standing import (
    Lines,
    Node,
    Tree,
    left_standing,
    lines_of,
    lines_on,
    steps_on,
    ticks_on,
)

ROOT = Path(__file__).resolve().parents[1]
# Two invented companies over the base, so that there are more ways to be fitted out.
LAYERS = [
    ROOT / "data" / "base",
    ROOT / "data" / "pebblecombe",
    ROOT / "tests" / "quillfen" / "data" / "quillfen",
]


@cache
def catalog() -> Catalog:
    return read_catalog(LAYERS, ROOT)


@cache
def pages() -> dict[str, str]:
    """Return the article of every page by its address."""
    made = render_pages(catalog(), compute_tables(catalog()), bundled("site_templates"))
    return {page.address: page.html for page in made}


def machine_of(name: str) -> Machine:
    return catalog().machines()[name]


def procedure_of(name: str) -> Procedure:
    found = catalog().entries["procedures", name].record
    assert isinstance(found, Procedure)
    return found


def checklist_of(name: str) -> Checklist:
    found = catalog().entries["checklists", name].record
    assert isinstance(found, Checklist)
    return found


# What parts are called in passing, beside the names under which they are searched.
IN_PASSING = {
    "accumulator": ["gas charge"],
    "antifreeze-circuit": ["antifreeze valve", "small tank"],
    "battery": ["jump leads"],
    "belt-drive": ["belt"],
    "burst-disc": ["disc"],
    "dump-pedal": ["dump outlet", "dump valve"],
    "hand-lance": ["gun"],
    "hand-reel": ["the crank"],
    "hose-guide": ["guide at the edge"],
    "powered-reel": ["reel's motor"],
    "pulse-valve": ["pulse"],
    "trailer-chassis": ["tow", "towing"],
    "water-heater": ["heater", "flue"],
}


# What a machine with none of some parts has nothing to do with.
IN_COMMON = {
    frozenset({"petrol-engine", "diesel-engine"}): ["cranking", "the choke", "engine off"],
    frozenset({"dump-pedal", "shut-off-pedal"}): ["pedal"],
}


def names_in(kind: str) -> list[str]:
    return sorted({path.stem for layer in LAYERS for path in (layer / kind).glob("*.yml")})


def on_each_machine(kind: str) -> pytest.MarkDecorator:
    cases = list(product(names_in("machines"), names_in(kind)))
    return pytest.mark.parametrize(("machine", "name"), cases)


# ---- a page as it stands with a machine chosen


def page_for(address: str, machine: str) -> Node:
    return left_standing(Tree(pages()[address]).open[0], machine_of(machine).parts)


def handbook_of(machine: str) -> dict[str, list[Lines]]:
    """Return the steps of each procedure printed in a machine's handbook."""
    found = {}
    for section in Tree(pages()[f"machines/{machine}-handbook.html"]).open[0].walk():
        heads = [n for n in section.inside if isinstance(n, Node) and n.tag == "h2"]
        if section.tag == "section" and heads:
            name = heads[0].attributes["id"].removeprefix("procedure-")
            found[name] = [lines_of(node) for node in section.walk() if node.kind == "step"]
    return found


# ---- what the records say


def setter(kind: str, name: str) -> Callable[[str], str]:
    view = View(catalog(), f"{kind}/{name}.html", (kind, name))
    return lambda text: " ".join(view.plain(text).split())


def told_by(step: Step, machine: Machine, plain: Callable[[str], str]) -> Lines:
    """Return the lines of a step on a machine, the cautions of each block in any order."""
    lines = [("caution", plain(caution.text)) for caution in step.cautions]
    lines += [("do", plain(step.text))] if step.text else []
    for variant in variants_for(step, machine.parts):
        lines += [("caution", plain(caution.text)) for caution in variant.cautions]
        lines.append(("do", plain(variant.text)))
    lines += [("good", plain(step.good))] if step.good else []
    return lines + ([("bad", plain(step.bad))] if step.bad else [])


def parts_asked(item: Fitted, lacking: set[str]) -> set[str]:
    """Return the parts an item needs though they are told to be lacking."""
    if item.needs is None:
        return set()
    every, some = ({ref.id for ref in refs} for refs in (item.needs.all, item.needs.any))
    return (every & lacking) | (some if some and some <= lacking else set())


def names_of(part: str) -> list[str]:
    record = catalog().entries["parts", part].record
    title = re.sub(r" *\(.*?\)", "", record.title)
    return [title, *record.also_called, *IN_PASSING.get(part, ())]


def named(text: str, names: list[str]) -> list[str]:
    """Return the names that a text speaks, as whole words."""
    return [n for n in names if re.search(rf"\b{re.escape(n)}(?:'s|s)?\b", text, re.IGNORECASE)]


def lacking_names(machine: str) -> list[str]:
    """Return every name of the parts that machines differ in and this one lacks."""
    fitted = machine_of(machine).parts
    asked = {p for p, r in catalog().of_kind("parts").items() if isinstance(r, Part) and r.ask}
    names = [name for part in sorted(asked - fitted) for name in names_of(part)]
    return names + [n for parts, more in IN_COMMON.items() if not parts & fitted for n in more]


def causes_for(name: str, machine: Machine) -> list[Cause]:
    """Return the causes of a symptom that a machine can have, each with what it takes over."""
    symptoms = {k: v for k, v in catalog().of_kind("symptoms").items() if isinstance(v, Symptom)}
    whole = [whole_cause(cause, symptoms) for cause in symptoms[name].causes]
    return [cause for cause in whole if cause.applies_to(machine.parts)]


def spoken_of(page: Node, names: list[str]) -> list[tuple[list[str], str]]:
    """Return the lines of a page that speak one of the names, with what they speak."""
    lines = dict.fromkeys(lines_on(page))
    return [(found, line) for line in lines if (found := named(line, names))]


# ---- the promises


@on_each_machine("procedures")
def test_each_step_is_shown_on_the_machines_it_is_for_and_on_no_other(
    machine: str, name: str
) -> None:
    parts = machine_of(machine)
    lacking = {ref.id for ref in parts.not_fitted}
    steps = [step for step in procedure_of(name).steps if step.applies_to(parts.parts)]
    assert list(steps_on(page_for(f"procedures/{name}.html", machine))) == [s.id for s in steps]
    assert steps, "nothing is left of it"
    for step in steps:
        assert parts_asked(step, lacking) == set(), step.id
        for variant in variants_for(step, parts.parts):
            assert parts_asked(variant, lacking) == set(), f"{step.id} {variant.id}"


@on_each_machine("procedures")
def test_a_step_that_differs_has_one_way_on_each_machine(machine: str, name: str) -> None:
    parts = machine_of(machine)
    shown = steps_on(page_for(f"procedures/{name}.html", machine))
    for step in procedure_of(name).steps:
        if step.applies_to(parts.parts):
            assert [kind for kind, _ in shown[step.id]].count("do") == 1, step.id
            assert len(variants_for(step, parts.parts)) == (1 if step.variants else 0), step.id


@on_each_machine("procedures")
def test_no_caution_is_lost_and_each_stands_before_its_step(machine: str, name: str) -> None:
    parts, plain = machine_of(machine), setter("procedures", name)
    page = page_for(f"procedures/{name}.html", machine)
    shown = steps_on(page)
    for step in procedure_of(name).steps:
        if step.applies_to(parts.parts):
            lines, wanted = shown[step.id], told_by(step, parts, plain)
            assert sorted(lines) == sorted(wanted), step.id
            kinds = [kind for kind, _ in lines]
            assert "caution" not in kinds[kinds.index("do") :], step.id
    before = list(page.walk())
    first = next(at for at, node in enumerate(before) if node.kind == "steps")
    head = [line for node in before[:first] if node.kind == "caution" for line in lines_of(node)]
    assert sorted(head) == sorted(("caution", plain(c.text)) for c in procedure_of(name).cautions)


@on_each_machine("procedures")
def test_no_line_of_a_procedure_speaks_of_a_part_the_machine_lacks(machine: str, name: str) -> None:
    page = page_for(f"procedures/{name}.html", machine)
    assert spoken_of(page, lacking_names(machine)) == []


@on_each_machine("symptoms")
def test_no_cause_or_stop_line_speaks_of_a_part_the_machine_lacks(machine: str, name: str) -> None:
    page = page_for(f"symptoms/{name}.html", machine)
    if causes_for(name, machine_of(machine)):  # else it is not a fault this machine can have
        assert spoken_of(page, lacking_names(machine)) == []


@on_each_machine("symptoms")
def test_each_cause_is_shown_whole_on_the_machines_that_can_have_it(
    machine: str, name: str
) -> None:
    parts = machine_of(machine)
    causes = causes_for(name, parts)
    page = page_for(f"symptoms/{name}.html", machine)
    shown = {n.attributes["id"]: n for n in page.walk() if n.kind == "cause"}
    assert list(shown) == [cause.id for cause in causes]
    for cause in causes:
        # A caution taken over with its cause may cite figures of the page it was written for.
        texts = [text for kind, text in lines_of(shown[cause.id]) if kind == "caution"]
        assert len(texts) == len(cause.cautions), cause.id
        kinds = [node.kind for node in shown[cause.id].walk()]
        if cause.cautions:
            assert kinds.index("caution") < kinds.index("check"), cause.id


@on_each_machine("symptoms")
def test_no_stop_line_and_no_caution_of_a_symptom_is_lost(machine: str, name: str) -> None:
    parts, plain = machine_of(machine), setter("symptoms", name)
    record = catalog().entries["symptoms", name].record
    assert isinstance(record, Symptom)
    page = page_for(f"symptoms/{name}.html", machine)
    (stop,) = [node for node in page.walk() if node.kind == "stop"]
    shown = [node.text() for node in stop.walk() if node.tag == "li"]
    assert shown == [plain(line.text) for line in record.stop if line.applies_to(parts.parts)]
    nodes = list(page.walk())
    first = next(at for at, node in enumerate(nodes) if node.kind == "first")
    head = [line for node in nodes[:first] if node.kind == "caution" for line in lines_of(node)]
    assert sorted(head) == sorted(("caution", plain(c.text)) for c in record.cautions)


def conditional_lines() -> Iterator[tuple[str, str, Fitted]]:
    """Yield every line that only some machines are told to stop by, or told when they are done."""
    for name in names_in("symptoms"):
        record = catalog().entries["symptoms", name].record
        assert isinstance(record, Symptom)
        for line in record.stop:
            yield f"symptoms/{name}#{line.id}", line.text, line
    for name in names_in("procedures"):
        procedure = procedure_of(name)
        for line in (*procedure.need, *procedure.done, *procedure.stop):
            yield f"procedures/{name}", line.text, line


def test_a_line_is_kept_from_a_machine_only_for_the_part_it_speaks_of() -> None:
    kept = [found for found in conditional_lines() if found[2].needs or found[2].unless]
    assert len(kept) > 10
    for where, text, line in kept:
        refs = [ref for parts in (line.needs, line.unless) if parts for ref in parts.named]
        names = [name for ref in refs for name in names_of(ref.id)]
        assert named(text, [*names, "trigger", "drum", "plug"]), f"{where}: {text}"


def answers_in(question: Node) -> list[tuple[str, str]]:
    """Return where each answer to a question leads, and what it says."""
    links = [n for n in question.walk() if n.tag == "a" and "data-copy" not in n.attributes]
    spans = [next(n for n in link.walk() if n.tag == "span") for link in links]
    return [(a.attributes["href"], said.text()) for a, said in zip(links, spans, strict=True)]


@on_each_machine("paths")
def test_a_path_asks_what_a_machine_can_answer_and_each_answer_leads_on(
    machine: str, name: str
) -> None:
    parts, plain = machine_of(machine), setter("paths", name)
    path = catalog().entries["paths", name].record
    assert isinstance(path, FaultPath)
    shown = {
        node.attributes["id"]: node
        for node in page_for(f"paths/{name}.html", machine).walk()
        if node.kind in ("question", "end")
    }
    questions = [question for question in path.questions if question.id in shown]
    for question in questions:
        given = [c for c in question.choices if c.applies_to(parts.parts)]
        answers = answers_in(shown[question.id])
        assert answers == [(f"#{c.go}", c.text) for c in given], question.id
        assert len(given) >= 2, question.id
        assert {href[1:] for href, _ in answers} <= set(shown), question.id
        cautions = [text for kind, text in lines_of(shown[question.id]) if kind == "caution"]
        assert sorted(cautions) == sorted(plain(c.text) for c in question.cautions), question.id
        # Before the question, which may ask for something to be done.
        order = [n.kind if n.kind == "caution" else n.tag for n in shown[question.id].walk()]
        assert "caution" not in order[order.index("h2") :], question.id
    # All that stands is led to, from the first question on, and all that is led to stands.
    led = {href[1:] for q in questions for href, _ in answers_in(shown[q.id])}
    assert led | {questions[0].id} == set(shown)


@on_each_machine("paths")
def test_no_question_answer_or_end_speaks_of_a_part_the_machine_lacks(
    machine: str, name: str
) -> None:
    page = page_for(f"paths/{name}.html", machine)
    names = lacking_names(machine)
    answers = [n for n in page.walk() if n.kind == "question" for n in answers_in(n)]
    assert spoken_of(page, names) == []
    assert [said for _, said in answers if named(said, names)] == []


@on_each_machine("checklists")
def test_each_tick_is_shown_on_the_machines_it_is_for_and_on_no_other(
    machine: str, name: str
) -> None:
    parts = machine_of(machine)
    lacking = {ref.id for ref in parts.not_fitted}
    ticks: list[Tick] = []
    for section in checklist_of(name).sections:
        if section.applies_to(parts.parts):
            assert parts_asked(section, lacking) == set(), section.id
            ticks += [tick for tick in section.ticks if tick.applies_to(parts.parts)]
    plain = setter("checklists", name)
    shown = ticks_on(page_for(f"checklists/{name}.html", machine))
    assert shown == {tick.id: plain(tick.text) for tick in ticks}
    for tick in ticks:
        assert parts_asked(tick, lacking) == set(), tick.id


@on_each_machine("checklists")
def test_no_line_of_a_checklist_speaks_of_a_part_the_machine_lacks(machine: str, name: str) -> None:
    page = page_for(f"checklists/{name}.html", machine)
    assert spoken_of(page, lacking_names(machine)) == []


@pytest.mark.parametrize("machine", names_in("machines"))
def test_the_handbook_says_what_the_page_says_with_its_machine_chosen(machine: str) -> None:
    printed = handbook_of(machine)
    names = [name for name in names_in("procedures") if procedure_of(name).handbook]
    assert set(names) <= set(printed)
    for name in names:
        steps = steps_on(page_for(f"procedures/{name}.html", machine)).values()
        assert [sorted(s) for s in printed[name]] == [sorted(s) for s in steps], name
        for lines in printed[name]:
            kinds = [kind for kind, _ in lines]
            assert "caution" not in kinds[kinds.index("do") :], name


@pytest.mark.parametrize("machine", names_in("machines"))
def test_no_line_of_a_handbook_speaks_of_a_part_the_machine_lacks(machine: str) -> None:
    book = Tree(pages()[f"machines/{machine}-handbook.html"]).open[0]
    assert spoken_of(book, lacking_names(machine)) == []


# ---- and that they can be broken


def test_a_lacking_part_is_heard_by_any_of_its_names() -> None:
    names = lacking_names("hazel-van")
    assert named("Press the Remote's stop.", names) == ["remote"]
    assert named("Squeeze the trigger of the hand lance.", names) == ["Hand lance", "lance"]
    assert named("Balance it remotely on a glance.", names) == []
    assert named("Take the key out.", lacking_names("rowan-trailer")) == []


def test_a_caution_below_its_step_would_be_seen() -> None:
    html = (
        '<ol class="steps"><li id="a" class="step" data-needs="pulse-valve"><div>'
        '<p class="do">Turn it.</p><div class="caution sig-danger"><b class="sig">DANGER</b>'
        ' <span>Stand <b>clear</b> at <span class="fig">6 ft<i class="mark">cautious</i></span>.'
        "</span></div></div></li></ol>"
    )
    page = Tree(html).open[0]
    with_it = steps_on(left_standing(page, frozenset({"pulse-valve"})))
    assert with_it == {"a": [("do", "Turn it."), ("caution", "Stand at 6 ft.")]}
    assert steps_on(left_standing(page, frozenset({"unloader"}))) == {}


def test_a_line_anywhere_on_a_page_is_read_and_a_row_to_another_page_is_not() -> None:
    html = (
        '<h1>Reel</h1><p class="answer">Stop.</p><ul class="rows"><li><a>Remote</a></li></ul>'
        '<section class="stop"><ul><li>The <strong>remote</strong> fails.</li></ul></section>'
        '<div class="cause"><h3>Remote off</h3> <span class="fit">Only with: remote</span>'
        '<p class="check"><b>Check</b> The remote\'s lamp is off.</p></div>'
        "<dl><div><dt>Who</dt><dd>Who has the remote.</dd></div></dl>"
        '<section class="grounds"><p>Range of the remote</p></section>'
    )
    assert [line for _, line in spoken_of(Tree(html).open[0], ["remote"])] == [
        "The remote fails.",
        "Remote off",
        "The remote's lamp is off.",
        "Who has the remote.",
    ]
