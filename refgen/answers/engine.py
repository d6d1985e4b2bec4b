"""What drives the pump: engine at a height and in heat, electric outlet, belt."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from refgen.answers.ask import Ask
from refgen.answers.spread import LOOK, TAPE, exact, gauged, share, spread
from refgen.answers.told import Amount, Case, Number, Part, Sentence, say
from refgen.hydraulics import Margin, belt
from refgen.hydraulics.derate import AltitudeRule, altitude_share, heat_share
from refgen.hydraulics.power import PUMP_EFFICIENCY, engine_power, outlet_flow

_RULES: tuple[tuple[AltitudeRule, str, str], ...] = (
    ("cautious", "cautious", "by 3.5 % per 1000 ft (305 m)"),
    ("mild", "mild", "by 3 % per 1000 ft above the first 500 ft (152 m)"),
    ("air density", "air_density", "by the density of the air"),
)
_WHICH = "which rule of height holds"
_MOTOR = 0.75
"""Efficiency of a small electric motor [-], where none is told."""
_CONTINUOUS = 0.85
"""Share of an engine's rating that may be asked for hour after hour [-]."""


def engine_part(ask: Ask) -> Part | None:
    """Return what height and heat leave of an engine's power, or None if not asked."""
    engine = ask.setup.engine
    if engine is None:
        return None
    height = engine.altitude.si if engine.altitude else 0.0
    heat = heat_share(engine.air.si, engine.fuel) if engine.air else 1.0
    shares = {name: altitude_share(height, rule) * heat for rule, name, _ in _RULES}
    numbers = [
        Number(f"share_left_{name}", f"Left {told}", Amount(shares[name], "share", digits=2))
        for _, name, told in _RULES
    ]
    said = [
        say(
            "Of its sea-level rating the engine has {least} to {most} left.",
            least=Amount(min(shares.values()), "share", digits=2),
            most=Amount(max(shares.values()), "share", digits=2),
        )
    ]
    if engine.moved_to is not None:
        there = engine.moved_to.si
        gains = {
            name: (altitude_share(there, rule) - altitude_share(height, rule)) * heat
            for rule, name, _ in _RULES
        }
        smallest = min(gains.values(), key=abs)
        largest = max(gains.values(), key=abs)
        word = "gains" if largest >= 0 else "loses"
        said.append(
            say(
                f"Moved, it {word} {{least}} to {{most}} of its sea-level rating.",
                least=Amount(abs(smallest), "share", digits=2),
                most=Amount(abs(largest), "share", digits=2),
            )
        )
        numbers += [
            Number(f"gain_{name}", f"Gain {told}", Amount(gains[name], "share", digits=2))
            for _, name, told in _RULES
        ]
    least, most = min(shares.values()), max(shares.values())
    rated = engine.power.si if engine.power else None
    if rated is None and ask.machine is not None and ask.machine.power is not None:
        rated = ask.machine.power.si
    if rated is not None:
        numbers.append(
            Number(
                "power_left_w",
                "Power left, cautious",
                Amount(rated * least, "power", Margin(0.0, rated * (most - least), _WHICH)),
            )
        )
    if ask.pump is not None:
        numbers += _needed(ask, least)
        said += _enough(ask, rated, least)
    return Part(
        name="engine",
        title="Engine",
        said=tuple(said),
        numbers=tuple(numbers),
        working=(
            say(
                "share left = share by height × share by heat; petrol loses 1 % per 10 °F (5.6 °C) "
                "above 77 °F (25 °C), diesel 1 % per 5 °F (2.8 °C) above 85 °F (29 °C)"
            ),
            say(f"power needed = flow × pressure/{PUMP_EFFICIENCY:g}"),
        ),
        heed=(
            say("Sources differ over the height; the cautious value stands first and counts."),
            say("A turbocharged engine loses far less: go by its manual."),
        ),
        data={"heat_share": heat, "rated_w": rated},
    )


def _needed(ask: Ask, left: float) -> Iterator[Number]:
    assert ask.pump is not None

    def numbers(flow: float, pressure: float, efficiency: float) -> Mapping[str, float]:
        return {
            "power_needed_w": engine_power(flow, pressure, efficiency),
            "rating_needed_w": engine_power(
                flow, pressure, efficiency, power_left=max(left, 0.3), continuous=_CONTINUOUS
            ),
        }

    found = spread(
        numbers,
        flow=share(ask.pump.flow, "pump-flow", LOOK),
        pressure=gauged(ask.pump.limit),
        efficiency=share(PUMP_EFFICIENCY, "how good the pump is", LOOK),
    )
    yield found.number("power_needed_w", "Pump asks for", "power")
    yield found.number("rating_needed_w", "Rating wanted here", "power")


