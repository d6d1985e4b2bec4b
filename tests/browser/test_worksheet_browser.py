"""The worksheet in a real browser: agreement with the Python side, properties, questions, fuzz."""

from __future__ import annotations

import json
import random
import re
import string
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import replace
from math import cos, exp, log, radians
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from refgen.answers import read_setup
from refgen.errors import OutOfRange
from refgen.hydraulics import (
    Jet,
    Pump,
    Reading,
    Rig,
    Segment,
    area_of_bore,
    area_of_number,
    margins,
    working_point,
)
from refgen.hydraulics.open_channel import part_full
from refgen.hydraulics.transport import largest_grain_moved
from refgen.hydraulics.variation import INPUTS
from refgen.hydraulics.water import GRAVITY, water_at
from refgen.measures import UNITS
from refgen.model.base import Flow, HoseBore, JetBore, Length, Pressure
from refgen.model.equipment import Coefficient, Roughness, TradeNumber
from refgen.model.setup import Head
from refgen.setups import rig_of
from refgen.units import NotAQuantity, parse_quantity
from refgen.worksheet.fleet import told_rig
from refgen.worksheet.limits import range_of_type
from tests.browser.conftest import Server, settled
from tests.rigs import rig_of_vector, si

pytestmark = pytest.mark.browser

VECTORS = json.loads(
    (Path(__file__).resolve().parents[1] / "vectors" / "hydraulics.json").read_text("utf-8")
)
NUMBERS = ("flow", "gauge", "hose_loss", "nozzle", "bypass", "jet_velocity", "pull", "jet_power")
FULL = "#machine=rowan-trailer&nozzle=half-thruster&material=pvc-solid/worn&pipe=6in"


@pytest.fixture(scope="module")
def sheet(browser: Browser, site: Path) -> Iterator[Page]:
    """The worksheet opened from its folder, without any server; errors of the page fail a test."""
    phone = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True, locale="en-US"
    )
    phone.set_default_timeout(20_000)
    page = phone.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto((site / "worksheet.html").as_uri())
    settled(page)
    yield page
    phone.close()
    assert errors == []


def go(page: Page, address: str, wait: int = 0) -> None:
    """Change the address; what lies further down on the page follows within 150 ms."""
    page.evaluate(
        """([address, wait]) => new Promise(done => {
            history.replaceState(null, "", "#-");  // so that it changes, whatever it was
            addEventListener("hashchange", () => setTimeout(done, wait), {once: true});
            location.hash = address;
        })""",
        [address, wait],
    )


# ---- agreement with the Python side


def points(page: Page, rigs: list[Rig], *, with_margins: bool = False) -> list[Any]:
    """Return the working point of each rig in the browser, None where it is refused."""
    # As texts: these cross to the browser and back much faster than values do.
    found = page.evaluate(
        """([rigs, names, margins]) => JSON.stringify(JSON.parse(rigs).map(rig => {
            try {
                const duty = refgenSheet.model[margins ? "solve" : "workingPoint"](rig);
                const found = {full: duty.full};
                for (const name of names) found[name] = duty[name];
                if (margins) found.margins = names.map(name => duty.margins[name]);
                return found;
            } catch (error) {
                if (!error.word) throw error;
                return null;
            }
        }))""",
        [json.dumps([told_rig(rig) for rig in rigs]), NUMBERS, with_margins],
    )
    return json.loads(found)


def rear_force(rig: Rig, speed: float, flows: tuple[float, ...]) -> float:
    rear = zip(rig.jets, flows, strict=True)
    return sum(998.0 * q * speed * cos(jet.angle) for jet, q in rear if jet.faces == "rear")


def compare(rig: Rig, found: dict[str, Any]) -> dict[str, float]:
    """Return how far each number is off: the bypass in the pump's flow, the pull in the rear force.

    A hose loss so small that the pressures it is the difference of drown it (less than one part in
    ten thousand of them) is compared in those pressures.
    """
    duty = working_point(rig)
    assert found["full"] is (duty.state == "full flow")
    scales = {
        "bypass": rig.pump.flow,
        "pull": max(rear_force(rig, duty.jet_velocity, duty.jet_flows), abs(duty.pull)),
        "hose_loss": max(duty.hose_loss, 1e-4 * duty.nozzle),
    }
    off = {}
    for name in NUMBERS:
        value = getattr(duty, name)
        scale = scales.get(name, abs(value))
        off[name] = abs(found[name] - value) / scale if scale else abs(found[name])
    return off


def test_all_vectors_agree_with_the_independent_values_and_with_the_python(sheet: Page) -> None:
    cases = VECTORS["operating_point"]
    rigs = [rig_of_vector(case["setup"]) for case in cases]
    units = {
        "flow": "flow_m3_per_s",
        "gauge": "gauge_pa",
        "hose_loss": "hose_loss_pa",
        "nozzle": "nozzle_pa",
        "jet_velocity": "jet_velocity_m_per_s",
        "jet_power": "jet_power_w",
    }
    for case, rig, found in zip(cases, rigs, points(sheet, rigs), strict=True):
        right = case["expect"]
        assert found["full"] is (right["state"] == "full flow")
        for name, unit in units.items():
            assert found[name] == pytest.approx(right[unit], rel=1e-3)
        assert found["bypass"] == pytest.approx(right["bypass_m3_per_s"], abs=1e-3 * rig.pump.flow)
        assert max(compare(rig, found).values()) <= 1e-9


FLOWS, PRESSURES, LENGTHS = (range_of_type(kind) for kind in (Flow, Pressure, Length))
BORES, JET_BORES, HEADS = (range_of_type(kind) for kind in (HoseBore, JetBore, Head))
NUMBERED, SHARES, WALLS = (range_of_type(kind) for kind in (TradeNumber, Coefficient, Roughness))


def draw(by: random.Random, low: float, high: float | None, evenly: bool = False) -> float:
    """Return a value of a range, now and then one of its ends."""
    assert high is not None
    if (place := by.random()) < 0.08:
        return low if place < 0.04 else high
    if evenly or low <= 0:
        return by.uniform(low, high)
    return exp(by.uniform(log(low), log(high)))


def some_hose(by: random.Random) -> Segment:
    bore = draw(by, *BORES)
    length = draw(by, 0.1, LENGTHS[1]) if by.random() > 0.05 else 0.0
    wall = min(draw(by, *WALLS) if by.random() < 0.3 else draw(by, 1e-7, 5e-5), 0.0499 * bore)
    if by.random() > 0.4 or not length:
        return Segment(bore, length, wall)
    return Segment(bore, length, wall, draw(by, 0.0, length), max(draw(by, 0.05, 5), bore / 0.199))


