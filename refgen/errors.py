"""The two kinds of error that cross a border, and how a mistake in the data is told."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import islice


class RefgenError(Exception):
    """Anything the person at the keyboard can put right."""


class OutOfRange(RefgenError, ValueError):
    """A formula was asked for a number where it does not hold."""


@dataclass(frozen=True, order=True, slots=True)
class Place:
    """Where a value was written: file as the author knows it, line from 1, and its layer."""

    file: str
    line: int
    layer: str = ""


@dataclass(frozen=True, order=True, slots=True)
class Problem:
    """One thing wrong at one place in the data, with what to write instead."""

    place: Place
    field: str
    message: str
    hint: str = ""

    def __str__(self) -> str:
        where = f"{self.place.file}:{self.place.line}"
        fact = f"{self.field}: {self.message}" if self.field else self.message
        return f"{where}: {fact}" + (f"\n    {self.hint}" if self.hint else "")


class DataError(RefgenError):
    """The data cannot become a site; carries every problem found, not just the first."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = sorted(set(problems))
        super().__init__(str(self))

    def __str__(self) -> str:
        count = len(self.problems)
        head = f"{count} problem{'s' * (count != 1)} in the data"
        return "\n".join([head, *(f"  {problem}" for problem in self.problems)])


MOST_TOLD = 200
"""Mistakes told of one file; whoever has made more of them mends these first."""


def first_of(problems: Iterable[Problem], file: Place) -> list[Problem]:
    """Return the first problems with a file, and a last one that says that there are more."""
    found = list(islice(problems, MOST_TOLD + 1))
    if len(found) <= MOST_TOLD:
        return found
    message = f"more is wrong here than the {MOST_TOLD} mistakes told"
    return [*found[:MOST_TOLD], Problem(file, "", message, "Mend these first.")]


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return a hint that names the closest known word, or all of them where they are few."""
    words = sorted(set(known))
    if close := get_close_matches(word, words, n=1):
        return f"Did you mean '{close[0]}'?"
    if not words:
        return ""
    return f"Known: {', '.join(words)}." if len(words) <= 12 else ""
