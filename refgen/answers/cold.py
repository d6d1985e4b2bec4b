"""Antifreeze: how much fills the machine, what becomes of its strength, when it freezes."""

from __future__ import annotations

from collections.abc import Mapping

from refgen.answers.ask import Ask
from refgen.answers.spread import LOOK, TAPE, WIDTHS, exact, share, shift, spread
from refgen.answers.told import Amount, Case, Number, Part, say
from refgen.errors import OutOfRange
from refgen.hydraulics import Segment
from refgen.hydraulics.antifreeze import (
    antifreeze_to_fill,
    freezing_point,
    mixed_strength,
    strength_for,
)
from refgen.hydraulics.stored_water import pipe_volume


def fill_part(ask: Ask) -> Part | None:
    """Return the antifreeze that fills hoses, pump and plumbing, or None if not asked."""
    asked = ask.setup.antifreeze
    if asked is None or not (ask.hoses or asked.other):
        return None
    other = asked.other.si if asked.other else 0.0

    def numbers(bore: float, length: float, other: float) -> Mapping[str, float]:
        found = {
            f"hose_{place}_m3": pipe_volume(hose.bore * bore, hose.length * length)
            for place, hose in enumerate(ask.hoses, 1)
        }
        lying = [Segment(hose.bore * bore, hose.length * length, 0.0) for hose in ask.hoses]
        found["total_m3"] = antifreeze_to_fill(lying, other)
        return found

    found = spread(
        numbers,
        bore=share(1.0, "hose-bore", WIDTHS.hose_bore),
        length=share(1.0, "the length of the hose", TAPE),
        other=share(other, "what pump and plumbing hold", 0.2) if other else exact(0.0),
    )
    cases = tuple(
        Case(
            say(
                "Hose of {bore} bore, {length}",
                bore=Amount(hose.bore, "bore"),
                length=Amount(hose.length, "length"),
            ),
            (Number("volume_m3", "Holds", found.amount(name, "volume")),),
            {"bore_m": hose.bore, "length_m": hose.length},
        )
        for place, hose in enumerate(ask.hoses, 1)
        if (name := f"hose_{place}_m3")
    )
    total = found.amount("total_m3", "volume")
    return Part(
        name="antifreeze",
        title="Antifreeze to fill",
        said=(
            say("{total} just fill it.", total=total),
            say("Buy more than that: the first of it is thinned by the water left behind."),
        ),
        numbers=(found.number("total_m3", "To fill", "volume"),),
        cases=cases,
        working=(say("volume of a hose = π/4·bore²·length; the tank is not filled"),),
    )


def mixture_part(ask: Ask) -> Part | None:
    """Return strength and freezing point of a mixture, or None if not asked."""
    asked = ask.setup.antifreeze
    if asked is None or (asked.put_in is None and asked.coldest is None):
        return None
    said, numbers, data = [], [], {}
    mixed = None
    if asked.put_in is not None and asked.strength is not None and asked.water_left is not None:
        strength = asked.strength.si

        def mixture(put_in: float, strength: float, left: float) -> Mapping[str, float]:
            share_left = mixed_strength(put_in, strength, left)
            return {"strength": share_left, "freezing_k": freezing_point(share_left)}

        found = spread(
            mixture,
            put_in=share(asked.put_in.si, "how much was put in", LOOK),
            strength=shift(strength, "the strength of the antifreeze", 0.02),
            left=share(asked.water_left.si, "how much water was left", 0.2),
        )
        mixed = found["strength"]
        said.append(
            say(
                "Mixed it is {share} propylene glycol, and freezes at {point}.",
                share=found.amount("strength", "share"),
                point=found.amount("freezing_k", "temperature"),
            )
        )
        numbers += [
            found.number("strength", "Strength, mixed", "share"),
            found.number("freezing_k", "Freezes at", "temperature"),
        ]
        try:
            neat = spread(
                lambda strength: {"freezing_neat_k": freezing_point(strength)},
                strength=shift(strength, "the strength of the antifreeze", 0.02),
            )
            unmixed = neat.amount("freezing_neat_k", "temperature")
            said.append(say("Unmixed it would hold to {neat}.", neat=unmixed))
            numbers.append(Number("freezing_neat_k", "As put in", unmixed))
        except OutOfRange as error:
            data["neat_refused"] = str(error)
    if asked.coldest is not None:
        cold = spread(
            lambda coldest: {"strength_needed": strength_for(coldest)},
            coldest=shift(min(asked.coldest.si, 273.15), "how cold it gets", 2.0),
        )
        needed = cold["strength_needed"]
        numbers.append(cold.number("strength_needed", "Needed for the cold", "share"))
        said.append(
            say(
                "For {cold} it takes at least {share} of glycol.",
                cold=Amount(asked.coldest.si, "temperature"),
                share=Amount(needed, "share"),
            )
        )
        if mixed is not None and mixed < needed:
            said.append(say("The mixture is too weak. Push more antifreeze through."))
    return Part(
        name="mixture",
        title="Strength of the antifreeze",
        said=tuple(said),
        numbers=tuple(numbers),
        working=(
            say("strength = antifreeze × its strength/(antifreeze + water left)"),
            say("freezing points of propylene glycol in water: Lange's Handbook, table 5.13"),
        ),
        heed=(
            say("A burst rating on a label is no freezing point: slush stops a pump long before."),
            say("Test what comes out of the far end, not what went in."),
        ),
        data=data,
    )
