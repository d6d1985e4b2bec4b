"""Words as search compares them: cut from a text, and bare of their endings.

Both are written a second time in `site_templates/theme/search-words.js`; a test compares.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_FRACTION = re.compile(r"[¼-¾⅐-⅞]")
_TOKEN = re.compile(r"[0-9]+(?:[./][0-9]+)*|[^\W\d_][^\W_]*")


def cut(text: str) -> tuple[str, ...]:
    """Return the words of a text as search compares them: small, bare of accents.

    >>> cut("Won't fit: 2½-inch hose, 3000psi")
    ('wont', 'fit', '2', '1/2', 'inch', 'hose', '3000', 'psi')
    """
    bare = text.lower()
    if not bare.isascii():
        spread = unicodedata.normalize("NFKD", _FRACTION.sub(r" \g<0>", bare))
        bare = "".join(letter for letter in spread if unicodedata.category(letter) != "Mn")
    bare = re.sub(r"['’]", "", bare).replace("⁄", "/")
    return tuple(_TOKEN.findall(re.sub(r"([0-9]),(?=[0-9]{3})", r"\1", bare)))


@lru_cache(maxsize=32_768)
def root(word: str, endings: tuple[str, ...]) -> str:
    """Return a word without its ending, so that 'leaks', 'leaky' and 'leaking' meet.

    >>> [root(word, ("ing", "es", "s", "e", "y")) for word in ("plugging", "hoses", "gas")]
    ['plug', 'hos', 'gas']
    """
    if len(word) < 4 or not word.isalpha():
        return word
    for ending in endings:
        stem = word[: -len(ending)]
        if word.endswith(ending) and len(stem) >= 3 and re.search("[aeiouy]", stem):
            word = stem
            break
    return word[:-1] if len(word) > 3 and word[-1] == word[-2] else word
