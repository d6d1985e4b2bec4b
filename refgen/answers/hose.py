"""What the hose takes where no nozzle is named: friction and height apart, and what is left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from refgen.answers.ask import Ask
from refgen.answers.duty import friction_line, water_line
from refgen.answers.spread import Spread, spread_rig
from refgen.answers.told import Amount, Number, Part, Sentence, say
from refgen.errors import OutOfRange
from refgen.hydraulics import Jet, Pump, Rig, Segment, working_point
from refgen.hydraulics.duty import UNLIMITED
from refgen.hydraulics.orifice import area_for
from refgen.hydraulics.water import GRAVITY


def flow_asked(ask: Ask) -> float | None:
    """Return the flow through the hose [m³/s]: the reading's own, or the pump's."""
    reading = ask.setup.reading
    if reading is not None and reading.flow is not None:
        return reading.flow.si
    return ask.flow


def gauge_asked(ask: Ask) -> float | None:
    """Return what the gauge stands at [Pa]: the reading, or the limit of the pump."""
    if ask.setup.reading is not None:
        return ask.setup.reading.gauge.si
    return ask.pump.limit if ask.pump else None


def open_rig(
    ask: Ask, flow: float, gauge: float | None, hoses: tuple[Segment, ...] | None = None
) -> Rig:
    """Return a rig whose nozzle takes all of a flow, for what the hoses alone do with it.

    Its limit carries the gauge's reading, so that a margin counts how true the gauge is.
    """
    area = area_for(flow, 1e5, ask.water.density)
    pump = Pump(flow, gauge or UNLIMITED)
    line = ask.hoses if hoses is None else hoses
    jets = (Jet(1, area, 0.0),)
    return Rig(ask.temperature, pump, line, jets, 1.0, ask.below, ask.antifreeze)


def _level(rig: Rig) -> Rig:
    """Return the rig with its nozzle level with the pump, and no limit."""
    return replace(rig, pump=Pump(rig.pump.flow, UNLIMITED), below_pump=0.0)


def _is_limited(rig: Rig) -> bool:
    """Whether there is a gauge or a plate, also where its limit has been moved by its width."""
    return rig.pump.limit < UNLIMITED / 2


def hose_numbers(rig: Rig) -> Mapping[str, float]:
    """Return friction, height and their sum [Pa] at the rig's full flow, and what is left."""
    duty = working_point(_level(rig))
    height = -rig.water.density * GRAVITY * rig.below_pump
    total = duty.hose_loss + height
    found = {"hose_loss_pa": duty.hose_loss, "height_pa": height, "total_pa": total}
    if _is_limited(rig):
        found["nozzle_pa"] = rig.pump.limit - total
    return found


def hose_part(ask: Ask) -> Part | None:
    """Return what the hoses take at the flow given, or None where a nozzle is named."""
    flow = flow_asked(ask)
    if flow is None or not ask.hoses or ask.setup.nozzle is not None or ask.setup.choose:
        return None
    gauge = gauge_asked(ask)
    rig = open_rig(ask, flow, gauge)
    found = spread_rig(hose_numbers, rig)
    numbers = [found.number("hose_loss_pa", "Lost in the hose", "pressure")]
    if ask.below:
        numbers.append(found.number("height_pa", "Taken by the height", "pressure"))
        numbers.append(found.number("total_pa", "Both together", "pressure"))
    if gauge is not None and found["nozzle_pa"] > 0:
        numbers.append(found.number("nozzle_pa", "Left at the nozzle", "pressure"))
    return Part(
        name="hose",
        title="Hose",
        said=tuple(_said(ask, flow, gauge, found)),
        numbers=tuple(numbers),
        working=tuple(_working(rig)),
        heed=(
            say(
                "The gauge stands before the hose. When jets plug, the flow and with it this loss "
                "shrink: it is no safety for the pipe."
            ),
        ),
        data={"flow_m3_per_s": flow, "gauge_pa": gauge},
    )


def _said(ask: Ask, flow: float, gauge: float | None, found: Spread) -> Iterator[Sentence]:
    lost = found.amount("hose_loss_pa", "pressure")
    yield say("The hose takes {lost} at {flow}.", lost=lost, flow=Amount(flow, "flow"))
    if ask.below:
        height = found["height_pa"]
        yield say(
            "The height takes {height} on top, whatever the flow."
            if height > 0
            else "The fall to the nozzle gives {height} back, whatever the flow.",
            height=Amount(abs(height), "pressure"),
        )
    if gauge is None:
        return
    shown = Amount(gauge, "pressure")
    if found["nozzle_pa"] <= 0:
        yield say(
            "That is more than the {gauge} at the gauge: this flow does not go through. Use a "
            "wider or shorter hose.",
            gauge=shown,
        )
        return
    yield say(
        "With {gauge} at the gauge, {left} is left at the nozzle.",
        gauge=shown,
        left=found.amount("nozzle_pa", "pressure"),
    )
    share = found["total_pa"] / gauge
    if share > 0.4:
        yield say(
            "{share} of the gauge is spent on the way: a wider or shorter hose is the cure, not a "
            "higher gauge.",
            share=Amount(share, "share", digits=2),
        )


def _working(rig: Rig) -> Iterator[Sentence]:
    yield water_line(rig)
    duty = working_point(_level(rig))
    for hose, reynolds, loss in zip(rig.hoses, duty.reynolds, duty.segment_losses, strict=True):
        yield say(
            "hose {bore} bore, {length}: Re = {reynolds}, loss {loss} = f·(L/d)·ρ·v²/2, "
            "f {formula}; couplings left out",
            bore=Amount(hose.bore, "bore"),
            length=Amount(hose.length, "length"),
            reynolds=f"{reynolds:,.0f}",
            loss=Amount(loss, "pressure"),
            formula=friction_line(reynolds),
        )
        if hose.on_reel:
            yield say(
                "of it on the reel: {length}, whose coils add friction after Schmidt (1967)",
                length=Amount(hose.on_reel, "length"),
            )
    if rig.below_pump:
        yield say("height: ρ·g·h, about 0.43 psi a foot or 0.098 bar a metre")
    if _is_limited(rig):
        yield say("left at the nozzle = gauge − hose loss − height")


def compared(ask: Ask, hoses: tuple[Segment, ...]) -> tuple[float, tuple[Number, ...]]:
    """Return how many times as much the given hoses lose as these, and what these lose.

    Raises:
        OutOfRange: If there is no flow to compare at, or no formula at it.
    """
    flow, gauge = flow_asked(ask), gauge_asked(ask)
    if flow is None:
        raise OutOfRange("without a flow there is no loss to compare")
    rig = open_rig(ask, flow, gauge, hoses)
    found = spread_rig(hose_numbers, rig)
    given = hose_numbers(open_rig(ask, flow, gauge))["hose_loss_pa"]
    numbers = [found.number("hose_loss_pa", "Lost in the hose", "pressure")]
    if gauge is not None:
        numbers.append(found.number("nozzle_pa", "Left at the nozzle", "pressure"))
    return given / found["hose_loss_pa"], tuple(numbers)
