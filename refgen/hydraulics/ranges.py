"""How a formula refuses a number outside the range in which it holds."""

from __future__ import annotations

from math import isfinite, isnan

from refgen.errors import OutOfRange


def require(what: str, value: float, low: float, high: float = float("inf")) -> None:
    """Refuse a value below `low`, above `high`, or not a finite number at all.

    Both ends belong to the range. `what` names the quantity and its unit for the reader.

    >>> require("slope [-]", 0.01, 0.0, 0.1)

    Raises:
        OutOfRange: If the value lies outside.
    """
    if isfinite(value) and low <= value <= high:
        return
    if isnan(value):
        raise OutOfRange(f"{what}: not a number")
    span = f"{low:g} or more" if high == float("inf") else f"from {low:g} to {high:g}"
    raise OutOfRange(f"{what} must be {span}, not {value:g}")


def require_positive(what: str, value: float) -> None:
    """Refuse zero, a negative value, and anything that is not a finite number.

    Raises:
        OutOfRange: If the value is not above zero.
    """
    if not (isfinite(value) and value > 0):
        raise OutOfRange(f"{what} must be more than 0, not {value:g}")
