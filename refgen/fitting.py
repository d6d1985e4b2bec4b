"""What is fitted: every machine answers what is asked, every step has one way on each machine."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from refgen.entries import Entry
from refgen.errors import Problem
from refgen.layers import Key
from refgen.model.equipment import Hose, Nozzle, Part, Pattern
from refgen.model.machines import Machine
from refgen.model.work import Procedure, Step, Variant


def variants_for(step: Step, fitted: Iterable[str]) -> list[Variant]:
    """Return the variants of a step that hold for a machine with these parts."""
    parts = frozenset(fitted)
    return [variant for variant in step.variants if variant.applies_to(parts)]


def problems(entries: Mapping[Key, Entry]) -> Iterator[Problem]:
    """Yield every place where machines, hoses, nozzles and steps do not fit together."""
    parts = {e.id: e.record for e in entries.values() if isinstance(e.record, Part)}
    machines = {e.id: e.record for e in entries.values() if isinstance(e.record, Machine)}
    for entry in entries.values():
        record = entry.record
        yield from _unanswered(entry, parts)
        if isinstance(record, Machine):
            yield from _answers(entry, record, parts)
            yield from _hoses(entry, record, entries)
        elif isinstance(record, Procedure):
            yield from _one_way(entry, record, machines)
        elif isinstance(record, Nozzle):
            yield from _jets(entry, record, entries)


def _answers(entry: Entry, machine: Machine, parts: Mapping[str, Part]) -> Iterator[Problem]:
    lacking = {ref.id for ref in machine.not_fitted}
    for name in sorted(machine.parts & lacking):
        message = f"'{name}' stands under 'fitted' too"
        yield entry.problem(("not_fitted",), message, "Keep one of the two.")
    asked = {name for name, part in parts.items() if part.ask}
    for name in sorted(asked - machine.parts - lacking):
        message = f"does not say whether it has '{name}' ({parts[name].title})"
        yield entry.problem(("fitted",), message, "Add it under 'fitted' or 'not_fitted'.")
    drives = {name for name, part in parts.items() if part.drive}
    if drives and len(drives & machine.parts) != 1:
        have = " and ".join(sorted(drives & machine.parts)) or "no drive"
        yield entry.problem(("fitted",), f"has {have}", "A machine has exactly one drive fitted.")


def _unanswered(entry: Entry, parts: Mapping[str, Part]) -> Iterator[Problem]:
    """Tell of conditions on parts of which a machine may say nothing.

    Silence would count as lacking, so a machine whose author never heard of the part would lose
    the step, and what warns of it.
    """
    for path, ref in entry.contents.refs:
        if ref.kind != "parts" or not {"needs", "unless"} & set(path):
            continue
        part = parts.get(ref.id)
        if part is not None and not part.ask:
            message = f"no machine has to say whether it has '{ref.id}' ({part.title})"
            yield entry.problem(path, message, f"Add 'ask: true' to parts/{ref.id}.")


def _hoses(entry: Entry, machine: Machine, entries: Mapping[Key, Entry]) -> Iterator[Problem]:
    limit = machine.unloader or machine.pressure
    for number, carried in enumerate(machine.hoses):
        found = entries.get(("hoses", carried.hose.id))
        hose = found.record if found else None
        if isinstance(hose, Hose) and hose.working_pressure.si < limit.si:
            message = f"{hose.title} is rated {hose.working_pressure}, below {limit}"
            hint = "Give the unloader a setting at or below the hose's rating."
            yield entry.problem(("hoses", number), message, hint)


def _one_way(
    entry: Entry, procedure: Procedure, machines: Mapping[str, Machine]
) -> Iterator[Problem]:
    for number, step in enumerate(procedure.steps):
        for name, machine in machines.items():
            if not step.variants or not step.applies_to(machine.parts):
                continue
            found = variants_for(step, machine.parts)
            if len(found) != 1:
                which = " and ".join(v.id for v in found) or "none of the variants"
                hint = "Each machine must match exactly one; look at 'needs' and 'unless'."
                message = f"machine '{name}' matches {which}"
                yield entry.problem(("steps", number, "variants"), message, hint)


def _jets(entry: Entry, nozzle: Nozzle, entries: Mapping[Key, Entry]) -> Iterator[Problem]:
    found = entries.get(("patterns", nozzle.pattern.id))
    if found is None or not isinstance(found.record, Pattern):
        return
    wanted, given = [g.id for g in found.record.jets], [j.id for j in nozzle.jets]
    if sorted(wanted) != sorted(given):
        message = f"sizes are given for {', '.join(given)}"
        hint = f"The pattern's jets are {', '.join(wanted)}."
        yield entry.problem(("jets",), message, hint)
