"""The branches of a path: each leads on, to an end at last, and on every machine."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from refgen.entries import Entry
from refgen.errors import Problem, did_you_mean
from refgen.model.machines import Machine
from refgen.model.trouble import Choice, Path, Question
from refgen.references import Path as Place

_BOTH = "Look at 'needs' and 'unless' of the two; they have to hold for the same machines."


@dataclass(frozen=True, slots=True)
class Walk:
    """What of a path is shown to someone, and where its answers lead."""

    choices: Mapping[str, tuple[Choice, ...]]
    """The answers to each question that is shown."""
    ends: frozenset[str]
    reached: frozenset[str]
    """Questions and ends to which an answer leads, and the first question."""
    ending: frozenset[str]
    """Questions from which an end can be reached."""


def walk_of(path: Path, fitted: Iterable[str] | None = None) -> Walk:
    """Return a path as a machine with these parts is shown it, or as a whole.

    >>> from refgen.model.trouble import Path
    >>> choices = [{"id": go, "text": go, "go": go} for go in ("fill", "q")]
    >>> end = {"id": "fill", "text": "Fill it.", "to": ["terms/tank"]}
    >>> question = {"id": "q", "ask": "Dry?", "choices": choices}
    >>> walk = walk_of(Path(title="T", answer="A", questions=(question,), ends=(end,)))
    >>> sorted(walk.reached), sorted(walk.ending)
    (['fill', 'q'], ['q'])
    """
    parts = None if fitted is None else frozenset(fitted)
    choices = {
        q.id: tuple(c for c in q.choices if parts is None or c.applies_to(parts))
        for q in path.questions
        if parts is None or q.applies_to(parts)
    }
    ends = frozenset(e.id for e in path.ends if parts is None or e.applies_to(parts))
    reached: set[str] = set()
    waiting = list(choices)[:1]
    while waiting:
        name = waiting.pop()
        if name not in reached:
            reached.add(name)
            waiting += [c.go for c in choices.get(name, ())]
    return Walk(choices, ends, frozenset(reached), _ending(choices, ends))


def _ending(choices: Mapping[str, tuple[Choice, ...]], ends: frozenset[str]) -> frozenset[str]:
    found: set[str] = set()
    while more := [
        name
        for name, given in choices.items()
        if name not in found and any(c.go in ends or c.go in found for c in given)
    ]:
        found.update(more)
    return frozenset(found)


def problems(entry: Entry, path: Path, machines: Mapping[str, Machine]) -> Iterator[Problem]:
    """Yield where a reader is lost on a path, or the reader with one of these machines."""
    whole = list(_lost_for_all(entry, path))
    yield from whole or _lost_on(entry, path, machines)


def _lost_for_all(entry: Entry, path: Path) -> Iterator[Problem]:
    names = [*(q.id for q in path.questions), *(e.id for e in path.ends)]
    nowhere = False
    for place, choice in _choices(path.questions):
        if choice.go not in names:
            nowhere = True
            hint = did_you_mean(choice.go, names)
            yield entry.problem((*place, "go"), f"leads nowhere: no '{choice.go}'", hint)
    walk = walk_of(path)
    for at, name in _items(path):
        if name not in walk.reached:
            yield entry.problem(at, "no answer leads here", "Lead to it, or remove it.")
    if nowhere:
        return  # where that one was to lead is not known
    for number, question in enumerate(path.questions):
        if question.id not in walk.ending:
            hint = "Let one of them lead to an end."
            yield entry.problem(("questions", number), "its answers never lead to an end", hint)


@dataclass(slots=True)
class _Told:
    """One mistake, and every machine on which it is made."""

    message: str
    hint: str
    machines: list[str] = field(default_factory=list)


def _lost_on(entry: Entry, path: Path, machines: Mapping[str, Machine]) -> Iterator[Problem]:
    told: dict[tuple[Place, str], _Told] = {}
    for name, machine in machines.items():
        for place, message, hint in _lost_with(path, machine.parts):
            told.setdefault((place, message), _Told(message, hint)).machines.append(name)
    for (place, _), one in told.items():
        several = "machine " if len(one.machines) == 1 else "machines "
        names = several + ", ".join(f"'{name}'" for name in one.machines)
        yield entry.problem(place, one.message.format(names), one.hint)


def _lost_with(path: Path, fitted: Iterable[str]) -> Iterator[tuple[Place, str, str]]:
    walk = walk_of(path, fitted)
    if not walk.choices:
        hint = "Let one hold for every machine; look at 'needs' and 'unless'."
        yield ("questions", 0), "no question is left for {}", hint
        return
    for place, choice in _choices(path.questions):
        asked = path.questions[place[1]].id
        if choice not in walk.choices.get(asked, ()) or asked not in walk.reached:
            continue
        if choice.go not in walk.choices and choice.go not in walk.ends:
            yield (*place, "go"), f"leads to '{choice.go}', which is not for {{}}", _BOTH
    for at, name in _items(path):
        if name not in walk.choices and name not in walk.ends:
            continue
        if name not in walk.reached:
            hint = "Give it the 'needs' and 'unless' of the answers that lead to it."
            yield at, "no answer leads here on {}", hint
        elif walk.choices.get(name) == ():
            hint = "Let one of them hold for it; look at 'needs' and 'unless'."
            yield (*at, "choices"), "no answer is left on {}", hint
        elif name in walk.choices and name not in walk.ending:
            hint = "Let one of those that hold for it lead to an end."
            yield at, "its answers never lead to an end on {}", hint


def _choices(questions: Iterable[Question]) -> Iterator[tuple[tuple[str, int, str, int], Choice]]:
    for number, question in enumerate(questions):
        for branch, choice in enumerate(question.choices):
            yield ("questions", number, "choices", branch), choice


def _items(path: Path) -> Iterator[tuple[tuple[str, int], str]]:
    for number, question in enumerate(path.questions):
        yield ("questions", number), question.id
    for number, end in enumerate(path.ends):
        yield ("ends", number), end.id
