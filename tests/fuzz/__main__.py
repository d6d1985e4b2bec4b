"""Break the real data and see what becomes of it: `python -m tests.fuzz --sets 5000 --seed 1`.

Each set is the real data with one or two things broken. `refgen check` must refuse what cannot be
right, with file and line, and accept what can; it must not crash, hang or eat memory, and a build
of broken data must leave the last good site as it was. Ends with 1 if anything was wrong.
"""

from __future__ import annotations

import argparse
import sys

from tests.fuzz.breaks import WAYS
from tests.fuzz.tally import run_all


def main() -> None:
    """Run and tell."""
    options = argparse.ArgumentParser(description="Break the real data, and check what is said.")
    options.add_argument("--sets", type=int, default=5000)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--first", type=int, default=0)
    options.add_argument("--workers", type=int, default=2)
    chosen = options.parse_args()
    tally = run_all(chosen.sets, chosen.seed, chosen.workers, first=chosen.first)
    for name, way in WAYS.items():
        refused, accepted = tally.refused[name], tally.accepted[name]
        print(f"{name:48} {way.outcome:9} {refused:5} refused {accepted:5} accepted")
    every = tally.refused.total(), tally.accepted.total()
    print(f"{'all':48} {'':9} {every[0]:5} refused {every[1]:5} accepted")
    print(
        f"{tally.builds} by build; usual {tally.usual:.2f} s, slowest {tally.slowest:.2f} s, "
        f"largest {tally.largest / 1000:.0f} MB"
    )
    for fault in tally.faults:
        print(f"  {fault}")
    sys.exit(1 if tally.faults else 0)


if __name__ == "__main__":
    main()