def some_jet(by: random.Random) -> Jet:
    numbered = by.random() < 0.4
    area = (
        area_of_number(draw(by, *NUMBERED))
        if numbered
        else area_of_bore(draw(by, *JET_BORES), draw(by, *SHARES))
    )
    count = by.choice([0, 1, 1, 2, 4, 6, 8, 12, 60])
    return Jet(
        count, area, draw(by, 0.0, radians(90)), by.choice(["rear", "rear", "front"]), numbered
    )


def some_rig(by: random.Random) -> Rig:
    pressure = (si("10 psi"), PRESSURES[1])
    return Rig(
        draw(by, 274.15, 353.15, evenly=True),
        Pump(
            draw(by, *FLOWS),
            draw(by, *pressure),
            draw(by, *pressure) if by.random() < 0.4 else None,
        ),
        tuple(some_hose(by) for _ in range(by.choice([0, 1, 1, 1, 2, 3]))),
        tuple(some_jet(by) for _ in range(by.choice([1, 1, 2, 3]))),
        draw(by, *SHARES, evenly=True),
        draw(by, *HEADS) if by.random() < 0.5 else 0.0,
    )


RIGS = [some_rig(random.Random(place)) for place in range(10_000)]


def test_ten_thousand_setups_over_the_whole_range_agree(sheet: Page) -> None:
    worst = dict.fromkeys(NUMBERS, 0.0)
    answered = 0
    for rig, found in zip(RIGS, points(sheet, RIGS), strict=True):
        try:
            off = compare(rig, found) if found else working_point(rig) and {}
        except OutOfRange:
            assert found is None, rig
            continue
        assert found is not None, rig
        answered += 1
        worst = {name: max(worst[name], off[name]) for name in NUMBERS}
    assert answered > 4000  # the others lie where no formula holds, and both sides say so
    assert max(worst.values()) <= 1e-9


def test_margins_agree_with_their_causes(sheet: Page) -> None:
    rigs = RIGS[:1500]
    causes = list(INPUTS)
    words = sheet.evaluate("refgenSheet.model.causes")
    compared = 0
    for rig, found in zip(rigs, points(sheet, rigs, with_margins=True), strict=True):
        if found is None:
            continue
        right, duty = margins(rig), working_point(rig)
        sizes = {"bypass": rig.pump.flow, "hose_loss": duty.hose_loss + duty.nozzle}
        for name, margin in zip(NUMBERS, found["margins"], strict=True):
            expected = getattr(right, name)
            size = max(sizes.get(name, abs(getattr(duty, name))), expected.lower, expected.upper)
            if name == "pull":
                size = max(size, 998 * duty.flow * duty.jet_velocity)
            assert margin["lower"] == pytest.approx(expected.lower, abs=1e-9 * size), (rig, name)
            assert margin["upper"] == pytest.approx(expected.upper, abs=1e-9 * size), (rig, name)
            if max(expected.lower, expected.upper) > 1e-6 * size:
                assert margin["cause"] == words[causes.index(expected.cause)]
                compared += 1
    assert compared > 1000


def test_margins_agree_where_a_reading_sized_the_jets(sheet: Page) -> None:
    readings = {}
    for rig in RIGS[1500:3500]:
        with suppress(OutOfRange):
            duty = working_point(rig)
            # A hose that leaves next to nothing makes a reading of no use, and of no digits.
            if duty.state == "full flow" and duty.nozzle > 0.1 * duty.gauge:
                flow = duty.flow if len(readings) % 3 else None
                readings[rig] = Reading(replace(rig, jets=()), duty.gauge, 0.05 * duty.gauge, flow)
    sheets = [
        told_rig(rig)
        | {
            "reading": {
                "rig": told_rig(reading.rig),
                "gauge": reading.gauge,
                "error": reading.error,
                "flow": reading.flow,
            }
        }
        for rig, reading in readings.items()
    ]
    found = sheet.evaluate(
        """([rigs, names]) => JSON.stringify(JSON.parse(rigs).map(rig => {
            const duty = refgenSheet.model.solve(rig);
            return names.map(name => duty.margins[name]);
        }))""",
        [json.dumps(sheets), ["gauge", "nozzle", "flow"]],
    )
    compared = 0
    for (rig, reading), in_script in zip(readings.items(), json.loads(found), strict=True):
        right, duty = margins(rig, reading=reading), working_point(rig)
        for name, margin in zip(("gauge", "nozzle", "flow"), in_script, strict=True):
            expected = getattr(right, name)
            size = max(abs(getattr(duty, name)), duty.gauge if name == "nozzle" else 0.0)
            assert margin["lower"] == pytest.approx(expected.lower, abs=1e-7 * size), (rig, name)
            assert margin["upper"] == pytest.approx(expected.upper, abs=1e-7 * size), (rig, name)
            compared += 1
    assert compared > 500


def test_part_full_pipes_agree(sheet: Page) -> None:
    by = random.Random(1)
    cases = [
        (draw(by, 1e-5, 0.5), draw(by, 0.02, 5.0), draw(by, 1e-5, 0.1), draw(by, 0.008, 0.035))
        for _ in range(2000)
    ]
    found = sheet.evaluate("cases => cases.map(one => refgenSheet.model.partFull(...one))", cases)
    full = 0
    for case, there in zip(cases, found, strict=True):
        right = part_full(*case)
        if right is None:
            full += 1
            assert there is None
            continue
        for name in ("depth_ratio", "velocity", "shear"):
            assert there[name] == pytest.approx(getattr(right, name), rel=1e-9)
    assert 100 < full < 1900
    shears = [draw(by, 0.01, 50.0) for _ in range(300)]
    water = water_at(288.15)
    grains = sheet.evaluate(
        "([list, water]) => list.map(shear => refgenSheet.model.grain(shear, water))",
        [shears, {"density": water.density, "viscosity": water.viscosity}],
    )
    for shear, grain in zip(shears, grains, strict=True):
        assert grain == pytest.approx(largest_grain_moved(shear, water) or 0.0, abs=1e-9)


@pytest.mark.parametrize(
    "text",
    [
        *(f"3/8 {unit.symbol}" for unit in UNITS),
        *(f"12.5{name}" for unit in UNITS for name in unit.also),
        "1 1/2 in",
        "4½ in",
        "-10 degC",
        "−3 ft",
        "2-1/4 in",
        ".5 gpm",
        "1,900 psi",
        "psi",
        "3/0 in",
        "1e3 psi",
        "--1 ft",
        "9.5mm",
    ],
)
def test_what_a_person_writes_is_read_as_on_the_python_side(sheet: Page, text: str) -> None:
    try:
        right = parse_quantity(text)
    except NotAQuantity:
        right = None
    dimension = right.dimension if right else "length"
    found = sheet.evaluate(
        """([text, dimension]) => {
            try { return refgenSheet.model.parse(text, {of: dimension}, null, true).si; }
            catch (error) { if (!error.word) throw error; return null; }
        }""",
        [text, dimension],
    )
    assert found == (None if right is None else pytest.approx(right.si, rel=1e-15))


# ---- what must hold for every rig


