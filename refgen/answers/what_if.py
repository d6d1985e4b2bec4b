"""What a change would do: worn and plugged jets, pulse, throttle, another hose."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from refgen.answers.ask import Ask
from refgen.answers.duty import duty_numbers
from refgen.answers.hose import compared
from refgen.answers.told import Amount, Case, Part, Sentence, say
from refgen.errors import OutOfRange
from refgen.hydraulics import Duty, Jet, Rig, Segment, working_point
from refgen.hydraulics.plunger import pulsed_flow, throttled_flow
from refgen.hydraulics.wear import plugged, worn
from refgen.model.asked import PluggedSetup
from refgen.setups import line_of, wear_limit_of

_FIELDS = ("flow", "gauge", "hose_loss", "nozzle", "bypass", "pull")


def what_if_part(ask: Ask) -> Part | None:
    """Return each change with its numbers, or None where none is asked."""
    change = ask.setup.what_if
    if change is None:
        return None
    cases = [*_changed_rigs(ask), *_other_hoses(ask)]
    working = []
    if change.worn_by:
        working.append(say("worn: Cd·A × (1 + growth of the bore)²"))
    if change.plugged:
        working.append(say("plugged: the holes are taken off, the rest stays as it is"))
    if change.pulse:
        working.append(say("pulse: mean flow × (n − 1)/n while one of n plungers idles"))
    if change.throttle:
        working.append(
            say("throttle: flow goes with the speed, an open nozzle's pressure with its square")
        )
    if change.bores or change.hoses:
        working.append(say("hose: loss goes about with flow^1.8 and one over bore^4.8"))
    return Part(
        name="what_if",
        title="What if",
        said=tuple(_headlines(cases)),
        cases=tuple(cases),
        working=tuple(working),
    )


def _headlines(cases: list[Case]) -> Iterator[Sentence]:
    """Yield a sentence a change: what becomes of gauge and nozzle."""
    for case in cases:
        found = {number.name: number.amount for number in case.numbers}
        if "gauge_pa" in found:
            gauge, nozzle = found["gauge_pa"], found["nozzle_pa"]
            ending = ": gauge {gauge}, {nozzle} at the nozzle."
            yield case.label.with_more(ending, gauge=gauge, nozzle=nozzle)
        elif "hose_loss_pa" in found:
            yield case.label.with_more(": {lost} lost.", lost=found["hose_loss_pa"])


def _changed_rigs(ask: Ask) -> Iterator[Case]:
    change, rig = ask.setup.what_if, ask.rig
    if change is None or rig is None:
        return
    for growth in change.worn_by:
        jets = tuple(worn(jet, growth.si) for jet in rig.jets)
        label = say("Jets worn by {growth}", growth=Amount(growth.si, "share"))
        said = _when_to_change(ask, growth.si)
        yield _case(ask, label, replace(rig, jets=jets), {"worn_by": growth.si}, said)
    for holes in change.plugged:
        told = " and ".join(
            f"{count} {way}"
            for way, count in (("rear", holes.rear), ("front", holes.front))
            if count
        )
        ends = {"rear": holes.rear, "front": holes.front}
        hole = "hole" if holes.rear + holes.front == 1 else "holes"
        label = say(f"{told or 'no'} {hole} plugged")
        try:
            after = replace(rig, jets=_with_plugs(rig.jets, holes))
        except OutOfRange as error:
            yield _refused(label, {"plugged": ends}, error)
            continue
        said = (
            say("Clean the jets. The pull is one-sided until then; do not touch the unloader."),
        )
        yield _case(ask, label, after, {"plugged": ends}, said)
    if change.pulse:
        flow = pulsed_flow(rig.pump.flow, ask.plungers)
        after = replace(rig, pump=replace(rig.pump, flow=flow))
        said = (say("Mean values: the pressure swings about them with each turn of the pump."),)
        yield _case(ask, say("Pulse on"), after, {"pulse": True}, said)
    for speed in change.throttle:
        pump = replace(rig.pump, flow=throttled_flow(rig.pump.flow, speed.si, 1.0))
        label = say("Engine at {speed} of its rated speed", speed=Amount(speed.si, "share"))
        yield _case(ask, label, replace(rig, pump=pump), {"speed_share": speed.si})
    for label, hoses, data in _lines(ask):
        yield _case(ask, label, replace(rig, hoses=hoses), data)


def _case(
    ask: Ask,
    label: Sentence,
    rig: Rig,
    data: Mapping[str, object],
    said: tuple[Sentence, ...] = (),
) -> Case:
    try:
        duty = working_point(rig)
    except OutOfRange as error:
        return _refused(label, data, error)
    numbers = duty_numbers(duty, ask.margins_of(rig), *_FIELDS)
    return Case(label, numbers, {**data, "state": duty.state}, (*_state(duty), *said))


def _refused(label: Sentence, data: Mapping[str, object], error: OutOfRange) -> Case:
    said = (say("No number: {reason}.", reason=str(error)),)
    return Case(label, (), {**data, "refused": str(error)}, said)


def _state(duty: Duty) -> tuple[Sentence, ...]:
    if duty.state == "full flow":
        return (say("Unloader shut: all of the pump's water goes through the nozzle."),)
    back = Amount(duty.bypass, "flow", digits=2)
    return (say("Unloader open: {back} goes back to the tank.", back=back),)


def _when_to_change(ask: Ask, growth: float) -> tuple[Sentence, ...]:
    limit = wear_limit_of(ask.catalog)
    if growth < limit:
        return (say("Still within {limit}.", limit=Amount(limit, "share")),)
    return (say("Renew the jets: {limit} is the limit.", limit=Amount(limit, "share")),)


def _with_plugs(jets: tuple[Jet, ...], holes: PluggedSetup) -> tuple[Jet, ...]:
    """Return the jets with so many holes plugged to the rear and to the front.

    Raises:
        OutOfRange: If there are not so many.
    """
    left = {"rear": holes.rear, "front": holes.front}
    found = []
    for jet in jets:
        taken = min(left[jet.faces], jet.count)
        left[jet.faces] -= taken
        found.append(plugged(jet, taken))
    for way, missing in left.items():
        if missing:
            raise OutOfRange(f"the nozzle has {missing} fewer holes to the {way} than plugged")
    return tuple(found)


def _lines(ask: Ask) -> Iterator[tuple[Sentence, tuple[Segment, ...], Mapping[str, object]]]:
    """Yield the other hoses asked about, in words, as segments and as data."""
    change = ask.setup.what_if
    if change is None:
        return
    for bore in change.bores:
        hoses = tuple(replace(hose, bore=bore.si) for hose in ask.hoses)
        yield say("Hose of {bore} bore", bore=Amount(bore.si, "bore")), hoses, {"bore_m": bore.si}
    for line in change.hoses:
        hoses = line_of(line, ask.catalog)
        told = " and ".join(f"{{length{n}}} of {{bore{n}}}" for n in range(len(hoses)))
        amounts: dict[str, Amount | str] = {}
        for place, hose in enumerate(hoses):
            amounts[f"length{place}"] = Amount(hose.length, "length")
            amounts[f"bore{place}"] = Amount(hose.bore, "bore")
        data = {"hoses": [{"bore_m": hose.bore, "length_m": hose.length} for hose in hoses]}
        yield say(f"Hose: {told}", **amounts), hoses, data


def _other_hoses(ask: Ask) -> Iterator[Case]:
    """Yield the other hoses where there is no nozzle: what they lose at the same flow."""
    if ask.setup.nozzle is not None:
        return
    for label, hoses, data in _lines(ask):
        try:
            ratio, numbers = compared(ask, hoses)
        except OutOfRange as error:
            yield _refused(label, data, error)
            continue
        said = say(
            "The hose as given loses {ratio} times as much.", ratio=Amount(ratio, "plain", digits=2)
        )
        yield Case(label, numbers, {**data, "given_over_this": ratio}, (said,))
