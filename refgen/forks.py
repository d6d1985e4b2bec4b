"""Work shared out over the processors, by forks of this process that hand back what they made."""

from __future__ import annotations

import os
import pickle
import signal
import sys
import threading
from collections.abc import Callable
from typing import TypeVar

T = TypeVar("T")
_MOST = 4


def processors() -> int:
    """Return into how many parts work can be shared out here, 1 if not at all.

    Forks are safe where no thread can hold a lock while the process is copied, and on Linux, where
    the system's own libraries allow them.
    """
    if sys.platform != "linux" or threading.active_count() > 1:
        return 1
    return min(len(os.sched_getaffinity(0)), _MOST)


def shared_out(work: Callable[[int], T], parts: int) -> list[T]:
    """Return `work(0)`, `work(1)` … for so many parts, made side by side.

    A part whose fork comes to grief is made here, where an error in it can be raised.
    """
    forks = [(part, *_fork(work, part)) for part in range(1, parts)]
    try:
        made = [work(0)]
        for part, _, pipe in forks:
            try:
                with os.fdopen(pipe, "rb", closefd=False) as handed:
                    made.append(pickle.load(handed))
            except (EOFError, pickle.UnpicklingError):
                made.append(work(part))
    finally:
        for _, process, pipe in forks:
            os.close(pipe)
            os.kill(process, signal.SIGKILL)  # has ended by now, unless there was an error here
            os.waitpid(process, 0)
    return made


def _fork(work: Callable[[int], T], part: int) -> tuple[int, int]:
    """Return the id of a fork that does a part, and the pipe by which it hands it back."""
    ours, its = os.pipe()
    if process := os.fork():
        os.close(its)
        return process, ours
    try:
        with os.fdopen(its, "wb") as handed:
            handed.write(pickle.dumps(work(part), pickle.HIGHEST_PROTOCOL))
    finally:
        os._exit(0)  # without what this process would do at its end
