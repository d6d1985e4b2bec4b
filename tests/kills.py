"""Builds killed at random times: `python -m tests.kills --times 30 --seed 1`.

The demonstration is built in two states by turns, and each build is killed somewhere on its way.
What stands in its place afterwards must be the whole site of one state or of the other.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import random
import shutil
import signal
import sys
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from refgen.project import open_project

ROOT = Path(__file__).resolve().parents[1]


def print_of(site: Path) -> str:
    """Return a hash of a site: every file's address and bytes."""
    found = hashlib.sha256()
    for path in sorted(site.rglob("*")):
        if path.is_file():
            found.update(f"{path.relative_to(site)}\n".encode() + path.read_bytes())
    return found.hexdigest()


def _built(config: Path) -> int:
    """Begin a build in a process of its own; return its number."""
    child = os.fork()
    if child == 0:
        code = 1
        try:
            os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
            open_project(config).build()
            code = 0
        finally:
            os._exit(code)
    return child


def kill_builds(config: Path, turn: Callable[[int], None], times: int, seed: int) -> Counter[str]:
    """Kill builds at random times; return how many left the old site, the new, or neither.

    Args:
        config: The project's mkdocs.yml.
        turn: Puts the data into state 0 or 1.
        times: How many builds are killed.
        seed: Of the times at which they are.
    """
    site, rng, came = open_project(config).site, random.Random(seed), Counter[str]()
    prints, longest = [], 0.0
    for state in (0, 1, 0):
        turn(state)
        begun = time.monotonic()
        _, status = os.waitpid(_built(config), 0)
        assert status == 0
        longest = max(longest, time.monotonic() - begun)
        prints.append(print_of(site))
    assert prints[0] == prints[2] != prints[1]
    stands = prints[0]
    for _ in range(times):
        state = rng.randrange(2)
        turn(state)
        child = _built(config)
        # Half of them around the end, where the new site takes the place of the old one.
        share = rng.random() if rng.random() < 0.5 else rng.uniform(0.75, 1.1)
        time.sleep(share * longest)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        former = site.with_name(f".{site.name}.former")
        left = print_of(site if site.exists() else former)
        if left not in prints:
            came["neither"] += 1
        else:
            came["as it was" if left == stands else "the new one"] += 1
        stands = left
    turn(1)
    assert os.waitpid(_built(config), 0)[1] == 0
    if print_of(site) != prints[1] or len(list(site.parent.glob(f".{site.name}.*"))):
        came["not put right"] += 1
    return came


def main() -> None:
    """Kill builds of the demonstration and tell."""
    options = argparse.ArgumentParser(description="Kill builds at random times.")
    options.add_argument("--times", type=int, default=30)
    options.add_argument("--seed", type=int, default=1)
    chosen = options.parse_args()
    with TemporaryDirectory() as folder:
        root = Path(folder)
        shutil.copytree(ROOT / "data" / "pebblecombe", root / "data" / "pebblecombe")
        (root / "files").mkdir()
        config = (ROOT / "mkdocs.yml").read_text("utf-8")
        config = config.replace("site_templates/docs", "files")
        (root / "mkdocs.yml").write_text(config, "utf-8")
        term = root / "data" / "pebblecombe" / "terms" / "trial.yml"
        term.parent.mkdir()

        def turn(state: int) -> None:
            term.write_text(f"title: Trial\nanswer: State {state}.\n", "utf-8")

        came = kill_builds(root / "mkdocs.yml", turn, chosen.times, chosen.seed)
    for what, count in sorted(came.items()):
        print(f"{what:12} {count:4}")
    sys.exit(1 if came["neither"] or came["not put right"] else 0)


if __name__ == "__main__":
    main()
