"""How far a short sum can be off, from how far each of its figures can be off.

One figure at a time is moved to its lowest and its highest value; the differences are combined as
in `hydraulics.margin`: root of the sum of squares, each side for itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from math import hypot

from refgen.answers.told import Amount, Number
from refgen.errors import OutOfRange
from refgen.hydraulics import Margin, Rig, Variations
from refgen.hydraulics.variation import INPUTS, Vary
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


@dataclass(frozen=True, slots=True)
class Spread:
    """The numbers of a sum by name, each with its margin."""

    values: Mapping[str, float]
    margins: Mapping[str, Margin]

    def __getitem__(self, name: str) -> float:
        return self.values[name]

    def __contains__(self, name: str) -> bool:
        return name in self.values

    def amount(self, name: str, what: str, digits: int | None = None) -> Amount:
        """Return a number as it is told; `what` is its kind."""
        return Amount(self.values[name], what, self.margins[name], digits)

    def number(self, name: str, title: str, what: str) -> Number:
        """Return a number for the list, under a title."""
        return Number(name, title, self.amount(name, what))


def spread(formula: Sum, **figures: Figure) -> Spread:
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
    swings: list[tuple[str, list[Mapping[str, float]]]] = []
    for name, figure in figures.items():
        ends = [end for end in (figure.low, figure.high) if end != figure.value]
        moves = [partial(formula, **{**values, name: end}) for end in ends]
        swings.append((figure.cause, _found(moves)))
    return Spread(numbers, _combined(numbers, swings))


def spread_rig(
    formula: Callable[[Rig], Mapping[str, float]], rig: Rig, widths: Variations = WIDTHS
) -> Spread:
    """Return the numbers that a sum makes of a rig, and the margin of each.

    The rig's inputs are moved as for its working point; see `hydraulics.variation`.

    Raises:
        OutOfRange: If the rig as it is lies where a formula does not hold.
    """
    numbers = dict(formula(rig))
    swings: list[tuple[str, list[Mapping[str, float]]]] = []
    for cause, vary in INPUTS.items():
        moves = [partial(_varied, formula, vary, rig, widths, side) for side in (-1, 1)]
        swings.append((cause, _found(moves)))
    return Spread(numbers, _combined(numbers, swings))


def _varied(
    formula: Callable[[Rig], Mapping[str, float]],
    vary: Vary,
    rig: Rig,
    widths: Variations,
    side: int,
) -> Mapping[str, float]:
    return formula(vary(rig, widths, side))


def _found(moves: Iterable[Callable[[], Mapping[str, float]]]) -> list[Mapping[str, float]]:
    found = []
    for move in moves:
        with suppress(OutOfRange):
            found.append(move())
    return found


def _combined(
    numbers: Mapping[str, float], swings: list[tuple[str, list[Mapping[str, float]]]]
) -> dict[str, Margin]:
    margins = {}
    for name, value in numbers.items():
        below, above, most, blamed = [0.0], [0.0], 0.0, ""
        for cause, found in swings:
            shifts = [moved[name] - value for moved in found if name in moved]
            below.append(max([0.0, *(-shift for shift in shifts)]))
            above.append(max([0.0, *shifts]))
            if max(below[-1], above[-1]) > most:
                most, blamed = max(below[-1], above[-1]), cause
        margins[name] = Margin(hypot(*below), hypot(*above), blamed)
    return margins
