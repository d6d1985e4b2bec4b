"""How far a short sum can be off, from how far each of its figures can be off.

One figure at a time is moved to its lowest and its highest value; the differences are combined as
in `hydraulics.margin`: root of the sum of squares, each side for itself.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import hypot

from refgen.errors import OutOfRange
from refgen.hydraulics import Margin, Variations
from refgen.hydraulics.water import COLDEST, HOTTEST

WIDTHS = Variations()
TAPE, LOOK, PACE = 0.01, 0.05, 0.10
"""What a tape, a look at a level or a dial, and a pace or a guess may be off, as a share."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of a sum: its value, its lowest, its highest, and what may be off about it."""

    value: float
    low: float
    high: float
    cause: str


def exact(value: float) -> Figure:
    """Return a figure that is as it is."""
    return Figure(value, value, value, "")


def share(value: float, cause: str, less: float, more: float | None = None) -> Figure:
    """Return a figure that may be off by a share of itself."""
    high = value * (1 + (less if more is None else more))
    return Figure(value, value * (1 - less), high, cause)


def shift(value: float, cause: str, by: float) -> Figure:
    """Return a figure that may be off by so much, never beyond zero."""
    low = max(value - by, 0.0) if value >= 0 else value - by
    return Figure(value, low, value + by, cause)


def flow_of_pump(value: float) -> Figure:
    """Return the flow of a pump that nobody measured."""
    return share(value, "pump-flow", WIDTHS.pump_flow)


def gauged(value: float) -> Figure:
    """Return a pressure that was read from a gauge."""
    return share(value, "pressure-limit", WIDTHS.pressure_limit)


def warmth(value: float) -> Figure:
    """Return a temperature of water that nobody measured."""
    by = WIDTHS.water_temperature
    low, high = max(value - by, COLDEST), min(value + by, HOTTEST)
    return Figure(value, low, high, "water-temperature")


Sum = Callable[..., Mapping[str, float]]


def spread(formula: Sum, **figures: Figure) -> tuple[dict[str, float], dict[str, Margin]]:
    """Return the numbers of a sum and the margin of each.

    Args:
        formula: The sum: figures by name in, numbers by name out.
        figures: Its figures.

    Raises:
        OutOfRange: If the figures as they are lie where a formula does not hold; a figure that
            only moved there is left at its other end.
    """
    values = {name: figure.value for name, figure in figures.items()}
    numbers = dict(formula(**values))
    below: dict[str, list[float]] = {name: [] for name in numbers}
    above: dict[str, list[float]] = {name: [] for name in numbers}
    most = dict.fromkeys(numbers, 0.0)
    blamed = dict.fromkeys(numbers, "")
    for name, figure in figures.items():
        found = [_moved(formula, values, name, end) for end in (figure.low, figure.high)]
        for number, value in numbers.items():
            shifts = [moved[number] - value for moved in found if number in moved]
            low, high = max([0.0, *(-s for s in shifts)]), max([0.0, *shifts])
            below[number].append(low)
            above[number].append(high)
            if max(low, high) > most[number]:
                most[number], blamed[number] = max(low, high), figure.cause
    margins = {
        number: Margin(hypot(*below[number]), hypot(*above[number]), blamed[number])
        for number in numbers
    }
    return numbers, margins


def _moved(
    formula: Sum, values: Mapping[str, float], name: str, end: float
) -> Mapping[str, float]:
    if end == values[name]:
        return {}
    try:
        return formula(**{**values, name: end})
    except OutOfRange:
        return {}
