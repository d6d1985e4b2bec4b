"""What the pipe does with the water: how it runs, what it carries, when it backs up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from refgen.answers.ask import Ask
from refgen.answers.spread import LOOK, TAPE, exact, flow_of_pump, share, spread
from refgen.answers.told import Amount, Part, Sentence, say
from refgen.errors import OutOfRange
from refgen.hydraulics.open_channel import PartFull, full_flow, part_full
from refgen.hydraulics.stored_water import pipe_volume, time_to_back_up
from refgen.hydraulics.transport import (
    LARGEST_GRAIN,
    SEWER_SAND,
    largest_grain_moved,
    threshold_shear,
)
from refgen.model.pipes import Material
from refgen.setups import found_in

_N = 0.013
"""Manning's n of clay, concrete and iron, where nothing is told."""
_GREASE = 1060.0
"""Density of a soaked lump just heavier than water [kg/m³]; lighter ones float."""


def _running(ask: Ask) -> float | None:
    pipe = ask.setup.pipe
    flows = [ask.use, pipe.also_running.si if pipe and pipe.also_running else None]
    known = [flow for flow in flows if flow]
    return sum(known) if known else None


def flow_part(ask: Ask) -> Part | None:
    """Return depth, speed and what is moved, or None without bore, slope and flow."""
    pipe = ask.setup.pipe
    if pipe is None or pipe.bore is None or pipe.slope is None:
        return None
    if (flow := _running(ask)) is None:
        return None
    bore, slope, n = pipe.bore.si, pipe.slope.si, _manning(ask)
    water = part_full(flow, bore, slope, n)
    figures = {
        "bore": share(bore, "the true bore of the pipe", 0.02),
        "slope": share(slope, "the true slope", 0.15),
        "n": share(n, "the roughness of the pipe", 0.15),
    }
    whole = spread(
        lambda bore, slope, n: {"full_flow_m3_per_s": full_flow(bore, slope, n)}, **figures
    )
    carries = whole.number("full_flow_m3_per_s", "Carries when just full", "flow")
    working = (
        say(f"Manning, n = {n:g}: v = R^⅔·√S/n; mean shear = ρ·g·R·S; steady, uniform flow"),
    )
    if water is None:
        said = say(
            "{flow} fills the pipe: it stands full and backs up, since it carries {full}.",
            flow=Amount(flow, "flow"),
            full=carries.amount,
        )
        return Part("flow_in_pipe", "Water in the pipe", (said,), (carries,), working=working)

    def numbers(flow: float, bore: float, slope: float, n: float) -> Mapping[str, float]:
        varied = part_full(flow, bore, slope, n)
        if varied is None:
            raise OutOfRange("the pipe is full")
        return {
            "depth_m": varied.depth_ratio * bore,
            "velocity_m_per_s": varied.velocity,
            "shear_pa": varied.shear,
        }

    found = spread(numbers, flow=flow_of_pump(flow), **figures)
    return Part(
        name="flow_in_pipe",
        title="Water in the pipe",
        said=(
            say(
                "The water runs {depth} deep, {part} of the bore, at {speed}.",
                depth=found.amount("depth_m", "bore", 2),
                part=Amount(water.depth_ratio, "share", digits=2),
                speed=found.amount("velocity_m_per_s", "speed", 2),
            ),
            *_moved(ask, water),
        ),
        numbers=(
            found.number("depth_m", "Depth", "bore"),
            found.number("velocity_m_per_s", "Speed of the water", "speed"),
            found.number("shear_pa", "Pull on the bed (shear)", "Pa"),
            carries,
        ),
        working=(
            *working,
            say("grains: Shields's threshold after Soulsby (1997), quartz, loose and clean"),
        ),
        heed=(say("Grease, fines and time bind what lies there; then only the jet loosens it."),),
        data={
            "depth_ratio": water.depth_ratio,
            "moves_sewer_sand": water.shear >= SEWER_SAND,
            "largest_grain_m": largest_grain_moved(water.shear, ask.water),
        },
    )


def _manning(ask: Ask) -> float:
    pipe = ask.setup.pipe
    assert pipe is not None
    if pipe.manning_n is not None:
        return pipe.manning_n
    if pipe.material is not None:
        return found_in(ask.catalog, pipe.material, Material).manning_n or _N
    return _N


def _moved(ask: Ask, found: PartFull) -> Iterator[Sentence]:
    """Yield what the water carries by itself: grease lumps, sand, grit."""
    grain = largest_grain_moved(found.shear, ask.water)
    lumps = found.shear >= threshold_shear(LARGEST_GRAIN, ask.water, _GREASE)
    grease = "Lumps of grease float off or roll" if lumps else "Heavy lumps of grease stay"
    if grain is None:
        yield say(f"{grease}; not even fine sand moves.")
        return
    size = Amount(grain, "bore", digits=2)
    whole = "or more " if grain >= LARGEST_GRAIN else ""
    sand = "Sand keeps moving" if found.shear >= SEWER_SAND else "Sand of a sewer settles"
    yield say(f"{grease}. {sand}; loose grains up to {{size}} {whole}roll.", size=size)


def back_up_part(ask: Ask) -> Part | None:
    """Return when a blocked pipe is full, or None without bore, length and flow."""
    pipe = ask.setup.pipe
    if pipe is None or pipe.bore is None or pipe.length is None:
        return None
    if (flow := _running(ask)) is None:
        return None
    filled = pipe.filled.si if pipe.filled else 0.0

    def numbers(flow: float, bore: float, length: float, filled: float) -> Mapping[str, float]:
        return {
            "time_s": time_to_back_up(flow, bore, length, filled),
            "volume_m3": pipe_volume(bore, length),
        }

    found = spread(
        numbers,
        flow=flow_of_pump(flow),
        bore=share(pipe.bore.si, "the true bore of the pipe", 0.02),
        length=share(pipe.length.si, "the length of the pipe", max(TAPE, LOOK)),
        filled=exact(filled),
    )
    time = found.amount("time_s", "time")
    return Part(
        name="back_up",
        title="If the pipe is blocked",
        said=(
            say(
                "Blocked at its low end the pipe is full after {time}; then it comes up.", time=time
            ),
        ),
        numbers=(
            found.number("time_s", "Full after", "time"),
            found.number("volume_m3", "It holds", "volume"),
        ),
        working=(
            say("time = π/4·d²·length·(1 − share already full)/flow, nothing else running in"),
        ),
        heed=(say("Have someone watch the lowest opening from the first minute."),),
        data={"flow_m3_per_s": flow},
    )
