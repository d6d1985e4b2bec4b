"""How far each nozzle draws its hose: a range, straight and round one bend."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, pi

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.reach import (
    EASY_FRICTION,
    HARD_FRICTION,
    Bend,
    hose_weight,
    reach_range,
)
from refgen.hydraulics.water import density
from refgen.model.lookup import Table
from refgen.rigs import STANDARD_WATER, water_assumed
from refgen.tables.duties import Fed, machine_grids, row_ids
from refgen.tables.grid import Cell, ComputedTable, Head, Record, Working
from refgen.tables.shape import both, digits_borne, in_words, kept
from refgen.texts import Shown, show_quantity
from refgen.units import System, parse_quantity

BEND_AT = parse_quantity("20 ft")
"""Where the one bend lies, where the record does not say."""


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a nozzle draws its hose [m], at least and at most, and the hose it has [m]."""

    shortest: float
    longest: float
    hose: float


def reach_of(fed: Fed, bends: tuple[Bend, ...], temperature: float = STANDARD_WATER) -> Reach:
    """Return how far a nozzle draws its hose on the level, never more than there is.

    Its pull is taken at both ends of its margin.

    Raises:
        OutOfRange: If the hose's weight is not known, or the nozzle has no pull.
    """
    if fed.duty is None or fed.margins is None:
        raise OutOfRange(fed.reason)
    if fed.hose.weight is None:
        raise OutOfRange("the hose's weight is not known")
    if fed.duty.pull <= 0:
        raise OutOfRange("the nozzle pushes back")
    weight = hose_weight(fed.hose.weight.si, fed.hose.bore.si, density(temperature))
    pull, margin, hose = fed.duty.pull, fed.margins.pull, fed.carried.length.si
    shortest, _ = reach_range(max(pull - margin.lower, 0.0), weight, 0.0, bends)
    _, longest = reach_range(pull + margin.upper, weight, 0.0, bends)
    return Reach(min(shortest, hose), min(longest, hose), hose)


def reach(table: Table, catalog: Catalog) -> ComputedTable:
    """Return, a grid for each machine, pull and reach of each nozzle, and what governs."""
    words, first = catalog.w, catalog.brand.units_first
    temperature = water_assumed(table.assume)
    at = table.assume.bend_at or BEND_AT
    bend = (Bend(at.si, pi / 2),)
    records: list[Record] = []

    def cells_of(fed: Fed) -> tuple[Cell, ...]:
        found: list[Reach | None] = []
        reason = ""
        for bends in ((), bend):
            try:
                found.append(reach_of(fed, bends, temperature))
            except OutOfRange as error:
                reason = str(error)
                found.append(None)
        records.append(_record(fed, found))
        if fed.duty is None or fed.margins is None:
            return (Cell(reason=fed.reason),) * 4
        digits = digits_borne(fed.duty.pull, fed.margins.pull)
        pull = Cell((both(fed.duty.pull, "force", first, digits),))
        straight, bent = found
        if straight is None or bent is None:
            said = words["reach_reason"].format(reason=reason)
            return (pull, *[Cell(reason=said)] * 3)
        cells = [Cell((span_of(one, first),)) for one in (straight, bent)]
        return (pull, *cells, Cell(words=_governs(straight, bent, words)))

    columns = (
        Head(words["pull"]),
        Head(words["reach_straight"]),
        Head(words["reach_bent"].format(at=in_words(show_quantity(at, first)))),
        Head(words["what_governs"]),
    )
    grids, every = machine_grids(catalog, columns, cells_of, temperature)
    assumptions = (
        words["assume_friction"].format(easy=EASY_FRICTION, hard=HARD_FRICTION),
        words["assume_reach_free"],
        words["assume_reach_hose"],
        words["assume_reach_pull"],
    )
    working = Working(
        (
            words["formula_reach"],
            words["formula_capstan"].format(factor=f"{exp(HARD_FRICTION * pi / 2):.2g}"),
        ),
        _example(every, words, first, temperature),
        ("friction-tables", "coiled-tubing-papers"),
    )
    return ComputedTable(tuple(grids), tuple(records), assumptions, row_ids(grids), working=working)


def span_of(reach: Reach, first: System) -> Shown:
    """Return a reach from its least to its most, in both systems."""
    low, high = (both(end, "length", first, 2) for end in (reach.shortest, reach.longest))
    if low == high:
        return high
    return Shown(f"{_bare(low.first)} to {high.first}", f"{_bare(low.other)} to {high.other}")


def _bare(text: str) -> str:
    return text.rsplit(" ", 1)[0]


def _governs(straight: Reach, bent: Reach, words: Mapping[str, str]) -> str:
    if bent.shortest >= bent.hose:
        return words["governs_length"]
    if straight.shortest >= straight.hose:
        return words["governs_bend"]
    return words["governs_weight"]


def _record(fed: Fed, found: list[Reach | None]) -> Record:
    straight, bent = found
    return {
        "machine": fed.machine,
        "hose": fed.carried.hose.id,
        "length_m": fed.carried.length.si,
        "nozzle": fed.nozzle,
        "pull_n": kept(fed.duty.pull) if fed.duty else None,
        "straight_shortest_m": kept(straight.shortest, 3) if straight else None,
        "straight_longest_m": kept(straight.longest, 3) if straight else None,
        "bend_shortest_m": kept(bent.shortest, 3) if bent else None,
        "bend_longest_m": kept(bent.longest, 3) if bent else None,
    }


def _example(every: list[Fed], words: Mapping[str, str], first: System, temperature: float) -> str:
    """Return the first reach worked out without its margin, values with their units."""
    for fed in every:
        if fed.duty is None or fed.hose.weight is None or fed.duty.pull <= 0:
            continue
        weight = hose_weight(fed.hose.weight.si, fed.hose.bore.si, density(temperature))
        far = fed.duty.pull / (weight * HARD_FRICTION)
        return words["example_reach"].format(
            hose=fed.hose.title,
            weight=in_words(both(weight, "force", first)),
            friction=HARD_FRICTION,
            pull=in_words(both(fed.duty.pull, "force", first)),
            length=in_words(both(far, "length", first, 2)),
        )
    return ""
