"""How a flow is found for a pressure: the right one, and without many tries.

A working point is asked for thousands of times, so what is counted here is how often the path's
pressure is worked out on the way; it does not depend on the machine that runs it.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from statistics import fmean

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics import Segment
from refgen.hydraulics.flow_path import FlowPath
from refgen.hydraulics.water import water_at

WATER = water_at(288.15)


class Counted(FlowPath):
    """A path that counts how often its pressure was worked out."""

    asked = 0

    def demand(self, flow: float) -> float:
        self.asked += 1
        return super().demand(flow)


def turbulent() -> Iterator[tuple[Counted, float, float]]:
    """Yield paths with the pressure to find the flow for, and that flow."""
    for bore, length, share in product((0.0095, 0.0127, 0.019), (15.0, 60.0, 150.0), (0.2, 1.0)):
        hose = Segment(bore, length, 1.5e-6)
        path = Counted((hose,), share * 3e-6, WATER)
        for flow in (3e-4, 6e-4, 9e-4):
            yield path, path.demand(flow), flow


def laminar() -> Iterator[tuple[Counted, float, float]]:
    # 1 L/min and less in 13 mm: Re 1470 at the most, and the nozzle takes next to nothing.
    path = Counted((Segment(0.0127, 60.0, 0.0),), 3e-5, WATER)
    for flow in (2e-6, 5e-6, 1e-5):
        yield path, path.demand(flow), flow


def tries(cases: Iterator[tuple[Counted, float, float]], over: float) -> list[int]:
    """Return how often the pressure was worked out for each, from `over` times the flow down."""
    found = []
    for path, target, flow in cases:
        path.asked = 0
        assert path.flow_at(target, flow * over)[0] == pytest.approx(flow, rel=1e-12)
        found.append(path.asked)
    return found


@pytest.mark.parametrize("over", [1.02, 1.3, 2.0])
def test_a_flow_is_found_in_a_few_tries(over):
    found = tries(turbulent(), over)
    assert fmean(found) < 4.7
    assert max(found) <= 6


def test_so_it_is_where_the_pressure_goes_with_the_flow_itself():
    assert max(tries(laminar(), 1.6)) <= 6


def test_one_try_is_enough_where_the_pump_gives_less():
    for path, target, flow in turbulent():
        path.asked = 0
        assert path.flow_at(target * 1.01, flow) == (flow, pytest.approx(target, rel=1e-12))
        assert path.asked == 1


def test_the_end_of_a_span_belongs_to_it():
    # 13 mm: laminar to Re 2040, so the flow there is found, and the next is refused.
    path = FlowPath((Segment(0.0127, 60.0, 0.0),), 3e-5, WATER)
    (per_flow,) = path.reynolds(1.0)
    last = 2040 / per_flow * (1 - 1e-11)
    assert path.flow_at(path.demand(last), 1e-3)[0] == pytest.approx(last, rel=1e-9)
    with pytest.raises(OutOfRange, match="between calm and broken flow"):
        path.flow_at(path.demand(last) * 1.001, 1e-3)
