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

from refgen.measures import (
    DIMENSIONS,
    FOOT,
    IMPERIAL_GALLON,
    INCH,
    POUND,
    POUND_FORCE,
    PSI,
    UNITS,
    US_GALLON,
    System,
    Unit,
    unit_named,
    units_of,
)

__all__ = [
    "DIMENSIONS",
    "FOOT",
    "IMPERIAL_GALLON",
    "INCH",
    "POUND",
    "POUND_FORCE",
    "PSI",
    "UNITS",
    "US_GALLON",
    "NotAQuantity",
    "Quantity",
    "System",
    "Unit",
    "both_ways",
    "convert",
    "group",
    "how_to_write",
    "join",
    "parse_quantity",
    "round_to",
    "show",
    "significant_digits",
    "unit_named",
    "units_of",
]

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
    unit = unit_named(name)
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
    twin = unit_named(unit.twin)
    assert twin is not None
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
