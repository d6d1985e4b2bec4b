"""The water that comes in: tank, supply and the feed to the pump."""

from __future__ import annotations

from collections.abc import Mapping

from refgen.answers.ask import Ask
from refgen.answers.spread import (
    LOOK,
    WIDTHS,
    Figure,
    exact,
    flow_of_pump,
    share,
    shift,
    spread,
    warmth,
)
from refgen.answers.told import Amount, Case, Part, Sentence, say
from refgen.errors import OutOfRange
from refgen.hydraulics import Segment
from refgen.hydraulics.mixture import mixture_at
from refgen.hydraulics.suction import head_left, loss_head, suction_head
from refgen.hydraulics.tank import bucket_flow, refill_time, run_time, shortfall
from refgen.setups import SMOOTH_LINER


def supply_of(ask: Ask) -> float:
    """Return the flow of the supply [m³/s]; 0 where none is told."""
    supply = ask.setup.supply
    if supply is None:
        return 0.0
    if supply.flow is not None:
        return supply.flow.si
    assert supply.bucket is not None
    assert supply.time is not None
    return bucket_flow(supply.bucket.si, supply.time.si)


def tank_part(ask: Ask) -> Part | None:
    """Return how long the tank lasts and how long it takes to fill, or None if not asked."""
    tank = ask.setup.tank
    if tank is None or (use := ask.use) is None:
        return None
    supply = supply_of(ask)

    def numbers(tank: float, use: float, supply: float) -> Mapping[str, float]:
        found = {"run_time_s": run_time(tank, use, supply)}
        found["refill_time_s"] = refill_time(tank, supply)
        found["shortfall_m3_per_s"] = shortfall(use, supply)
        return {name: value for name, value in found.items() if value is not None}

    found = spread(
        numbers,
        tank=share(tank.volume.si, "what is in the tank", LOOK),
        use=flow_of_pump(use),
        supply=share(supply, "what the supply gives", LOOK) if supply else exact(0.0),
    )
    said = []
    if "run_time_s" in found:
        said.append(
            say(
                "The tank lasts {time}: it is divided by the shortfall of {short}, not by the "
                "pump's flow.",
                time=found.amount("run_time_s", "time"),
                short=found.amount("shortfall_m3_per_s", "flow"),
            )
            if supply
            else say("The tank lasts {time}.", time=found.amount("run_time_s", "time"))
        )
    else:
        said.append(say("The tank never runs dry: the supply gives as much as is used."))
    if supply:
        said.append(
            say(
                "Empty, it takes {time} to fill with the pump off.",
                time=found.amount("refill_time_s", "time"),
            )
        )
    told = (
        ("run_time_s", "Tank lasts", "time"),
        ("refill_time_s", "Refill, pump off", "time"),
        ("shortfall_m3_per_s", "Shortfall", "flow"),
    )
    return Part(
        name="tank",
        title="Tank",
        said=tuple(said),
        numbers=tuple(
            found.number(name, title, what) for name, title, what in told if name in found
        ),
        working=(
            say(
                "lasts = tank/(use − supply); use is what leaves through the nozzle, since the "
                "bypass returns to the tank"
            ),
        ),
        heed=(say("Stop at the low-level cut-out, before the pump draws air."),),
        data={"run_time_s": found.values.get("run_time_s"), "supply_m3_per_s": supply},
    )


def supply_part(ask: Ask) -> Part | None:
    """Return what a supply gives and whether it feeds the pump, or None if not asked."""
    given = ask.setup.supply
    if given is None or (ask.use is None and given.flow is not None):
        return None
    use = ask.use
    first, second = _supply_figures(ask)

    def numbers(first: float, second: float, use: float) -> Mapping[str, float]:
        supply = bucket_flow(first, second) if given.flow is None else first
        flows = {"supply_m3_per_s": supply}
        if use:
            flows["shortfall_m3_per_s"] = shortfall(use, supply)
        return flows

    found = spread(
        numbers, first=first, second=second, use=flow_of_pump(use) if use else exact(0.0)
    )
    said = [say("The supply gives {flow}.", flow=found.amount("supply_m3_per_s", "flow"))]
    told = [found.number("supply_m3_per_s", "Supply", "flow")]
    heed = []
    if use is not None:
        told.append(found.number("shortfall_m3_per_s", "Short by", "flow"))
        if found["shortfall_m3_per_s"]:
            said.append(
                say(
                    "It cannot feed the pump directly: it is short by {short}, and the pump would "
                    "draw air and cavitate.",
                    short=found.amount("shortfall_m3_per_s", "flow"),
                )
            )
            heed.append(
                say("Use a tank, filled over an air gap, or a set-up that takes less flow.")
            )
        else:
            said.append(say("That is enough for the pump, with nothing else open meanwhile."))
    heed.append(say("Test at the end of the fill hose, with it as it will lie."))
    working = () if given.flow is not None else (say("flow = volume of the bucket/time to fill"),)
    return Part("supply", "Supply", tuple(said), tuple(told), working=working, heed=tuple(heed))