MILD = [rig for rig in RIGS if rig.hoses][:1500]


def pairs(page: Page, rigs: list[Rig], change: Callable[[Rig], Rig]) -> list[tuple[Any, Any, Rig]]:
    """Return the working points before and after a change, where both have one."""
    before, after = points(page, rigs), points(page, [change(rig) for rig in rigs])
    both = [(b, a, rig) for b, a, rig in zip(before, after, rigs, strict=True) if b and a]
    assert len(both) > 300
    return both


def test_energy_closes_and_flows_add_up(sheet: Page) -> None:
    for rig, duty in zip(MILD, points(sheet, MILD), strict=True):
        if not duty:
            continue
        head = water_at(rig.water_temperature).density * GRAVITY * rig.below_pump
        taken = duty["hose_loss"] * duty["flow"] + duty["jet_power"] - head * duty["flow"]
        taken += duty["gauge"] * duty["bypass"]
        size = abs(head * duty["flow"]) + duty["jet_power"]
        assert duty["gauge"] * rig.pump.flow == pytest.approx(taken, rel=1e-9, abs=1e-9 * size)
        assert 0 <= duty["flow"] <= rig.pump.flow
        assert duty["flow"] + duty["bypass"] == pytest.approx(rig.pump.flow)
        assert duty["gauge"] <= rig.pump.limit * (1 + 1e-12)
        assert duty["full"] is (duty["bypass"] == 0)


def test_flow_never_rises_with_length(sheet: Page) -> None:
    def longer(rig: Rig) -> Rig:
        first = rig.hoses[0]
        return replace(rig, hoses=(replace(first, length=first.length * 1.3), *rig.hoses[1:]))

    for before, after, _ in pairs(sheet, MILD, longer):
        assert after["flow"] <= before["flow"] * (1 + 1e-9)
        assert after["nozzle"] <= before["nozzle"] * (1 + 1e-9)


def test_a_larger_bore_never_raises_the_gauge(sheet: Page) -> None:
    straight = [
        replace(rig, hoses=tuple(replace(h, on_reel=0.0, reel_diameter=None) for h in rig.hoses))
        for rig in MILD
    ]

    def wider(rig: Rig) -> Rig:
        first = rig.hoses[0]
        return replace(rig, hoses=(replace(first, bore=first.bore * 1.25), *rig.hoses[1:]))

    for before, after, _ in pairs(sheet, straight, wider):
        assert after["gauge"] <= before["gauge"] * (1 + 1e-9)
        assert after["flow"] >= before["flow"] * (1 - 1e-9)


def test_regulated_and_full_flow_meet_without_a_jump(sheet: Page) -> None:
    # Without a coil, whose two formulas meet with a small step.
    free = [
        replace(
            rig,
            pump=Pump(rig.pump.flow, 1e13),
            hoses=tuple(replace(h, on_reel=0.0, reel_diameter=None) for h in rig.hoses),
        )
        for rig in MILD
    ]
    open_ = [
        (rig, duty)
        for rig, duty in zip(free, points(sheet, free), strict=True)
        if duty
        and duty["full"]
        and duty["gauge"] > 1e4
        # The height must not be most of it: the jump is told in shares of the gauge.
        and abs(duty["hose_loss"] + duty["nozzle"] - duty["gauge"]) < 0.5 * duty["gauge"]
    ]
    assert len(open_) > 300

    def limited(share: float) -> list[Any]:
        return points(
            sheet,
            [replace(r, pump=Pump(r.pump.flow, d["gauge"] * share)) for r, d in open_],
        )

    ends = zip(open_, limited(1 + 1e-7), limited(1 - 1e-7), strict=True)
    for rig, above, below in ends:
        if below is None:  # just below lies where no formula holds
            continue
        assert (above["full"], below["full"]) == (True, False)
        for name in ("flow", "nozzle", "gauge"):
            assert below[name] == pytest.approx(above[name], rel=1e-6), rig


def test_the_answer_does_not_depend_on_how_the_rig_is_cut_up(sheet: Page) -> None:
    def halved(rig: Rig) -> Rig:
        hoses = [replace(h, length=h.length / 2, on_reel=h.on_reel / 2) for h in rig.hoses]
        jets = [replace(jet, flow_area=jet.flow_area / 2) for jet in rig.jets]
        return replace(
            rig,
            hoses=tuple(h for h in hoses for _ in range(2)),
            jets=tuple(jet for jet in jets for _ in range(2)),
        )

    for whole, cut, rig in pairs(sheet, MILD, halved):
        for name in ("flow", "gauge", "nozzle", "jet_power"):
            assert cut[name] == pytest.approx(whole[name], rel=1e-9, abs=1e-9), rig


def test_twice_the_flow_through_twice_the_holes_has_the_same_pressure(sheet: Page) -> None:
    bare = [replace(rig, hoses=()) for rig in RIGS[:1500]]

    def doubled(rig: Rig) -> Rig:
        jets = tuple(replace(jet, count=2 * jet.count) for jet in rig.jets)
        return replace(rig, pump=replace(rig.pump, flow=2 * rig.pump.flow), jets=jets)

    for one, two, _ in pairs(sheet, bare, doubled):
        assert two["gauge"] == pytest.approx(one["gauge"], rel=1e-12)
        assert two["flow"] == pytest.approx(2 * one["flow"], rel=1e-12)


# ---- the page answers what a crew asks; the values are those a hand calculation gives


def answers(page: Page) -> dict[str, str]:
    """Return the answers on the page, each as it is shown first."""
    return page.evaluate(
        """() => Object.fromEntries([...document.querySelectorAll(".ws-answers [data-v]")]
            .filter(box => !box.hidden)
            .map(box => [box.dataset.v, box.querySelector("b").textContent]))"""
    )


def number(text: str) -> float:
    """Return the number that a shown quantity begins with."""
    match = re.match(r"[−-]?[\d,]*\.?\d+", text)
    assert match, text
    return float(match[0].replace(",", "").replace("−", "-"))


def summed(page: Page, name: str, *values: str) -> dict[str, str]:
    """Return what a short sum shows for values given in the order of its fields."""
    go(page, f"#sum-{name}=" + ",".join(value.replace(" ", "%20") for value in values))
    return page.evaluate(
        """name => Object.fromEntries([...document.querySelectorAll(`#sum-${name} [data-v]`)]
            .filter(box => !box.hidden)
            .map(box => [box.dataset.v, box.querySelector("b").textContent]))""",
        name,
    )


def said(page: Page, selector: str) -> str:
    return page.locator(selector).inner_text()


def test_an_engine_that_moves_from_5000_to_3000_feet(sheet: Page) -> None:
    found = summed(sheet, "altitude", "5000ft", "3000ft")
    # 3.5 % and 3 % per 1000 ft over 2000 ft; the air's density: 0.8617 to 0.9151 of sea level.
    assert number(found["gain-cautious"]) == pytest.approx(7.0, abs=0.05)
    assert number(found["gain-mild"]) == pytest.approx(6.0, abs=0.05)
    assert number(found["gain-air"]) == pytest.approx(5.3, abs=0.1)
    assert "turbocharged engine loses far less" in said(sheet, "#sum-altitude")


