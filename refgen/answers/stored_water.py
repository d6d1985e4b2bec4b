"""Water at rest: a full pipe behind a cap, and a trailer with its tank filled."""

from __future__ import annotations

from collections.abc import Mapping

from refgen.answers.ask import Ask
from refgen.answers.spread import LOOK, PACE, TAPE, exact, share, spread
from refgen.answers.told import Amount, Part, say
from refgen.hydraulics.stored_water import head_pressure, load_left, push_on_cap, water_mass


def stack_part(ask: Ask) -> Part | None:
    """Return pressure and push behind a cap, or None if not asked."""
    stack = ask.setup.stack
    if stack is None:
        return None

    def numbers(height: float, opening: float) -> Mapping[str, float]:
        return {
            "pressure_pa": head_pressure(height),
            "push_n": push_on_cap(height, opening),
        }

    found = spread(
        numbers,
        height=share(stack.height.si, "the height of the water", LOOK),
        opening=share(stack.opening.si, "the bore of the opening", TAPE),
    )
    return Part(
        name="stack",
        title="Full pipe behind a cap",
        said=(
            say(
                "{pressure} stand behind the cap, and push on it with {push}.",
                pressure=found.amount("pressure_pa", "pressure"),
                push=found.amount("push_n", "force"),
            ),
            say("Do not open it loaded. Let the water down first, and stand aside."),
        ),
        numbers=(
            found.number("pressure_pa", "Pressure behind the cap", "pressure"),
            found.number("push_n", "Push on the cap", "force"),
        ),
        working=(
            say("pressure = ρ·g·h, 0.43 psi a foot or 0.098 bar a metre; push = pressure·π/4·d²"),
        ),
    )


def trailer_part(ask: Ask) -> Part | None:
    """Return what a trailer may still carry with its tank filled, or None if not asked."""
    trailer = ask.setup.trailer
    if trailer is None:
        return None
    other = trailer.other.si if trailer.other else 0.0

    def numbers(empty: float, tank: float, other: float) -> Mapping[str, float]:
        return {
            "load_left_kg": load_left(trailer.gross.si, empty, tank, other),
            "water_kg": water_mass(tank),
        }

    found = spread(
        numbers,
        empty=share(trailer.empty.si, "the weight of the empty machine", TAPE),
        tank=share(trailer.tank.si, "what is in the tank", LOOK),
        other=share(other, "tools and hose", PACE) if other else exact(0.0),
    )
    left = found["load_left_kg"]
    said = (
        say("It may still carry {left}.", left=Amount(left, "mass"))
        if left >= 0
        else say(
            "It is overloaded by {over}. Travel with the tank empty.", over=Amount(-left, "mass")
        )
    )
    return Part(
        name="trailer",
        title="Trailer",
        said=(said,),
        numbers=(
            found.number("load_left_kg", "May still carry", "mass"),
            found.number("water_kg", "Water weighs", "mass"),
        ),
        working=(say("left = gross − empty − 1000 kg/m³ × water − tools"),),
        heed=(
            say(
                "Tyres, tow ball and towing vehicle have limits of their own. Weigh it once, full."
            ),
        ),
    )
