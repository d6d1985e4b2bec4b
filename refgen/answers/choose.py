"""Which nozzle suits the pump and its hose, and what one that does not suit would do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from refgen.answers.ask import Ask
from refgen.answers.duty import calibration_line, duty_numbers
from refgen.answers.hose import open_rig
from refgen.answers.spread import Spread, spread_rig
from refgen.answers.stock import best_in_stock, stock_cases
from refgen.answers.told import Amount, Case, Number, Part, Sentence, say
from refgen.errors import OutOfRange
from refgen.hydraulics import Jet, Margin, Rig, area_of_bore, area_of_number, working_point
from refgen.hydraulics import margins as margins_of
from refgen.hydraulics.choice import bore_each, fitting_on, numbers_beside
from refgen.hydraulics.drill import (
    Drill,
    drills_beside,
    fraction_drills,
    metric_drills,
    number_drills,
)
from refgen.hydraulics.duty import UNLIMITED
from refgen.hydraulics.orifice import pressure_for

_REFERENCE_BORE = 1e-3
_HARDLY = 0.01
"""A bypass smaller than this share of the flow is not worth telling."""


def choose_part(ask: Ask) -> Part | None:
    """Return the jets that use the pump's flow at its limit, and what others would give."""
    choose = ask.setup.choose
    if choose is None:
        return None
    if ask.pump is None:
        return _by_flow_alone(ask)
    room = choose.headroom.si if choose.headroom else 0.0
    share = ask.calibration.share
    coefficient = min(choose.discharge_coefficient * share, 1.0)
    jet = area_of_bore(_REFERENCE_BORE, coefficient)
    rig = replace(open_rig(ask, ask.pump.flow, None), pump=ask.pump, jets=(Jet(1, jet, 0.0),))

    def numbers(varied: Rig) -> Mapping[str, float]:
        choice = fitting_on(varied, room)
        passes = coefficient * varied.jets[0].flow_area / jet
        found = {
            "trade_number": choice.number / share,
            "nozzle_pa": choice.nozzle,
            "hose_loss_pa": choice.hose_loss,
        }
        for count in choose.jets:
            found[f"bore_m_each_of_{count}"] = bore_each(choice.flow_area, count, min(passes, 1.0))
        return found

    found = spread_rig(numbers, rig)

    stock = tuple(stock_cases(ask, rig))
    at = "the pump's limit" if not room else "its limit less the head-room"
    return Part(
        name="choose",
        title="Nozzle",
        said=(
            *best_in_stock(stock),
            say(
                f"Jets of trade number {{number}} in all take the pump's {{flow}} at {at}.",
                number=found.amount("trade_number", "number"),
                flow=Amount(ask.pump.flow, "flow"),
            ),
            say(
                "Larger jets lose pressure and harm nothing. Smaller ones open the unloader: part "
                "of the flow goes to the tank, and no setting makes up for it."
            ),
        ),
        numbers=(
            found.number("trade_number", "Trade number of all jets", "number"),
            found.number("nozzle_pa", "Left at the nozzle", "pressure"),
            *([found.number("hose_loss_pa", "Lost in the hose", "pressure")] if ask.hoses else []),
        ),
        cases=(
            *stock,
            *(_bank(ask, rig, count, found, coefficient) for count in choose.jets),
            *(_tried(ask, rig, tried) for tried in choose.numbers),
        ),
        working=(
            say("nozzle = limit − hose loss + ρ·g·height at the pump's whole flow"),
            say("Cd·A = Q/√(2Δp/ρ); trade number = US gpm passed at 4000 psi; numbers add"),
            say(f"drilled jets pass {coefficient:.3g} of the ideal flow; inserts about 0.9"),
            *calibration_line(ask),
        ),
        data={"headroom": room},
    )


def _by_flow_alone(ask: Ask) -> Part:
    """Return what trade numbers give at a flow, where the pump's limit is not known."""
    assert ask.setup.choose is not None
    assert ask.flow is not None
    cases = []
    for number in ask.setup.choose.numbers:

        def pressure(varied: Rig) -> Mapping[str, float]:
            area = varied.jets[0].flow_area
            return {"nozzle_pa": pressure_for(varied.pump.flow, area, ask.water.density)}

        jet = Jet(1, area_of_number(number), 0.0, by_number=True)
        found = spread_rig(pressure, replace(open_rig(ask, ask.flow, None), jets=(jet,)))
        amount = found.amount("nozzle_pa", "pressure")
        cases.append(
            Case(
                say(f"Trade number {number:g}"),
                (Number("nozzle_pa", "Pressure at the nozzle", amount),),
                {"trade_number": number},
            )
        )
    said = say(
        "The flow stays at {flow}; the pressure falls with the square of the jet's size.",
        flow=Amount(ask.flow, "flow"),
    )
    return Part(
        name="choose",
        title="Nozzle",
        said=(said,),
        cases=tuple(cases),
        working=(say("Δp = 4000 psi · (flow in US gpm over trade number)², water of 15 °C"),),
        heed=(
            say(
                "Where that is more than the unloader's setting, the unloader opens instead: the "
                "gauge stays there and part of the flow goes to the tank."
            ),
        ),
        data={"flow_m3_per_s": ask.flow},
    )