def test_the_right_tip_for_4_gpm_at_4000_psi_and_two_wrong_ones(sheet: Page) -> None:
    bare = "#flow=4gpm&pressure=4000psi&unloader=4000psi&hose=none&jet=1,,{},0deg,rear"
    go(sheet, bare.format("6.5"), wait=250)
    assert re.search(r"trade number (4(?:\.0+)?)[,. ]", said(sheet, ".ws-suits"))
    # 4000·(4/6.5)² = 1515 and 4000·(4/3)² = 7111.
    assert number(answers(sheet)["nozzle"]) == pytest.approx(1515, rel=0.03)
    go(sheet, bare.format("3"), wait=250)
    found = answers(sheet)
    assert number(found["needs"]) == pytest.approx(7111, rel=0.03)
    assert number(found["gauge"]) == pytest.approx(4000, rel=0.001)
    assert number(found["flow"]) == pytest.approx(3.0, rel=0.03)
    assert number(found["bypass"]) == pytest.approx(1.0, rel=0.08)
    assert "Never raise the setting" in said(sheet, ".ws-answers")


@pytest.mark.parametrize(("tip", "psi"), [("9", 3160), ("20", 640)])
def test_what_8_gpm_makes_of_a_tip(sheet: Page, tip: str, psi: float) -> None:
    assert number(summed(sheet, "jet", "8gpm", "", tip, "1")["pressure"]) == pytest.approx(
        psi, rel=0.03
    )


def test_friction_and_height_apart(sheet: Page) -> None:
    found = summed(
        sheet, "hose", "3gpm", "", "3/8in", "100ft", "", "", "50ft", "0.0015mm", "15degC"
    )
    assert number(found["lost"]) == pytest.approx(41.86, rel=0.05)
    assert number(found["height"]) == pytest.approx(21.66, rel=0.02)
    assert 61.0 <= number(found["total"]) <= 72.0


def test_which_of_two_hoses_wastes_more(sheet: Page) -> None:
    found = summed(
        sheet, "hose", "18gpm", "", "1/2in", "400ft", "3/4in", "800ft", "0ft", "0.0015mm", "15degC"
    )
    assert number(found["lost"]) == pytest.approx(1040, rel=0.05)
    assert number(found["other"]) == pytest.approx(293.6, rel=0.05)
    assert 3.3 <= number(found["ratio"]) <= 4.1


def test_what_is_left_behind_800_feet_of_one_inch(sheet: Page) -> None:
    found = summed(
        sheet,
        "hose",
        "65gpm",
        "1500psi",
        "1in",
        "800ft",
        "1-1/4in",
        "",
        "0ft",
        "0.0015mm",
        "15degC",
    )
    assert number(found["lost"]) == pytest.approx(747.1, rel=0.05)
    assert number(found["left"]) == pytest.approx(752.9, rel=0.05)
    assert number(found["other"]) == pytest.approx(253.7, rel=0.05)
    assert "gauge stands before the hose" in said(sheet, "#sum-hose")


@pytest.mark.parametrize(("psi", "speed"), [("75psi", 105.6), ("3000psi", 667.6)])
def test_pressure_into_speed(sheet: Page, psi: str, speed: float) -> None:
    assert number(summed(sheet, "jet", "", psi, "", "1")["speed"]) == pytest.approx(
        speed, rel=0.025
    )


def test_the_kick_of_a_lance(sheet: Page) -> None:
    found = summed(sheet, "jet", "18gpm", "2500psi", "", "1")
    assert number(found["push"]) == pytest.approx(47.38, rel=0.05)
    both = said(sheet, "#sum-jet [data-v=push]")
    newtons = re.search(r"\((\d+)\s?N", both)
    assert newtons
    assert int(newtons[1]) == pytest.approx(210.8, rel=0.05)
    assert "braced against the body" in said(sheet, "#sum-jet")


def test_antifreeze_for_two_hoses(sheet: Page) -> None:
    found = summed(sheet, "glycol", "3/8in", "200ft", "1/2in", "300ft", "0.5gal")
    assert number(found["first"]) == pytest.approx(1.147, rel=0.02)
    assert number(found["second"]) == pytest.approx(3.06, rel=0.02)
    assert number(found["total"]) == pytest.approx(4.707, rel=0.03)


def test_half_strength_glycol_thinned_by_water(sheet: Page) -> None:
    found = summed(sheet, "mix", "3gal", "50percent", "2gal")
    assert number(found["strength"]) == pytest.approx(30, rel=0.02)
    shown = said(sheet, "#sum-mix [data-v=freezes]") + said(sheet, "#sum-mix [data-v=neat]")
    mixed, neat = (int(t.replace("−", "-")) for t in re.findall(r"\(([−-]\d+)\s?°C", shown))
    assert -15 <= mixed <= -11
    assert -36 <= neat <= -31


def test_a_tank_between_a_weak_tap_and_the_pump(sheet: Page) -> None:
    found = summed(sheet, "tank", "65gal", "8gpm", "5gpm")
    assert number(found["lasts"]) == pytest.approx(21.67, rel=0.02)
    assert number(found["refill"]) == pytest.approx(13.0, rel=0.02)


def test_the_air_gap_of_a_three_inch_fill(sheet: Page) -> None:
    found = summed(sheet, "gap", "3in", "no")
    assert found["gap"].replace("\xa0", " ") == "6 in"
    assert "(152" in said(sheet, "#sum-gap [data-v=gap]")


@pytest.mark.parametrize(
    ("bore", "feet", "word"),
    [("1/2in", 34.81, "starves"), ("3/4in", 4.986, "starves"), ("1in", 1.263, "Only just enough")],
)
def test_which_feed_hose_starves_the_pump(sheet: Page, bore: str, feet: float, word: str) -> None:
    found = summed(sheet, "suction", "8gpm", bore, "25ft", "2ft", "0", "0.0015mm", "15degC", "0ft")
    assert number(found["lost"]) == pytest.approx(feet, rel=0.05)
    assert word in said(sheet, "#sum-suction")


def test_a_culvert_packed_with_soil(sheet: Page) -> None:
    def with_flow(flow: str) -> dict[str, str]:
        return summed(sheet, "culvert", "2ft", "25ft", "100percent", "110lb/ft3", "10percent", flow)

    found = with_flow("4gpm")
    assert number(found["loose"]) == pytest.approx(78.54, rel=0.02)
    assert number(found["soil"]) == pytest.approx(2.909, rel=0.02)
    assert number(found["mass"]) == pytest.approx(8639, rel=0.02)
    assert number(found["water"]) == pytest.approx(5288, rel=0.03)
    assert number(found["time"]) == pytest.approx(22.03, rel=0.03)
    # 88.1 minutes: below an hour and a half it is told in minutes.
    assert number(with_flow("60gpm")["time"]) == pytest.approx(1.469 * 60, rel=0.03)


