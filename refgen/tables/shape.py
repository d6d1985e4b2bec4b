"""How computed values are shown in cells: rounded once, both systems, the brand's first."""

from __future__ import annotations

from refgen.texts import Shown
from refgen.units import System, Unit, show, unit_named


def _unit(symbol: str) -> Unit:
    unit = unit_named(symbol)
    assert unit is not None
    return unit


_PAIRS = {
    "pressure": (_unit("psi"), _unit("bar")),
    "flow": (_unit("gpm"), _unit("L/min")),
    "bore": (_unit("in"), _unit("mm")),
    "length": (_unit("ft"), _unit("m")),
    "force": (_unit("lbf"), _unit("N")),
    "power": (_unit("hp"), _unit("kW")),
    "speed": (_unit("ft/s"), _unit("m/s")),
    "volume": (_unit("gal"), _unit("L")),
}


def both(si: float, what: str, first: System, digits: int = 3) -> Shown:
    """Return a computed value in both systems.

    Args:
        si: The value in SI units.
        what: pressure, flow, bore, length, force, power, speed or volume.
        first: The system shown first.
        digits: Significant digits the value can bear.
    """
    us, metric = (show(si, unit, digits) for unit in _PAIRS[what])
    return Shown(us, metric) if first == "us" else Shown(metric, us)


def trade_number(number: float) -> str:
    """Return a trade number with one decimal.

    >>> trade_number(4.0), trade_number(12.34)
    ('4.0', '12.3')
    """
    return f"{number:.1f}"
