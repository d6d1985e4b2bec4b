"""A run up the pipe and back, and the water that goes round meanwhile."""

from __future__ import annotations

from collections.abc import Mapping

from refgen.answers.ask import Ask
from refgen.answers.spread import LOOK, PACE, TAPE, exact, flow_of_pump, share, spread, warmth
from refgen.answers.told import Amount, Number, Part, say
from refgen.hydraulics.heating import time_to_warm
from refgen.hydraulics.power import hydraulic_power
from refgen.hydraulics.tank import length_per_tank, pass_time, pass_water


def run_part(ask: Ask) -> Part | None:
    """Return time and water of one pass, and the length a tank cleans; None if not asked."""
    run, tank = ask.setup.run, ask.setup.tank
    if run is None or (flow := ask.use) is None:
        return None

    def numbers(
        flow: float, length: float, out: float, back: float, tank: float
    ) -> Mapping[str, float]:
        found = {
            "time_s": pass_time(length, out, back),
            "water_m3": pass_water(length, out, back, flow),
        }
        if tank:
            found["length_per_tank_m"] = length_per_tank(tank, out, back, flow)
        return found

    found = spread(
        numbers,
        flow=flow_of_pump(flow),
        length=share(run.length.si, "the length of the pipe", TAPE),
        out=share(run.out.si, "the speed going up", PACE),
        back=share(run.back.si, "the speed pulling back", PACE),
        tank=share(tank.volume.si, "what is in the tank", LOOK) if tank else exact(0.0),
    )
    told = {
        "time_s": ("time", "Time up and back"),
        "water_m3": ("volume", "Water used"),
        "length_per_tank_m": ("length", "A tank cleans"),
    }
    said = [
        say(
            "One pass takes {time} and {water}, full flow both ways.",
            time=found.amount("time_s", "time"),
            water=found.amount("water_m3", "volume"),
        )
    ]
    if tank:
        said.append(
            say("A tank cleans {length}.", length=found.amount("length_per_tank_m", "length"))
        )
    return Part(
        name="run",
        title="Up the pipe and back",
        said=tuple(said),
        numbers=tuple(
            found.number(name, title, what) for name, (what, title) in told.items() if name in found
        ),
        working=(say("time = length/speed up + length/speed back; water = time × flow"),),
    )


def bypass_part(ask: Ask) -> Part | None:
    """Return how soon the water that goes round is too warm, or None if not asked."""
    bypass = ask.setup.bypass
    if bypass is None or (duty := ask.duty) is None:
        return None
    if not duty.bypass:
        said = say("Nothing goes back to the tank at this working point, so nothing warms.")
        return Part("bypass", "Warming in the bypass", (said,), data={"time_s": None})
    power = hydraulic_power(duty.bypass, duty.gauge)
    to = bypass.to.si

    def numbers(power: float, volume: float, start: float) -> Mapping[str, float]:
        return {"time_s": time_to_warm(power, volume, start, to)}

    back = ask.margins.bypass.upper / duty.bypass if ask.margins else 0.0
    found = spread(
        numbers,
        power=share(power, "how much goes round", min(back, 0.9), back),
        volume=share(bypass.volume.si, "how much water goes round", LOOK),
        start=warmth(ask.temperature),
    )
    time = found.amount("time_s", "time")
    return Part(
        name="bypass",
        title="Warming in the bypass",
        said=(
            say(
                "The water that goes round reaches {to} in {time}.",
                to=Amount(to, "temperature"),
                time=found.amount("time_s", "time"),
            ),
        ),
        numbers=(
            Number("time_s", "Time", time),
            Number("power_w", "Power into that water", Amount(power, "power")),
        ),
        working=(
            say("power = gauge × bypass; time = ρ·c·V·(warm − now)/power, c = 4186 J/(kg K)"),
        ),
        heed=(say("What walls and air take away is not counted: real water is a little slower."),),
        data={"bypass_m3_per_s": duty.bypass},
    )
