"""The working point: what comes out of pump, hoses and nozzle."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

from refgen.answers.ask import Ask
from refgen.answers.told import Amount, Number, Part, Sentence, say
from refgen.hydraulics import Duty, Margins, Rig
from refgen.hydraulics.hose import LAMINAR_TO
from refgen.hydraulics.water import GRAVITY

# Name of the number in the data, of the duty's field, what it is, and how it is told.
_NUMBERS = (
    ("flow_m3_per_s", "flow", "flow", "Flow through the nozzle"),
    ("gauge_pa", "gauge", "pressure", "Gauge at the pump"),
    ("hose_loss_pa", "hose_loss", "pressure", "Lost in the hose"),
    ("nozzle_pa", "nozzle", "pressure", "Left at the nozzle"),
    ("bypass_m3_per_s", "bypass", "flow", "Back to the tank"),
    ("jet_velocity_m_per_s", "jet_velocity", "speed", "Speed of the jets"),
    ("pull_n", "pull", "force", "Pull of the nozzle"),
    ("jet_power_w", "jet_power", "power", "Power in the jets"),
)
_NOTES = {
    "coil-beyond-published-range": "The coil's friction is used beyond the range in which it was "
    "published (Reynolds number 150,000).",
    "all-jets-plugged": "All jets are plugged: nothing comes out, the pump stands on its limit.",
}
_REVERSES = (
    "The front jets push harder than the rear jets pull: the nozzle comes back at the operator. "
    "Do not use it so."
)


def duty_part(ask: Ask) -> Part | None:
    """Return the working point with its working and margins, or None without a nozzle."""
    rig, duty, margins = ask.rig, ask.duty, ask.margins
    if rig is None or duty is None or margins is None:
        return None
    heed = [say(_NOTES.get(note, note)) for note in duty.notes]
    if duty.pull < 0:
        heed.insert(0, say(_REVERSES))
    return Part(
        name="",
        title="Working point",
        said=(_headline(rig, duty),),
        numbers=duty_numbers(duty, margins),
        working=(*_working(rig, duty), *calibration_line(ask)),
        heed=tuple(heed),
        data={"state": duty.state, "notes": list(duty.notes)},
    )


def duty_numbers(duty: Duty, margins: Margins | None, *fields: str) -> tuple[Number, ...]:
    """Return the numbers of a working point; all of them, or those of some fields."""
    return tuple(
        Number(
            name,
            title,
            Amount(getattr(duty, field), what, getattr(margins, field) if margins else None),
        )
        for name, field, what, title in _NUMBERS
        if not fields or field in fields
    )


def _headline(rig: Rig, duty: Duty) -> Sentence:
    if duty.state == "full flow":
        return say("Full flow: all the pump's water goes through the nozzle.")
    return say(
        "Regulated: the jets are too small for all the water, so {share} of it goes back to the "
        "tank.",
        share=Amount(duty.bypass / rig.pump.flow, "share", digits=2),
    )


def _working(rig: Rig, duty: Duty) -> Iterator[Sentence]:
    water = rig.water
    yield water_line(rig)
    for jet in rig.jets:
        yield say(
            f"{jet.count} to the {jet.faces} at {degrees(jet.angle):.0f}°: "
            f"Cd·A = {jet.flow_area * 1e6:.3f} mm² each, Q = Cd·A·√(2Δp/ρ)"
        )
    for segment, reynolds, loss in zip(rig.hoses, duty.reynolds, duty.segment_losses, strict=True):
        yield say(
            "hose {bore} bore, {length}: Re = {reynolds}, loss {loss} (Darcy-Weisbach, "
            "f {formula})",
            bore=Amount(segment.bore, "bore"),
            length=Amount(segment.length, "length"),
            reynolds=f"{reynolds:,.0f}",
            loss=Amount(loss, "pressure"),
            formula=friction_line(reynolds),
        )
    yield say(
        "gauge = hose loss + nozzle − ρ·g·height = {lost} + {nozzle} − {head}",
        lost=Amount(duty.hose_loss, "pressure"),
        nozzle=Amount(duty.nozzle, "pressure"),
        head=Amount(water.density * GRAVITY * rig.below_pump, "pressure"),
    )
    yield say(
        "limit at the gauge: {limit}, the lower of plate and unloader",
        limit=Amount(rig.pump.limit, "pressure"),
    )
    yield say("pull = Σ rear ρ·Q·v·cos a − Σ front ρ·Q·v·cos a, v = Cv·√(2Δp/ρ)")


def calibration_line(ask: Ask) -> Iterator[Sentence]:
    """Yield what a gauge reading makes of the jets, where there was one."""
    if ask.calibration.share != 1.0:
        yield say(
            "by the gauge the jets pass {share} of what their sizes say",
            share=f"{ask.calibration.share:.0%}",
        )


def friction_line(reynolds: float) -> str:
    """Return what a friction factor follows at a Reynolds number at which one holds."""
    return "= 64/Re, calm flow" if reynolds <= LAMINAR_TO else "after Colebrook-White"


def water_line(rig: Rig) -> Sentence:
    """Return the line of working that tells density and viscosity of the water."""
    water, source = rig.water, "IAPWS SR6-08"
    what = f"water at {rig.water_temperature - 273.15:.0f} °C"
    if rig.antifreeze:
        what += f" with {rig.antifreeze:.0%} propylene glycol"
        source = "Melinder 2010; tables differ by a tenth, near freezing by a quarter"
    return say(
        f"{what}: density {water.density:.1f} kg/m³, "
        f"viscosity {water.viscosity * 1e3:.3f} mPa·s ({source})"
    )