def test_five_stiff_inches_in_an_eight_inch_main(sheet: Page) -> None:
    found = summed(sheet, "turn", "5in", "8in")
    assert number(found["least"]) == pytest.approx(8.0)
    assert number(found["careful"]) == pytest.approx(12.0)
    assert "can turn round" in said(sheet, "#sum-turn .ws-line")


@pytest.mark.parametrize(("amps", "gpm"), [("15A", 1.685), ("20A", 2.247)])
def test_what_a_wall_outlet_can_drive(sheet: Page, amps: str, gpm: float) -> None:
    found = summed(sheet, "outlet", "115V", amps, "1500psi", "75percent", "85percent", "100percent")
    assert number(found["flow"]) == pytest.approx(gpm, rel=0.04)


def test_nozzle_behind_300_feet_of_three_eighths_and_of_half_inch(sheet: Page) -> None:
    found = summed(
        sheet, "hose", "8gpm", "3000psi", "3/8in", "300ft", "1/2in", "", "0ft", "0.0015mm", "15degC"
    )
    assert number(found["lost"]) == pytest.approx(723.5, rel=0.05)
    assert number(found["left"]) == pytest.approx(2277, rel=0.05)
    assert number(found["other"]) == pytest.approx(180.9, rel=0.05)


def test_time_and_water_for_300_feet_of_main(sheet: Page) -> None:
    found = summed(sheet, "run", "300ft", "60ft/min", "30ft/min", "60gpm", "1500gal")
    assert number(found["time"]) == pytest.approx(15, rel=0.02)
    assert number(found["water"]) == pytest.approx(900, rel=0.02)
    assert number(found["perTank"]) == pytest.approx(500, rel=0.02)


def test_rear_jets_open_and_half_of_them_plugged(sheet: Page) -> None:
    setup = (
        "#flow=12gpm&pressure=3500psi&unloader=3500psi&cd=0.8&water=15degC"
        "&hose=1/2in,200ft,,,0.0015mm&hose=3/8in,100ft,,,0.0015mm"
        "&jet=1,0.04in,,0deg,front&jet=6,0.047in,,15deg,rear"
    )
    go(sheet, setup)
    found = answers(sheet)
    assert number(found["nozzle"]) == pytest.approx(1145, rel=0.03)
    assert 1850 <= number(found["gauge"]) <= 2130
    assert "Full flow" in said(sheet, ".ws-answers > .answer")
    sheet.locator("[data-if=rear][value='3']").click()
    rows = dict(
        sheet.evaluate(
            """() => [...document.querySelectorAll("[data-d]")].map(row =>
                [row.dataset.d, row.cells[2].firstChild.textContent])"""
        )
    )
    assert number(rows["gauge"]) == pytest.approx(3500, rel=0.01)
    assert 10.2 <= number(rows["flow"]) <= 10.75
    assert 1.25 <= number(rows["bypass"]) <= 1.8
    assert number(rows["nozzle"]) == pytest.approx(2901, rel=0.05)
    assert "Unloader open" in said(sheet, ".ws-then")


def test_a_bucket_against_an_8_gpm_pump(sheet: Page) -> None:
    found = summed(sheet, "bucket", "5gal", "50s", "8gpm")
    assert number(found["flow"]) == pytest.approx(6.0, rel=0.02)
    assert number(found["short"]) == pytest.approx(2.0, rel=0.03)
    assert "buffer tank" in said(sheet, "#sum-bucket")


def test_a_metric_crew_is_answered_in_its_own_units_too(sheet: Page) -> None:
    summed(sheet, "hose", "70L/min", "200bar", "13mm", "80m", "", "", "0m", "0.0015mm", "15degC")

    def bar(row: str) -> float:
        match = re.search(r"\(([\d.]+)\s?bar", said(sheet, f"#sum-hose [data-v={row}]"))
        assert match
        return float(match[1])

    assert bar("lost") == pytest.approx(44.13, rel=0.05)
    assert bar("left") == pytest.approx(155.9, rel=0.05)


def test_a_full_stack_behind_a_cap(sheet: Page) -> None:
    # 0.433 psi a foot, and on a 4 in cap (12.57 in²) 5.4 lb.
    found = summed(sheet, "cap", "10ft", "4in")
    assert number(found["pressure"]) == pytest.approx(4.33, rel=0.01)
    assert number(found["push"]) == pytest.approx(54.4, rel=0.01)
    assert "stand aside" in said(sheet, "#sum-cap")


def test_sheaves(sheet: Page) -> None:
    found = summed(sheet, "sheaves", "3600rpm", "4in", "10in", "1200rpm")
    assert number(found["speed"]) == pytest.approx(1440)
    assert number(found["newDriven"]) == pytest.approx(12.0)
    # π · 4 in · 3600/min = 3770 ft/min.
    assert number(found["belt"]) == pytest.approx(3770, rel=0.001)


def test_each_number_says_how_far_it_can_be_off(sheet: Page) -> None:
    go(sheet, FULL, wait=250)
    silent = sheet.evaluate(
        """() => [...document.querySelectorAll("#worksheet [data-v]")]
            .filter(box => !box.hidden && !box.querySelector("small").textContent)
            .map(box => box.dataset.v)"""
    )
    assert silent == []
    for one in ("tank", "hose", "jet", "culvert", "outlet", "run"):
        sheet.evaluate("id => { document.querySelector('#sum-' + id).open = true; }", one)
    rows = sheet.locator("#sums [data-v]:visible small")
    assert rows.count() > 15
    assert all(re.search(r"may be|as true as", text) for text in rows.all_inner_texts())


# ---- the form


def test_a_nozzle_that_the_gauge_was_read_with_is_as_sure_as_the_gauge(sheet: Page) -> None:
    def gauge() -> tuple[float, float]:
        shown = sheet.locator("[data-v=gauge] small").inner_text()
        low, high = (float(n.replace(",", "")) for n in re.findall(r"([\d,]+)\s+psi", shown)[:2])
        return low, high

    # Read at 2250 psi on a dial to 5000, class 2.5: 125 psi either way, and a little for the water.
    go(sheet, "#machine=alder-barrow&nozzle=quarter-flusher", wait=400)
    low, high = gauge()
    assert 2080 <= low <= 2125
    assert 2375 <= high <= 2420
    # Jets of another size than those that were read are known by their size alone.
    go(sheet, "#machine=alder-barrow&nozzle=quarter-flusher&cd=0.8", wait=400)
    low, high = gauge()
    assert low < 2000
    assert high > 2500


