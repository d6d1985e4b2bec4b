"""What later layers may not do to safety without a reason."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import takewhile

from refgen.errors import Problem
from refgen.layers import Override
from refgen.messages import read_model
from refgen.model.figure import Ceiling, HeatLimit
from refgen.nodes import Node
from refgen.noted import Noted, changed_below, said

# Fields whose loss or change can hurt someone.
_SAFETY_FIELDS = {
    "cautions",
    "stop",
    "hazards",
    "prevent",
    "first_response",
    "signal",
    "first",
    "harm",
    "tell_hospital",
    "defer_to",
    "ceilings",
    "heat",
    "urgent",
}
_LIMITS = {"ceilings", "heat"}


def judge(
    overrides: Iterable[Override], noted: Mapping[str, Noted]
) -> tuple[tuple[Override, ...], list[Problem]]:
    """Return the overrides that touch safety, and those that lack a reason.

    Args:
        overrides: What later layers changed or hid.
        noted: What each layer says its overrides were made against, so that one which the layers
            below have turned from stricter to laxer is told as that.
    """
    overrides = tuple(overrides)
    below = {(o.place, o.path): difference for o, difference in changed_below(overrides, noted)}
    kept: list[Override] = []
    problems: list[Problem] = []
    for override in overrides:
        if not _touches_safety(override):
            continue
        kept.append(override)
        if override.reason or _only_stricter(override):
            continue
        kind, name = override.record
        hint = "Add 'reason: …'; it is shown on the page."
        limit = bool(_LIMITS & _fields_of(override))
        if limit and override.now is None:
            message = f"takes away a limit of {kind}/{name}: {said(override.was)}"
        elif limit and override.now is not None:
            told = f"{said(override.was)}, here {said(override.now)}"
            message = f"raises a limit of {kind}/{name}: {told}"
            hint = f"Keep to it, or a{hint[1:]}"
        elif override.now is None:
            message = f"hides a safety text of {kind}/{name}"
        else:
            message = f"changes a safety text of {kind}/{name}"
        if (override.place, override.path) in below:
            hint = "Follow them, or add 'reason: …'; it is shown on the page."
            hint = f"The layers below {below[override.place, override.path]}. {hint}"
        problems.append(Problem(override.place, ".".join(override.path), message, hint))
    return tuple(kept), problems


def _fields_of(override: Override) -> set[str]:
    """Return the fields that lead to what was changed, without what figures are called."""
    return {*takewhile(lambda name: name != "figures", override.fields)}


def _touches_safety(override: Override) -> bool:
    if _SAFETY_FIELDS & _fields_of(override) or _holds_safety(override.was):
        return True
    # What keeps a hazard away often hangs on a distance or a time.
    return override.record[0] == "hazards" and override.path[:1] in ((), ("figures",))


def _holds_safety(node: Node) -> bool:
    """Whether a safety text or limit stands somewhere inside: with its step, a caution goes too."""
    if isinstance(node.value, dict):
        return bool(_SAFETY_FIELDS & node.value.keys()) or any(
            _holds_safety(inner) for inner in node.value.values()
        )
    return isinstance(node.value, list) and any(_holds_safety(inner) for inner in node.value)


def _only_stricter(override: Override) -> bool:
    """Whether a limit was only made stricter, which anyone may do."""
    if override.now is None or not _LIMITS & _fields_of(override):
        return False
    model = HeatLimit if "heat" in override.fields else Ceiling
    old, _ = read_model(model, override.was)
    new, _ = read_model(model, override.now)
    if old is None or new is None:
        return True  # what is wrong with them is told elsewhere
    if isinstance(old, Ceiling) and isinstance(new, Ceiling) and (old.jet or new.jet):
        return new.jet == "no" or (new.jet is not None and old.jet in (None, new.jet))
    assert old.is_ is not None  # as only a ceiling that says 'jet' may be
    assert new.is_ is not None
    return new.is_.si <= old.is_.si and (new.to or new.is_).si <= (old.to or old.is_).si
