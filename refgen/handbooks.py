"""A machine's handbook: what it has, bears and asks for, and nothing about what it lacks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup

from refgen.addresses import record_address
from refgen.layers import Key
from refgen.model.equipment import Hose, Part
from refgen.model.machines import Machine
from refgen.model.trouble import Cause, StopLine, Symptom
from refgen.model.work import Checklist, Procedure, Tick
from refgen.tables import ComputedTable, Grid
from refgen.units import Quantity
from refgen.views import Link, View

_FIRST = "emergency"
_HOUR = 3600.0
"""A time from here on is an interval of care; a shorter one is a limit while working."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of a list of limits or intervals."""

    label: str
    shown: Markup
    of: str = ""
    """What it is a limit of."""
    href: str = ""


@dataclass(frozen=True, slots=True)
class Fault:
    """A symptom with those of its causes and stop-work lines that this machine can have."""

    key: Key
    link: Link
    address: str
    symptom: Symptom
    stops: tuple[StopLine, ...]
    causes: tuple[Cause, ...]


def limits(view: View, machine: Machine) -> Iterator[Fact]:
    """Yield what must not be passed on this machine, by plate, by tag and by part."""
    yield Fact(view.w["pressure"], _quantity(view, machine.pressure), view.w["by_the_plate"])
    if machine.unloader is not None:
        set_to = _quantity(view, machine.unloader)
        yield Fact(view.w["unloader_set_to"], set_to, view.w["gauge_at_limit"])
    for ref in dict.fromkeys(carried.hose for carried in machine.hoses):
        hose = view.record(ref)
        assert isinstance(hose, Hose)
        for word, value in (
            ("working_pressure", hose.working_pressure),
            ("warmest_water", hose.warmest),
            ("minimum_bend", hose.minimum_bend),
        ):
            if value is not None:
                href = view.href(record_address("hoses", ref.id))
                yield Fact(view.w[word], _quantity(view, value), str(hose.title), href)
    for name, figure_id, what in _figures(view, machine):
        if what.dimension == "temperature" or _is_time(what, care=False):
            yield _fact(view, name, figure_id)


def care(view: View, machine: Machine) -> list[Fact]:
    """Return what is due after how long, the soonest first: hours of running, then the calendar."""
    due = [
        (what.unit.symbol != "h", what.si, name, figure_id)
        for name, figure_id, what in _figures(view, machine)
        if _is_time(what, care=True)
    ]
    return [_fact(view, name, figure_id) for _, _, name, figure_id in sorted(due)]


def care_texts(view: View, machine: Machine) -> Iterator[tuple[Link, Key, Part]]:
    """Yield the fitted parts that say how they are looked after, in the order of `controls`."""
    for key, part in controls(view, machine):
        if part.care:
            yield view.link(key), key, part


def controls(view: View, machine: Machine) -> list[tuple[Key, Part]]:
    """Return the fitted parts along the way of the water, by the groups of the index."""
    order = {group: place for place, group in enumerate(view.catalog.words.groups)}
    found = [(("parts", ref.id), view.record(ref)) for ref in machine.fitted]
    return sorted(found, key=lambda f: order.get(f[1].group or "", len(order)))


def chapters(view: View, machine: Machine) -> Iterator[tuple[str, list[tuple[Key, Procedure]]]]:
    """Yield the handbook's procedures by the groups of the index, what to do at once first."""
    found: dict[str, list[tuple[Key, Procedure]]] = {
        group: [] for group in view.catalog.words.groups
    }
    for key, procedure in view.handbook_procedures():
        if view.steps_for(procedure, machine):
            found.setdefault(procedure.group or "", []).append((key, procedure))
    for group in sorted(found, key=lambda g: g != _FIRST):
        if found[group]:
            yield group, found[group]


def ticks(view: View, machine: Machine, name: str) -> list[tuple[str, list[Tick]]]:
    """Return the lines of a checklist that this machine has, by section; none if there is none."""
    entry = view.catalog.entries.get(("checklists", name))
    if entry is None or not isinstance(entry.record, Checklist):
        return []
    sections = [
        (str(section.title), [t for t in section.ticks if t.applies_to(machine.parts)])
        for section in entry.record.sections
        if section.applies_to(machine.parts)
    ]
    return [(title, lines) for title, lines in sections if lines]


def faults(view: View, machine: Machine) -> Iterator[tuple[str, list[Fault]]]:
    """Yield, by the groups of the index, each symptom with a cause that this machine can have."""
    found: dict[str, list[Fault]] = {group: [] for group in view.catalog.words.groups}
    for name, symptom in view.catalog.of_kind("symptoms").items():
        if not isinstance(symptom, Symptom):
            continue
        causes = [view.cause(cause) for cause in symptom.causes]
        mine = tuple(cause for cause in causes if cause.applies_to(machine.parts))
        if mine:
            key = ("symptoms", name)
            stops = tuple(line for line in symptom.stop if line.applies_to(machine.parts))
            address = record_address(*key)
            fault = Fault(key, view.link(key), address, symptom, stops, mine)
            found.setdefault(symptom.group or "", []).append(fault)
    for group, there in found.items():
        if there:
            title = view.w[f"group_{group.replace('-', '_')}"] if group else view.w["kind_symptoms"]
            yield title, there


def own_tables(
    view: View, tables: Mapping[str, ComputedTable], machine: str
) -> Iterator[tuple[Link, Grid]]:
    """Yield each computed table's grids with the rows of one machine alone."""
    for name, table in tables.items():
        for grid in table.grids:
            rows = tuple(row for row in grid.rows if row[0].machine == machine)
            if rows:
                yield view.link(("tables", name)), replace(grid, rows=rows)


def _figures(view: View, machine: Machine) -> Iterator[tuple[str, str, Quantity]]:
    """Yield part, figure and value of every figure of the fitted parts."""
    for kind, name, figure_id in view.catalog.figures:
        figure = view.catalog.figures[kind, name, figure_id]
        if kind == "parts" and name in machine.parts and figure.is_ is not None:
            yield name, figure_id, figure.is_


def _is_time(what: Quantity, care: bool) -> bool:
    return what.dimension == "time" and (what.si >= _HOUR) == care


def _fact(view: View, part: str, figure_id: str) -> Fact:
    figure = view.catalog.figures["parts", part, figure_id]
    shown = view.figure(figure_id, ("parts", part))
    label = str(figure.label or view.figure_name("parts", figure_id))
    record = view.catalog.entries["parts", part].record
    return Fact(label, shown, str(record.title), view.href(record_address("parts", part)))


def _quantity(view: View, quantity: Quantity) -> Markup:
    return view.quantity(quantity).__html__()