def test_what_is_typed_is_answered_at_once_in_any_unit(sheet: Page) -> None:
    go(sheet, FULL)
    flow = sheet.locator("#ws-pump-flow")
    sheet.evaluate("document.querySelector('[data-g=pump]').open = true")
    flow.fill("68 L/min")  # 18 gpm are 68.1 L/min
    assert "litres a minute" in said(sheet, "[data-g=pump] [data-f=flow] p")
    assert number(answers(sheet)["flow"]) == pytest.approx(17.96, abs=0.05)
    flow.blur()
    assert flow.input_value() == "68"
    assert said(sheet, "[data-g=pump] [data-f=flow] select").splitlines()[0]
    assert sheet.locator("[data-g=pump] [data-f=flow] select").input_value() == "L/min"
    flow.fill("18")
    flow.blur()
    assert number(answers(sheet)["flow"]) == pytest.approx(18 / 3.785411784, rel=0.002)


@pytest.mark.parametrize(
    ("typed", "kindly"),
    [
        ("fast", "Write a number"),
        ("1,900", "without a comma"),
        ("5000 psi", "No unit here is called psi"),
        ("5000", "from 0.01 gpm to 500 gpm"),
        ("3/0", "zero below the line"),
        ("0", "from 0.01 gpm to 500 gpm"),
    ],
)
def test_nonsense_is_refused_kindly_where_it_is_typed(sheet: Page, typed: str, kindly: str) -> None:
    go(sheet, FULL)
    sheet.evaluate("document.querySelector('[data-g=pump]').open = true")
    flow = sheet.locator("#ws-pump-flow")
    flow.fill(typed)
    assert kindly in said(sheet, "[data-g=pump] [data-f=flow] p").replace("\xa0", " ")
    assert flow.get_attribute("aria-invalid") == "true"
    assert "Pick a machine and a nozzle above, or give these" in said(
        sheet, ".ws-answers > .answer"
    )
    assert sheet.locator(".ws-now").is_hidden()
    flow.fill("18 gpm")
    assert flow.get_attribute("aria-invalid") is None
    assert sheet.locator(".ws-now").is_visible()


def test_a_machine_and_a_nozzle_fill_the_form(sheet: Page) -> None:
    go(sheet, "#sum-gap=3in")
    assert "Pick a machine" in said(sheet, ".ws-answers > .answer")
    sheet.locator("#ws-pick-machine").select_option("hazel-van/trap-tail")
    assert sheet.locator("#ws-pump-flow").input_value() == "1.8"
    assert sheet.locator("#ws-pick-nozzle").input_value() == "eighth-button"
    assert number(answers(sheet)["flow"]) > 0
    sheet.locator("#ws-pick-machine").select_option("rowan-trailer/main-reel")
    assert sheet.locator("#ws-pick-nozzle").input_value() == "half-thruster"
    sheet.locator("#ws-pick-nozzle").select_option("half-penetrator")
    assert sheet.locator("[data-rows=jet] fieldset").count() == 2


def test_a_pipe_sets_its_ceiling_and_the_setting_that_keeps_it(sheet: Page) -> None:
    go(sheet, "#machine=rowan-trailer&nozzle=half-thruster&material=pitch-fibre/worn", wait=250)
    assert "Too much for this pipe" in said(sheet, "[data-sig=warning]")
    setting = number(answers(sheet)["setting"])
    assert setting < 1000  # below the ceiling by what gauge and unloader may be off
    sheet.locator("[data-if=unloader][value=on]").click()
    shown = sheet.locator("[data-d=gauge] td b").inner_text()
    assert number(shown) == pytest.approx(setting, rel=0.005)
    # Whatever plugs, the nozzle never sees more than the ceiling: (setting + error)·1.1 ≤ 1000.
    assert (setting + 0.025 * 5000) * 1.1 <= 1000 * 1.005


def test_a_pipe_that_must_not_be_jetted_gets_no_setting_and_no_nozzle(sheet: Page) -> None:
    barred = sheet.evaluate(
        """() => Object.entries(refgenSheet.materials).flatMap(([id, pipe]) =>
            Object.entries(pipe.ceilings).filter(([, ceiling]) => ceiling.jet === "no")
                .map(([condition]) => id + "/" + condition))[0]"""
    )
    go(sheet, f"#machine=rowan-trailer&nozzle=half-thruster&material={barred}", wait=250)
    assert "Do not jet" in said(sheet, "[data-sig=danger]")
    assert "setting" not in answers(sheet)
    assert "Do not jet" in said(sheet, ".ws-suits")
    assert sheet.locator(".ws-now.ws-over").count() == 1


def test_a_hose_below_the_pumps_pressure_is_dangerous(sheet: Page) -> None:
    go(sheet, "#machine=alder-barrow&nozzle=quarter-flusher&unloader=&pressure=4500psi")
    assert "Do not use it here" in said(sheet, "[data-sig=danger]")


def test_stock_is_proposed_first_and_taken_with_a_tap(sheet: Page) -> None:
    go(sheet, "#machine=rowan-trailer&jet=1,3mm,,0deg,rear", wait=250)
    first = sheet.locator(".ws-suits a").first.inner_text()
    assert first in ("Half-inch thruster", "Half-inch bottom cleaner", "Half-inch penetrator")
    sheet.locator(".ws-suits button").first.click()
    chosen = sheet.locator("#ws-pick-nozzle option:checked").inner_text()
    assert chosen == first


@pytest.mark.parametrize(
    ("chip", "value", "row", "sign"),
    [
        ("length", "2", "nozzle", -1),
        ("bore", "3/4in", "hose_loss", -1),
        ("worn", "0.1", "nozzle", -1),
        ("pulse", "on", "flow", -1),
        ("throttle", "0.8", "flow", -1),
        ("up", "1524", "flow", -1),
        ("rear", "2", "bypass", 1),
    ],
)
def test_a_tap_shows_the_difference(
    sheet: Page, chip: str, value: str, row: str, sign: int
) -> None:
    go(sheet, f"#machine=rowan-trailer&nozzle=half-thruster&power=31hp&if-none={chip}")
    sheet.locator(f"[data-if={chip}][value='{value}']").click()
    assert (
        sheet.locator(f"[data-if={chip}][value='{value}']").get_attribute("aria-pressed") == "true"
    )
    cells = sheet.locator(f"[data-d={row}] td").all_inner_texts()
    assert number(cells[2].lstrip("+")) * sign > 0
    assert number(cells[1]) - number(cells[0]) == pytest.approx(
        number(cells[2].lstrip("+")), rel=0.1, abs=0.02 * number(cells[0]) + 0.02
    )
    sheet.locator(f"[data-if={chip}][value='']").click()
    assert sheet.locator(".ws-what").is_hidden()


