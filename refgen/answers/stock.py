"""The nozzles a company has, on this pump: best first, before any that would have to be drilled."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from refgen.answers.ask import Ask
from refgen.answers.duty import duty_numbers
from refgen.answers.told import Case, Sentence, say
from refgen.errors import OutOfRange
from refgen.hydraulics import Rig, working_point
from refgen.hydraulics import margins as margins_of
from refgen.model.equipment import Nozzle, Pattern
from refgen.rigs import jets_of
from refgen.setups import found_in

_MOST_SHOWN = 5


def stock_cases(ask: Ask, rig: Rig) -> Iterator[Case]:
    """Yield the nozzles in stock on this pump, best first: unloader shut, most pressure left."""
    found: list[tuple[tuple[bool, float], Case]] = []
    for name, nozzle in _in_stock(ask):
        pattern = found_in(ask.catalog, nozzle.pattern, Pattern)
        given = replace(
            rig,
            jets=ask.calibration.of(jets_of(nozzle, pattern)),
            velocity_coefficient=pattern.velocity_coefficient,
        )
        try:
            duty = working_point(given)
        except OutOfRange:
            continue
        full = duty.state == "full flow"
        margins = margins_of(given, reading=ask.calibration.reading_with(name))
        numbers = duty_numbers(duty, margins, "nozzle", "gauge", "bypass", "pull")
        label = say("In stock: {title}", title=str(nozzle.title))
        case = Case(label, numbers, {"nozzle": name, "state": duty.state})
        found.append(((not full, -duty.nozzle if full else duty.bypass), case))
    found.sort(key=lambda pair: pair[0])
    yield from (case for _, case in found[:_MOST_SHOWN])


def best_in_stock(stock: tuple[Case, ...]) -> Iterator[Sentence]:
    """Yield which nozzle in stock does best, if there is any."""
    for best in stock[:1]:
        shut = best.data["state"] == "full flow"
        left = next(number for number in best.numbers if number.name == "nozzle_pa")
        yield best.label.with_more(
            " leaves the most, {left} at the nozzle, with the unloader shut."
            if shut
            else " comes nearest, but opens the unloader; {left} at the nozzle.",
            left=left.amount,
        )


def _in_stock(ask: Ask) -> Iterable[tuple[str, Nozzle]]:
    assert ask.setup.choose is not None
    if ask.catalog is None:
        return []
    records = ask.catalog.of_kind("nozzles")
    stock = {name: record for name, record in records.items() if isinstance(record, Nozzle)}
    if ask.machine is not None:
        own = ask.setup.hoses is None
        refs = ask.machine.nozzles_for(ask.machine.hoses[0]) if own else ask.machine.nozzles
        return [(ref.id, stock[ref.id]) for ref in refs if ref.id in stock]
    return stock.items() if ask.setup.choose.stock else []