def _supply_figures(ask: Ask) -> tuple[Figure, Figure]:
    given = ask.setup.supply
    assert given is not None
    if given.flow is not None:
        return share(given.flow.si, "what the supply gives", LOOK), exact(0.0)
    assert given.bucket is not None
    assert given.time is not None
    return (
        share(given.bucket.si, "the bucket's true volume", LOOK),
        shift(given.time.si, "the watch", 1.0),
    )


def suction_part(ask: Ask) -> Part | None:
    """Return, for each bore of the feed hose, what it loses against the height of the water."""
    asked, flow = ask.setup.suction, ask.flow
    if asked is None or flow is None:
        return None
    height = asked.height.si
    altitude = asked.altitude.si if asked.altitude else 0.0
    cases = []
    said = []
    for bore in asked.bores:
        label = say("Feed hose of {bore} bore", bore=Amount(bore.si, "bore"))
        try:
            case, told = _feed(ask, label, bore.si, flow, height, altitude)
        except OutOfRange as error:
            told = say("{label}: no number, {reason}.", label=label.text("us"), reason=str(error))
            case = Case(label, (), {"bore_m": bore.si, "refused": str(error)}, (told,))
        cases.append(case)
        said.append(told)
    return Part(
        name="suction",
        title="Feed to the pump",
        said=tuple(said),
        cases=tuple(cases),
        working=(
            say("loss = f·(L/d)·v²/2g + fittings·v²/2g, in height of water"),
            say("height of the water {height}", height=Amount(height, "head")),
        ),
        heed=(
            say(
                "Filter and valve lose on top. A plunger pump draws in jerks, which take more "
                "still."
            ),
            say("Shorter and wider is the cure, with a full-bore valve, all the way open."),
        ),
        data={"flow_m3_per_s": flow, "height_m": height},
    )


def _feed(
    ask: Ask, label: Sentence, bore: float, flow: float, height: float, altitude: float
) -> tuple[Case, Sentence]:
    asked = ask.setup.suction
    assert asked is not None

    def numbers(
        flow: float, bore: float, length: float, temperature: float, rough: float, height: float
    ) -> Mapping[str, float]:
        hose = Segment(bore, length, rough)
        water = mixture_at(temperature, ask.antifreeze)
        lost = loss_head(hose, flow, water, asked.fittings)
        return {
            "loss_m": lost,
            "head_left_m": head_left(height, lost),
            "suction_head_m": suction_head(height, lost, temperature, altitude),
        }

    found = spread(
        numbers,
        flow=flow_of_pump(flow),
        bore=share(bore, "hose-bore", WIDTHS.hose_bore),
        length=share(asked.length.si, "couplings", 0.0, WIDTHS.couplings),
        temperature=warmth(ask.temperature),
        rough=Figure(SMOOTH_LINER, WIDTHS.smoothest, WIDTHS.roughest, "roughness"),
        height=shift(height, "the height of the water", 0.05),
    )
    told = (
        ("loss_m", "Lost on the way"),
        ("head_left_m", "Left at the inlet"),
        ("suction_head_m", "Net suction head"),
    )
    numbers_told = tuple(found.number(name, title, "head") for name, title in told)
    lost = found.amount("loss_m", "head")
    verdict = _verdict(found["head_left_m"], height)
    sentence = Sentence(
        label.template + f" loses {{lost}}: {verdict}", {**label.amounts, "lost": lost}
    )
    data = {"bore_m": bore, "starves": found["head_left_m"] < 0}
    return Case(label, numbers_told, data), sentence


def _verdict(left: float, height: float) -> str:
    if left < 0:
        return "it starves the pump."
    if left < height / 2:
        return "it barely works, with nothing to spare."
    return "it feeds the pump."
