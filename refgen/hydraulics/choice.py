"""Choosing a nozzle: the holes that let a pump work at its rated flow and pressure.

The pump's flow is what the hose loses pressure at, so nothing has to be tried out: rated
pressure less hose loss is left for the jets, and that gives their area.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor, pi, sqrt

from refgen.errors import OutOfRange
from refgen.hydraulics.duty import Pump, Rig
from refgen.hydraulics.hose import Segment, pressure_loss
from refgen.hydraulics.mixture import mixture_at
from refgen.hydraulics.orifice import area_for, number_of_area
from refgen.hydraulics.ranges import require, require_positive
from refgen.hydraulics.water import GRAVITY


@dataclass(frozen=True, slots=True)
class Choice:
    """The nozzle that fits a pump and its hose.

    Attributes:
        flow_area: Cd·A of all holes together [m²].
        number: The same as a trade number [-]; numbers of several holes add.
        nozzle: Pressure left at the nozzle [Pa].
        hose_loss: Pressure lost in the hoses at the pump's flow [Pa].
    """

    flow_area: float
    number: float
    nozzle: float
    hose_loss: float


def fitting_nozzle(
    pump: Pump,
    hoses: Iterable[Segment],
    water_temperature: float,
    below_pump: float = 0.0,
    headroom: float = 0.0,
    antifreeze: float = 0.0,
) -> Choice:
    """Return the nozzle that takes the pump's whole flow just at its limit.

    Args:
        pump: Rated flow and limit.
        hoses: Segments in series.
        water_temperature: Temperature of the water [K], 274.15 to 353.15.
        below_pump: How far the nozzle lies below the pump [m]; negative above it.
        headroom: Share of the limit kept free, so that the unloader stays shut [-], 0 to 0.5.
        antifreeze: Share of propylene glycol in the water by volume [-], 0 to 0.50.

    Raises:
        OutOfRange: If the hoses eat the whole pressure, or have no formula at this flow.
    """
    require("headroom [-]", headroom, 0.0, 0.5)
    water = mixture_at(water_temperature, antifreeze)
    lost = sum(pressure_loss(hose, pump.flow, water) for hose in hoses)
    left = pump.limit * (1 - headroom) - lost + water.density * GRAVITY * below_pump
    if left <= 0:
        raise OutOfRange("hose and height take the whole pressure: no nozzle fits this flow")
    area = area_for(pump.flow, left, water.density)
    return Choice(area, number_of_area(area), left, lost)


def fitting_on(rig: Rig, headroom: float = 0.0) -> Choice:
    """Return the nozzle for a rig's pump, hoses and water, whatever jets it has now.

    Headroom and errors as for `fitting_nozzle`.
    """
    return fitting_nozzle(
        rig.pump, rig.hoses, rig.water_temperature, rig.below_pump, headroom, rig.antifreeze
    )


def bore_each(flow_area: float, count: int, discharge_coefficient: float) -> float:
    """Return the bore [m] of each of `count` equal holes that share Cd·A [m²]."""
    require_positive("flow area [m²]", flow_area)
    require("count of jets", count, 1)
    require_positive("discharge coefficient [-]", discharge_coefficient)
    require("discharge coefficient [-]", discharge_coefficient, 0.0, 1.0)
    return sqrt(4 * flow_area / (pi * count * discharge_coefficient))


def numbers_beside(number: float, step: float = 0.5) -> tuple[float, float]:
    """Return the trade numbers on sale either side of a computed one.

    A lower number raises the pressure and makes the unloader open; a higher one lowers it.

    >>> numbers_beside(9.24), numbers_beside(4.5)
    ((9.0, 9.5), (4.5, 4.5))

    Args:
        number: The computed number, above 0.
        step: Distance between the numbers on sale, above 0.
    """
    require_positive("trade number", number)
    require_positive("step of trade numbers", step)
    steps = number / step
    below = floor(steps + 1e-9)
    exact = abs(steps - below) < 1e-9
    return below * step, (below if exact else below + 1) * step