def _bank(ask: Ask, rig: Rig, count: int, found: Spread, cd: float) -> Case:
    """Return the bore of so many equal jets, with the drills and numbers on either side."""
    name = f"bore_m_each_of_{count}"
    bore, each = found[name], found["trade_number"] / count
    of_all = found.margins["trade_number"]
    of_each = Margin(of_all.lower / count, of_all.upper / count, of_all.cause)
    label = say("One jet") if count == 1 else say(f"{count} equal jets, each of")
    lines: list[Sentence] = []
    drills: list[dict[str, Any]] = []
    for kind, beside in (
        ("metric drill", drills_beside(bore, metric_drills())),
        ("US number drill", drills_beside(bore, number_drills())),
        ("US fraction drill", drills_beside(bore, fraction_drills())),
    ):
        for drill in dict.fromkeys(beside):
            if drill is not None:
                told, data = _with_drill(rig, count, drill, kind, cd)
                lines.append(told)
                drills.append(data)
    numbers_sold = dict.fromkeys(numbers_beside(each))
    for number in numbers_sold:
        if number > 0:
            lines.append(_with_number(ask, rig, count, number))
    return Case(
        label,
        (
            Number("bore_m", "Bore", found.amount(name, "bore", 3)),
            Number("trade_number_each", "Trade number", Amount(each, "number", of_each)),
        ),
        {"jets": count, "drills": drills},
        more=tuple(lines),
    )


def _with_drill(
    rig: Rig, count: int, drill: Drill, kind: str, cd: float
) -> tuple[Sentence, dict[str, Any]]:
    given = replace(rig, jets=(Jet(count, area_of_bore(drill.bore, cd), 0.0),))
    told, data = _outcome(given)
    size = Amount(drill.bore, "bore", digits=3)
    line = replace(told, template=f"{{size}}, {kind} {drill.name}: {told.template}")
    line = replace(line, amounts={**told.amounts, "size": size})
    return line, {"drill": drill.name, "kind": kind, "bore_m": drill.bore, **data}


def _with_number(ask: Ask, rig: Rig, count: int, number: float) -> Sentence:
    jets = ask.calibration.of((Jet(count, area_of_number(number), 0.0),))
    told, _ = _outcome(replace(rig, jets=jets))
    return replace(told, template=f"trade number {number:g}: {told.template}")


def _outcome(rig: Rig) -> tuple[Sentence, dict[str, Any]]:
    """Return in words and as data what a rig does."""
    try:
        duty = working_point(rig)
    except OutOfRange as error:
        return say("no number, {reason}", reason=str(error)), {"refused": str(error)}
    data = {
        "state": duty.state,
        "nozzle_pa": duty.nozzle,
        "gauge_pa": duty.gauge,
        "bypass_m3_per_s": duty.bypass,
    }
    left = Amount(duty.nozzle, "pressure")
    if 0 < duty.bypass < rig.pump.flow * _HARDLY:
        return say("just at the limit, {left} at the nozzle", left=left), data
    if duty.state == "regulated":
        back = Amount(duty.bypass, "flow", digits=2)
        return say(
            "unloader opens, {back} goes back, {left} at the nozzle", back=back, left=left
        ), data
    return say("unloader shut, {left} at the nozzle", left=left), data


def _tried(ask: Ask, rig: Rig, number: float) -> Case:
    """Return what a nozzle of one trade number does on this pump."""
    jet = Jet(1, area_of_number(number), 0.0, by_number=True)
    given = replace(rig, jets=ask.calibration.of((jet,)))
    duty = working_point(given)
    label, data = say(f"Trade number {number:g}"), {"trade_number": number, "state": duty.state}
    fields = ("flow", "gauge", "nozzle", "bypass")
    numbers = duty_numbers(duty, margins_of(given), *fields)
    if duty.state == "full flow":
        said = say("Larger than needed: the pressure falls, nothing is harmed, but it cuts less.")
        return Case(label, numbers, data, (said,))
    open_pump = replace(rig.pump, pressure=UNLIMITED, unloader=None)
    whole = replace(given, pump=open_pump)
    needed = Number(
        "full_flow_gauge_pa",
        "Whole flow would ask for",
        Amount(working_point(whole).gauge, "pressure", margins_of(whole).gauge),
        say("It never gets there: never raise the setting to meet it."),
    )
    said = say("Too small: the unloader opens, and part of the flow goes back to the tank.")
    return Case(label, (*numbers, needed), data, (said,))
