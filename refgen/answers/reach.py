"""How far a nozzle pulls its hose, and what stops it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import atan, degrees

from refgen.answers.ask import Ask
from refgen.answers.told import Amount, Number, Part, Sentence, say
from refgen.errors import OutOfRange
from refgen.hydraulics import Margin
from refgen.hydraulics.reach import (
    EASY_FRICTION,
    HARD_FRICTION,
    Bend,
    hose_weight,
    pull_needed,
    reach,
    weight_in_water,
)

FRICTIONS = (EASY_FRICTION, HARD_FRICTION)
_MATTERS = 0.8
"""A thing governs if, without it, the nozzle would reach so much further: this share or less."""


def reach_part(ask: Ask) -> Part | None:
    """Return how far the hose goes in, between easy and hard friction, or None if not asked."""
    asked = ask.setup.reach
    if asked is None:
        return None
    pull, margin = _pull(ask)
    weight, wet = _weight(ask)
    pipe = ask.setup.pipe
    fall = atan(pipe.slope.si) if pipe and pipe.slope else 0.0
    slope = -fall if pipe and pipe.way == "down" else fall
    bends = tuple(Bend(bend.at.si, bend.angle.si) for bend in pipe.bends) if pipe else ()
    drag = asked.drag.si if asked.drag else 0.0
    hose = sum(segment.length for segment in ask.hoses)

    def between(
        weaker: float = 0.0,
        stronger: float = 0.0,
        *,
        slope: float = slope,
        bends: tuple[Bend, ...] = bends,
        drag: float = drag,
    ) -> tuple[float, float]:
        shortest = reach(max(pull - weaker, 0.0), weight, HARD_FRICTION, slope, bends, drag)
        try:
            longest = reach(pull + stronger, weight, EASY_FRICTION, slope, bends, drag)
        except OutOfRange:  # it runs down by itself, where friction is easy
            longest = hose
        return min(shortest, hose), min(longest, hose)

    shortest, longest = between(margin.lower, margin.upper)
    said = [
        say(
            "The nozzle draws the hose {shortest} to {longest} in, if it meets no dirt.",
            shortest=Amount(shortest, "length", digits=2),
            longest=Amount(longest, "length", digits=2),
        ),
        _governed(shortest, hose, between),
    ]
    numbers = (
        Number("reach_shortest_m", "At least", Amount(shortest, "length", digits=2)),
        Number("reach_longest_m", "At most", Amount(longest, "length", digits=2)),
        Number("pull_n", "Pull of the nozzle", Amount(pull, "force", margin)),
    )
    wanted = pipe.length.si if pipe and pipe.length else None
    needed: tuple[Number, ...] = ()
    if wanted is not None:
        ends = [_needed(wanted, weight, at, slope, bends, drag) for at in FRICTIONS]
        easy, hard = (Amount(end, "force", digits=2) for end in ends)
        length = Amount(wanted, "length")
        said.append(
            say("To go in {length} takes {easy} to {hard}.", length=length, easy=easy, hard=hard)
        )
        needed = (
            Number("needed_easy_n", "Pull needed, at least", easy),
            Number("needed_hard_n", "Pull needed, at most", hard),
        )
    return Part(
        name="reach",
        title="Reach",
        said=tuple(said),
        numbers=(*numbers, *needed),
        working=tuple(_working(weight, wet, slope, bends, drag)),
        heed=(
            say(
                "No measurement of a hose's friction in a wet drain was found: a reach is a range, "
                "never one number. Dirt, sags and offset joints shorten it."
            ),
        ),
        data={"hose_m": hose, "friction": list(FRICTIONS)},
    )


def _needed(
    length: float,
    weight: float,
    friction: float,
    slope: float,
    bends: tuple[Bend, ...],
    drag: float,
) -> float:
    """Return the pull [N] that draws so much hose in; 0 where it runs down by itself."""
    try:
        return pull_needed(length, weight, friction, slope, bends, drag)
    except OutOfRange:
        return 0.0


def _pull(ask: Ask) -> tuple[float, Margin]:
    asked = ask.setup.reach
    assert asked is not None
    if asked.pull is not None:
        return asked.pull.si, Margin(0.0, 0.0, "")
    assert ask.duty is not None
    assert ask.margins is not None
    if ask.duty.pull <= 0:
        raise OutOfRange("the nozzle pushes back: it draws no hose in")
    return ask.duty.pull, ask.margins.pull


def _weight(ask: Ask) -> tuple[float, bool]:
    """Return the weight of a metre of the hose behind the nozzle [N/m], and whether under water."""
    asked = ask.setup.reach
    assert asked is not None
    if not ask.hoses:
        raise OutOfRange("there is no hose to draw in")
    hose, stock = ask.hoses[-1], ask.hose_in_stock(len(ask.hoses) - 1)
    dry = asked.weight or (stock.weight if stock else None)
    if dry is None:
        raise OutOfRange("the hose's weight is not known; write 'weight: …' under 'reach:'")
    if asked.outer_diameter is not None:
        outer = asked.outer_diameter.si
        return weight_in_water(dry.si, hose.bore, outer, ask.water.density), True
    return hose_weight(dry.si, hose.bore, ask.water.density), False


def _governed(
    shortest: float, hose: float, between: Callable[..., tuple[float, float]]
) -> Sentence:
    """Return what stops the hose first: its length, a bend, the slope, the reel, or its weight."""
    if shortest >= hose:
        return say("The length of the hose governs: even with hard friction all of it goes in.")
    for name, without in (
        ("The bends govern: without them", {"bends": ()}),
        ("The slope governs: on the level", {"slope": 0.0}),
        ("Reel and hand govern: without their drag", {"drag": 0.0}),
    ):
        if shortest <= _MATTERS * between(**without)[0]:
            return say(f"{name} the hose would go clearly further.")
    return say("The weight of the hose and its friction govern.")


def _working(
    weight: float, wet: bool, slope: float, bends: tuple[Bend, ...], drag: float
) -> Iterator[Sentence]:
    yield say(
        "hose full of water{where}: {weight} a metre",
        where=", under water" if wet else "",
        weight=Amount(weight, "force"),
    )
    yield say("pull needed = drag + length·weight·(friction·cos slope + sin slope)")
    if bends:
        yield say("each bend multiplies what lies behind it by e^(friction·angle) (capstan)")
    if slope:
        yield say(f"slope {degrees(slope):.1f}° {'up' if slope > 0 else 'down'} to the nozzle")
    if drag:
        yield say("drag at the access {drag}", drag=Amount(drag, "force"))
    yield say(f"friction {EASY_FRICTION:g} (smooth, wet) to {HARD_FRICTION:g} (rough, gritty)")
