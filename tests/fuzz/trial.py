"""One set of broken data put to `refgen check` or `refgen build` in a process of its own.

The process is forked, so everything unbroken has been read already, and it may hang, crash or eat
memory as it likes: its time and memory are measured from outside.
"""

from __future__ import annotations

import contextlib
import os
import random
import re
import resource
import signal
import sys
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import refgen.catalog
import refgen.project  # read once here, not in every child
import refgen.reports
import refgen.sources
from refgen.cli import main
from refgen.entries import read_entry
from refgen.nodes import read_text
from tests.fuzz import links, raw, singles, values  # noqa: F401  # they enter their ways
from tests.fuzz.breaks import WAYS, Outcome, Way
from tests.fuzz.ground import LAST_GOOD, Ground

MOST_TIME = 2.0
"""Processor time [s] beyond that of the unbroken data."""
MOST_MEMORY = 300_000
"""Resident memory [kB]."""
WAITED = 45.0
"""Time [s] after which a process that does nothing is ended."""
CRASHED = 70
_HEAD = re.compile(r"^(\d+) problems? in the data$", re.MULTILINE)
_PLACE = re.compile(r"^  (\S.*?):(\d+): .", re.MULTILINE)
_FOREIGN = re.compile(r"Traceback|pydantic|input_value|\btype=|https://errors|<class|object at 0x")


@dataclass(frozen=True)
class Case:
    """A set of broken data: which ways were taken, and what must come of it."""

    number: int
    ways: tuple[str, ...]
    outcome: Outcome
    edits: dict[str, Any]
    file: str
    line: int
    command: str


@dataclass(frozen=True)
class Ran:
    """How a command ended, what it said, and what it took."""

    code: int
    said: str
    seconds: float
    memory: int


def make_case(ground: Ground, seed: int, number: int) -> Case:
    """Return the set of this seed and number; the ways are gone through in turn."""
    rng = random.Random(f"{seed}/{number}")
    names = list(WAYS)
    taken: list[tuple[Way, Any]] = []
    wanted = 2 if rng.random() < 0.15 else 1
    turn = number
    while len(taken) < wanted:
        way = WAYS[names[turn % len(names)] if not taken else rng.choice(names)]
        broken = way.act(ground, rng)
        touched = {name for _, other in taken for name in other.edits}
        if broken is None or _meets(touched, set(broken.edits)):
            if rng.random() < 0.02:
                turn += 1  # nothing here that this way could break
            continue
        taken.append((way, broken))
    outcomes = {way.outcome for way, _ in taken}
    outcome: Outcome = "accepted"
    if len(taken) > 1 and "mkdocs.yml" in {n for _, b in taken for n in b.edits}:
        outcome = "either" if "refused" not in outcomes else "refused"
    elif "refused" in outcomes:
        outcome = "refused"
    elif "either" in outcomes:
        outcome = "either"
    edits = {name: content for _, broken in taken for name, content in broken.edits.items()}
    alone = taken[0][1] if len(taken) == 1 else None
    command = "build" if rng.random() < 0.1 and outcome == "refused" else "check"
    file, line = (alone.file, alone.line) if alone else ("", 0)
    return Case(number, tuple(w.name for w, _ in taken), outcome, edits, file, line, command)


def _meets(some: set[str], others: set[str]) -> bool:
    return any(
        a == b or a.startswith(f"{b}/") or b.startswith(f"{a}/") for a in some for b in others
    )


