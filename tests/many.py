"""Records by the thousand, made up from those there are, for what must also hold when it grows."""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import cycle, islice

from refgen.findable import Found

_WORD = re.compile(r"[^\W\d_]{3,}")
_SYLLABLES = [a + b for a in "bdfglmnprstvck" for b in ("a", "e", "i", "o", "u", "ar", "en", "il")]
ANOTHER, NEW = 0.5, 0.06
"""Share of a record's words exchanged for another's, and for one that no record had yet."""


def many(found: Sequence[Found], wanted: int) -> tuple[Found, ...]:
    """Return so many things to find: those given, then others of the same make, the same each time.

    Each other one is a given one in which half the words stand for others, frequent ones for
    frequent ones, and some for new ones, as vocabulary grows with what is written.
    """
    dice = random.Random(1)
    counted = Counter(
        word for one in found for text in _texts(one) for word in _WORD.findall(text.lower())
    )
    common = list(counted.elements())
    made = list(islice(found, wanted))
    for number, one in enumerate(islice(cycle(found), wanted - len(made))):
        made.append(_another(one, number, dice, common))
    return tuple(sorted(made, key=lambda f: (-f.weight, f.pattern, f.label, f.id)))


def _texts(one: Found) -> tuple[str, ...]:
    return (one.title, *one.also, one.line, *one.heads, *one.body)


def _another(one: Found, number: int, dice: random.Random, common: Sequence[str]) -> Found:
    stands_for: dict[str, str] = {}

    def other(match: re.Match[str]) -> str:
        word = match[0].lower()
        if word not in stands_for:
            draw = dice.random()
            if draw < NEW:
                stands_for[word] = "".join(dice.choices(_SYLLABLES, k=dice.randint(2, 4)))
            elif draw < NEW + ANOTHER:
                stands_for[word] = dice.choice(common)
            else:
                stands_for[word] = word
        return stands_for[word] if match[0].islower() else stands_for[word].capitalize()

    def changed(text: str) -> str:
        return _WORD.sub(other, text)

    title = changed(one.title)
    return replace(
        one,
        title=title,
        id=f"{re.sub(r'[^a-z]+', '-', title.lower()).strip('-')}-{number}",
        also=tuple(changed(name) for name in one.also),
        line=changed(one.line),
        heads=tuple(changed(text) for text in one.heads),
        body=tuple(changed(text) for text in one.body),
    )
