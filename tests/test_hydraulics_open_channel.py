import json
from math import pi
from pathlib import Path

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.open_channel import full_flow, part_full
from refgen.units import INCH, US_GALLON

VECTORS = json.loads((Path(__file__).parent / "vectors" / "hydraulics.json").read_text("utf-8"))
GPM = US_GALLON / 60


@pytest.mark.parametrize("right", VECTORS["part_full_pipe"])
def test_part_full_flow_agrees_with_an_independent_library(right):
    found = part_full(
        right["flow_gpm"] * GPM, right["diameter_in"] * INCH, right["slope"], right["manning_n"]
    )
    if right.get("state") == "pipe full":
        assert found is None
        return
    assert found is not None
    assert found.depth_ratio == pytest.approx(right["depth_ratio"], rel=1e-3)
    assert found.velocity == pytest.approx(right["velocity"], rel=1e-3)
    assert found.shear == pytest.approx(right["shear"], rel=1e-3)


@pytest.mark.parametrize(
    ("inches", "gpm"),
    # Full flow at 1 % slope, n = 0.013, in US gpm: a published pipe table, rounded there.
    [(4, 85), (6, 252), (8, 542), (10, 980), (12, 1600)],
)
def test_full_flow_at_one_percent(inches, gpm):
    assert full_flow(inches * INCH, 0.01, 0.013) / GPM == pytest.approx(gpm, rel=0.01)


def test_half_the_full_flow_fills_half_the_pipe():
    # Half full, area and perimeter are halved and the hydraulic radius D/4 stays.
    diameter, slope = 0.15, 0.01
    full = full_flow(diameter, slope, 0.013)
    half = part_full(full / 2, diameter, slope, 0.013)
    assert half is not None
    assert half.depth_ratio == pytest.approx(0.5, abs=1e-12)
    assert half.velocity == pytest.approx(full / (pi / 4 * diameter**2))
    assert half.shear == pytest.approx(1000 * 9.80665 * diameter / 4 * slope)


def test_a_pipe_counts_as_full_from_93_percent_of_its_bore():
    # Chow (1959), figure 6-5: at 0.90 of the bore the pipe carries 1.066 of its full flow.
    # At 0.93 the water is seen under θ = 2·acos(1 − 1.86) = 5.21213 rad, wetted area and
    # radius over full ones are (θ − sin θ)/2π = 0.96923 and (θ − sin θ)/θ = 1.16840, so the flow
    # is 0.96923 · 1.16840^⅔ = 1.0752 of the full one.
    full = full_flow(0.1, 0.02, 0.010)
    nearly = part_full(1.066 * full, 0.1, 0.02, 0.010)
    assert nearly is not None
    assert nearly.depth_ratio == pytest.approx(0.90, abs=0.002)
    assert part_full(1.0750 * full, 0.1, 0.02, 0.010) is not None
    assert part_full(1.0754 * full, 0.1, 0.02, 0.010) is None


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ((0.0, 0.1, 0.01, 0.013), "flow [m³/s] must be more than 0, not 0"),
        ((1e-3, 0.1, 0.0, 0.013), "slope of the pipe [-] must be more than 0, not 0"),
        ((1e-3, 0.1, 0.2, 0.013), "slope of the pipe [-] must be from 0 to 0.1, not 0.2"),
        ((1e-3, 0.1, 0.01, 0.1), "Manning's n must be from 0.008 to 0.035, not 0.1"),
        ((1e-3, 0.0, 0.01, 0.013), "bore of the pipe [m] must be more than 0, not 0"),
    ],
)
def test_manning_is_not_stretched(arguments, sentence):
    with pytest.raises(OutOfRange) as refused:
        part_full(*arguments)
    assert str(refused.value) == sentence
