"""Where to set the machine for the pipe, and what is left to work with there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from refgen.answers.ask import Ask
from refgen.answers.duty import duty_numbers
from refgen.answers.hose import open_rig
from refgen.answers.spread import spread_rig
from refgen.answers.told import Amount, Case, Number, Part, Sentence, say
from refgen.errors import OutOfRange
from refgen.hydraulics import Pump, Rig, working_point
from refgen.hydraulics.choice import fitting_on
from refgen.hydraulics.duty import UNLIMITED
from refgen.hydraulics.setting import gauge_error, regulator_setting
from refgen.hydraulics.water import GRAVITY
from refgen.model.equipment import Hose
from refgen.model.figure import Ceiling
from refgen.model.pipes import Material
from refgen.setups import OVERSHOOT, found_in, headroom_of

_SLOWEST = 0.3
"""Slowest speed of an engine, as a share of the rated one, that is proposed."""
_WHY = (
    "Hose loss is not counted on: when jets plug, less water flows, the hose takes less, and the "
    "nozzle sees nearly the whole gauge."
)


@dataclass(frozen=True, slots=True)
class _Allowed:
    """The setting [Pa] and what it was made of."""

    ceiling: float
    setting: float
    error: float
    overshoot: float
    head: float
    dial: float
    accuracy: float


def setting_part(ask: Ask) -> Part | None:
    """Return the setting for the pipe, or why there is none; None where no pipe limits it."""
    pipe = ask.setup.pipe
    if pipe is None or (pipe.material is None and pipe.ceiling is None):
        return None
    ceiling, title = _ceiling_of(ask)
    if ceiling is not None and ceiling.jet is not None:
        return _without(ceiling, title, pipe.condition)
    limits = [limit.si for limit in (ceiling and ceiling.is_, pipe.ceiling) if limit]
    if not limits:
        raise OutOfRange(f"no ceiling is given for {title} in this condition; take the lowest")
    allowed = _allowed(ask, min(limits))
    return Part(
        name="setting",
        title="Setting for the pipe",
        said=tuple(_said(ask, allowed)),
        numbers=(
            Number(
                "setting_pa",
                "Highest setting",
                Amount(allowed.setting, "limit"),
                say("what gauge and unloader can be off is already taken from it"),
            ),
            Number("ceiling_pa", "Ceiling at the nozzle", Amount(allowed.ceiling, "pressure")),
        ),
        cases=tuple(_cases(ask, allowed)),
        working=tuple(_working(allowed)),
        heed=tuple(_heed(ceiling)),
        data={"jet": None, "condition": pipe.condition},
    )


def _ceiling_of(ask: Ask) -> tuple[Ceiling | None, str]:
    """Return the material's ceiling in this condition, with its grounds, and its title."""
    pipe = ask.setup.pipe
    assert pipe is not None
    if pipe.material is None:
        return None, "the pipe"
    material = found_in(ask.catalog, pipe.material, Material)
    found = getattr(material.ceilings, pipe.condition)
    assert found is None or isinstance(found, Ceiling)
    return found, str(material.title)


def _without(ceiling: Ceiling, title: str, condition: str) -> Part:
    """Return the answer for a pipe that must not be jetted, or only with leave."""
    if ceiling.jet == "no":
        said = say("No setting: {title} is not to be jetted.", title=title)
    else:
        said = say(
            "No setting is worked out: {title} is jetted {jet}.", title=title, jet=str(ceiling.jet)
        )
    heed = (say("{why}", why=str(ceiling.why)),) if ceiling.why else ()
    data = {"setting_pa": None, "jet": str(ceiling.jet), "condition": condition}
    return Part("setting", "Setting for the pipe", (said,), heed=heed, data=data, forbids=True)


def _allowed(ask: Ask, ceiling: float) -> _Allowed:
    told = ask.setup.regulator
    dial, accuracy = ask.gauge(ask.pump.limit if ask.pump else ceiling)
    overshoot = told.overshoot.si if told.overshoot else OVERSHOOT
    error = gauge_error(dial, accuracy)
    density = ask.water.density
    setting = regulator_setting(ceiling, error, overshoot, ask.below, density, _ratings(ask))
    head = density * GRAVITY * max(ask.below, 0.0)
    return _Allowed(ceiling, setting, error, overshoot, head, dial, accuracy)


def _ratings(ask: Ask) -> list[float]:
    ratings = [ask.pump.pressure] if ask.pump else []
    hoses = [ask.hose_in_stock(place) for place in range(len(ask.hoses))]
    return [*ratings, *(hose.working_pressure.si for hose in hoses if isinstance(hose, Hose))]


def _said(ask: Ask, allowed: _Allowed) -> Iterator[Sentence]:
    setting = Amount(allowed.setting, "limit")
    yield say(
        "Set the regulator so that the gauge never passes {setting}: then the nozzle never sees "
        "more than {ceiling}.",
        setting=setting,
        ceiling=Amount(allowed.ceiling, "pressure"),
    )
    yield say("That is a limit. Start at about half of it, and step up only while it helps.")
    if ask.pump and ask.pump.limit < allowed.setting:
        yield say(
            "The machine's own limit of {limit} lies below it, and holds.",
            limit=Amount(ask.pump.limit, "pressure"),
        )