def test_hoses_and_jets_can_be_added_and_taken_out_by_keyboard(sheet: Page) -> None:
    go(sheet, FULL)
    sheet.evaluate(
        "document.querySelectorAll('#worksheet details').forEach(d => { d.open = true; })"
    )
    before = number(answers(sheet)["hose_loss"])
    sheet.locator("[data-add=hose]").focus()
    sheet.keyboard.press("Enter")
    sheet.keyboard.type("3/8")
    for _ in range(2):
        sheet.keyboard.press("Tab")
    sheet.keyboard.type("100 ft")
    assert number(answers(sheet)["hose_loss"]) > before
    sheet.locator("[data-rows=hose] fieldset").nth(1).locator("button").press("Enter")
    assert number(answers(sheet)["hose_loss"]) == before
    assert sheet.evaluate("document.activeElement.dataset.add") == "hose"


# ---- the address and the file


def test_the_address_holds_the_whole_setup(sheet: Page) -> None:
    go(sheet, "#sum-gap=3in")
    sheet.locator("#ws-pick-machine").select_option("alder-barrow/hand-drum")
    sheet.evaluate("document.querySelector('[data-g=job]').open = true")
    sheet.locator("#ws-job-pipe").fill("100 mm")
    sheet.locator("#ws-job-pipe").blur()
    sheet.locator("[data-if=worn][value='0.1']").click()
    sheet.wait_for_url(re.compile("if-worn"))
    address = sheet.evaluate("location.hash")
    assert address == (
        "#machine=alder-barrow/hand-drum&nozzle=quarter-penetrator&pipe=100mm&if-worn=0.1"
        "&sum-gap=3in"
    )
    shown = answers(sheet)
    go(sheet, "#flow=1gpm")
    assert sheet.locator("#ws-pick-machine").input_value() == ""
    go(sheet, address, wait=250)
    assert answers(sheet) == shown
    assert sheet.locator(".ws-what").is_visible()


def test_random_setups_survive_the_way_through_the_address(sheet: Page) -> None:
    by = random.Random(3)
    texts = ["3/8 in", "1 1/2 in", "9.5 mm", "2700 psi", "186 bar", "18 L/min", "2 %", ""]
    texts += ["oops, no", "5 °C", "110 lb/ft³", "a=b&c;d", "<b>", "°", "12"]
    found = sheet.evaluate(
        """texts => texts.map(list => {
            const {decode, encode} = refgenSheet.model, start = decode("#", []);
            let at = 0;
            for (const group of ["pump", "nozzle", "job"]) {
                for (const id in start[group]) {
                    if (!["way"].includes(id)) start[group][id] = list[at++ % list.length];
                }
            }
            for (const row of [...start.hoses, ...start.jets]) {
                for (const id in row) if (id !== "faces") row[id] = list[at++ % list.length];
            }
            const once = "#" + encode(start), again = "#" + encode(decode(once, []));
            return [once, again];
        })""",
        [by.sample(texts, len(texts)) for _ in range(50)],
    )
    for once, again in found:
        assert once == again


def test_the_file_is_what_the_command_line_solves_and_is_read_back(sheet: Page) -> None:
    go(sheet, FULL + "&below=12ft&unloader=2600psi")
    shown = sheet.evaluate("location.hash")
    with sheet.expect_download() as download:
        sheet.locator("[data-act=save]").click()
    text = Path(download.value.path()).read_text("utf-8")
    assert text == sheet.locator("#ws-yaml").input_value()
    duty = working_point(rig_of(read_setup(text, "setup.yml")))
    assert duty.gauge / si("1 psi") == pytest.approx(number(answers(sheet)["gauge"]), rel=0.005)
    assert duty.flow / si("1 gpm") == pytest.approx(number(answers(sheet)["flow"]), rel=0.005)
    before = answers(sheet)
    go(sheet, "#flow=1gpm")
    sheet.locator("#ws-yaml").fill(text)
    sheet.locator("[data-act=read]").click()
    assert "was read" in said(sheet, "#ws-yaml-note")
    after = answers(sheet)
    for row in ("gauge", "nozzle", "hose_loss", "flow", "bypass", "pull"):
        assert after[row] == before[row], shown


def test_setups_as_people_write_them_are_read(sheet: Page, tmp_path: Path) -> None:
    file = tmp_path / "mine.yml"
    file.write_text(
        "---\n# Thursday, the long main\n\n"
        "machine: rowan-trailer   # the trailer\n"
        "hoses:\n"
        "- hose: half-line\n"
        "  length: '300 ft'\n"
        "-\n"
        '  bore: "3/8 in"\n'
        "  length: 20 ft\n"
        "nozzle: half-thruster\n"
    )
    sheet.locator("#ws-file").set_input_files(file)
    sheet.locator("#ws-yaml-note", has_text="was read").wait_for()
    assert sheet.locator("[data-rows=hose] fieldset").count() == 2
    assert sheet.locator("#ws-pump-flow").input_value() == "18"
    assert sheet.locator("#ws-pick-nozzle").input_value() == "half-thruster"


@pytest.mark.parametrize(
    "text",
    [
        "",
        ":",
        "- - - - - - - - - -\n" * 50,
        "pump: 8 gpm",
        "pump:\n  fllow: 8 gpm",
        "hoses: none\n",
        "nozzle:\n  jets: 4\n",
        "machine: constructor",
        "machine: __proto__",
        "nozzle: toString",
        "hoses:\n- hose: hasOwnProperty\n",
        "__proto__:\n  flow: 1\n",
        "<script>alert(1)</script>",
        "pump:\n" + "  " * 9000 + "a: 1",
        "a: " * 9000,
        "[" * 9000,
        "water:\n" + "\n".join("  " * n + "a:" for n in range(1, 200)),
    ],
)
def test_a_file_that_is_no_setup_is_refused_kindly(sheet: Page, text: str) -> None:
    go(sheet, FULL)
    sheet.locator("#ws-yaml").fill(text)
    sheet.locator("[data-act=read]").click()
    assert re.search(r"no setup that can be read|has no ", said(sheet, "#ws-yaml-note"))
    assert number(answers(sheet)["flow"]) == 18  # what stood there still stands


HOSTILE = [
    "#",
    "#=",
    "#&&&&",
    "#%",
    "#%E0%A4%A",
    "#flow=%",
    "#flow=<script>alert(1)</script>",
    "#flow=%3Cimg%20src=x%20onerror=alert(1)%3E",
    "#machine=javascript:alert(1)",
    "#machine=__proto__",
    "#machine=constructor/prototype",
    "#machine=rowan-trailer/__proto__",
    "#nozzle=hasOwnProperty",
    "#material=toString/worn",
    "#material=pvc-solid/constructor",
    "#__proto__=1&constructor=2&hasOwnProperty=3",
    "#hose=__proto__,__proto__;__proto__",
    "#sum-__proto__=1&sum-hose=__proto__&if-__proto__=1",
    "#if-length=1e309&if-worn=-1&if-throttle=NaN&if-bore=__proto__&if-up=Infinity&if-rear=1e99",
    "#flow=1e309gpm&pressure=NaN&unloader=Infinity",
    "#flow=" + "9" * 3000,
    "#flow=500gpm&pressure=25000psi&hose=2mm,5km&jet=60,20mm,,0deg,rear",
    "#" + "&".join("hose=3/8in,100ft" for _ in range(500)),
    "#" + "&".join(f"x{n}={n}" for n in range(5000)),
    "#" + "a" * 200_000,
    "#" + "%F0%9F%92%A5" * 500,
    "#jet=0,0in,0,0deg,rear&jet=-1,,-1,-1deg,nowhere",
    "#bends=20&bendAt=-5m&fall=0percent&pipe=0mm&n=0",
    "#water=-300degC&below=-99999m&cd=2&cv=-1",
    "#flow=8gpm\u0000\u202e\u2028",
]


