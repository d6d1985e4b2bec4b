"""The suction side: does the water reach the pump faster than the pump takes it?

Losses are told as head, metres of water, to lay beside the height of the water in the tank.
The jerks of a plunger pump take more on top (acceleration head), which is not counted here:
the head left must be well above zero.
"""

from __future__ import annotations

from math import exp, pi

from refgen.hydraulics.hose import Segment, pressure_loss
from refgen.hydraulics.ranges import require
from refgen.hydraulics.water import COLDEST, GRAVITY, HOTTEST, Water, water_at

# ln(p/pc) = Tc/T · Σ coefficient · (1 − T/Tc)^power: IAPWS SR1-86(1992).
CRITICAL_TEMPERATURE = 647.096
CRITICAL_PRESSURE = 22.064e6
SATURATION = (
    (-7.85951783, 1.0),
    (1.84408259, 1.5),
    (-11.7866497, 3.0),
    (22.6807411, 3.5),
    (-15.9618719, 4.0),
    (1.80122502, 7.5),
)


def loss_head(hose: Segment, flow: float, water: Water, fittings: float = 0.0) -> float:
    """Return the head [m of water] that a suction hose loses.

    Args:
        hose: The hose.
        flow: Flow of the pump [m³/s].
        water: The water.
        fittings: Loss of valves, elbows and strainer in velocity heads [-], 0 to 100; an
            open ball valve 0.1 to 0.5, an elbow 0.5 to 1.5, a sharp entry 0.5.

    Raises:
        OutOfRange: If there is no formula at this flow.
    """
    require("loss of the fittings [-]", fittings, 0.0, 100.0)
    speed = flow / (pi / 4 * hose.bore**2)
    friction = pressure_loss(hose, flow, water) / (water.density * GRAVITY)
    return friction + fittings * speed**2 / (2 * GRAVITY)


def head_left(height: float, lost: float) -> float:
    """Return the head left at the pump's inlet above the open air [m]; negative starves it.

    Args:
        height: Height of the water in the tank above the inlet [m]; negative below it.
        lost: Head lost on the way, from `loss_head` [m].
    """
    require("height of the water above the inlet [m]", height, -10.0, 50.0)
    require("head lost [m]", lost, 0.0)
    return height - lost


def vapour_pressure(temperature: float) -> float:
    """Return the pressure [Pa] at which water of this temperature boils.

    Args:
        temperature: Water temperature [K], 274.15 to 353.15.

    Source:
        IAPWS SR1-86(1992), Saturation Properties of Ordinary Water Substance, eq. 1.
    """
    require("water temperature [K]", temperature, COLDEST, HOTTEST)
    tau = 1 - temperature / CRITICAL_TEMPERATURE
    series = sum(factor * float(tau**power) for factor, power in SATURATION)
    return CRITICAL_PRESSURE * exp(CRITICAL_TEMPERATURE / temperature * series)


def air_pressure(altitude: float) -> float:
    """Return the air pressure [Pa] at a height above the sea [m], 0 to 3048.

    Source:
        ISO 2533:1975, standard atmosphere below 11 km.
    """
    require("height above the sea [m]", altitude, 0.0, 3048.0)
    return float(101_325 * (1 - 0.0065 * altitude / 288.15) ** 5.25588)


def suction_head(height: float, lost: float, temperature: float, altitude: float = 0.0) -> float:
    """Return the net positive suction head available [m], without acceleration head.

    (air pressure − vapour pressure)/(ρ·g) + height − lost. It must stay above what the pump's
    data sheet requires; arguments as for `head_left`, `vapour_pressure` and `air_pressure`.
    """
    pressure = air_pressure(altitude) - vapour_pressure(temperature)
    return pressure / (water_at(temperature).density * GRAVITY) + head_left(height, lost)
