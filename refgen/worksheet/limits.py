"""In which range each number may lie, read from where it is checked.

A formula states its ranges in its own `require("what [unit]", value, low, high)`, a model's field
in its `Of(...)` or `Field(ge=..., le=...)`. They are read from there and typed nowhere else.
"""

from __future__ import annotations

import ast
import inspect
import math
from functools import cache
from types import ModuleType
from typing import Any, get_args

from refgen.model.base import Of
from refgen.units import parse_quantity

Range = tuple[float, float | None]


@cache
def ranges_in(module: ModuleType) -> dict[str, Range]:
    """Return the range of each quantity that a module's formulas require, by its name there.

    Ranges that depend on another number are left out; no upper end is None.
    """
    found: dict[str, Range] = {}
    for node in ast.walk(ast.parse(inspect.getsource(module))):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
            continue
        if not node.args or not isinstance(node.args[0], ast.Constant):
            continue
        what = str(node.args[0].value)
        if node.func.id == "require":
            ends = [_number(end, module) for end in node.args[2:4]]
            if None not in ends and ends[0] is not None:
                found[what] = (ends[0], ends[1] if len(ends) > 1 else None)
        elif node.func.id == "require_positive":
            found.setdefault(what, (0.0, None))
    return found


def _number(node: ast.expr, module: ModuleType) -> float | None:
    """Return what a constant expression stands for, or None if it depends on an argument."""
    if isinstance(node, ast.Constant) and isinstance(node.value, (int, float)):
        return float(node.value)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        value = _number(node.operand, module)
        return None if value is None else -value
    if isinstance(node, ast.Name):
        value = getattr(module, node.id, None)
        return float(value) if isinstance(value, (int, float)) else None
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "radians":
        value = _number(node.args[0], module)
        return None if value is None else math.radians(value)
    return None


def range_of(module: ModuleType, what: str) -> Range:
    """Return the range that a module's formulas require of one quantity."""
    return ranges_in(module)[what]


def range_of_type(annotated: Any) -> Range:
    """Return the range of a type or field of the model, such as `Pressure`, in SI."""
    low, high = 0.0, None
    for part in (annotated, *get_args(annotated)):
        if isinstance(part, Of):
            low = parse_quantity(part.low).si if part.low else 0.0
            high = parse_quantity(part.high).si if part.high else None
        for rule in getattr(part, "metadata", ()):
            low = float(getattr(rule, "ge", low))
            high = float(rule.le) if hasattr(rule, "le") else high
    return low, high
