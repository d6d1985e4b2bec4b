"""How many working points a second one core computes: `python -m tests.benchmark_hydraulics`.

Runs the setups of the test vectors, which mix full flow and regulated, one to several hoses,
straight and on the reel. Not collected by pytest: a time is no test.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from math import inf
from pathlib import Path
from time import perf_counter
from typing import Any

from refgen.hydraulics import (
    Jet,
    Pump,
    Rig,
    Segment,
    area_of_bore,
    area_of_number,
    margins,
    working_point,
)
from refgen.units import parse_quantity

VECTORS = Path(__file__).parent / "vectors" / "hydraulics.json"


def si(text: str) -> float:
    return parse_quantity(text).si


def rig_of(setup: dict[str, Any]) -> Rig:
    nozzle = setup["nozzle"]
    jets = [
        Jet(
            jet["count"],
            area_of_number(jet["number"])
            if "number" in jet
            else area_of_bore(si(jet["bore"]), nozzle["discharge_coefficient"]),
            si(jet["angle"]),
            jet["faces"],
        )
        for jet in nozzle["jets"]
    ]
    return Rig(
        si(setup["water"]["temperature"]),
        Pump(**{key: si(value) for key, value in setup["pump"].items()}),
        tuple(
            Segment(**{key: si(value) for key, value in hose.items()}) for hose in setup["hoses"]
        ),
        tuple(jets),
        nozzle["velocity_coefficient"],
        si(setup["nozzle_below_pump"]),
    )


def rate(compute: Callable[[Rig], object], rigs: list[Rig], rounds: int) -> float:
    """Return calls a second, the best of five runs."""
    best = inf
    for _ in range(5):
        start = perf_counter()
        for _ in range(rounds):
            for rig in rigs:
                compute(rig)
        best = min(best, perf_counter() - start)
    return rounds * len(rigs) / best


def main() -> None:
    cases = json.loads(VECTORS.read_text("utf-8"))["operating_point"]
    rigs = [rig_of(case["setup"]) for case in cases]
    for state in ("full flow", "regulated"):
        of_state = [rig for rig in rigs if working_point(rig).state == state]
        print(f"{state:>10}: {rate(working_point, of_state, 40):9,.0f} working points a second")
    print(f"{'all':>10}: {rate(working_point, rigs, 40):9,.0f} working points a second")
    print(f"{'margins':>10}: {rate(margins, rigs, 4):9,.0f} rigs a second")


if __name__ == "__main__":
    main()
