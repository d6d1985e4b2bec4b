"""Hoses and nozzle as one path: what pressure a flow needs, and what flow a pressure gives.

The pressure that a path takes rises with the flow, but no formula covers every flow: each
hose has a gap between laminar and turbulent flow, and hose on the reel is known only from
Re 10 000 to 250 000. So the flows at which all hoses are covered form a few spans, and a
pressure may belong to a flow in none of them. Then the answer is a refusal.
"""

from __future__ import annotations

from math import exp, log

from refgen.errors import OutOfRange
from refgen.hydraulics.hose import Segment
from refgen.hydraulics.resistance import covered, gap, loss, resistance
from refgen.hydraulics.water import Water

CLOSE = 1e-14
"""How near a pressure must come to the one sought, as a share of it [-]."""


class FlowPath:
    """Segments in series and the holes at their end, for one water."""

    __slots__ = ("_nozzle", "_segments", "area")

    def __init__(self, hoses: tuple[Segment, ...], area: float, water: Water) -> None:
        self.area = area
        self._nozzle = water.density / 2 / (area * area)
        self._segments = [resistance(hose, water) for hose in hoses]

    def nozzle(self, flow: float) -> float:
        """Return the pressure across the jets [Pa] at this flow [m³/s]."""
        return self._nozzle * flow * flow

    def reynolds(self, flow: float) -> tuple[float, ...]:
        """Return the Reynolds number of each hose [-] at this flow [m³/s]."""
        return tuple([segment[0] * flow for segment in self._segments])

    def losses(self, flow: float) -> tuple[float, ...]:
        """Return the pressure lost in each hose [Pa] at this flow [m³/s]."""
        return tuple([loss(segment, flow) for segment in self._segments])

    def demand(self, flow: float) -> float:
        """Return the pressure [Pa] that the whole path takes at this flow [m³/s].

        Raises:
            OutOfRange: If one of the hoses has no formula at this flow.
        """
        total = self._nozzle * flow * flow
        for segment in self._segments:
            total += loss(segment, flow)
        return total

    def flow_at(self, target: float, most: float) -> tuple[float, float]:
        """Return the flow [m³/s] that takes the pressure `target` [Pa], and what it takes.

        If even the flow `most` takes less than `target`, that flow and its own demand come
        back; otherwise the second number is `target` itself.

        Raises:
            OutOfRange: If the flow would lie where no formula holds.
        """
        try:
            demand = self.demand(most)
            if demand <= target:
                return most, demand
            flow = self._approach(target, most, demand)
        except OutOfRange:
            flow = None
        if flow is None:
            return self._search_spans(target, most)
        return flow, target

    def _approach(self, target: float, flow: float, demand: float) -> float | None:
        """Return the flow that takes `target`, or None if it does not settle quickly.

        Demand over flow is nearly a straight line in logarithms, between slope 1 (laminar
        hose) and 2 (nozzle), so the secant in logarithms settles in three to five steps. Close to
        the end the slope is lost in rounding, but never let below 1.
        """
        slope = 2.0
        for _ in range(8):
            step = log(target / demand) / slope
            flow *= exp(step)
            before, demand = demand, self.demand(flow)
            if abs(demand - target) <= CLOSE * target:
                return flow
            if step:
                slope = max(log(demand / before) / step, 1.0)
        return None

    def _search_spans(self, target: float, most: float) -> tuple[float, float]:
        """Return what `flow_at` does, going through the spans from the top one down.

        For targets that `most` passes, or where it has no formula itself.
        """
        above = None
        for low, high in reversed(self._spans(most)):
            if self.demand(high) <= target:
                break
            if self.demand(low) <= target:
                return self._bisect(target, low, high), target
            above = low
        raise OutOfRange(self._refusal(most if above is None else above))

    def _bisect(self, target: float, low: float, high: float) -> float:
        """Return the flow between `low` and `high` that takes `target`, to the last bit.

        Schmidt's two formulas meet with a small step; a target inside the step belongs to
        the flow at which it happens, and bisection ends there.
        """
        while True:
            middle = (low + high) / 2
            if not low < middle < high:
                return low
            if self.demand(middle) <= target:
                low = middle
            else:
                high = middle

    def _spans(self, most: float) -> list[tuple[float, float]]:
        """Return the spans of flow up to `most` in which every hose has a formula."""
        spans = [(0.0, most)]
        for segment in self._segments:
            spans = [
                (max(low, start), min(high, end))
                for low, high in spans
                for start, end in covered(segment)
                if max(low, start) <= min(high, end)
            ]
        return spans

    def _refusal(self, flow: float) -> str:
        """Return the sentence that says which hose has no formula at or just below this flow."""
        for just_there in (flow, flow * (1 - 1e-9)):
            for place, segment in enumerate(self._segments, 1):
                if reason := gap(segment, segment.reynolds_per_flow * just_there):
                    return f"hose {place} would run {reason}"
        return "no flow fits this pressure"
