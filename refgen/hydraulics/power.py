"""Power: what the water takes, what an engine must give, what an electric outlet allows."""

from __future__ import annotations

from refgen.hydraulics.ranges import require, require_positive

# Overall efficiency of a plunger pump in good order: 0.80 to 0.90.
PUMP_EFFICIENCY = 0.85


def hydraulic_power(flow: float, pressure: float) -> float:
    """Return the power of the water [W]: flow [m³/s] × pressure [Pa]."""
    require("flow [m³/s]", flow, 0.0)
    require("pressure [Pa]", pressure, 0.0)
    return flow * pressure


def engine_power(
    flow: float,
    pressure: float,
    pump_efficiency: float = PUMP_EFFICIENCY,
    drive_efficiency: float = 1.0,
    power_left: float = 1.0,
    continuous: float = 1.0,
) -> float:
    """Return the rated power [W] an engine needs to drive a pump at this duty.

    Args:
        flow: Flow of the pump, bypass included [m³/s].
        pressure: Pressure at the pump [Pa].
        pump_efficiency: Overall efficiency of the pump [-], 0.5 to 1.
        drive_efficiency: Of belts or gears [-], 0.5 to 1.
        power_left: Share of the rating left at this height and heat [-], 0.3 to 1; see `derate`.
        continuous: Share of the rating that may be asked for hour after hour [-], 0.5 to 1;
            0.80 to 0.85 of a maker's gross rating.
    """
    require("efficiency of the pump [-]", pump_efficiency, 0.5, 1.0)
    require("efficiency of the drive [-]", drive_efficiency, 0.5, 1.0)
    require("share of the power left [-]", power_left, 0.3, 1.0)
    require("share for continuous duty [-]", continuous, 0.5, 1.0)
    share = pump_efficiency * drive_efficiency * power_left * continuous
    return hydraulic_power(flow, pressure) / share


def outlet_flow(
    volts: float,
    amps: float,
    pressure: float,
    motor_efficiency: float,
    pump_efficiency: float = PUMP_EFFICIENCY,
    power_factor: float = 1.0,
) -> float:
    """Return the most flow [m³/s] a single-phase outlet can drive at a pressure.

    Args:
        volts: Voltage at the machine, with the extension cord's drop taken off [V].
        amps: Current of the circuit [A].
        pressure: Pressure at the pump [Pa].
        motor_efficiency: Of the motor [-], 0.4 to 1: small motors about 0.75.
        pump_efficiency: Of the pump [-], 0.5 to 1.
        power_factor: Of the motor [-], 0.4 to 1; 1 gives the most that can ever be.
    """
    require_positive("voltage [V]", volts)
    require_positive("current [A]", amps)
    require_positive("pressure [Pa]", pressure)
    require("efficiency of the motor [-]", motor_efficiency, 0.4, 1.0)
    require("efficiency of the pump [-]", pump_efficiency, 0.5, 1.0)
    require("power factor [-]", power_factor, 0.4, 1.0)
    return volts * amps * power_factor * motor_efficiency * pump_efficiency / pressure
