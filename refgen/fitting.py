"""What is fitted: every machine answers what is asked, every step has one way on each machine."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

from refgen.errors import Place, Problem
from refgen.layers import Key
from refgen.model.equipment import Hose, Machine, Nozzle, Part, Pattern
from refgen.model.fit import Fitted
from refgen.model.trouble import Cause, Path, Symptom
from refgen.model.work import Procedure, Step, Variant

if TYPE_CHECKING:
    from refgen.catalog import Entry

_At = Callable[["Entry", Any], tuple[Place, str]]


def variants_for(step: Step, fitted: Iterable[str]) -> list[Variant]:
    """Return the variants of a step that hold for a machine with these parts."""
    parts = frozenset(fitted)
    return [variant for variant in step.variants if variant.applies_to(parts)]


def shown_for(item: Fitted, machine: Machine) -> bool:
    """Whether a step, cause or check is shown for a machine."""
    return item.applies_to(machine.parts)


def problems(entries: Mapping[Key, Entry], at: _At) -> Iterator[Problem]:
    """Yield every place where machines, hoses, nozzles and steps do not fit together."""
    asked = {
        entry.id: entry.record
        for entry in entries.values()
        if isinstance(entry.record, Part) and entry.record.ask
    }
    machines = [e for e in entries.values() if isinstance(e.record, Machine)]
    for entry in machines:
        yield from _answers(entry, asked, at)
        yield from _hoses(entry, entries, at)
    for entry in entries.values():
        if isinstance(entry.record, Procedure):
            yield from _one_way(entry, machines, at)
        elif isinstance(entry.record, Nozzle):
            yield from _jets(entry, entries, at)
        elif isinstance(entry.record, Symptom):
            yield from _shared_causes(entry, entries, at)
        elif isinstance(entry.record, Path):
            yield from _branches(entry, at)


def _answers(entry: Entry, asked: Mapping[str, Part], at: _At) -> Iterator[Problem]:
    machine = entry.record
    assert isinstance(machine, Machine)
    lacking = {ref.id for ref in machine.not_fitted}
    for name in sorted(machine.parts & lacking):
        place, field = at(entry, ("not_fitted",))
        yield Problem(place, field, f"'{name}' stands under 'fitted' too", "Keep one of the two.")
    for name in sorted(asked.keys() - machine.parts - lacking):
        place, field = at(entry, ("fitted",))
        message = f"does not say whether it has '{name}' ({asked[name].title})"
        yield Problem(place, field, message, "Add it under 'fitted' or 'not_fitted'.")
    drives = sorted(name for name, part in asked.items() if part.drive and name in machine.parts)
    if len(drives) != 1 and any(part.drive for part in asked.values()):
        place, field = at(entry, ("fitted",))
        have = " and ".join(drives) or "no drive"
        yield Problem(place, field, f"has {have}", "A machine has exactly one drive fitted.")


def _hoses(entry: Entry, entries: Mapping[Key, Entry], at: _At) -> Iterator[Problem]:
    machine = entry.record
    assert isinstance(machine, Machine)
    limit = machine.unloader or machine.pressure
    for number, carried in enumerate(machine.hoses):
        found = entries.get(("hoses", carried.hose.id))
        hose = found.record if found else None
        if isinstance(hose, Hose) and hose.working_pressure.si < limit.si:
            place, field = at(entry, ("hoses", number))
            message = f"{hose.title} is rated {hose.working_pressure}, below {limit}"
            hint = "Give the unloader a setting at or below the hose's rating."
            yield Problem(place, field, message, hint)


def _one_way(entry: Entry, machines: Iterable[Entry], at: _At) -> Iterator[Problem]:
    procedure = entry.record
    assert isinstance(procedure, Procedure)
    for number, step in enumerate(procedure.steps):
        for other in machines:
            machine = other.record
            assert isinstance(machine, Machine)
            if not step.variants or not step.applies_to(machine.parts):
                continue
            found = variants_for(step, machine.parts)
            if len(found) != 1:
                place, field = at(entry, ("steps", number, "variants"))
                which = " and ".join(v.id for v in found) or "none of the variants"
                message = f"machine '{other.id}' matches {which}"
                hint = "Each machine must match exactly one; look at 'needs' and 'unless'."
                yield Problem(place, field, message, hint)


def _jets(entry: Entry, entries: Mapping[Key, Entry], at: _At) -> Iterator[Problem]:
    nozzle = entry.record
    assert isinstance(nozzle, Nozzle)
    found = entries.get(("patterns", nozzle.pattern.id))
    pattern = found.record if found else None
    if not isinstance(pattern, Pattern):
        return
    wanted, given = [g.id for g in pattern.jets], [j.id for j in nozzle.jets]
    if sorted(wanted) != sorted(given):
        place, field = at(entry, ("jets",))
        message = f"sizes are given for {', '.join(given)}"
        yield Problem(place, field, message, f"The pattern's jets are {', '.join(wanted)}.")


def _shared_causes(entry: Entry, entries: Mapping[Key, Entry], at: _At) -> Iterator[Problem]:
    symptom = entry.record
    assert isinstance(symptom, Symptom)
    for number, cause in enumerate(symptom.causes):
        if cause.same_as is None:
            continue
        other = entries.get(("symptoms", cause.same_as.id))
        record = other.record if other else None
        if isinstance(record, Symptom):
            found = next((c for c in record.causes if c.id == cause.same_as.item), None)
            if found is not None and found.same_as is not None:
                place, field = at(entry, ("causes", number, "same_as"))
                hint = f"Write 'same_as: {found.same_as.id}#{found.same_as.item}'."
                yield Problem(place, field, "leads to a cause that is itself taken over", hint)


def whole_cause(cause: Cause, symptoms: Mapping[str, Symptom]) -> Cause:
    """Return a cause with what it takes over from the symptom where it is written out."""
    if cause.same_as is None:
        return cause
    origin = next(c for c in symptoms[cause.same_as.id].causes if c.id == cause.same_as.item)
    kept = {
        name: getattr(cause, name) or getattr(origin, name)
        for name in ("title", "fix", "cautions", "fix_by", "parts", "needs", "unless")
    }
    return cause.model_copy(update=kept)


def _branches(entry: Entry, at: _At) -> Iterator[Problem]:
    path = entry.record
    assert isinstance(path, Path)
    questions = {question.id: question for question in path.questions}
    ends = {end.id for end in path.ends}
    for number, question in enumerate(path.questions):
        for branch, choice in enumerate(question.choices):
            if choice.go not in questions and choice.go not in ends:
                place, field = at(entry, ("questions", number, "choices", branch, "go"))
                hint = "Name a question or an end of this path."
                yield Problem(place, field, f"leads nowhere: no '{choice.go}'", hint)
    reached: set[str] = set()
    waiting = [path.questions[0].id]
    while waiting:
        name = waiting.pop()
        if name in reached:
            continue
        reached.add(name)
        if name in questions:
            waiting += [choice.go for choice in questions[name].choices]
    for field_name, items in (("questions", path.questions), ("ends", path.ends)):
        for number, item in enumerate(items):
            if item.id not in reached:
                place, field = at(entry, (field_name, number))
                yield Problem(place, field, "no answer leads here", "Lead to it, or remove it.")
    yield from _endless(entry, questions, at)


def _endless(entry: Entry, questions: Mapping[str, Any], at: _At) -> Iterator[Problem]:
    """Tell of questions from which no answer ever reaches an end."""
    ending: set[str] = set()
    changed = True
    while changed:
        changed = False
        for name, question in questions.items():
            if name not in ending and any(
                c.go in ending or c.go not in questions for c in question.choices
            ):
                ending.add(name)
                changed = True
    record = entry.record
    assert isinstance(record, Path)
    for number, question in enumerate(record.questions):
        if question.id not in ending:
            place, field = at(entry, ("questions", number))
            yield Problem(place, field, "its answers go round and never end", "Add an end.")
