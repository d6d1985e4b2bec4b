"""What a reader may look for: every record and page, with the names and words it goes by."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from refgen.addresses import NOT_FOUND, SEARCH, record_address
from refgen.catalog import Catalog, Entry
from refgen.model.base import ENTRY_KINDS, Model, Plain
from refgen.model.trouble import Symptom
from refgen.pages import Page
from refgen.views import View

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
KEPT_LINE = 96
"""Letters of the answer shown in a result, unless its first sentence is longer."""
LONGEST_LINE = 130


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


def findable(catalog: Catalog, pages: Iterable[Page]) -> tuple[Found, ...]:
    """Return everything that can be found, what goes before all else first."""
    return tuple(
        sorted(
            [*_records(catalog), *_pages(catalog, pages)],
            key=lambda f: (-f.weight, f.pattern, f.label, f.id),
        )
    )


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
        also = catalog.words.names.get(page.address.removesuffix(".html"), ())
        yield Found(WEIGHTS["pages"], "", "*", page.address, page.title, also, _line(line))


def _line(answer: str) -> str:
    """Return as many whole sentences as stand on the lines of a result, one at least."""
    sentences = re.split(r"(?<=[.?!])\s+", answer)
    line = sentences[0]
    for sentence in sentences[1:]:
        if len(line) + len(sentence) >= KEPT_LINE:
            break
        line += f" {sentence}"
    return line if len(line) <= LONGEST_LINE else line[:LONGEST_LINE].rsplit(" ", 1)[0] + " …"
