"""Finding the cause: what a symptom takes over from another, and what leads to a cause."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from refgen import branching
from refgen.entries import Entry
from refgen.errors import Problem, did_you_mean
from refgen.layers import Key
from refgen.model.machines import Machine
from refgen.model.trouble import Cause, Path, Symptom


def problems(entries: Mapping[Key, Entry]) -> Iterator[Problem]:
    """Yield every cause that takes over nothing, and every question that loses its reader."""
    machines = {e.id: e.record for e in entries.values() if isinstance(e.record, Machine)}
    for entry in entries.values():
        if isinstance(entry.record, Symptom):
            yield from _shared_causes(entry, entry.record, entries)
        elif isinstance(entry.record, Path):
            yield from branching.problems(entry, entry.record, machines)


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
