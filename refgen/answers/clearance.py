"""Room that must be left: the air gap of a fill pipe, and none for a nozzle to turn round in."""

from __future__ import annotations

from refgen.answers.ask import Ask
from refgen.answers.told import Amount, Number, Part, say
from refgen.hydraulics.geometry import CAREFUL, air_gap, can_turn_round, turn_round_length


def air_gap_part(ask: Ask) -> Part | None:
    """Return the air gap of a fill pipe, or None if not asked."""
    asked = ask.setup.air_gap
    if asked is None:
        return None
    gap = air_gap(asked.bore.si, asked.beside_wall)
    factor = "three times" if asked.beside_wall else "twice"
    return Part(
        name="air_gap",
        title="Air gap",
        said=(
            say("The air gap is {gap} at least.", gap=Amount(gap, "least")),
            say(
                "Measure from the end of the fill pipe to the rim over which the tank would spill."
            ),
        ),
        numbers=(Number("air_gap_m", "Air gap", Amount(gap, "least")),),
        working=(say(f"{factor} the bore of the fill pipe, never under 1 in (25 mm)"),),
        heed=(
            say("Some suppliers ask for a fixed least on top: the supplier decides."),
            say("A fill pipe that ends inside the tank fails, whatever its size."),
        ),
    )


def turn_part(ask: Ask) -> Part | None:
    """Return whether a nozzle can turn round in a pipe, or None if not asked."""
    stiff = ask.nozzle.stiff_length.si if ask.nozzle else None
    bore = ask.setup.pipe.bore.si if ask.setup.pipe and ask.setup.pipe.bore else None
    asked = ask.setup.turn_round
    if asked is not None:
        stiff, bore = asked.stiff_length.si, asked.bore.si
    if stiff is None or bore is None:
        return None
    turns, careful = can_turn_round(stiff, bore), turn_round_length(bore)
    least = turn_round_length(bore, 1.0)
    if turns:
        said = "Yes, it can turn round and come back: {stiff} stiff in a bore of {bore}."
    elif stiff < careful:
        said = "It only just jams: {stiff} stiff in a bore of {bore}. Take it as able to turn."
    else:
        said = "It cannot turn round: {stiff} stiff in a bore of {bore}."
    heed = [say("Measure on the widest pipe or chamber it may enter. No free spooling.")]
    if stiff < careful:
        heed.insert(0, say("Fit a stiff extension or a skid, or do not jet."))
    return Part(
        name="turn_round",
        title="Turning round",
        said=(say(said, stiff=Amount(stiff, "bore"), bore=Amount(bore, "bore")),),
        numbers=(
            Number("careful_m", "Stiff length, careful rule", Amount(careful, "least")),
            Number("least_m", "Jams square-on from", Amount(least, "least")),
        ),
        working=(
            say(f"careful rule {CAREFUL:g} × bore (trade press); 1 × bore is the geometry alone"),
        ),
        heed=tuple(heed),
        data={"can_turn": turns, "safe": stiff >= careful},
    )
