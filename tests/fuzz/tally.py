"""Many sets of broken data, shared out among processes, and what came of them."""

from __future__ import annotations

import os
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from multiprocessing import get_context
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.fuzz.ground import lay_ground
from tests.fuzz.trial import Trial, make_case

BUILT = 40
"""One in so many accepted sets is built as well."""


@dataclass
class Tally:
    """What came of many sets."""

    refused: Counter[str] = field(default_factory=Counter)
    accepted: Counter[str] = field(default_factory=Counter)
    builds: int = 0
    slowest: float = 0.0
    largest: int = 0
    usual: float = 0.0
    faults: list[str] = field(default_factory=list)

    def add(self, other: Tally) -> None:
        self.refused += other.refused
        self.accepted += other.accepted
        self.builds += other.builds
        self.slowest = max(self.slowest, other.slowest)
        self.largest = max(self.largest, other.largest)
        self.usual = max(self.usual, other.usual)
        self.faults += other.faults


def run_sets(numbers: range, seed: int, built: int = BUILT) -> Tally:
    """Put these sets to the test, one after the other."""
    os.environ["NO_MKDOCS_2_WARNING"] = "1"
    tally = Tally()
    with TemporaryDirectory() as folder:
        trial = Trial(lay_ground(Path(folder)))
        tally.usual = trial.usual
        for number in numbers:
            case = make_case(trial.ground, seed, number)
            ran, faults = trial.faults(case, build=bool(built) and number % built == 0)
            (tally.accepted if ran.code == 0 else tally.refused)[case.ways[0]] += 1
            tally.builds += case.command == "build"
            tally.slowest = max(tally.slowest, ran.seconds)
            tally.largest = max(tally.largest, ran.memory)
            told = f"set {number} ({' + '.join(case.ways)}): "
            tally.faults += [told + fault for fault in faults]
    return tally


def run_all(sets: int, seed: int, workers: int, built: int = BUILT, first: int = 0) -> Tally:
    """Share the sets out among processes, and return what came of all."""
    shares = [range(first + start, first + sets, workers) for start in range(workers)]
    tally = Tally()
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        for done in [pool.submit(run_sets, share, seed, built) for share in shares]:
            tally.add(done.result())
    return tally