def test_no_address_runs_a_script_hangs_or_breaks_the_page(sheet: Page) -> None:
    by = random.Random(11)
    whole = (
        FULL + "&hose=3/8in,100ft,20ft,20in,0.0015mm&jet=6,1.1mm,,20deg,rear&sum-tank=65gal,8gpm"
    )
    addresses = list(HOSTILE)
    for _ in range(150):
        letters = list(whole)
        for _ in range(by.randint(1, 12)):
            letters[by.randrange(1, len(letters))] = by.choice(string.printable[:95] + "%\u00b0½−")
        addresses.append("".join(letters)[: by.randint(2, len(whole))])
    told = sheet.evaluate(
        """async addresses => {
            const found = [];
            window.alert = () => found.push("alert");
            const scripts = document.scripts.length;
            addEventListener("error", event => found.push("error " + event.message));
            for (const address of addresses) {
                const start = performance.now();
                history.replaceState(null, "", "#-");
                location.hash = address;
                await new Promise(done => addEventListener("hashchange", done, {once: true}));
                const took = performance.now() - start;
                const line = document.querySelector(".ws-answers > .answer").textContent;
                const numbers = document.querySelector(".ws-answers .facts").textContent;
                if (took > 2000) found.push("slow " + took + " " + address.slice(0, 90));
                if (!line) found.push("silent " + address.slice(0, 90));
                if (/NaN|Infinity|undefined|null|\\[object/.test(line + numbers))
                    found.push("nonsense " + address.slice(0, 200));
                if (document.scripts.length !== scripts ||
                    document.querySelector("#worksheet script, #worksheet img, #worksheet iframe"))
                    found.push("element " + address.slice(0, 90));
                for (const link of document.querySelectorAll("#worksheet a[href]"))
                    if (!/^(file|https?):/.test(link.protocol)) found.push("link " + link.href);
            }
            await new Promise(done => setTimeout(done, 400));
            return found;
        }""",
        addresses,
    )
    assert told == []


# ---- speed, reach of gloves, eyes and ears


def test_a_result_stands_within_16_ms_on_a_phone_six_times_slower(sheet: Page) -> None:
    go(sheet, FULL, wait=300)
    session = sheet.context.new_cdp_session(sheet)
    session.send("Emulation.setCPUThrottlingRate", {"rate": 6})
    took, shown = sheet.evaluate(
        """async () => {
            const input = document.querySelector("#ws-pump-flow"), took = [], shown = new Set();
            for (let n = 0; n < 41; n += 1) {
                await new Promise(done => setTimeout(done, 10));
                input.value = String(12 + n / 10);
                const start = performance.now();
                input.dispatchEvent(new Event("input"));
                took.push(performance.now() - start);
                shown.add(document.querySelector("[data-v=gauge] b").textContent);
            }
            return [took.sort((a, b) => a - b)[20], shown.size];
        }"""
    )
    session.send("Emulation.setCPUThrottlingRate", {"rate": 1})
    assert shown > 20  # each result stood there when the time was taken
    assert took <= 16


@pytest.mark.parametrize("size", [(390, 844), (360, 640)])
def test_gloves_reach_everything_and_nothing_runs_off_the_side(
    browser: Browser, site: Path, size: tuple[int, int]
) -> None:
    phone = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, has_touch=True, is_mobile=True
    )
    page = phone.new_page()
    page.goto((site / "worksheet.html").as_uri() + FULL)
    settled(page)
    page.evaluate(
        "document.querySelectorAll('#worksheet details').forEach(d => { d.open = true; })"
    )
    page.locator("[data-if=rear][value='3']").click()
    page.wait_for_timeout(300)
    cut = page.evaluate(
        """() => [...document.querySelectorAll("#worksheet .box, #worksheet td, #worksheet th")]
            .filter(one => one.scrollWidth > one.clientWidth + 1).map(one => one.textContent)"""
    )
    small = page.evaluate(
        """() => [...document.querySelectorAll(
                "#worksheet :is(button, input, select, summary, textarea)"
            )].filter(one => one.offsetParent && (one.offsetHeight < 48 || one.offsetWidth < 48))
            .map(one => one.outerHTML.slice(0, 80))"""
    )
    wide = page.evaluate("document.documentElement.scrollWidth")
    phone.close()
    assert small == []
    assert cut == []
    assert wide == size[0]


def test_without_script_the_page_leads_to_the_tables(
    browser: Browser, server_of: Callable[[Path], Server], site: Path
) -> None:
    phone = browser.new_context(java_script_enabled=False)
    page = phone.new_page()
    page.goto(f"{server_of(site).url}worksheet.html")
    assert page.locator("noscript .answer").is_visible()
    assert page.locator("#worksheet").is_hidden()
    page.locator("a[href='tables/machine-jets.html']").click()
    assert page.url.endswith("tables/machine-jets.html")
    phone.close()


def test_the_pages_lead_here_with_their_values(
    page: Page, server_of: Callable[[Path], Server], site: Path
) -> None:
    served = server_of(site)
    page.goto(f"{served.url}machines/alder-barrow.html")
    page.locator("a[href='../worksheet.html#machine=alder-barrow']").click()
    page.wait_for_selector(".ws-now:visible")
    assert page.locator("#ws-pump-flow").input_value() == "4"
    page.goto(f"{served.url}nozzles/quarter-flusher.html")
    page.locator("a[href='../worksheet.html#nozzle=quarter-flusher']").click()
    settled(page)
    assert page.locator("#ws-pick-nozzle").input_value() == "quarter-flusher"
    page.goto(f"{served.url}index.html")
    page.locator("a[href='worksheet.html']").click()
    settled(page)


def test_the_machine_chosen_on_this_phone_is_taken(
    page: Page, server_of: Callable[[Path], Server], site: Path
) -> None:
    served = server_of(site)
    page.goto(f"{served.url}my-machine.html")
    page.locator("button[data-machine=hazel-van]").click()
    page.goto(f"{served.url}worksheet.html")
    page.wait_for_selector(".ws-now:visible")
    assert page.locator("#ws-pick-machine").input_value() == "hazel-van/hand-drum"
