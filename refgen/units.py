"""Quantities as people write them: parsed once, kept in SI, shown in both systems.

A unit belongs to one dimension and names its counterpart in the other system, so showing a
quantity never has to guess: what was written in feet is shown beside metres, what was written
in inches beside millimetres. Rounding happens here and nowhere else.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
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
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_NUMBER = re.compile(
    r"(?P<sign>[-−+]?)\s*"
    r"(?:(?:(?P<whole>[0-9]+)[ -])?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)"
    r"|(?P<decimal>[0-9]+(?:\.[0-9]+)?|\.[0-9]+))"
    r"\s*(?P<unit>[^\d\s.].*)?"
)


class NotAQuantity(ValueError):
    """A text that is not a number with a known unit; `hint` says what to write."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


@dataclass(frozen=True, slots=True)
class Quantity:
    """A physical quantity: `si` in SI base units, with number and unit as written."""

    si: float
    number: str
    unit: Unit

    @property
    def dimension(self) -> str:
        """Name of the dimension, such as `pressure`."""
        return self.unit.dimension

    def __str__(self) -> str:
        return join(group(self.number), self.unit)


def unit_named(name: str) -> Unit | None:
    """Return the unit a person means by this name, or None."""
    return _BY_NAME.get(name.strip())


def units_of(dimension: str) -> list[Unit]:
    """Return the units of one dimension, the commonest first."""
    return [unit for unit in UNITS if unit.dimension == dimension]


@lru_cache(maxsize=4096)
def parse_quantity(text: str, dimension: str | None = None) -> Quantity:
    """Return the quantity a person wrote.

    >>> round(parse_quantity("3/8 in").si, 9)
    0.009525
    >>> round(parse_quantity("1900 psi", "pressure").si)
    13100039

    Args:
        text: A number (decimal, or a fraction as in `1 1/2 in`) and a unit.
        dimension: The dimension wanted; any when left out.

    Raises:
        NotAQuantity: If there is no number, no known unit, or another dimension.
    """
    wanted = dimension or "quantity"
    plain = text.strip()
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, f" {fraction}").strip()
    match = _NUMBER.fullmatch(plain)
    if len(text) > 60 or not match:
        raise NotAQuantity(f"'{text[:60]}' is no {wanted}", how_to_write(dimension))
    name = (match["unit"] or "").strip()
    unit = _BY_NAME.get(name)
    if unit is None:
        if name[:1] == "," and name[1:2].isdigit():
            hint = "Write thousands without a comma, and decimals with a point."
            raise NotAQuantity(f"'{text}' is no {wanted}", hint)
        what = f"'{text}' has no unit" if not name else f"'{text}': no unit is called '{name}'"
        raise NotAQuantity(what, how_to_write(dimension))
    if dimension and unit.dimension != dimension:
        article = "an" if unit.dimension[0] in "aeiou" else "a"
        raise NotAQuantity(
            f"'{text}' is {article} {unit.dimension}, not a {dimension}", how_to_write(dimension)
        )
    if match["bottom"] and not int(match["bottom"]):
        raise NotAQuantity(f"'{text}' divides by zero", how_to_write(dimension))
    if match["top"]:
        number = int(match["whole"] or 0) + Fraction(int(match["top"]), int(match["bottom"]))
    else:
        number = Fraction(Decimal(match["decimal"]))
    if match["sign"] in ("-", "−"):
        number = -number
    written = plain[: match.start("unit")].strip() if name else plain
    value = (float(number) + unit.offset) * unit.factor
    if unit.dimension == "temperature" and value < 0:
        raise NotAQuantity(f"'{text}' is below absolute zero", how_to_write(dimension))
    return Quantity(value, written, unit)


def how_to_write(dimension: str | None) -> str:
    """Return the hint by which a quantity of a dimension, or of any, is written right."""
    if dimension is None:
        return "Write a number and a unit, for example '1900 psi', '3/8 in' or '45 L/min'."
    units = units_of(dimension)
    names = ", ".join(unit.symbol for unit in units[:6])
    example = {"pressure": "1900", "length": "3/8", "flow": "8", "angle": "15"}.get(dimension, "10")
    return f"Write a number and a unit ({names}), for example '{example} {units[0].symbol}'."


def convert(si: float, unit: Unit) -> float:
    """Return the number of `unit` that an SI value is."""
    return si / unit.factor - unit.offset


def significant_digits(number: str) -> int:
    """Return how many digits of a number as written carry meaning.

    A nominal size such as 3/8 carries two, 4 1/2 three: nobody measures a hose to a hundredth.
    """
    if "/" in number:
        whole = re.split(r"[ -]", number.lstrip("+-− "))[0]
        return 2 if "/" in whole or whole == "1" else 3
    bare = number.lstrip("+-−").replace(",", "")
    if "." in bare:
        return len(bare.replace(".", "").lstrip("0")) or 1
    return len(bare.rstrip("0").lstrip("0")) or 1


def round_to(value: float, digits: int) -> str:
    """Return a number rounded to so many significant digits, written without an exponent.

    >>> round_to(119.97, 3), round_to(0.0123, 2), round_to(130.96, 2)
    ('120', '0.012', '130')
    """
    if value == 0:
        return "0"
    rounded = Decimal(f"{value:.{max(digits, 1) - 1}e}")
    text = f"{rounded:f}"
    if "." in text and rounded == rounded.to_integral_value():
        text = text.split(".")[0]
    return text


def group(number: str) -> str:
    """Return a number with commas between thousands and a true minus."""
    minus = "−" if number[:1] in ("-", "−") else ""
    whole, point, rest = number.lstrip("+-− ").partition(".")
    if whole.isdigit() and len(whole) > 3:
        whole = f"{int(whole):,}"
    return minus + whole + point + rest


def join(number: str, unit: Unit) -> str:
    """Return number and unit as one text; signs such as % and ° stand close."""
    if unit.symbol in ("%", "°", "°F", "°C"):
        return f"{number}{' ' if len(unit.symbol) > 1 else ''}{unit.symbol}"
    singular = {"days": "day", "weeks": "week", "months": "month", "years": "year"}
    symbol = singular.get(unit.symbol, unit.symbol) if number == "1" else unit.symbol
    return f"{number} {'times' if symbol == '×' else symbol}"


def both_ways(quantity: Quantity, first: System) -> tuple[str, str]:
    """Return a quantity in the system shown first and in the other ('' where they are one).

    The number that was written stays as written; only its twin is rounded, to as many digits as
    the written number carries and at least as many as the unit's kind deserves.

    >>> both_ways(parse_quantity("1740 psi"), "us")
    ('1,740 psi', '120 bar')
    >>> both_ways(parse_quantity("3/8 in"), "metric")
    ('9.5 mm', '3/8 in')
    """
    unit = quantity.unit
    written = str(quantity)
    if not unit.twin:
        return written, ""
    twin = _BY_NAME[unit.twin]
    value = convert(quantity.si, twin)
    if unit.dimension == "temperature":
        number = f"{value:.0f}".replace("-0", "0")
    else:
        digits = min(max(significant_digits(quantity.number), unit.digits), 4)
        number = round_to(value, digits)
    other = join(group(number), twin)
    if unit.system == first or (unit.system is None and twin.system != first):
        return written, other
    return other, written


def show(si: float, unit: Unit, digits: int = 3) -> str:
    """Return a computed SI value in one unit, rounded to so many significant digits."""
    return join(group(round_to(convert(si, unit), digits)), unit)
