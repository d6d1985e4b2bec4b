"""Antifreeze in the water: density and viscosity against other tables, and what a hose makes of it.

Viscosities by volume: ASHRAE Handbook, Fundamentals (2001), chapter 21, aqueous propylene glycol.
Specific gravities: Lange's Handbook of Chemistry, 15th ed., table 5.13.
"""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics import Jet, Pump, Rig, Segment, Variations, margins, working_point
from refgen.hydraulics.antifreeze import freezing_point
from refgen.hydraulics.choice import fitting_on
from refgen.hydraulics.mixture import mixture_at
from refgen.hydraulics.variation import INPUTS
from refgen.hydraulics.water import water_at
from tests.rigs import EXACT

# Share by volume, then °C: mPa·s.
ASHRAE = {
    0.1: {0: 2.68, 10: 1.89, 20: 1.42, 40: 0.89},
    0.2: {-5: 4.98, 0: 4.05, 10: 2.79, 20: 2.02, 40: 1.18},
    0.3: {-10: 11.87, -5: 9.08, 0: 7.08, 10: 4.52, 20: 3.06, 40: 1.63},
    0.4: {-15: 33.22, -10: 23.27, -5: 16.75, 0: 12.37, 10: 7.22, 20: 4.57, 40: 2.21},
    0.5: {-25: 110.59, -20: 73.03, -10: 34.78, 0: 18.40, 10: 10.65, 20: 6.65, 40: 3.11},
}
LANGE = {0.05: 1.004, 0.10: 1.006, 0.20: 1.017, 0.30: 1.024, 0.40: 1.032, 0.50: 1.040}
# The same polynomial as an independent library has it, with the share by mass that
# 1036 and 998.2 kg/m³ give: share by volume, °C, kg/m³, mPa·s.
LIBRARY = [
    (0.05, 0, 1004.6868, 2.24339),
    (0.05, 40, 996.1244, 0.76924),
    (0.1, -2, 1009.7346, 3.00605),
    (0.2, 0, 1020.7640, 4.43908),
    (0.2, 40, 1006.7932, 1.18967),
    (0.3, -10, 1035.2821, 12.9187),
    (0.3, 20, 1024.4859, 3.05742),
    (0.4, -20, 1050.7965, 48.7232),
    (0.4, -5, 1045.3986, 16.8513),
    (0.4, 40, 1020.6037, 2.20069),
    (0.5, -33, 1065.9464, 304.615),
    (0.5, -15, 1059.0648, 58.7946),
    (0.5, 0, 1051.5767, 19.9169),
    (0.5, 40, 1025.7646, 2.99957),
]


@pytest.mark.parametrize(
    ("share", "celsius", "right"),
    [(share, c, right) for share, row in ASHRAE.items() for c, right in row.items()],
)
def test_another_table_gives_nearly_the_same_viscosity(share, celsius, right):
    # A quarter near the freezing point of the strongest, an eighth elsewhere.
    apart = 0.27 if share == 0.5 and celsius < 0 else 0.13
    found = mixture_at(celsius + 273.15, share).viscosity * 1e3
    assert found == pytest.approx(right, rel=apart)


def test_over_the_whole_table_the_two_do_not_lean_one_way():
    apart = [
        mixture_at(celsius + 273.15, share).viscosity * 1e3 / right - 1
        for share, row in ASHRAE.items()
        for celsius, right in row.items()
    ]
    assert abs(sum(apart) / len(apart)) < 0.05


@pytest.mark.parametrize(("share", "gravity"), LANGE.items())
def test_it_weighs_what_the_handbook_says(share, gravity):
    # Specific gravity at 15.6 °C, over water of 999.0 kg/m³.
    assert mixture_at(288.75, share).density == pytest.approx(gravity * 999.0, rel=5e-3)


@pytest.mark.parametrize(("share", "celsius", "density", "viscosity"), LIBRARY)
def test_an_independent_library_agrees(share, celsius, density, viscosity):
    found = mixture_at(celsius + 273.15, share)
    assert found.density == pytest.approx(density, rel=1e-6)
    assert found.viscosity * 1e3 == pytest.approx(viscosity, rel=1e-4)


