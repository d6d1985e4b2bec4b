"""The drills a shop has: metric, US number and US fraction, and those either side of a bore."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from refgen.hydraulics.ranges import require_positive

_INCH = 0.0254

# US number drills in ten-thousandths of an inch, No. 80 first: ASME B94.11M.
_NUMBERS = """
135 145 160 180 200 210 225 240 250 260 280 292 310 320 330 350 360 370 380 390
400 410 420 430 465 520 550 595 635 670 700 730 760 785 810 820 860 890 935 960
980 995 1015 1040 1065 1100 1110 1130 1160 1200 1285 1360 1405 1440 1470 1495 1520 1540 1570 1590
1610 1660 1695 1730 1770 1800 1820 1850 1890 1910 1935 1960 1990 2010 2040 2055 2090 2130 2210 2280
"""


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill as the shop calls it, and its diameter [m]."""

    name: str
    bore: float


def metric_drills() -> tuple[Drill, ...]:
    """Return metric drills from 0.30 to 6.00 mm in steps of 0.05 mm.

    >>> metric_drills()[0], len(metric_drills())
    (Drill(name='0.30 mm', bore=0.0003), 115)
    """
    return tuple(Drill(f"{step / 20:.2f} mm", step / 20_000) for step in range(6, 121))


def number_drills() -> tuple[Drill, ...]:
    """Return US number drills, No. 80 (0.0135 in) to No. 1 (0.2280 in).

    Source:
        ASME B94.11M, Twist Drills.
    """
    sizes = [int(size) * _INCH / 10_000 for size in _NUMBERS.split()]
    return tuple(Drill(f"No. {80 - place}", bore) for place, bore in enumerate(sizes))


def fraction_drills() -> tuple[Drill, ...]:
    """Return US fraction drills, 1/64 to 1/4 in, in steps of 1/64 in."""
    return tuple(Drill(f"{_fraction(step)} in", step * _INCH / 64) for step in range(1, 17))


def drills_beside(bore: float, drills: Iterable[Drill]) -> tuple[Drill | None, Drill | None]:
    """Return the largest drill not above a bore [m] and the smallest not below it.

    Both are the same drill if it fits exactly (to 1 µm); None where the set ends.

    >>> [drill.name for drill in drills_beside(0.00134, metric_drills())]
    ['1.30 mm', '1.35 mm']
    """
    require_positive("bore of a jet [m]", bore)
    ordered = sorted(drills, key=lambda drill: drill.bore)
    for drill in ordered:
        if abs(drill.bore - bore) < 1e-6:
            return drill, drill
    below = [drill for drill in ordered if drill.bore < bore]
    above = [drill for drill in ordered if drill.bore > bore]
    return below[-1] if below else None, above[0] if above else None


def _fraction(sixty_fourths: int) -> str:
    top, bottom = sixty_fourths, 64
    while top % 2 == 0:
        top, bottom = top // 2, bottom // 2
    return f"{top}/{bottom}"