def _enough(ask: Ask, rated: float | None, left: float) -> Iterator[Sentence]:
    assert ask.pump is not None
    if rated is None:
        return
    needed = engine_power(ask.pump.flow, ask.pump.limit)
    if rated * left >= needed:
        yield say("That is enough for the pump at its limit.")
        return
    yield say(
        "That is short for the pump at its limit: fit larger jets or run slower, until it asks "
        "for {share} of that power.",
        share=Amount(rated * left / needed, "share", digits=2),
    )


def outlet_part(ask: Ask) -> Part | None:
    """Return the most flow an electric outlet drives, for each circuit; None if not asked."""
    outlet = ask.setup.outlet
    if outlet is None:
        return None
    motor = outlet.motor_efficiency.si if outlet.motor_efficiency else _MOTOR
    pump = outlet.pump_efficiency.si if outlet.pump_efficiency else PUMP_EFFICIENCY
    factor = outlet.power_factor.si if outlet.power_factor else 1.0
    cases, said = [], []
    for amps in outlet.amps:

        def numbers(
            volts: float, amps: float, pressure: float, motor: float, pump: float
        ) -> Mapping[str, float]:
            return {"flow_m3_per_s": outlet_flow(volts, amps, pressure, motor, pump, factor)}

        found = spread(
            numbers,
            volts=share(outlet.volts.si, "the voltage at the machine", 0.1, LOOK),
            amps=exact(amps.si),
            pressure=gauged(outlet.pressure.si),
            motor=share(motor, "how good the motor is", LOOK),
            pump=share(pump, "how good the pump is", LOOK),
        )
        flow = found.amount("flow_m3_per_s", "flow")
        cases.append(
            Case(
                say("Circuit of {amps}", amps=str(amps)),
                (Number("flow_m3_per_s", "Most flow", flow),),
                {"amps": amps.si},
            )
        )
        said.append(
            say(
                "{volts} and {amps} drive {flow} at most.",
                volts=str(outlet.volts),
                amps=str(amps),
                flow=flow,
            )
        )
    return Part(
        name="outlet",
        title="Electric outlet",
        said=tuple(said),
        cases=tuple(cases),
        working=(
            say(
                f"flow = volts × amps × {factor:g} (power factor) × {motor:g} (motor) × "
                f"{pump:g} (pump)/pressure"
            ),
        ),
        heed=(
            say("A long thin extension cord cuts it further. Use ground-fault protection."),
            say("A circuit is not run at its whole rating hour after hour: ask the electrician."),
        ),
    )


def sheaves_part(ask: Ask) -> Part | None:
    """Return speeds and sheaves of a belt drive, or None if not asked."""
    asked = ask.setup.sheaves
    if asked is None:
        return None
    wanted = asked.wanted_speed.si if asked.wanted_speed else None

    def numbers(engine: float, driver: float, driven: float) -> Mapping[str, float]:
        found = {
            "pump_speed_per_s": belt.driven_speed(engine, driver, driven),
            "belt_speed_m_per_s": belt.belt_speed(engine, driver),
        }
        if wanted is not None:
            found["pump_sheave_m"] = belt.driven_sheave(engine, driver, wanted)
            found["engine_sheave_m"] = belt.driver_sheave(engine, driven, wanted)
        return found

    found = spread(
        numbers,
        engine=share(asked.engine_speed.si, "the engine's true speed", TAPE),
        driver=share(asked.engine_sheave.si, "the engine's sheave", TAPE),
        driven=share(asked.pump_sheave.si, "the pump's sheave", TAPE),
    )
    told = {
        "pump_speed_per_s": ("Speed of the pump", "rpm"),
        "belt_speed_m_per_s": ("Speed of the belt", "speed"),
        "pump_sheave_m": ("Pump's sheave for the wanted speed", "bore"),
        "engine_sheave_m": ("Or engine's sheave for it", "bore"),
    }
    return Part(
        name="sheaves",
        title="Belt drive",
        said=(say("The pump turns at {speed}.", speed=found.amount("pump_speed_per_s", "rpm")),),
        numbers=tuple(
            found.number(name, title, what) for name, (title, what) in told.items() if name in found
        ),
        working=(say("speeds go inversely with pitch diameters; slip is not counted"),),
        heed=(say("Never past the pump's rated speed: flow and the engine's load rise with it."),),
    )
