"""What an author should look at though it is not wrong."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from refgen.entries import Entry
from refgen.errors import Problem
from refgen.layers import Key
from refgen.references import CITATION
from refgen.spelling import cut
from refgen.units import UNITS

# Kinds whose records people look for by their own words; what is in stock goes by its name.
LOOKED_FOR = {
    *("symptoms", "paths", "procedures", "checklists", "hazards"),
    *("materials", "deposits", "patterns", "parts", "machines", "tables"),
}

_UNIT_WORDS = "|".join(
    sorted(
        (re.escape(u.symbol) for u in UNITS if u.symbol not in ("A", "V", "K", "h", "s", "m", "×")),
        key=len,
        reverse=True,
    )
)
_BARE_NUMBER = re.compile(rf"(?<![\w{{])\d[\d,./]*\s?(?:{_UNIT_WORDS})(?![\w])")


def bare_numbers(text: str) -> list[str]:
    """Return numbers with a unit that were typed into a text instead of being a quantity.

    >>> bare_numbers("Hold it under 1900 psi, {= 10 ft} from the 2-inch pipe.")
    ['1900 psi']
    """
    return _BARE_NUMBER.findall(CITATION.sub(" ", text))


def worth_a_look(entries: Mapping[Key, Entry]) -> Iterator[Problem]:
    """Yield typed numbers, records without other names, and names that two records go by."""
    for entry in entries.values():
        for path, text in entry.contents.texts:
            for number in bare_numbers(text):
                hint = f"Write '{{= {number}}}', or cite a figure, so that both units are shown."
                yield entry.problem(path, f"'{number}' is typed as plain text", hint)
    yield from _nameless(entries)
    yield from _claimed_twice(entries)


def _nameless(entries: Mapping[Key, Entry]) -> Iterator[Problem]:
    """Yield records that only their title finds, of the kinds that people look for."""
    for (kind, _), entry in entries.items():
        if kind in LOOKED_FOR and not entry.record.also_called:
            hint = "Add 'also_called: […]': slang, short forms, what a customer says."
            yield entry.problem(("title",), "goes by no other name, so few words find it", hint)


def _claimed_twice(entries: Mapping[Key, Entry]) -> Iterator[Problem]:
    """Yield names that two records go by, told of the later one.

    Names are compared as search compares them. The glossary explains words that are other pages'
    titles; that is what it is for.
    """
    hint = "Leave it to the page that answers it."
    claimed = {
        "".join(cut(entry.record.title)): entry
        for (kind, _), entry in reversed(list(entries.items()))
        if kind not in ("terms", "sources")
    }
    for entry in entries.values():
        for number, name in enumerate(entry.record.also_called):
            other = claimed.setdefault("".join(cut(name)), entry)
            if other is not entry:
                message = f"'{name}' is also claimed by {other.record.kind}/{other.id}"
                yield entry.problem(("also_called", number), message, hint)
