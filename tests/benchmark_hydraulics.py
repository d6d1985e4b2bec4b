"""How fast the numbers come on one core: `python -m tests.benchmark_hydraulics`.

Runs the setups of the test vectors, which mix full flow and regulated, one to several hoses,
straight and on the reel; then all computed tables of the demonstration, and how they grow with 1,
10 and 100 machines. Not collected by pytest: a time is no test.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Callable
from functools import partial
from math import inf
from pathlib import Path
from time import perf_counter
from typing import TypeVar

from refgen.answers import answer, read_setup
from refgen.catalog import Catalog
from refgen.compose import read_catalog
from refgen.hydraulics import (
    margins,
    working_point,
)
from refgen.model.lookup import Table
from refgen.tables import COMPUTED, compute_tables
from tests.rigs import rig_of_vector

ROOT = Path(__file__).resolve().parents[1]
VECTORS = Path(__file__).parent / "vectors" / "hydraulics.json"


T = TypeVar("T")


def rate(compute: Callable[[T], object], cases: list[T], rounds: int) -> float:
    """Return calls a second, the best of five runs."""
    best = inf
    for _ in range(5):
        start = perf_counter()
        for _ in range(rounds):
            for case in cases:
                compute(case)
        best = min(best, perf_counter() - start)
    return rounds * len(cases) / best


SETUPS = [
    "pump: {flow: 8 gpm, pressure: 3000 psi}\nhoses: [{bore: 3/8 in, length: 300 ft}]\n",
    "lance: {flow: 18 gpm, pressure: 2500 psi}\n",
    "pump: {flow: 12 gpm, pressure: 3500 psi}\nhoses: [{bore: 1/2 in, length: 200 ft}]\n"
    "nozzle: {jets: [{count: 6, bore: 1.2 mm, angle: 20 deg, faces: rear}]}\n"
    "what_if: {worn_by: [5 %, 10 %], plugged: [{rear: 1}]}\nchoose: {jets: [6]}\n",
]


def answered(text: str) -> str:
    return answer(read_setup(text, "setup.yml")).text()


def seconds(compute: Callable[[], object]) -> float:
    """Return how long a computation takes [s], the best of five runs."""
    best = inf
    for _ in range(5):
        start = perf_counter()
        compute()
        best = min(best, perf_counter() - start)
    return best


def write(path: Path, text: str, without: str) -> None:
    """Write a record without one of its lines: links to machines that are not there."""
    path.parent.mkdir(parents=True, exist_ok=True)
    lines = [line for line in text.splitlines() if not line.startswith(without)]
    path.write_text("\n".join(lines), "utf-8")


def fleet_of(machines: int | None) -> Catalog:
    """Return the demonstration, or the base with so many copies of its trailer."""
    company = ROOT / "data" / "pebblecombe"
    if machines is None:
        return read_catalog([ROOT / "data" / "base", company], ROOT)
    with tempfile.TemporaryDirectory() as folder:
        layer = Path(folder) / "fleet"
        for kind in ("hoses", "nozzles"):
            for file in (company / kind).glob("*.yml"):
                write(layer / kind / file.name, file.read_text("utf-8"), "see:")
        trailer = (company / "machines" / "rowan-trailer.yml").read_text("utf-8")
        for number in range(machines):
            copy = trailer.replace("title: Rowan trailer", f"title: Trailer {number}")
            write(layer / "machines" / f"trailer-{number}.yml", copy, "also_called:")
        return read_catalog([ROOT / "data" / "base", layer], Path(folder))


def main() -> None:
    cases = json.loads(VECTORS.read_text("utf-8"))["operating_point"]
    rigs = [rig_of_vector(case["setup"]) for case in cases]
    for state in ("full flow", "regulated"):
        of_state = [rig for rig in rigs if working_point(rig).state == state]
        print(f"{state:>10}: {rate(working_point, of_state, 40):9,.0f} working points a second")
    print(f"{'all':>10}: {rate(working_point, rigs, 40):9,.0f} working points a second")
    print(f"{'margins':>10}: {rate(margins, rigs, 4):9,.0f} rigs a second")
    print(f"{'answers':>10}: {rate(answered, SETUPS, 4):9,.0f} setups a second, from YAML to text")
    catalog = fleet_of(None)
    print(f"\n{'tables':>10}: {seconds(lambda: compute_tables(catalog)):9.3f} s for all")
    for name, record in catalog.of_kind("tables").items():
        if isinstance(record, Table) and record.compute:
            spent = seconds(partial(COMPUTED[record.compute], record, catalog))
            print(f"{name:>20}: {spent * 1e3:7.2f} ms")
    print()
    for machines in (1, 10, 100):
        many = fleet_of(machines)
        spent = seconds(partial(compute_tables, many))
        print(f"{machines:>4} machines: {spent:8.3f} s, {spent / machines * 1e3:7.2f} ms a machine")


if __name__ == "__main__":
    main()
