"""Short sums of the site: standing water, air gap, turning round, packed culvert, trailer."""

from __future__ import annotations

from collections.abc import Mapping

from refgen.answers.ask import Ask
from refgen.answers.spread import LOOK, PACE, TAPE, Figure, exact, flow_of_pump, share, spread
from refgen.answers.told import Amount, Case, Number, Part, say
from refgen.hydraulics.culvert import (
    SLURRY_SOLIDS,
    plug_volume,
    slurry_water,
    soil_mass,
    washing_time,
)
from refgen.hydraulics.geometry import CAREFUL, air_gap, can_turn_round, turn_round_length
from refgen.hydraulics.stored_water import head_pressure, load_left, push_on_cap, water_mass

_SOIL = 1800.0
"""Weight of wet soil where none is told [kg/m³]."""


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


def culvert_part(ask: Ask) -> Part | None:
    """Return the soil in a packed culvert and the water to wash it out, or None if not asked."""
    culvert = ask.setup.culvert
    if culvert is None:
        return None

    def numbers(
        bore: float, length: float, filled: float, soil: float, solids: float
    ) -> Mapping[str, float]:
        volume = plug_volume(bore, length, min(filled, 1.0))
        return {
            "soil_m3": volume,
            "mass_kg": soil_mass(volume, soil),
            "water_m3": slurry_water(volume, solids),
        }

    solids = culvert.solids.si if culvert.solids else SLURRY_SOLIDS
    found = spread(
        numbers,
        bore=share(culvert.bore.si, "the bore of the culvert", LOOK),
        length=share(culvert.length.si, "how long the plug is", LOOK),
        filled=share(culvert.filled.si if culvert.filled else 1.0, "how full it is", PACE, 0.0),
        soil=share(culvert.soil.si if culvert.soil else _SOIL, "what the soil weighs", PACE),
        solids=Figure(
            solids, max(solids / 2, 0.02), min(solids * 1.5, 0.4), "how thick the slurry runs"
        ),
    )
    water = found["water_m3"]
    cases = []
    for flow in culvert.flows:
        time = spread(
            lambda flow: {"time_s": washing_time(water, flow)}, flow=flow_of_pump(flow.si)
        )
        data = {"flow_m3_per_s": flow.si}
        label = say("At {flow}", flow=Amount(flow.si, "flow"))
        cases.append(Case(label, (time.number("time_s", "Takes", "time"),), data))
    told = (
        ("soil_m3", "Soil", "soil"),
        ("mass_kg", "Weighs", "mass"),
        ("water_m3", "Water to carry it off", "volume"),
    )
    return Part(
        name="culvert",
        title="Packed culvert",
        said=(
            say(
                "It holds {soil} of soil, which weighs {mass}.",
                soil=found.amount("soil_m3", "soil"),
                mass=found.amount("mass_kg", "mass"),
            ),
            say(
                "At {solids} solids it takes {parts} volumes of water: {water}.",
                solids=Amount(solids, "share"),
                parts=Amount((1 - solids) / solids, "plain"),
                water=Amount(water, "volume"),
            ),
            *(
                say(
                    "With {flow} that is {time}.",
                    flow=Amount(case.data["flow_m3_per_s"], "flow"),
                    time=Amount(case.numbers[0].amount.si, "time"),
                )
                for case in cases
            ),
            say("Flow carries the dirt; pressure only loosens it."),
        ),
        numbers=tuple(found.number(name, title, what) for name, title, what in told),
        cases=tuple(cases),
        working=(
            say("soil = π/4·d²·length·share packed; water = soil·(1 − s)/s, s = share of solids"),
        ),
        heed=(
            say("Water ponds behind the plug and can let go. Work from the low end, stand aside."),
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
