"""How much of its rated power an engine has left at a height and in heat.

Three answers are given for the height, because the sources differ; the cautious one counts.
They hold for engines without a turbocharger.
"""

from __future__ import annotations

from typing import Literal

from refgen.hydraulics.ranges import require

AltitudeRule = Literal["cautious", "mild", "air density"]
Fuel = Literal["petrol", "diesel"]

_FOOT = 0.3048
PER_1000_FT = 1000 * _FOOT
HIGHEST = 10_000 * _FOOT
HOTTEST_AIR = 328.15

# Where heat begins to count [K], and the rise that costs one percent [K].
HEAT: dict[Fuel, tuple[float, float]] = {
    "petrol": (298.15, 10 / 1.8),
    "diesel": ((85 + 459.67) / 1.8, 5 / 1.8),
}


def altitude_share(altitude: float, rule: AltitudeRule = "cautious") -> float:
    """Return the share of the sea-level power left at a height [-].

    >>> round(altitude_share(1524.0), 3), round(altitude_share(1524.0, "mild"), 3)
    (0.825, 0.865)

    Args:
        altitude: Height above the sea [m], 0 to 3048 (10 000 ft).
        rule: `cautious`, 3.5 % of the rating lost per 1000 ft; `mild`, 3 % per 1000 ft above
            the first 500 ft; `air density`, in step with the air of the standard atmosphere.

    Raises:
        OutOfRange: If the height lies outside.

    Source:
        3.5 %: common practice; 3 % above 500 ft: agricultural engineering textbooks; air
        density: ISO 2533:1975, standard atmosphere below 11 km.
    """
    require("height above the sea [m]", altitude, 0.0, HIGHEST)
    if rule == "cautious":
        return 1 - 0.035 * altitude / PER_1000_FT
    if rule == "mild":
        return 1 - 0.03 * max(altitude - 500 * _FOOT, 0.0) / PER_1000_FT
    return float((1 - 0.0065 * altitude / 288.15) ** 4.25588)


def heat_share(air_temperature: float, fuel: Fuel = "petrol") -> float:
    """Return the share of the rated power left in hot air [-].

    Petrol: 1 % lost per 10 °F (5.6 K) above 77 °F (25 °C). Diesel: 1 % per 5 °F (2.8 K) above
    85 °F (29 °C). Cold air is given no bonus.

    Args:
        air_temperature: Temperature of the air the engine draws [K], 233.15 to 328.15.
        fuel: `petrol` or `diesel`.

    Source:
        The losses: agricultural engineering textbooks. 25 °C: reference of SAE J1349.
    """
    require("air temperature [K]", air_temperature, 233.15, HOTTEST_AIR)
    begins, one_percent = HEAT[fuel]
    return 1 - 0.01 * max(air_temperature - begins, 0.0) / one_percent
