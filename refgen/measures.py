"""The units people write, each with its factor, its dimension and its twin in the other system."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

System = Literal["us", "metric"]

PSI = 6894.757293168361
US_GALLON = 0.003785411784
IMPERIAL_GALLON = 0.00454609
FOOT = 0.3048
INCH = 0.0254
POUND = 0.45359237
POUND_FORCE = 4.4482216152605


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: SI value = (number + offset) × factor.

    `symbol` is what a reader sees, `twin` the symbol shown beside it (none where both systems
    use the same unit), `digits` the least significant digits a converted number is given.
    """

    symbol: str
    dimension: str
    system: System | None
    factor: float
    twin: str = ""
    offset: float = 0.0
    digits: int = 2
    also: tuple[str, ...] = ()


# Factors are exact by definition (NIST SP 811, appendix B) unless the unit is a plain count.
UNITS = (
    Unit("psi", "pressure", "us", PSI, "bar", digits=3, also=("PSI", "lbf/in2", "lb/in2")),
    Unit("bar", "pressure", "metric", 1e5, "psi", digits=3, also=("Bar",)),
    Unit("kPa", "pressure", "metric", 1e3, "psi", digits=3),
    Unit("MPa", "pressure", "metric", 1e6, "psi", digits=3),
    Unit("Pa", "pressure", "metric", 1.0, "psi", digits=3),
    Unit("psi/ft", "pressure per length", "us", PSI / FOOT, "bar/m"),
    Unit("bar/m", "pressure per length", "metric", 1e5, "psi/ft"),
    Unit("gpm", "flow", "us", US_GALLON / 60, "L/min", also=("US gpm", "gal/min", "GPM")),
    Unit("imp gpm", "flow", None, IMPERIAL_GALLON / 60, "L/min", also=("imp gal/min",)),
    Unit("L/min", "flow", "metric", 1e-3 / 60, "gpm", also=("l/min", "lpm", "L/m")),
    Unit("L/s", "flow", "metric", 1e-3, "gpm", also=("l/s",)),
    Unit("m³/h", "flow", "metric", 1 / 3600, "gpm", also=("m3/h",)),
    Unit("m³/s", "flow", "metric", 1.0, "gpm", also=("m3/s",)),
    Unit("in", "length", "us", INCH, "mm", also=("inch", "inches", '"', "″")),
    Unit("mm", "length", "metric", 1e-3, "in"),
    Unit("cm", "length", "metric", 1e-2, "in"),
    Unit("ft", "length", "us", FOOT, "m", also=("foot", "feet", "′")),
    Unit("yd", "length", "us", 3 * FOOT, "m"),
    Unit("mile", "length", "us", 5280 * FOOT, "km", also=("miles",)),
    Unit("m", "length", "metric", 1.0, "ft", also=("metre", "metres", "meter", "meters")),
    Unit("km", "length", "metric", 1e3, "mile"),
    Unit("°F", "temperature", "us", 5 / 9, "°C", 459.67, also=("degF", "deg F", "F")),
    Unit("°C", "temperature", "metric", 1.0, "°F", 273.15, also=("degC", "deg C", "C")),
    Unit("K", "temperature", None, 1.0, "°C"),
    Unit("ft/s", "speed", "us", FOOT, "m/s", also=("fps",)),
    Unit("ft/min", "speed", "us", FOOT / 60, "m/min"),
    Unit("m/s", "speed", "metric", 1.0, "ft/s"),
    Unit("m/min", "speed", "metric", 1 / 60, "ft/min"),
    Unit("gal", "volume", "us", US_GALLON, "L", also=("US gal", "gallon", "gallons")),
    Unit("imp gal", "volume", None, IMPERIAL_GALLON, "L"),
    Unit("L", "volume", "metric", 1e-3, "gal", also=("l", "litre", "litres", "liter", "liters")),
    Unit("m³", "volume", "metric", 1.0, "gal", also=("m3",)),
    Unit("ft³", "volume", "us", FOOT**3, "m³", also=("ft3", "cu ft")),
    Unit("yd³", "volume", "us", (3 * FOOT) ** 3, "m³", also=("yd3", "cu yd")),
    Unit("lb", "mass", "us", POUND, "kg", also=("lbs", "pound", "pounds")),
    Unit("kg", "mass", "metric", 1.0, "lb"),
    Unit("g", "mass", "metric", 1e-3, "lb"),
    Unit("lb/ft", "mass per length", "us", POUND / FOOT, "kg/m"),
    Unit("kg/m", "mass per length", "metric", 1.0, "lb/ft"),
    Unit("lb/ft³", "density", "us", POUND / FOOT**3, "kg/m³", also=("lb/ft3", "pcf")),
    Unit("kg/m³", "density", "metric", 1.0, "lb/ft³", also=("kg/m3",)),
    Unit("lbf", "force", "us", POUND_FORCE, "N"),
    Unit("N", "force", "metric", 1.0, "lbf"),
    Unit("kN", "force", "metric", 1e3, "lbf"),
    Unit("hp", "power", "us", 745.6998715822702, "kW"),
    Unit("kW", "power", "metric", 1e3, "hp"),
    Unit("W", "power", "metric", 1.0, "hp"),
    Unit("°", "angle", None, 0.017453292519943295, also=("deg", "degree", "degrees")),
    Unit("s", "time", None, 1.0, also=("sec", "second", "seconds")),
    Unit("min", "time", None, 60.0, also=("minute", "minutes")),
    Unit("h", "time", None, 3600.0, also=("hour", "hours", "hr")),
    Unit("days", "time", None, 86400.0, also=("day",)),
    Unit("weeks", "time", None, 604800.0, also=("week",)),
    Unit("months", "time", None, 2629746.0, also=("month",)),
    Unit("years", "time", None, 31556952.0, also=("year",)),
    Unit("%", "share", None, 0.01, also=("percent", "pct")),
    Unit("×", "ratio", None, 1.0, also=("x", "times")),
    Unit("ppm", "concentration", None, 1e-6),
    Unit("dBA", "sound level", None, 1.0, also=("dB(A)",)),
    Unit("rpm", "rotation", None, 1 / 60, also=("rev/min",)),
    Unit("V", "voltage", None, 1.0),
    Unit("A", "current", None, 1.0),
    Unit("mesh", "mesh", None, 1.0),
    Unit("MJ/kg", "energy per mass", "metric", 1e6),
)

DIMENSIONS = tuple(dict.fromkeys(unit.dimension for unit in UNITS))
_BY_NAME = {name: unit for unit in UNITS for name in (unit.symbol, *unit.also)}


def unit_named(name: str) -> Unit | None:
    """Return the unit a person means by this name, or None."""
    return _BY_NAME.get(name.strip())


def units_of(dimension: str) -> list[Unit]:
    """Return the units of one dimension, the commonest first."""
    return [unit for unit in UNITS if unit.dimension == dimension]
