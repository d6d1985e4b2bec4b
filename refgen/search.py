"""The search index: one classic script that the search page loads on first use.

What is shown (title, one line, address) and the names a thing goes by stand in it as text, a
column each, which is what gzip likes best; the names bare of small words and of endings, since
nobody reads them there. The words of the sections stand in it as a table:
each word, cut short by what it shares with the word before, and the numbers of the records that
use it. So the phone need not read the sections, nor hold them.
"""

from __future__ import annotations

import json
import math
import posixpath
import re
import sys
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from refgen.findable import Found
from refgen.spelling import cut, root

ADDRESS = "assets/search-index.js"
FORMAT = 2
"""Raised when the script must read the index in another way."""

KEPT_WORDS = 22
"""Words of the sections kept for a record, those that tell it best from the others; one less for
each name, as names say more of it in fewer bytes."""
KEPT_LEAST = 6
"""Words of the sections kept for a record with many names."""
KEPT_IN_ALL = 9_000
"""Words kept of all records together: of thousands each keeps fewer, and the phone still waits no
longer for the index."""
# Characters that stand for numbers; those that JavaScript or HTML could take for a sign are out.
CODES = "".join(chr(n) for n in range(33, 127) if chr(n) not in "\"\\<>&'`")
_LAST = 58  # codes below it end a number, the others go on


def number(value: int) -> str:
    """Return a number, 0 or more, in as few characters of `CODES` as it needs.

    >>> [len(number(value)) for value in (0, 57, 58, 1739, 1740)]
    [1, 1, 2, 2, 3]
    """
    text = ""
    while value >= _LAST:
        rest, digit = divmod(value - _LAST, len(CODES) - _LAST)
        text, value = text + CODES[_LAST + digit], rest
    return text + CODES[value]


def search_index(
    found: Sequence[Found], words: Mapping[str, str], synonyms: Iterable[Sequence[str]]
) -> str:
    """Return the script that holds the index of what can be found, in the order given.

    Args:
        found: What can be found; those of one kind stand together.
        words: The interface's words: of them those that tell nothing, and the endings.
        synonyms: Groups of words that mean the same.
    """
    skip = set(cut(_skipped(words)))
    endings = tuple(words["search_endings"].split())
    forms = _forms(found, endings)
    index = {
        "format": FORMAT,
        "codes": CODES,
        "last": _LAST,
        "skip": _skipped(words),
        "endings": words["search_endings"],
        "synonyms": "\n".join(
            "|".join(" ".join(cut(word)) for word in group) for group in synonyms
        ),
        "runs": _runs(found),
        "ids": "\n".join("" if f.id == slug(f.title) else f.id for f in found),
        "titles": "\n".join(f.title for f in found),
        "also": "\n".join("|".join(_names(f, forms, skip, endings)) for f in found),
        "lines": "\n".join(f.line for f in found),
        **_table(found, forms, skip, endings),
    }
    return f"window.refgenIndex = {_script_json(index)};\n"


def slug(title: str) -> str:
    """Return the id that most records of that title have, and that need not be written then.

    >>> slug("Engine starts, then dies"), slug("Düse")
    ('engine-starts-then-dies', '')
    """
    return "-".join(re.findall("[a-z0-9]+", title.lower())) if title.isascii() else ""


def _skipped(words: Mapping[str, str]) -> str:
    """Return the words that tell nothing: the small ones, and those of speech."""
    return f"{words['search_skip']} {words['search_speech']}"


# ---- names


def _forms(found: Iterable[Found], endings: tuple[str, ...]) -> dict[str, str]:
    """Return for each root in what is shown and in names its commonest form."""
    said = Counter(w for f in found for text in (f.title, *f.also, f.line) for w in cut(text))
    forms: dict[str, str] = {}
    for word in sorted(said, key=lambda w: (-said[w], len(w), w)):
        forms.setdefault(root(word, endings), word)
    return forms


def _names(
    one: Found, forms: Mapping[str, str], skip: set[str], endings: tuple[str, ...]
) -> list[str]:
    """Return its other names, bare of what search passes over, each word in its commonest form."""
    names: dict[str, None] = {}
    for name in one.also:
        words = cut(name)
        telling = [word for word in words if word not in skip]
        if len(telling) < 2:  # 'which nozzle' is not called 'nozzle'
            telling = list(words)
        names[" ".join(forms[root(word, endings)] for word in telling)] = None
    return sorted(names)


def _script_json(value: object) -> str:
    """Return JSON that stays harmless in a script, wherever the script is put."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text


def _runs(found: Sequence[Found]) -> list[list[str | float | int]]:
    """Return how many in a row share weight, label and pattern of address."""
    runs: list[list[str | float | int]] = []
    for one in found:
        if runs and runs[-1][:3] == [one.weight, one.label, one.pattern]:
            runs[-1][3] = int(runs[-1][3]) + 1
        else:
            runs.append([one.weight, one.label, one.pattern, 1])
    return runs


# ---- the table of words


def _table(
    found: Sequence[Found], forms: Mapping[str, str], skip: set[str], endings: tuple[str, ...]
) -> dict[str, str]:
    """Return the words of the sections, and for each the records that use it."""
    uses = [_uses(one, skip, endings) for one in found]
    shown = _shown(uses, forms, endings)
    records = Counter(name for used in uses for name in {shown[word] for word in used})
    rarities = {name: math.log(len(found) / count) for name, count in records.items()}
    kept: dict[str, list[tuple[int, bool]]] = {}
    for place, used in enumerate(uses):
        weights: dict[str, float] = {}
        heads: set[str] = set()
        for word, count in used.items():
            name, is_head = shown[word], count < 0
            weight = rarities[name] * math.log1p(abs(count) + 2 * is_head)
            weights[name] = weights.get(name, 0.0) + weight
            if is_head:
                heads.add(name)
        most = max(KEPT_LEAST, KEPT_WORDS - len(found[place].also))
        most = min(most, KEPT_IN_ALL // len(found))
        for name in sorted(weights, key=lambda n: (-weights[n], n))[:most]:
            kept.setdefault(name, []).append((place, name in heads))
    table, posts, before = [], [], ""
    for word in sorted(kept):
        shared = len(posixpath.commonprefix([word, before]))
        table.append(number(shared) + word[shared:])
        places = [-1, *(place for place, _ in kept[word])]
        posts.append(
            "".join(
                number(2 * (place - last) + is_head)
                for last, (place, is_head) in zip(places, kept[word], strict=False)
            )
        )
        before = word
    return {"words": " ".join(table), "posts": " ".join(posts)}


def _uses(one: Found, skip: set[str], endings: tuple[str, ...]) -> dict[str, int]:
    """Return how often its sections use words that are not its names'; below 0 if in a head."""
    named = {root(word, endings) for word in cut("\n".join((one.title, *one.also, one.line)))}
    heads = Counter(cut("\n".join(dict.fromkeys(one.heads))))
    body = Counter(cut("\n".join(one.body)))
    return {
        sys.intern(word): -heads[word] - body[word] if word in heads else body[word]
        for word in {**heads, **body}
        if not (len(word) < 2 or word[0].isdigit() or word in skip or root(word, endings) in named)
    }


def _shown(
    uses: Sequence[Mapping[str, object]], forms: Mapping[str, str], endings: tuple[str, ...]
) -> dict[str, str]:
    """Return for each word the one that stands for its root: that of the names if they have it."""
    shown = dict(forms)
    words = sorted({word for used in uses for word in used}, key=lambda w: (len(w), w))
    for word in words:
        shown.setdefault(root(word, endings), word)
    return {word: shown[root(word, endings)] for word in words}
