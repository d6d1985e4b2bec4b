"""A packed culvert: the soil in it, and the water to wash it out."""

from __future__ import annotations

from collections.abc import Mapping

from refgen.answers.ask import Ask
from refgen.answers.spread import LOOK, PACE, Figure, flow_of_pump, share, spread
from refgen.answers.told import Amount, Case, Part, say
from refgen.hydraulics.culvert import (
    SLURRY_SOLIDS,
    plug_volume,
    slurry_water,
    soil_mass,
    washing_time,
)

_SOIL = 1800.0
"""Weight of wet soil where none is told [kg/m³]."""


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
