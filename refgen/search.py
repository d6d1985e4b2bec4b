"""The search index: one classic script that the search page loads on first use.

What is shown (title, one line, address) and the names a thing goes by stand in it as text, a
column each, which is what gzip likes best. The words of the sections stand in it as a table:
each word, cut short by what it shares with the word before, and the numbers of the records that
use it. So the phone need not read the sections, nor hold them.

`cut` and `root` are written a second time in `site_templates/theme/search.js`; a test compares.
"""

from __future__ import annotations

import json
import math
import posixpath
import re
import sys
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from refgen.addresses import ENTRY_KINDS, NOT_FOUND, SEARCH, record_address
from refgen.catalog import Catalog, Entry
from refgen.model.base import Model, Plain
from refgen.model.trouble import Symptom
from refgen.pages import Page
from refgen.views import View

ADDRESS = "assets/search-index.js"
FORMAT = 1
"""Raised when the script must read the index in another way."""

# How far a kind goes before another where both fit alike: what is seen and what can hurt first,
# then what to do and what it is, then what it means, last what it rests on.
WEIGHTS: Mapping[str, float] = {
    "symptoms": 1.2,
    "hazards": 1.15,
    "procedures": 1.15,
    "paths": 1.05,
    "materials": 1.15,
    "deposits": 1.1,
    "parts": 1.05,
    "sources": 0.5,
    "lessons": 0.8,
    "terms": 0.8,
    "pages": 0.9,
}
URGENT = 1.05
"""What belongs on the emergency page goes before the rest of its kind by this factor."""
KEPT_WORDS = 50
"""Words of the sections kept for a record, those that tell it best from the others."""
KEPT_LINE = 96
"""Letters of the answer shown in a result, unless its first sentence is longer."""
LONGEST_LINE = 130

# Characters that stand for numbers; those that JavaScript or HTML could take for a sign are out.
CODES = "".join(chr(n) for n in range(33, 127) if chr(n) not in "\"\\<>&'`")
_LAST = 58  # codes below it end a number, the others go on

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


@dataclass(frozen=True)
class Found:
    """One thing that can be found."""

    weight: float
    label: str
    pattern: str
    """Its address, with a star for the id."""
    id: str
    title: str
    also: tuple[str, ...] = ()
    line: str = ""
    heads: tuple[str, ...] = ()
    """Texts that name a part of it: causes, sections, parts in question."""
    body: tuple[str, ...] = field(default=(), repr=False)


def search_index(catalog: Catalog, pages: Iterable[Page]) -> str:
    """Return the script that holds the index of everything a reader may look for."""
    found = sorted(
        [*_records(catalog), *_pages(catalog, pages)],
        key=lambda f: (-f.weight, f.pattern, f.label, f.id),
    )
    index = {
        "format": FORMAT,
        "codes": CODES,
        "last": _LAST,
        "skip": catalog.w["search_skip"],
        "endings": catalog.w["search_endings"],
        "synonyms": "\n".join(
            "|".join(" ".join(cut(word)) for word in group) for group in catalog.words.synonyms
        ),
        "runs": _runs(found),
        "ids": "\n".join(f.id for f in found),
        "titles": "\n".join(f.title for f in found),
        "also": "\n".join("|".join(name.replace("|", " ") for name in f.also) for f in found),
        "lines": "\n".join(f.line for f in found),
        **_table(found, catalog.w),
    }
    return f"window.refgenIndex = {_script_json(index)};\n"


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


# ---- what can be found


def _records(catalog: Catalog) -> Iterator[Found]:
    for key, entry in catalog.entries.items():
        kind, name = key
        record = entry.record
        view = View(catalog, record_address(kind, name), key)
        weight = WEIGHTS.get(kind, 1.0) * (URGENT if getattr(record, "urgent", False) else 1.0)
        yield Found(
            round(weight, 3),
            view.w[f"kind_{kind}_one"],
            record_address(kind, "*"),
            name,
            record.title,
            record.also_called,
            _line(view.plain(record.answer)) if kind != "sources" else "",
            tuple(_heads(catalog, view, entry)),
            tuple(view.plain(text) for _, text in entry.contents.texts),
        )


def _heads(catalog: Catalog, view: View, entry: Entry) -> Iterator[str]:
    record = entry.record
    yield from (text for text in _plain_texts(record) if text not in record.also_called)
    if record.group:
        yield catalog.w[f"group_{record.group.replace('-', '_')}"]
    if isinstance(record, Symptom):
        yield from (str(view.cause(cause).title) for cause in record.causes)
    for path, ref in entry.contents.refs:
        # What a machine lacks, or a step is not for, says nothing of what the page is about.
        if ref.kind in ("parts", "deposits") and not {"not_fitted", "unless"} & set(path):
            yield catalog.entries[ref.kind, ref.id].record.title


def _plain_texts(value: object) -> Iterator[str]:
    if isinstance(value, Plain):
        yield str(value)
    elif isinstance(value, Model):
        for name in type(value).model_fields:
            yield from _plain_texts(getattr(value, name))
    elif isinstance(value, (tuple, dict)):
        for inner in value.values() if isinstance(value, dict) else value:
            yield from _plain_texts(inner)


def _pages(catalog: Catalog, pages: Iterable[Page]) -> Iterator[Found]:
    """Yield what is no record: indexes, handbooks, pages of their own."""
    for page in pages:
        if page.address in (SEARCH, NOT_FOUND) or page.moved_to:
            continue
        if (page.kind, page.id) in catalog.entries and page.kind not in ENTRY_KINDS:
            continue
        line = page.description if page.description != page.title else ""
        yield Found(WEIGHTS["pages"], "", "*", page.address, page.title, (), _line(line))


def _line(answer: str) -> str:
    """Return as many whole sentences as stand on the lines of a result, one at least."""
    sentences = re.split(r"(?<=[.?!])\s+", answer)
    line = sentences[0]
    for sentence in sentences[1:]:
        if len(line) + len(sentence) >= KEPT_LINE:
            break
        line += f" {sentence}"
    return line if len(line) <= LONGEST_LINE else line[:LONGEST_LINE].rsplit(" ", 1)[0] + " …"


# ---- the table of words


def _table(found: Sequence[Found], words: Mapping[str, str]) -> dict[str, str]:
    """Return the words of the sections, and for each the records that use it."""
    skip = set(cut(words["search_skip"]))
    endings = tuple(words["search_endings"].split())
    uses = [_uses(one, skip, endings) for one in found]
    shown = _representatives(found, uses, endings)
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
        for name in sorted(weights, key=lambda n: (-weights[n], n))[:KEPT_WORDS]:
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


def _representatives(
    found: Sequence[Found], uses: Sequence[Mapping[str, object]], endings: tuple[str, ...]
) -> dict[str, str]:
    """Return for each word the one that stands for its root: a name's word if there is one."""
    named = {w for one in found for text in (one.title, *one.also) for w in cut(text)}
    shown: dict[str, str] = {}
    words = sorted({w for used in uses for w in used}, key=lambda w: (len(w), w))
    for word in words:
        stem = root(word, endings)
        if stem not in shown or (word in named and shown[stem] not in named):
            shown[stem] = word
    return {word: shown[root(word, endings)] for word in words}
