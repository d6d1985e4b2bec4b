"""One field of the worksheet's form: what it asks for, in which range, how far off it may be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from refgen.hydraulics import variation, water
from refgen.measures import System, unit_named
from refgen.model.base import Flow, HoseBore, Length, PipeBore, Pressure, Volume
from refgen.model.equipment import Roughness, TradeNumber
from refgen.model.setup import Head
from refgen.rigs import STANDARD_WATER
from refgen.setups import SMOOTH_LINER
from refgen.units import parse_quantity
from refgen.worksheet.limits import Range, range_of_type

Off = tuple[str, float, float]

WIDTHS = variation.Variations()
ANY: Range = (0.0, None)
WATER: Range = (water.COLDEST, water.HOTTEST)
FLOWS = range_of_type(Flow)
SUPPLIES: Range = (0.0, FLOWS[1])
PRESSURES = range_of_type(Pressure)
LENGTHS = range_of_type(Length)
VOLUMES = range_of_type(Volume)
HEADS = range_of_type(Head)
HOSE_BORES = range_of_type(HoseBore)
PIPE_BORES = range_of_type(PipeBore)
ROUGHNESSES = range_of_type(Roughness)
NUMBERS = range_of_type(TradeNumber)
LINER = f"{SMOOTH_LINER * 1e3:g} mm"
FIFTEEN = (f"{(STANDARD_WATER - 273.15) * 1.8 + 32:g} degF", f"{STANDARD_WATER - 273.15:g} degC")


def share(less: float, more: float | None = None) -> Off:
    """Return that a value may be off by a share of itself."""
    return ("share", less, less if more is None else more)


def shift(si: float) -> Off:
    """Return that a value may be off by so much either way, SI."""
    return ("shift", si, si)


# What a figure may be off: as in the working point; and what a tape, a look into a tank, a pace or
# a watch gives in practice.
BORE = share(WIDTHS.hose_bore)
FLOW = share(WIDTHS.pump_flow)
GAUGE = share(WIDTHS.pressure_limit)
WARMTH = shift(WIDTHS.water_temperature)
ROUGH: Off = ("to", WIDTHS.smoothest, WIDTHS.roughest)
COUPLED = share(0.0, WIDTHS.couplings)
TAPE = share(0.01)
LOOK = share(0.05)
PACE = share(0.10)
WATCH = shift(1.0)


@dataclass(frozen=True, slots=True)
class Field:
    """One field of the form.

    Attributes:
        id: Name in the address.
        word: Name of its label among the words.
        of: Dimension of its quantity; `number`, `count` or `choice` where it has no unit.
        range: Lowest and highest value, SI.
        us: What it starts from where US customary units come first; a unit alone leaves it empty.
        metric: The same where metric units come first; as `us` if left out.
        needed: Whether there is no answer without it.
        above: Whether the lowest value itself is refused.
        off: How far it may be off: `share` of the value, `shift` in SI, or `to` two values.
        choices: What stands for each choice, and its word.
    """

    id: str
    word: str
    of: str
    range: Range = ANY
    us: str = ""
    metric: str | None = None
    needed: bool = True
    above: bool = False
    off: Off | None = None
    choices: tuple[tuple[str, str], ...] = ()

    def told(self, first: System) -> dict[str, Any]:
        """Return the field for the script, without what is not there."""
        start = self.us if first == "us" or self.metric is None else self.metric
        unit = unit_named(start)
        told = {
            "id": self.id,
            "of": self.of,
            "low": self.range[0] or None,
            "high": self.range[1],
            "unit": unit.symbol if unit else None,
            "needed": self.needed or None,
            "above": self.above or None,
            "off": self.off,
            "word": self.word if self.off else None,
        }
        found = {name: value for name, value in told.items() if value is not None}
        return {**found, "is": "" if unit else self._as_read(start)}

    def _as_read(self, start: str) -> str:
        """Return a value as the form shows it once it has read it."""
        if not start or self.of in ("number", "count", "choice"):
            return start
        read = parse_quantity(start, self.of)
        return f"{read.number} {read.unit.symbol}"


def optional(
    name: str,
    word: str,
    of: str,
    ends: Range = ANY,
    us: str = "",
    metric: str | None = None,
    *,
    above: bool = False,
    off: Off | None = None,
) -> Field:
    """Return a field that may stay empty."""
    return Field(name, word, of, ends, us, metric, needed=False, above=above, off=off)


@dataclass(frozen=True, slots=True)
class Sum:
    """One short sum; its formula stands in `worksheet-sums.js`, after those of `hydraulics`.

    Attributes:
        id: Name in the address.
        word: Name of its title among the words.
        fields: What it asks for.
        rows: Name of each number it gives, its word, and what kind of quantity it is.
        notes: Words of what is always said with it.
    """

    id: str
    word: str
    fields: tuple[Field, ...]
    rows: tuple[tuple[str, str, str], ...]
    notes: tuple[str, ...]