def test_without_glycol_it_is_water():
    assert mixture_at(288.15, 0.0) == water_at(288.15)
    assert Rig(288.15, PUMP, (), (JET,), 1.0).water == water_at(288.15)


def test_slush_is_told_and_not_worked_out():
    # 30 % freezes at −12.8 °C = 9 °F.
    with pytest.raises(OutOfRange) as refused:
        mixture_at(259.0, 0.30)
    assert str(refused.value) == (
        "water with 30% glycol is slush below -13 °C (9 °F), and no pump moves it"
    )


# ---- in a hose

GPM = 0.003785411784 / 60
PUMP = Pump(2 * GPM, 20e6)
JET = Jet(1, 1e-5, 0.0)
HOSE = Segment(0.009525, 60.96, 1.5e-6)
COLD = Rig(268.15, PUMP, (HOSE,), (JET,), 1.0, antifreeze=0.40)


def test_cold_antifreeze_runs_calm_and_loses_by_its_viscosity():
    # Hagen-Poiseuille: 128·μ·L·Q/(π·d⁴), 16.85 mPa·s at −5 °C and 40 %.
    right = 128 * 16.85e-3 * 60.96 * 2 * GPM / (pi * 0.009525**4)
    duty = working_point(COLD)
    assert duty.hose_loss == pytest.approx(right, rel=2e-3)
    # Re = 4·1045.4·Q/(π·d·μ) = 1046; water of 15 °C would run at 14 800.
    assert duty.reynolds[0] == pytest.approx(1046, rel=2e-3)


def test_between_calm_and_broken_flow_it_has_no_number():
    # Twice as much is Re 2092, four times 4184.
    with pytest.raises(OutOfRange, match="between calm and broken flow"):
        working_point(replace(COLD, pump=Pump(4 * GPM, 20e6)))
    assert working_point(replace(COLD, pump=Pump(8 * GPM, 20e6))).state == "full flow"


def test_a_nozzle_is_chosen_for_what_the_cold_hose_leaves():
    choice = fitting_on(COLD)
    assert choice.hose_loss == pytest.approx(working_point(COLD).hose_loss, rel=1e-12)


# ---- how far it can be off


def test_the_strength_is_moved_either_way_and_never_below_none():
    moved = [INPUTS["antifreeze"](COLD, Variations(), side).antifreeze for side in (-1, 1)]
    assert moved == pytest.approx([0.37, 0.43])
    thin = replace(COLD, water_temperature=288.15, antifreeze=0.02)
    assert INPUTS["antifreeze"](thin, Variations(), -1).antifreeze == 0.0
    water = replace(COLD, water_temperature=288.15, antifreeze=0.0)
    assert INPUTS["antifreeze"](water, Variations(), 1) is water


def test_antifreeze_is_moved_no_colder_than_slush_and_no_warmer_than_its_formula():
    near = replace(COLD, water_temperature=256.0)
    moved = INPUTS["water-temperature"](near, Variations(), -1).water_temperature
    assert moved == freezing_point(0.40)
    warm = replace(COLD, water_temperature=310.0)
    assert INPUTS["water-temperature"](warm, Variations(), 1).water_temperature == 313.15


def test_a_calm_loss_is_off_as_much_as_the_viscosity_is():
    found = margins(COLD, replace(EXACT, antifreeze=0.03)).hose_loss
    stronger = mixture_at(268.15, 0.43).viscosity / mixture_at(268.15, 0.40).viscosity
    assert found.cause == "antifreeze"
    assert found.upper == pytest.approx(working_point(COLD).hose_loss * (stronger - 1), rel=1e-6)


def test_a_mixture_that_would_freeze_if_weaker_is_told_as_left_out():
    # 40 % freezes at −20.6 °C, 37 % at −17.9 °C.
    near = replace(COLD, water_temperature=273.15 - 20.0)
    assert margins(near, replace(EXACT, antifreeze=0.03)).left_out == ("antifreeze",)
