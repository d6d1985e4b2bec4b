"""Finding the cause: what a symptom takes over from another, and where each answer leads."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from refgen.entries import Entry
from refgen.errors import Problem, did_you_mean
from refgen.layers import Key
from refgen.model.trouble import Cause, Path, Symptom


def problems(entries: Mapping[Key, Entry]) -> Iterator[Problem]:
    """Yield every cause that takes over nothing, and every question that loses its reader."""
    for entry in entries.values():
        if isinstance(entry.record, Symptom):
            yield from _shared_causes(entry, entry.record, entries)
        elif isinstance(entry.record, Path):
            yield from _branches(entry, entry.record)
            yield from _endless(entry, entry.record)


def _shared_causes(
    entry: Entry, symptom: Symptom, entries: Mapping[Key, Entry]
) -> Iterator[Problem]:
    for number, cause in enumerate(symptom.causes):
        if cause.same_as is None:
            continue
        path = ("causes", number, "same_as")
        other = entries.get(("symptoms", cause.same_as.id))
        if other is None or cause.same_as.item not in other.anchors:
            continue  # told as a link that leads nowhere
        assert isinstance(other.record, Symptom)
        found = next((c for c in other.record.causes if c.id == cause.same_as.item), None)
        if found is None:
            hint = did_you_mean(cause.same_as.item, [c.id for c in other.record.causes])
            yield entry.problem(path, f"'{cause.same_as.item}' is no cause there", hint)
        elif found.same_as is not None:
            hint = f"Write 'same_as: {found.same_as.id}#{found.same_as.item}'."
            yield entry.problem(path, "leads to a cause that is itself taken over", hint)


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


def _branches(entry: Entry, path: Path) -> Iterator[Problem]:
    questions = {question.id: question for question in path.questions}
    ends = {end.id for end in path.ends}
    for number, question in enumerate(path.questions):
        for branch, choice in enumerate(question.choices):
            if choice.go not in questions and choice.go not in ends:
                hint = did_you_mean(choice.go, [*questions, *ends])
                place = ("questions", number, "choices", branch, "go")
                yield entry.problem(place, f"leads nowhere: no '{choice.go}'", hint)
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
                hint = "Lead to it, or remove it."
                yield entry.problem((field_name, number), "no answer leads here", hint)


def _endless(entry: Entry, path: Path) -> Iterator[Problem]:
    """Tell of questions from which no answer ever reaches an end."""
    questions = {question.id: question for question in path.questions}
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
    for number, question in enumerate(path.questions):
        if question.id not in ending:
            hint = "Let one of them lead to an end."
            yield entry.problem(("questions", number), "its answers never lead to an end", hint)