class Trial:
    """Runs commands on one ground, and judges what came of them."""

    def __init__(self, ground: Ground) -> None:
        self.ground = ground
        self._read = _Known(ground)
        # The first run reads what all later ones need; the second is what a run takes.
        self.usual = self.run("check", lasting=True).seconds
        first = self.run("check")
        assert first.code == 0, first.said
        self.usual = first.seconds

    def run(self, command: str, lasting: bool = False) -> Ran:
        """Run a command of refgen in a forked process; `lasting` runs it here first."""
        if lasting:
            self._read.fill()
        out = self.ground.root / ".said"
        child = os.fork()
        if child == 0:
            _command(self.ground.root, out, command, self._read)
        begun = time.monotonic()
        while True:
            ended, status, usage = os.wait4(child, os.WNOHANG)
            if ended:
                break
            if time.monotonic() - begun > WAITED:
                os.kill(child, signal.SIGKILL)
                _, status, usage = os.wait4(child, 0)
                break
            time.sleep(0.002)
        said = out.read_bytes().decode("utf-8", "backslashreplace") if out.exists() else ""
        code = os.waitstatus_to_exitcode(status)
        return Ran(code, said, usage.ru_utime + usage.ru_stime, usage.ru_maxrss)

    def faults(self, case: Case, build: bool = False) -> tuple[Ran, list[str]]:
        """Return how a set ran and what was wrong; `build` also builds what is accepted."""
        self.ground.apply(case.edits)
        try:
            ran = self.run(case.command)
            found = list(self._faults(case, ran))
            if build and ran.code == 0 and case.command == "check" and not found:
                built = self.run("build")
                if built.code:
                    found.append(f"accepted, and cannot be built: {built.said[-600:]}")
                return ran, found
            if self.ground.whole() != dict(LAST_GOOD.items()):
                found.append("the last good site was touched")
        finally:
            self.ground.restore({**case.edits, "out": None, "site": None, ".said": None})
            _put_back_site(self.ground)
        return ran, found

    def _faults(self, case: Case, ran: Ran):
        if ran.code not in (0, 1):
            yield f"ended with {ran.code}: {ran.said[-1500:]}"
            return
        if found := _FOREIGN.search(ran.said):
            yield f"says {found[0]!r}: {ran.said[-600:]}"
        if ran.seconds > self.usual + MOST_TIME:
            yield f"took {ran.seconds:.1f} s"
        if ran.memory > MOST_MEMORY:
            yield f"took {ran.memory // 1000} MB"
        if ran.code == 0 and case.outcome == "refused":
            yield "accepted"
        if ran.code == 1 and case.outcome == "accepted":
            yield f"refused: {ran.said[:600]}"
        if ran.code == 1:
            yield from self._told(case, ran.said)

    def _told(self, case: Case, said: str):
        places = _PLACE.findall(said)
        if "mkdocs.yml" in case.edits and re.search(
            r"^(\S*/)?mkdocs\.yml:(\d+:)? ", said, re.MULTILINE
        ):
            return
        head = _HEAD.search(said)
        if not head or not places:
            yield f"names no place: {said[:600]}"
            return
        for file, line in places:
            path = self.ground.root / os.fsencode(file).decode("utf-8", "surrogateescape")
            name = file
            known = path.exists() or path.is_symlink() or name in case.edits
            if (
                not known
                and file not in ("brand.yml", "words.yml", "data/nowhere")
                and "\\" not in file
            ):
                yield f"names a file that is not there: {file!r}"
            elif path.is_file() and path.stat().st_size < 1_000_000 and int(line) > 1:
                with contextlib.suppress(OSError):
                    lines = path.read_bytes().count(b"\n") + 1
                    if int(line) > lines:
                        yield f"names line {line} of {lines} in {file}"
        if case.file and case.file.isascii() and case.file not in [file for file, _ in places]:
            yield f"does not name {case.file}: {said[:600]}"
        elif case.line and (case.file, str(case.line)) not in places:
            yield f"does not name line {case.line} of {case.file}: {said[:400]}"


def _put_back_site(ground: Ground) -> None:
    for name, content in LAST_GOOD.items():
        (ground.root / "site" / name).parent.mkdir(parents=True, exist_ok=True)
        (ground.root / "site" / name).write_bytes(content)


class _Known:
    """What is read of the unbroken data, once: both functions depend on nothing but their input."""

    def __init__(self, ground: Ground) -> None:
        self.ground = ground
        self.texts: dict[tuple[str, str, str], Any] = {}
        self.entries: dict[tuple[Any, int], Any] = {}

    def fill(self) -> None:
        """Read everything."""
        for name, text in self.ground.texts.items():
            layer = name.split("/")[1] if "/" in name else ""
            self.texts[text, name, layer] = found = read_text(text, name, layer)
            if name.count("/") == 3 and found[0] is not None:
                key = name.split("/")[2], Path(name).stem
                self.entries[key, id(found[0])] = read_entry(key, found[0])

    def read_text(self, text: str, name: str, layer: str = "") -> Any:
        found = self.texts.get((text, name, layer))
        return found if found is not None else read_text(text, name, layer)

    def read_entry(self, key: Any, node: Any) -> Any:
        found = self.entries.get((key, id(node)))
        return found if found is not None else read_entry(key, node)


def _command(root: Path, out: Path, command: str, known: _Known) -> None:
    """Run one command in this process, which is a fork, and end it."""
    code = CRASHED
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (30, 30))
        resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
        os.chdir(root)
        file = os.open(out, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(file, 1)
        os.dup2(file, 2)
        os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
        # They stay open for as long as this child lives.
        sys.stdout = os.fdopen(1, "w", encoding="utf-8", closefd=False)
        sys.stderr = os.fdopen(2, "w", encoding="utf-8", errors="backslashreplace", closefd=False)
        refgen.sources.read_text = known.read_text
        refgen.catalog.read_entry = known.read_entry
        call: Callable[..., Any] = main
        call([command, "-f", "mkdocs.yml"], prog_name="refgen")
    except SystemExit as ended:
        code = ended.code if isinstance(ended.code, int) else 1
    except BaseException:
        traceback.print_exc()
    finally:
        with contextlib.suppress(Exception):
            sys.stdout.flush()
            sys.stderr.flush()
        os._exit(code)
