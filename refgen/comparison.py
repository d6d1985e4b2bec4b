"""Machines side by side: their limits, their controls, and what is done differently on each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from refgen.addresses import record_address
from refgen.model.equipment import Part
from refgen.model.machines import Machine
from refgen.model.work import Procedure, Step
from refgen.views import Link, View


@dataclass(frozen=True, slots=True)
class Compared:
    """One machine's cell: what is shown, and by what two cells are told apart."""

    machine: str
    shown: Markup | str
    value: str


@dataclass(frozen=True, slots=True)
class Row:
    """One thing compared, with why it matters and a cell for each machine."""

    title: str
    why: Markup | str
    cells: tuple[Compared, ...]
    href: str = ""

    @property
    def differs(self) -> bool:
        """Whether two machines differ in it."""
        return len({cell.value for cell in self.cells}) > 1


def limits(view: View) -> list[Row]:
    """Return what the plates say, a row each, where at least one machine says it."""
    rows = []
    for name, word in (
        ("flow", "flow"),
        ("pressure", "pressure"),
        ("unloader", "unloader_set_to"),
        ("power", "power"),
        ("tank", "tank"),
        ("plungers", "plungers"),
        ("hoses", "its_hoses"),
    ):
        cells = tuple(_fact(view, key, m, name) for key, m in view.catalog.machines().items())
        if any(cell.value for cell in cells):
            rows.append(Row(view.w[word], view.w[f"matters_{name}"], cells))
    return rows


def _fact(view: View, key: str, machine: Machine, name: str) -> Compared:
    value = getattr(machine, name)
    if name == "hoses":
        said = Markup("<br>").join(
            Markup("{}, {}").format(view.record(h.hose).title, view.quantity(h.length))
            for h in machine.hoses
        )
        return Compared(key, said, " ".join(f"{h.hose.id} {h.length.si:g}" for h in machine.hoses))
    if value is None:
        return Compared(key, view.w["not_told"], "")
    if name == "plungers":
        return Compared(key, str(value), str(value))
    return Compared(key, view.quantity(value).__html__(), f"{value.si:g}")


def controls(view: View) -> list[Row]:
    """Return every part that machines differ in, by title, if one of these machines has it."""
    machines = view.catalog.machines()
    rows = []
    for name, part in view.catalog.of_kind("parts").items():
        fitted = {key for key, machine in machines.items() if name in machine.parts}
        if (
            not fitted
            or not isinstance(part, Part)
            or not (part.ask or len(fitted) < len(machines))
        ):
            continue
        words = {True: view.w["has_it"], False: view.w["has_it_not"]}
        cells = tuple(Compared(k, words[k in fitted], str(k in fitted).lower()) for k in machines)
        why = view.text(part.does, ("parts", name))
        rows.append(Row(part.title, why, cells, view.href(record_address("parts", name))))
    return rows


def done_differently(view: View) -> Iterator[tuple[Link, list[Row]]]:
    """Yield each procedure of the handbooks with the steps that differ between these machines."""
    machines = view.catalog.machines()
    for name, procedure in view.catalog.of_kind("procedures").items():
        if not isinstance(procedure, Procedure) or not procedure.handbook:
            continue
        rows = []
        for number, step in enumerate(procedure.steps, 1):
            if step.needs is None and step.unless is None and not step.variants:
                continue
            cells = tuple(_done(view, name, procedure, step, k, m) for k, m in machines.items())
            title = view.w["step_number"].format(number=number)
            row = Row(title, "", cells, view.href(record_address("procedures", name, step.id)))
            if row.differs:
                rows.append(row)
        if rows:
            yield view.link(("procedures", name)), rows


def _done(
    view: View, name: str, procedure: Procedure, step: Step, key: str, machine: Machine
) -> Compared:
    shown = {s.id: v for s, v in view.steps_for(procedure, machine)}
    if step.id not in shown:
        return Compared(key, view.w["step_not_there"], "")
    variant = shown[step.id]
    text = variant.text if variant is not None else step.text
    assert text is not None
    return Compared(key, view.text(text, ("procedures", name)), variant.id if variant else step.id)


def machines(view: View) -> Mapping[str, Link]:
    """Return the machines compared, by id."""
    return {name: view.link(("machines", name)) for name in view.catalog.machines()}
