"""How an answer is told: amounts, sentences with amounts in them, and parts made of both.

A part is worked out once, in SI. It is told as data under names that say their unit, or as a person
reads it, the answer first, in either system of units.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from refgen.hydraulics import Margin
from refgen.tables.shape import (
    at_least,
    at_most,
    both,
    digits_borne,
    duration,
    one,
    percent,
    trade_number,
)
from refgen.units import System, round_to

_COLUMN = 24
"""Width of the names before the numbers."""


@dataclass(frozen=True, slots=True)
class Amount:
    """One value in SI with its kind: a kind of `shape.both`, or one told alike in both systems.

    Attributes:
        si: The value.
        what: Kind of quantity, such as `pressure`, `time`, `share`, `number`, `plain` or `Pa`;
            a `limit` is a pressure that is rounded down, a `least` a length rounded up.
        margin: How far it can be off, where that was worked out.
        digits: Digits it bears; left out, what its margin lets it bear.
    """

    si: float
    what: str
    margin: Margin | None = None
    digits: int | None = None

    def text(self, first: System) -> str:
        """Return the amount as told."""
        return self._shown(self.si, first, self._digits())

    def span(self, first: System) -> str:
        """Return between which values it may lie, or '' if nothing moves it."""
        margin = self.margin
        if margin is None or not (margin.lower or margin.upper):
            return ""
        low = self.si - margin.lower
        if self.si >= 0 and self.what not in ("head", "temperature"):
            low = max(low, 0.0)
        ends = [self._shown(end, first, 3) for end in (low, self.si + margin.upper)]
        (one, other), (high, high_other) = (_apart(text) for text in ends)
        return f"{one} to {high}" + (f" ({other} to {high_other})" if other else "")

    def _digits(self) -> int:
        if self.digits is not None:
            return self.digits
        if self.margin is None or not self.si:
            return 3
        return digits_borne(self.si, self.margin)

    def _shown(self, si: float, first: System, digits: int) -> str:
        if self.what == "time":
            return duration(si)
        if self.what == "share":
            return percent(si, digits)
        if self.what == "number":
            return trade_number(si)
        if self.what == "plain":
            return round_to(si, digits)
        if self.what == "limit":
            return str(at_most(si, "pressure", first, digits))
        if self.what == "least":
            return str(at_least(si, "bore", first))
        if self.what in ("Pa", "rpm"):
            return one(si, self.what, digits)
        return str(both(si, self.what, first, digits))


def _apart(text: str) -> tuple[str, str]:
    """Return what stands before the bracket, and in it."""
    head, _, tail = text.partition(" (")
    return head, tail.removesuffix(")")


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence with amounts in it."""

    template: str
    amounts: Mapping[str, Amount | str]

    def text(self, first: System) -> str:
        """Return it as told."""
        told = {
            name: amount if isinstance(amount, str) else amount.text(first)
            for name, amount in self.amounts.items()
        }
        return self.template.format(**told)

    def with_more(self, template: str, **amounts: Amount | str) -> Sentence:
        """Return the sentence with more words, and amounts in them, at its end."""
        return Sentence(self.template + template, {**self.amounts, **amounts})


def say(template: str, **amounts: Amount | str) -> Sentence:
    """Return a sentence; `{name}` in it stands for the amount of that name."""
    return Sentence(template, amounts)


@dataclass(frozen=True, slots=True)
class Number:
    """One number of an answer: its name in the data, what it is, and what is said beside it."""

    name: str
    title: str
    amount: Amount
    beside: Sentence | None = None


@dataclass(frozen=True, slots=True)
class Case:
    """One of several things compared: what it is, in words and as data, and its numbers."""

    label: Sentence
    numbers: tuple[Number, ...] = ()
    data: Mapping[str, Any] = field(default_factory=dict)
    said: tuple[Sentence, ...] = ()
    """What is said before the numbers."""
    more: tuple[Sentence, ...] = ()
    """What is said after them."""


@dataclass(frozen=True, slots=True)
class Part:
    """The answer to one question of a setup.

    Attributes:
        name: Its name in the data; '' for the working point, which stands at the top.
        title: What it is about, for people.
        said: The answer, a sentence each.
        numbers: The numbers behind it.
        cases: What was compared.
        working: How the numbers came about.
        heed: What must be told with them.
        data: What the data hold besides the numbers.
        forbids: Whether it forbids the work; then it is told before everything else.
    """

    name: str
    title: str
    said: tuple[Sentence, ...]
    numbers: tuple[Number, ...] = ()
    cases: tuple[Case, ...] = ()
    working: tuple[Sentence, ...] = ()
    heed: tuple[Sentence, ...] = ()
    data: Mapping[str, Any] = field(default_factory=dict)
    forbids: bool = False

    def values(self) -> dict[str, Any]:
        """Return the part as data: SI numbers, their margins, and what was compared."""
        found: dict[str, Any] = {**self.data, **_values(self.numbers)}
        if self.cases:
            found["cases"] = [{**case.data, **_values(case.numbers)} for case in self.cases]
        return found

    def lines(self, first: System) -> Iterator[str]:
        """Yield the lines of numbers, comparisons, working and notes."""
        yield from number_lines(self.numbers, first)
        for case in self.cases:
            yield f"  {case.label.text(first)}"
            yield from (f"    {sentence.text(first)}" for sentence in case.said)
            yield from (f"  {line}" for line in number_lines(case.numbers, first))
            yield from (f"    {sentence.text(first)}" for sentence in case.more)
        if self.working:
            yield from ("", "Working")
            yield from (f"  {line.text(first)}" for line in self.working)
        if self.heed:
            yield ""
            yield from (sentence.text(first) for sentence in self.heed)


def _values(numbers: Iterable[Number]) -> dict[str, Any]:
    found: dict[str, Any] = {number.name: number.amount.si for number in numbers}
    margins = {
        number.name: {
            "lower": number.amount.margin.lower,
            "upper": number.amount.margin.upper,
            "cause": number.amount.margin.cause,
        }
        for number in numbers
        if number.amount.margin is not None
    }
    return {**found, "margins": margins} if margins else found


def number_lines(numbers: tuple[Number, ...], first: System) -> Iterator[str]:
    """Yield each number with its margin and what is said beside it."""
    width = max([_COLUMN, *(len(number.title) for number in numbers)])
    for number in numbers:
        yield f"  {number.title:{width}} {number.amount.text(first)}"
        span, margin = number.amount.span(first), number.amount.margin
        if span and margin is not None:
            cause = CAUSES.get(margin.cause, margin.cause)
            yield f"  {'':{width}} may be {span}, most from {cause}"
        if number.beside is not None:
            yield f"  {'':{width}} {number.beside.text(first)}"


CAUSES = {
    "discharge-coefficient": "how well the jets pass water",
    "trade-number": "how true the trade number is",
    "velocity-coefficient": "how fast the jets really are",
    "hose-bore": "the true bore of the hose",
    "roughness": "the roughness of the liner",
    "couplings": "couplings and swivel",
    "coil": "the coils on the reel",
    "pump-flow": "what the pump really gives",
    "pressure-limit": "the gauge it was set by",
    "water-temperature": "the temperature of the water",
    "antifreeze": "how strong the antifreeze is",
}
"""What the causes of a margin are called; other causes are told as they stand."""
