"""`refgen serve` through many edits: `python -m tests.endure --edits 200 --seed 1`.

Edits good and bad fall on a small project while it is served. After each, the page must answer,
and show what was written if it was good, what was there before if it was bad; the memory held must
not grow with the number of edits.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.hostile import tamed, write_project

ROOT = Path(__file__).resolve().parents[1]
LONGEST_ANSWER = 5.0
"""Time [s] within which a page answers, whatever has been written."""
LONGEST_WAIT = 30.0
"""Time [s] within which a good edit is shown, on a machine with much else to do."""
MOST_GROWTH = 40_000
"""Memory [kB] that may be held more after all edits than after the first tenth of them."""


@dataclass
class Endured:
    """What came of the edits."""

    edits: Counter[str] = field(default_factory=Counter)
    shown: list[float] = field(default_factory=list)
    answered: list[float] = field(default_factory=list)
    memory: list[int] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    @property
    def growth(self) -> int:
        """Memory [kB] that came on between the first tenth of the edits and the last."""
        tenth = max(1, len(self.memory) // 10)
        return max(self.memory[-tenth:]) - max(self.memory[: tenth + 1])


class Served:
    """A project while `refgen serve` shows it."""

    def __init__(self, root: Path) -> None:
        self.root, self.layer = root, root / "data"
        write_project(root, tamed)
        self.term = self.layer / "terms" / "trial.yml"
        self.write("As first written.")
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.log = root.with_name("serve.log")
        with self.log.open("w") as out:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "refgen", "serve", "--port", str(self.port)],
                cwd=root,
                stdout=out,
                stderr=subprocess.STDOUT,
                env={**os.environ, "PYTHONPATH": str(ROOT), "NO_MKDOCS_2_WARNING": "1"},
            )

    def write(self, text: str) -> None:
        self.term.write_text(f"title: Trial\nanswer: {text}\n", "utf-8")

    def answers(self, text: str) -> tuple[bool, float]:
        """Return whether the page has a text, and how long it took to answer."""
        begun = time.monotonic()
        try:
            url = f"http://127.0.0.1:{self.port}/terms/index.html"
            with urllib.request.urlopen(url, timeout=LONGEST_WAIT) as answer:
                found = text in answer.read().decode()
        except OSError:
            return False, time.monotonic() - begun
        return found, time.monotonic() - begun

    def waits_for(self, text: str) -> float | None:
        """Return how long it took until the page had a text, None if it never had."""
        begun = time.monotonic()
        while time.monotonic() - begun < LONGEST_WAIT:
            if self.answers(text)[0]:
                return time.monotonic() - begun
            time.sleep(0.02)
        return None

    def told(self, before: int) -> bool:
        """Wait until a mistake is told in the log."""
        begun = time.monotonic()
        while time.monotonic() - begun < LONGEST_WAIT:
            if "Showing the last good pages" in self.log.read_text("utf-8", "replace")[before:]:
                return True
            time.sleep(0.02)
        return False

    def memory(self) -> int:
        """Return the memory [kB] that the server holds."""
        status = Path(f"/proc/{self.process.pid}/status").read_text()
        return int(status.split("VmRSS:")[1].split()[0])

    def stop(self) -> None:
        self.process.send_signal(signal.SIGINT)
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.kill()


BAD = {
    "broken yaml": "title: Trial\nanswer: [a\n",
    "a field nobody knows": "title: Trial\nanswer: A.\nzzz: x\n",
    "an empty file": "",
    "a link to nothing": "title: Trial\nanswer: A.\nsee: [terms/zzz]\n",
    "a citation of nothing": "title: Trial\nanswer: 'A {zzz}.'\n",
    "a binary file": "\x00\x01\x02",
}
BAD_ELSEWHERE = {
    "a broken brand": ("data/brand.yml", "name: [x\n"),
    "a broken mkdocs.yml": ("mkdocs.yml", "site_name: [x\n"),
    "no plugin": ("mkdocs.yml", "site_name: x\n"),
    "broken words": ("data/words.yml", "words: {home: '{nope}'}\n"),
    "a stray folder": ("data/zzz/a.yml", "x: y\n"),
    "a record gone": ("data/hazards/injection.yml", None),
}


def endure(root: Path, edits: int, seed: int) -> Endured:
    """Edit a served project so many times, and return what came of it."""
    rng, found, served = random.Random(seed), Endured(), Served(root)
    try:
        if served.waits_for("As first written.") is None:
            found.faults.append(f"does not begin: {served.log.read_text()[-800:]}")
            return found
        good = "As first written."
        for number in range(edits):
            good = _edit(served, rng, found, number, good)
            found.memory.append(served.memory())
            if served.process.poll() is not None:
                found.faults.append(f"edit {number}: the server ended")
                break
    finally:
        served.stop()
    if "Traceback" in (log := served.log.read_text("utf-8", "replace")):
        found.faults.append(log[log.index("Traceback") :][:800])
    return found


def _edit(served: Served, rng: random.Random, found: Endured, number: int, good: str) -> str:
    """Make one edit, look at the page, and put right what was bad; return what it shows now."""
    kind = rng.choice(["good", "good", "many at once", *BAD, *BAD_ELSEWHERE])
    found.edits[kind] += 1
    before = len(served.log.read_text("utf-8", "replace"))
    path, kept = served.term, served.term.read_bytes()
    text = f"As written at edit {number}."
    if kind == "good":
        served.write(text)
    elif kind == "many at once":
        for turn in range(30):
            served.write(f"Half {turn}: [" if turn % 3 == 1 else f"Half {turn}.")
        served.write(text)
    elif kind in BAD:
        path.write_text(BAD[kind], "utf-8")
    else:
        name, content = BAD_ELSEWHERE[kind]
        path = served.root / name
        kept = path.read_bytes() if path.exists() else b""
        if content is None:
            path.unlink()
        else:
            path.parent.mkdir(exist_ok=True)
            path.write_text(content, "utf-8")
    if kind in ("good", "many at once"):
        took = served.waits_for(text)
        if took is None:
            found.faults.append(f"edit {number} ({kind}): is not shown")
        else:
            found.shown.append(took)
        return text
    if not served.told(before):
        found.faults.append(f"edit {number} ({kind}): is not told")
    there, took = served.answers(good)
    found.answered.append(took)
    if not there or took > LONGEST_ANSWER:
        found.faults.append(f"edit {number} ({kind}): the last good page took {took:.1f} s")
    if kind == "a stray folder":
        shutil.rmtree(path.parent)
    else:
        path.write_bytes(kept)
    served.write(text)
    if (shown := served.waits_for(text)) is None:
        found.faults.append(f"edit {number} ({kind}): what was mended after it is not shown")
    else:
        found.shown.append(shown)
    return text


def main() -> None:
    """Run and tell."""
    options = argparse.ArgumentParser(description="Serve a project through many edits.")
    options.add_argument("--edits", type=int, default=200)
    options.add_argument("--seed", type=int, default=1)
    chosen = options.parse_args()
    with TemporaryDirectory() as folder:
        root = Path(folder) / "project"
        root.mkdir()
        found = endure(root, chosen.edits, chosen.seed)
    for kind, count in sorted(found.edits.items()):
        print(f"{kind:24} {count:4}")
    print(
        f"shown after at most {max(found.shown):.2f} s, {sum(found.shown) / len(found.shown):.2f} s"
    )
    print(f"last good page within {max(found.answered, default=0):.2f} s")
    print(f"memory {found.memory[0] / 1000:.0f} to {found.memory[-1] / 1000:.0f} MB")
    print(f"grew by {found.growth / 1000:.1f} MB")
    if found.growth > MOST_GROWTH:
        found.faults.append("it leaks")
    print("\n".join(found.faults))
    sys.exit(1 if found.faults else 0)


if __name__ == "__main__":
    main()
