"""How data are broken, one function a way, and what must come of it.

A way knows by itself whether what it does can be right: `refused` is never so, `accepted` always
is, and of `either` the data decide, which a build of what was accepted proves.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from tests.fuzz.ground import Edits, Ground, Value

Outcome = Literal["refused", "accepted", "either"]


@dataclass(frozen=True)
class Broken:
    """One way taken: what was done, and in which file and on which line that must be told."""

    edits: Edits
    file: str = ""
    line: int = 0


@dataclass(frozen=True)
class Way:
    """A way to break data."""

    name: str
    outcome: Outcome
    act: Callable[[Ground, random.Random], Broken | None]


WAYS: dict[str, Way] = {}


def way(outcome: Outcome) -> Callable[[Callable[..., Broken | None]], Callable[..., Broken | None]]:
    """Enter a function among the ways, under its own name in words."""

    def enter(act: Callable[..., Broken | None]) -> Callable[..., Broken | None]:
        name = act.__name__.replace("_", " ")
        assert name not in WAYS, name
        WAYS[name] = Way(name, outcome, act)
        return act

    return enter


def of_last_layer(ground: Ground, rng: random.Random, sort: str) -> Value:
    """Return any value that no later layer overrides."""
    while True:
        value = rng.choice(ground.values[sort])
        if value.file != "data/base/brand.yml":
            return value


def instead(ground: Ground, value: Value, written: str) -> Broken:
    """Write something else in the place of one value."""
    return Broken(ground.replaced(value, written), value.file, value.line)
