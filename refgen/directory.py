"""The lists of all pages: a table for a trainer's own documents, and JSON for other programs."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator

from refgen.addresses import NOT_FOUND, record_address
from refgen.catalog import Catalog
from refgen.marks import short_addresses
from refgen.model.base import Ref
from refgen.pages import Page
from refgen.revisions import CATALOG, sizes_of
from refgen.views import View

ADDRESS = "addresses.csv"
# A spreadsheet takes a cell that begins so for a formula.
_ACTING = ("=", "+", "-", "@", "\t")


def addresses_csv(catalog: Catalog, pages: Iterable[Page]) -> str:
    """Return every page and every part of one that can be linked, a row each.

    Addresses are whole where the brand has one, else from the site's root. The mark before the
    first row tells spreadsheets that the file is UTF-8.
    """
    shorts = {target: short for short, (target, _) in reversed(short_addresses(catalog).items())}
    root = f"{catalog.brand.address.rstrip('/')}/" if catalog.brand.address else ""
    buffer = io.StringIO()
    writer = csv.writer(buffer, lineterminator="\r\n")
    writer.writerow(catalog.w[f"addresses_{name}"] for name in ("kind", "title", "whole", "short"))
    for kind, title, address in _rows(catalog, pages):
        short = shorts.get(address, "")
        writer.writerow([kind, _harmless(title), root + address, root + short if short else ""])
    return "\ufeff" + buffer.getvalue()


def catalog_json(catalog: Catalog, pages: Iterable[Page]) -> str:
    """Return the list of all pages as JSON, for those who link to them and for the next revision.

    A record also has its sizes, and hashes of what it says and of each part of it, by which
    changes are found; and what each part is called, by which it is told of when it is gone.
    """
    view = View(catalog, CATALOG)
    entries: list[dict[str, object]] = []
    for page in pages:
        if page.moved_to:
            continue
        entries.append(
            {
                "kind": page.kind,
                "id": page.id,
                "title": page.title,
                "address": page.address,
                "anchors": list(page.anchors),
            }
        )
        if entry := catalog.entries.get((page.kind, page.id)):
            parts = entry.parts
            titles = {name: view.item_title(*entry.key, name) for name in parts}
            entries[-1] |= {
                "says": entry.rest,
                "parts": parts,
                "titles": {name: title for name, title in titles.items() if title},
                "sizes": sizes_of(entry),
            }
    return json.dumps(entries, ensure_ascii=False, indent=1) + "\n"


def _rows(catalog: Catalog, pages: Iterable[Page]) -> Iterator[tuple[str, str, str]]:
    for page in pages:
        if page.moved_to or page.address == NOT_FOUND:
            continue
        entry = catalog.entries.get((page.kind, page.id))
        word = catalog.w[f"kind_{page.kind}_one"] if entry else ""
        yield word, page.title, page.address
        if entry:
            view = View(catalog, page.address, entry.key)
            for _, anchor, _ in entry.anchored():
                title = _title(view, Ref(*entry.key, anchor))
                yield word, title, record_address(*entry.key, anchor)
    for kind in ("terms", "sources"):
        for name, record in catalog.of_kind(kind).items():
            yield catalog.w[f"kind_{kind}_one"], str(record.title), record_address(kind, name)


def _title(view: View, ref: Ref) -> str:
    figure = view.catalog.figures.get((ref.kind, ref.id, ref.item))
    if figure is None:
        return view.link(ref).title
    label = figure.label or view.figure_name(ref.kind, ref.item)
    return f"{view.link((ref.kind, ref.id)).title}: {label}"


def _harmless(text: str) -> str:
    return f"'{text}" if text.startswith(_ACTING) else text
