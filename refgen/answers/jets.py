"""A jet by itself: its speed, and the push of a lance."""

from __future__ import annotations

from collections.abc import Mapping

from refgen.answers.ask import Ask
from refgen.answers.spread import Figure, flow_of_pump, gauged, spread
from refgen.answers.told import Amount, Case, Part, say
from refgen.hydraulics.lance import (
    BRACED_ABOVE,
    MACHINE_ABOVE,
    flow_for_push,
    hold,
    lance_push,
)
from refgen.hydraulics.orifice import jet_speed

_REAL = Figure(1.0, 0.95, 1.0, "velocity-coefficient")
"""A real jet is up to a twentieth slower than the ideal one."""
_HOLD = {
    "hands": "One person can hold it in both hands.",
    "body": "Above {braced} it must be braced against the body.",
    "machine": "Above {machine} nobody may hold it: a machine must.",
}


def jet_part(ask: Ask) -> Part | None:
    """Return the speed of a jet at each pressure, or None if not asked."""
    asked = ask.setup.jet
    if asked is None:
        return None
    density = ask.water.density
    cases, said = [], []

    def numbers(pressure: float, real: float) -> Mapping[str, float]:
        return {"speed_m_per_s": jet_speed(pressure, density, real)}

    for pressure in asked.pressures:
        found = spread(numbers, pressure=gauged(pressure.si), real=_REAL)
        shown = Amount(pressure.si, "pressure")
        cases.append(
            Case(
                say("At {pressure}", pressure=shown),
                (found.number("speed_m_per_s", "Speed", "speed"),),
                {"nozzle_pa": pressure.si},
            )
        )
        said.append(
            say(
                "At {pressure} the jet leaves at {speed}.",
                pressure=shown,
                speed=found.amount("speed_m_per_s", "speed"),
            )
        )
    return Part(
        name="jet",
        title="Speed of a jet",
        said=(*said, say("Four times the pressure gives twice the speed.")),
        cases=tuple(cases),
        working=(say("v = √(2Δp/ρ), ideal; a real jet is 2 to 5 % slower"),),
        heed=(say("It is the pressure at the nozzle that counts, not at the pump."),),
    )


def lance_part(ask: Ask) -> Part | None:
    """Return the push of a hand lance and who may hold it, or None if not asked."""
    lance = ask.setup.lance
    if lance is None:
        return None
    density = ask.water.density

    def numbers(flow: float, pressure: float, real: float) -> Mapping[str, float]:
        return {
            "push_n": lance_push(flow, pressure, density, real),
            "flow_braced_m3_per_s": flow_for_push(BRACED_ABOVE, pressure, density),
            "flow_machine_m3_per_s": flow_for_push(MACHINE_ABOVE, pressure, density),
        }

    found = spread(
        numbers, flow=flow_of_pump(lance.flow.si), pressure=gauged(lance.pressure.si), real=_REAL
    )
    held = hold(found["push_n"])
    return Part(
        name="lance",
        title="Push of the lance",
        said=(
            say(
                "The lance pushes back with {push}, steadily.", push=found.amount("push_n", "force")
            ),
            say(
                _HOLD[held],
                braced=Amount(BRACED_ABOVE, "force"),
                machine=Amount(MACHINE_ABOVE, "force"),
            ),
        ),
        numbers=(
            found.number("push_n", "Push", "force"),
            found.number("flow_braced_m3_per_s", "Braced from a flow of", "flow"),
            found.number("flow_machine_m3_per_s", "Machine from a flow of", "flow"),
        ),
        working=(
            say("push = ρ·Q·v, v = √(2Δp/ρ), straight jet"),
            say(
                "limits of 150 N and 250 N: Norway, Regulations concerning the performance of "
                "work, section 20-1"
            ),
        ),
        heed=(
            say("The jerk at opening comes on top. Two hands, feet apart, a footing that holds."),
            say("The trigger dumps when let go. Never tie it open."),
        ),
        data={"held_by": held},
    )
