"""Where to set the regulator so that a soft pipe never meets more than its ceiling.

When jets plug or the nozzle stalls, the flow stops and with it the hose loss: the nozzle then
sees the full pressure of the pump. So hose loss is never counted on.
"""

from __future__ import annotations

from collections.abc import Iterable

from refgen.errors import OutOfRange
from refgen.hydraulics.ranges import require, require_positive
from refgen.hydraulics.water import GRAVITY


def gauge_error(full_scale: float, accuracy_class: float) -> float:
    """Return how far a gauge may be off anywhere on its dial [Pa].

    >>> round(gauge_error(34.5e6, 0.025))
    862500

    Args:
        full_scale: Highest pressure on the dial [Pa].
        accuracy_class: Class as a share of full scale [-], 0 to 0.1: class 2.5 is 0.025.

    Source:
        EN 837-1:1996: the class is the permitted error in percent of the span.
    """
    require_positive("full scale of the gauge [Pa]", full_scale)
    require("class of the gauge [-]", accuracy_class, 0.0, 0.1)
    return full_scale * accuracy_class


def regulator_setting(
    ceiling: float,
    error: float = 0.0,
    overshoot: float = 0.0,
    below_pump: float = 0.0,
    density: float = 1000.0,
    ratings: Iterable[float] = (),
) -> float:
    """Return the highest setting, as the gauge shows it [Pa], that keeps the ceiling.

    The peak at the pump is (setting + gauge error) × (1 + overshoot). With the weight of the
    water down to the nozzle on top, it must stay below the ceiling and below every rating. A
    nozzle that lies above the pump is given nothing: on the way there it may hang lower.

    Args:
        ceiling: Highest pressure allowed at the nozzle [Pa].
        error: How much the gauge may read too low [Pa], from `gauge_error`.
        overshoot: What the unloader adds when the flow stops, as a share [-], 0 to 0.5.
        below_pump: How far the nozzle may lie below the pump [m], −300 to 300.
        density: Density of the water [kg/m³].
        ratings: Rated pressure of the machine, hose, fittings and nozzle [Pa].

    Raises:
        OutOfRange: If nothing is left to set, or an argument lies outside its range.
    """
    require_positive("ceiling [Pa]", ceiling)
    require("gauge error [Pa]", error, 0.0)
    require("overshoot of the unloader [-]", overshoot, 0.0, 0.5)
    require("height of the pump above the nozzle [m]", below_pump, -300.0, 300.0)
    peak = min([ceiling, *ratings]) - density * GRAVITY * max(below_pump, 0.0)
    setting = peak / (1 + overshoot) - error
    if setting <= 0:
        raise OutOfRange("gauge error, overshoot and height leave no pressure to set")
    return setting
