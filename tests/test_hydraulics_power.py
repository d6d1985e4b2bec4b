import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.power import engine_power, hydraulic_power, outlet_flow
from refgen.units import PSI, US_GALLON

GPM = US_GALLON / 60
HORSEPOWER = 745.6998715822702


@pytest.mark.parametrize(("gpm", "psi"), [(8, 3000), (4, 4000), (65, 1500)])
def test_hydraulic_horsepower_is_gpm_times_psi_over_1714(gpm, psi):
    power = hydraulic_power(gpm * GPM, psi * PSI) / HORSEPOWER
    assert power == pytest.approx(gpm * psi / 1714, rel=3e-4)


def test_metric_power_is_litres_a_minute_times_bar_over_600():
    assert hydraulic_power(70e-3 / 60, 200e5) / 1000 == pytest.approx(70 * 200 / 600)


def test_an_electric_drive_needs_gpm_times_psi_over_1457():
    # 1714 · 0.85 = 1457
    power = engine_power(8 * GPM, 3000 * PSI) / HORSEPOWER
    assert power == pytest.approx(8 * 3000 / 1457, rel=1e-3)


def test_every_share_raises_the_engine():
    # 10 kW of water: 10/(0.85 · 0.95 · 0.8 · 0.825) = 18.77 kW
    power = engine_power(1e-3, 10e6, 0.85, 0.95, power_left=0.825, continuous=0.80)
    assert power == pytest.approx(10e3 / (0.85 * 0.95 * 0.825 * 0.80))
    assert power == pytest.approx(18.76e3, rel=1e-3)


def test_an_outlet_by_hand():
    # 115 V · 15 A · 0.75 · 0.85 = 1100 W; at 1500 psi (10.34 MPa) 0.1063 L/s = 1.685 gpm.
    flow = outlet_flow(115, 15, 1500 * PSI, 0.75)
    assert flow * 1000 == pytest.approx(1099.7 / 10342, rel=1e-4)
    assert outlet_flow(115, 15, 1500 * PSI, 0.75, power_factor=0.8) == pytest.approx(0.8 * flow)


@pytest.mark.parametrize(
    "attempt",
    [
        lambda: hydraulic_power(-1.0, 1.0),
        lambda: engine_power(1e-3, 1e7, 1.2),
        lambda: engine_power(1e-3, 1e7, power_left=0.1),
        lambda: outlet_flow(0.0, 15, 1e7, 0.75),
        lambda: outlet_flow(115, 15, 1e7, 0.2),
    ],
)
def test_what_no_drive_does_is_refused(attempt):
    with pytest.raises(OutOfRange, match="must be"):
        attempt()
