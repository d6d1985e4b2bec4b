"""How far each number of a duty can be off, and which input is to blame.

One input at a time is set to the lowest and the highest value it may really have, the working
point is computed anew, and the differences are combined as the root of the sum of squares,
each side for itself. That is the usual rule for errors that do not depend on each other
(JCGM 100:2008, 5.1, without correlation), here with differences in place of slopes, because
a rig that starts to regulate bends sharply.

Where a gauge reading sized the jets, what is off in hose, pump or gauge was off in the reading
too. So each of these is moved in both, and the jets are sized anew by the moved reading: what the
gauge showed is then known as well as the gauge is, and the loss in the hose, which it did not
show, goes wholly into the pressure at the nozzle.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import hypot

from refgen.errors import OutOfRange
from refgen.hydraulics.duty import Duty, Rig, working_point
from refgen.hydraulics.gauge_reading import Reading
from refgen.hydraulics.variation import CALIBRATED, INPUTS, Variations, Vary

_OF_THE_DAY = ("water-temperature", "antifreeze")
"""Inputs that another day's reading tells nothing of."""


@dataclass(frozen=True, slots=True)
class Margin:
    """How far below and above its value a number may lie, and the input that matters most.

    `lower` and `upper` are distances in the unit of the number; `cause` is a key of
    `variation.INPUTS`, empty if nothing that was varied moves the number.
    """

    lower: float
    upper: float
    cause: str


@dataclass(frozen=True, slots=True)
class Margins:
    """The margin of each number of a duty.

    `left_out` names the inputs that could not be varied over their whole width, because a
    formula ends on the way; the margins are too narrow by what they would have added.
    """

    flow: Margin
    gauge: Margin
    hose_loss: Margin
    nozzle: Margin
    bypass: Margin
    jet_velocity: Margin
    pull: Margin
    jet_power: Margin
    left_out: tuple[str, ...]


def margins(
    rig: Rig, variations: Variations | None = None, reading: Reading | None = None
) -> Margins:
    """Return how far each number of the rig's duty can be off.

    Args:
        rig: The rig as it is believed to be.
        variations: How far its inputs may be off; the defaults if none are given.
        reading: The reading that sized the rig's jets, if one did.

    Raises:
        OutOfRange: If the rig itself, nothing varied, has no working point, or the reading as it
            is tells no flow area.
    """
    widths = variations or (CALIBRATED if reading else Variations())
    duty = working_point(rig)
    area = reading.flow_area() if reading else 0.0

    def moved(cause: str, vary: Vary, side: int) -> Rig:
        varied = vary(rig, widths, side)
        if reading is None or cause in _OF_THE_DAY:
            return varied
        off = side * reading.error if cause == "pressure-limit" else 0.0
        again = replace(reading, rig=vary(reading.rig, widths, side), gauge=reading.gauge + off)
        share = again.flow_area() / area
        jets = tuple(replace(jet, flow_area=jet.flow_area * share) for jet in varied.jets)
        return replace(varied, jets=jets)

    swings: list[tuple[str, tuple[Duty, ...]]] = []
    left_out: list[str] = []
    for cause, vary in INPUTS.items():
        found = []
        for side in (-1, 1):
            try:
                varied = moved(cause, vary, side)
                if varied is not rig:
                    found.append(working_point(varied))
            except OutOfRange:
                left_out.append(cause)
        swings.append((cause, tuple(found)))

    def of(name: str) -> Margin:
        return _margin(name, duty, swings)

    return Margins(
        flow=of("flow"),
        gauge=of("gauge"),
        hose_loss=of("hose_loss"),
        nozzle=of("nozzle"),
        bypass=of("bypass"),
        jet_velocity=of("jet_velocity"),
        pull=of("pull"),
        jet_power=of("jet_power"),
        left_out=tuple(dict.fromkeys(left_out)),
    )


def _margin(name: str, duty: Duty, swings: list[tuple[str, tuple[Duty, ...]]]) -> Margin:
    """Return the margin of one number from the duties with one input moved at a time."""
    value = getattr(duty, name)
    below: list[float] = []
    above: list[float] = []
    most, blamed = 0.0, ""
    for cause, found in swings:
        shifts = [getattr(varied, name) - value for varied in found]
        below.append(max([0.0, *(-shift for shift in shifts)]))
        above.append(max([0.0, *shifts]))
        if max(below[-1], above[-1]) > most:
            most, blamed = max(below[-1], above[-1]), cause
    return Margin(hypot(*below), hypot(*above), blamed)