def _cases(ask: Ask, allowed: _Allowed) -> Iterator[Case]:
    if ask.pump is None:
        return
    held = replace(ask.pump, unloader=min(ask.pump.limit, allowed.setting))
    if ask.rig is not None:
        yield _as_it_is(ask, replace(ask.rig, pump=held))
    yield from _larger_jets(ask, held)
    if ask.rig is not None:
        yield from _slower(ask, ask.rig, held)


def _as_it_is(ask: Ask, rig: Rig) -> Case:
    duty = working_point(rig)
    said = [say("What the nozzle gets when all jets are clear. It is no safety for the pipe.")]
    if duty.state == "regulated":
        said.append(
            say(
                "It works on the unloader: {back} goes round and heats. Prefer larger jets, or a "
                "slower engine.",
                back=Amount(duty.bypass, "flow"),
            )
        )
    numbers = duty_numbers(duty, ask.margins_of(rig), "flow", "gauge", "nozzle", "bypass", "pull")
    if duty.state == "regulated":
        # The gauge then stands at the setting, and is rounded down as the setting is.
        numbers = tuple(
            replace(number, amount=replace(number.amount, what="limit"))
            if number.name == "gauge_pa"
            else number
            for number in numbers
        )
    return Case(
        say("With this nozzle at that setting, all jets clear"),
        numbers,
        {"case": "all jets clear", "state": duty.state},
        tuple(said),
    )


def _larger_jets(ask: Ask, held: Pump) -> Iterator[Case]:
    room = headroom_of(ask.catalog)
    share = ask.calibration.share

    def numbers(varied: Rig) -> Mapping[str, float]:
        choice = fitting_on(varied, room)
        return {"trade_number": choice.number / share, "nozzle_pa": choice.nozzle}

    try:
        found = spread_rig(numbers, replace(open_rig(ask, held.flow, None), pump=held))
    except OutOfRange as error:
        reason = say("No jets fit the whole flow there: {reason}.", reason=str(error))
        yield Case(say("With larger jets"), (), {"case": "larger jets"}, (reason,))
        return
    yield Case(
        say(
            "With jets that take the whole flow {room} under the setting",
            room=Amount(room, "share"),
        ),
        (
            found.number("trade_number", "Trade number of all jets", "number"),
            found.number("nozzle_pa", "Left at the nozzle", "pressure"),
        ),
        {"case": "larger jets"},
    )


def _slower(ask: Ask, rig: Rig, held: Pump) -> Iterator[Case]:
    """Yield the engine speed at which this nozzle stands under the setting, where it must slow."""
    target = held.limit * (1 - headroom_of(ask.catalog))
    try:
        found = spread_rig(lambda varied: _speed(varied, target), rig)
        if "speed_share" not in found:
            return
        flow = held.flow * found["speed_share"]
        slow = replace(rig, pump=Pump(flow, held.pressure, held.unloader))
        duty, margins = working_point(slow), ask.margins_of(slow)
    except OutOfRange:
        return
    share = Number("speed_share", "Engine at", found.amount("speed_share", "share", 2))
    numbers = duty_numbers(duty, margins, "flow", "gauge", "nozzle", "pull")
    label = say("With this nozzle and a slower engine")
    yield Case(label, (share, *numbers), {"case": "slower engine", "state": duty.state})


def _speed(rig: Rig, target: float) -> Mapping[str, float]:
    """Return the share of its speed at which a rig's gauge stands at a pressure [Pa].

    Nothing where it need not slow, or not even the slowest is slow enough.
    """

    def gauge(share: float) -> float:
        return working_point(replace(rig, pump=Pump(rig.pump.flow * share, UNLIMITED))).gauge

    if gauge(1.0) <= target or gauge(_SLOWEST) > target:
        return {}
    low, high = _SLOWEST, 1.0
    while high - low > 1e-4:
        middle = (low + high) / 2
        low, high = (middle, high) if gauge(middle) <= target else (low, middle)
    return {"speed_share": low}


def _working(allowed: _Allowed) -> Iterator[Sentence]:
    yield say(
        "setting = (ceiling − ρ·g·height)/(1 + overshoot) − gauge error = ({ceiling} − {head})/"
        "{over} − {error}",
        ceiling=Amount(allowed.ceiling, "pressure"),
        head=Amount(allowed.head, "pressure"),
        over=f"{1 + allowed.overshoot:g}",
        error=Amount(allowed.error, "pressure"),
    )
    yield say(
        "gauge error: {accuracy} of a dial to {dial}, which may read too low by so much anywhere",
        accuracy=Amount(allowed.accuracy, "share"),
        dial=Amount(allowed.dial, "pressure"),
    )
    yield say(
        "overshoot: {overshoot}, what the unloader adds for a moment as the flow stops",
        overshoot=Amount(allowed.overshoot, "share"),
    )


def _heed(ceiling: Ceiling | None) -> Iterator[Sentence]:
    yield say(_WHY)
    for other in ceiling.differs if ceiling else ():
        yield say(
            "Sources differ: the cautious value is used; another gives {other}{when}.",
            other=Amount(other.is_.si, "pressure"),
            when=f" ({other.when.rstrip('.')})" if other.when else "",
        )
    yield say("The site owner's rule and local code go first; the lowest limit wins.")
