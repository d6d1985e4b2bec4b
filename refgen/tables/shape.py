"""How computed values are shown in cells: rounded once, both systems, the brand's first."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, floor, log10

from refgen.hydraulics import Margin
from refgen.texts import Shown
from refgen.units import System, Unit, convert, group, join, round_to, show, unit_named


def _unit(symbol: str) -> Unit:
    unit = unit_named(symbol)
    assert unit is not None
    return unit


PAIRS = {
    "pressure": (_unit("psi"), _unit("bar")),
    "flow": (_unit("gpm"), _unit("L/min")),
    "bore": (_unit("in"), _unit("mm")),
    "length": (_unit("ft"), _unit("m")),
    "force": (_unit("lbf"), _unit("N")),
    "power": (_unit("hp"), _unit("kW")),
    "speed": (_unit("ft/s"), _unit("m/s")),
    "volume": (_unit("gal"), _unit("L")),
    "soil": (_unit("yd³"), _unit("m³")),
    "mass": (_unit("lb"), _unit("kg")),
    "weight": (_unit("lb/ft"), _unit("kg/m")),
    "walk": (_unit("ft/min"), _unit("m/min")),
    "head": (_unit("ft"), _unit("m")),
    "temperature": (_unit("°F"), _unit("°C")),
}


def both(si: float, what: str, first: System, digits: int = 3) -> Shown:
    """Return a computed value in both systems.

    Args:
        si: The value in SI units.
        what: Kind of quantity: a name in `PAIRS`.
        first: The system shown first.
        digits: Significant digits the value can bear; a temperature is told in whole degrees.
    """
    if what == "temperature":
        us, metric = (join(group(f"{convert(si, unit):.0f}"), unit) for unit in PAIRS[what])
    else:
        us, metric = (show(si, unit, digits) for unit in PAIRS[what])
    return Shown(us, metric) if first == "us" else Shown(metric, us)


def one(si: float, symbol: str, digits: int = 3) -> str:
    """Return a computed value in a unit that both systems use."""
    return show(si, _unit(symbol), digits)


def percent(share: float, digits: int = 2) -> str:
    """Return a share as percent.

    >>> percent(0.8227), percent(1.0)
    ('82%', '100%')
    """
    return f"{round_to(share * 100, digits)}%"


def at_most(si: float, what: str, first: System, digits: int = 3) -> Shown:
    """Return a limit in both systems, rounded down so that what is read never passes it.

    >>> at_most(8.54e6, "pressure", "us")
    Shown(first='1,230 psi', other='85.4 bar', condition='')
    """
    return _to_one_side(si, what, first, digits, floor, 1e-9)


def at_least(si: float, what: str, first: System, digits: int = 4) -> Shown:
    """Return what is the least allowed in both systems, rounded up.

    >>> at_least(0.028575, "bore", "us")
    Shown(first='1.125 in', other='28.58 mm', condition='')
    """
    return _to_one_side(si, what, first, digits, ceil, -1e-9)


def _to_one_side(
    si: float, what: str, first: System, digits: int, rounded: Callable[[float], int], near: float
) -> Shown:
    shown = []
    for unit in PAIRS[what]:
        number = convert(si, unit)
        step = 10.0 ** (floor(log10(number)) - digits + 1) if number > 0 else 1.0
        # A number that is whole but for its last bit is not moved a whole step.
        whole = rounded(number / step + near) * step
        shown.append(join(group(round_to(whole, digits)), unit))
    return Shown(*shown) if first == "us" else Shown(*reversed(shown))


def trade_number(number: float) -> str:
    """Return a trade number with one decimal.

    >>> trade_number(4.0), trade_number(12.34)
    ('4.0', '12.3')
    """
    return f"{number:.1f}"


def in_words(shown: Shown) -> str:
    """Return a quantity for the middle of a sentence; it does not break from its unit."""
    first, other = (text.replace(" ", "\u00a0") for text in (shown.first, shown.other))
    return f"{first} ({other})" if other else first


def both_or_under(si: float, what: str, first: System, least: float) -> Shown:
    """Return a computed value with two digits, or that it lies under the least worth telling.

    >>> [both_or_under(pa, "pressure", "us", 6895.0).first for pa in (3e6, 2e3)]
    ['440 psi', '< 1 psi']
    """
    if si >= least:
        return both(si, what, first, 2)
    limit = both(least, what, first, 1)
    return Shown(f"< {limit.first}", f"< {limit.other}")


def digits_borne(value: float, margin: Margin) -> int:
    """Return the digits a value bears: two where it can be off by more than a tenth."""
    return 2 if max(margin.lower, margin.upper) > abs(value) * 0.1 else 3


def duration(seconds: float) -> str:
    """Return a time with two digits in the unit a person would say it in.

    >>> duration(42), duration(391.7), duration(9000)
    ('42 s', '6.5 min', '2.5 h')
    """
    if seconds < 90:
        return show(seconds, _unit("s"), 2)
    return show(seconds, _unit("min") if seconds < 5400 else _unit("h"), 2)


def kept(value: float | None, digits: int = 5) -> float | None:
    """Return a value as it is written into the data: without digits that mean nothing.

    >>> kept(0.00113562, 3), kept(None)
    (0.00114, None)
    """
    return None if value is None else float(f"{value:.{digits}g}")
