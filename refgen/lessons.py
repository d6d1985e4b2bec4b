"""A lesson for a class: when each step begins, and which machines each page of it is for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from markupsafe import Markup

from refgen.addresses import ref_address
from refgen.model.base import Ref
from refgen.model.fit import Fitted
from refgen.model.machines import Machine
from refgen.model.record import Record
from refgen.model.teaching import Lesson, LessonStep
from refgen.views import Link, View


@dataclass(frozen=True, slots=True)
class ForMachines:
    """A row of a lesson, and the machines it is for; none named means that it is for all."""

    link: Link
    machines: tuple[str, ...] = ()
    titles: tuple[str, ...] = ()
    address: str = ""
    """From the site's root, to be printed."""
    none: bool = False
    """Whether there are machines and it is for none of them."""

    @property
    def attribute(self) -> Markup:
        """The attribute by which the choice of a class shows or hides an element, if any."""
        if not self.machines and not self.none:
            return Markup("")
        return Markup(' data-machines="{}"').format(" ".join(self.machines))


@dataclass(frozen=True, slots=True)
class Stretch:
    """A step of a lesson with the clock it runs by, '' where the lesson does not say."""

    step: LessonStep
    begins: str
    ends: str


def place_in_course(view: View, record: Record) -> str:
    """Return which lesson of how many a record is, or '' for one that has no number."""
    if not isinstance(record, Lesson) or record.number is None:
        return ""
    lessons = view.catalog.of_kind("lessons").values()
    count = sum(isinstance(one, Lesson) and one.number is not None for one in lessons)
    return view.w["lesson_of"].format(number=record.number, count=count)


def stretches(lesson: Lesson) -> Iterator[Stretch]:
    """Yield the steps in order; they have a clock if every one of them says how long it takes."""
    timed = all(step.time is not None for step in lesson.steps)
    at = 0.0
    for step in lesson.steps:
        ends = at + (step.time.si if step.time is not None else 0.0)
        yield Stretch(step, _clock(at), _clock(ends)) if timed else Stretch(step, "", "")
        at = ends


def _clock(seconds: float) -> str:
    """Return a time from the start as hours and minutes."""
    minutes = round(seconds / 60)
    return f"{minutes // 60}:{minutes % 60:02d}"


def rows(view: View, refs: Iterable[Ref]) -> list[ForMachines]:
    """Return rows to pages, each with the machines it is for."""
    machines = view.catalog.machines()
    found = []
    for ref in dict.fromkeys(refs):
        fits = machines_for(view, ref)
        every = len(fits) == len(machines)
        names = () if every else tuple(fits)
        titles = tuple(str(machines[name].title) for name in names)
        none = not fits and not every
        found.append(ForMachines(view.link(ref), names, titles, ref_address(ref), none))
    return found


def machines_for(view: View, ref: Ref) -> list[str]:
    """Return the ids of the machines that a page, or an item on it, says something about."""
    return [
        name
        for name, machine in view.catalog.machines().items()
        if _concerns(view, ref, name, machine)
    ]


def _concerns(view: View, ref: Ref, name: str, machine: Machine) -> bool:
    if ref.kind == "parts" and ref.id not in _answered(machine):
        return True  # the machine says nothing of it, so nobody knows
    if ref.kind == "parts" and not machine.has(ref):
        return False
    if ref.kind == "machines":
        return ref.id == name
    if ref.kind == "hoses":
        return any(carried.hose.id == ref.id for carried in machine.hoses)
    if ref.kind == "nozzles":
        return any(nozzle.id == ref.id for nozzle in machine.nozzles)
    for _, item in view.catalog.entries[ref.kind, ref.id].contents.items:
        if item.id == ref.item and isinstance(item, Fitted):
            return item.applies_to(machine.parts)
    return True


def _answered(machine: Machine) -> set[str]:
    return {ref.id for ref in (*machine.fitted, *machine.not_fitted)}
