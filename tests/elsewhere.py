"""A build on another day, in another place: `python tests/elsewhere.py DAYS SEED COMMAND …`.

Runs a command of refgen with the clock set forward, and with folders listed in another order, as
another file system may list them.
"""

from __future__ import annotations

import datetime
import os
import random
import sys
import time
from collections.abc import Iterator
from typing import Any


def set_clock(days: int) -> None:
    """Set the clock forward by so many days, for everything that is imported after this."""
    ahead = days * 86_400
    now, now_ns = time.time, time.time_ns
    local, utc, text = time.localtime, time.gmtime, time.strftime
    time.time = lambda: now() + ahead
    time.time_ns = lambda: now_ns() + ahead * 10**9
    time.localtime = lambda s=None: local(now() + ahead if s is None else s)
    time.gmtime = lambda s=None: utc(now() + ahead if s is None else s)
    time.strftime = lambda form, t=None: text(form, t or time.localtime())

    class Moment(datetime.datetime):
        @classmethod
        def now(cls, tz: datetime.tzinfo | None = None) -> Any:
            return cls.fromtimestamp(time.time(), tz)

        @classmethod
        def utcnow(cls) -> Any:
            return cls.fromtimestamp(time.time(), datetime.UTC).replace(tzinfo=None)

    class Day(datetime.date):
        @classmethod
        def today(cls) -> Any:
            return cls.fromtimestamp(time.time())

    datetime.datetime, datetime.date = Moment, Day


def shuffle_folders(seed: int) -> None:
    """List every folder in another order."""
    rng = random.Random(seed)
    listdir, scandir = os.listdir, os.scandir

    class Shuffled:
        def __init__(self, path: Any = ".") -> None:
            with scandir(path) as found:
                self.entries = list(found)
            rng.shuffle(self.entries)

        def __enter__(self) -> Shuffled:
            return self

        def __exit__(self, *_: object) -> None:
            self.close()

        def __iter__(self) -> Iterator[Any]:
            return iter(self.entries)

        def __next__(self) -> Any:
            if not self.entries:
                raise StopIteration
            return self.entries.pop()

        def close(self) -> None:
            self.entries = []

    def listed(path: Any = ".") -> list[Any]:
        found = listdir(path)
        rng.shuffle(found)
        return found

    os.listdir, os.scandir = listed, Shuffled


if __name__ == "__main__":
    set_clock(int(sys.argv[1]))
    if int(sys.argv[2]):
        shuffle_folders(int(sys.argv[2]))
    from refgen.cli import main

    main(sys.argv[3:], prog_name="refgen")
