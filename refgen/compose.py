"""The whole of refgen in one place: data in, pages and files out."""

from __future__ import annotations

import gc
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from refgen import (
    addresses,
    directory,
    feed,
    findable,
    news,
    phrases,
    revisions,
    search,
    worksheet,
)
from refgen.catalog import Catalog, load_catalog
from refgen.entries import forget
from refgen.forks import processors, shared_out
from refgen.layers import lay
from refgen.logos import hardly_seen, read_logo
from refgen.model import KINDS
from refgen.pages import Page, render_pages
from refgen.revisions import Revision, figures_json, read_revision
from refgen.sources import read_sources
from refgen.tables import ComputedTable, compute_tables
from refgen.views import View


@contextmanager
def uncollected() -> Iterator[None]:
    """Keep the collector of circular garbage from going over the data while it grows.

    Hardly any is made, and each of its rounds goes over all records again: a third of the time.
    """
    before = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if before:
            gc.enable()


@dataclass(frozen=True)
class Site:
    """Everything a build publishes, but for the frame around each page."""

    catalog: Catalog
    pages: tuple[Page, ...]
    files: dict[str, bytes]
    """Files that pages load, by address."""
    exports: dict[str, bytes]
    """Files to take away or for other programs, by address; no page needs them to be shown."""


@uncollected()
def read_catalog(layers: Iterable[Path], shown_from: Path) -> Catalog:
    """Return the checked catalog of some layers, told of relative to a folder."""
    layers = list(layers)
    laid = lay(read_sources(layers, KINDS, shown_from))
    wrong = phrases.problems_with(laid)
    laid = replace(laid, problems=(*laid.problems, *wrong))
    brand = laid.singles["brand"].value if "brand" in laid.singles else None
    named = brand.get("logo") if isinstance(brand, dict) else None
    logo = read_logo(named, layers, shown_from)
    catalog = load_catalog(laid)
    if named is None or logo is None:
        return catalog
    ground = catalog.brand.colours.logo_ground or catalog.brand.colours.primary
    return replace(catalog, logo=logo, advice=(*catalog.advice, *hardly_seen(named, logo, ground)))


def compose(
    layers: Iterable[Path],
    templates: Path,
    shown_from: Path,
    since: Path | None = None,
    again: bool = True,
) -> Site:
    """Turn the data into a site.

    Args:
        layers: Folders of data, the later laid over the earlier.
        templates: Folder of the templates.
        shown_from: Folder relative to which files are told of.
        since: Folder that keeps an earlier revision, to tell the changes from.
        again: Whether this process will read the same data again, and soon. Then what it has
            read is kept for that; else less memory is held and all processors are used.
    """
    catalog = read_catalog(layers, shown_from)
    if not again:
        forget()
        settled = {key: entry.settled() for key, entry in catalog.entries.items()}
        catalog = replace(catalog, entries=settled)
    parts = 1 if again else processors()
    tables = compute_tables(catalog)
    before = read_revision(since) if since else None
    pages = render_pages(catalog, tables, templates, before, parts)

    def files_or_exports(part: int) -> dict[str, bytes]:
        if part == 0:
            return _files(catalog, pages, templates)
        return _exports(catalog, pages, tables, before)

    made = [*shared_out(files_or_exports, 2)] if parts > 1 else [*map(files_or_exports, (0, 1))]
    return Site(catalog, tuple(pages), *made)


def _files(catalog: Catalog, pages: Sequence[Page], templates: Path) -> dict[str, bytes]:
    """Return the files that pages load, by address."""
    found = findable.findable(catalog, pages)
    index = search.search_index(found, catalog.w, catalog.words.synonyms)
    script = worksheet.worksheet_script(catalog, templates / "theme")
    return {search.ADDRESS: index.encode(), worksheet.SCRIPT: script.encode()}


def _exports(
    catalog: Catalog,
    pages: Sequence[Page],
    tables: Mapping[str, ComputedTable],
    before: Revision | None,
) -> dict[str, bytes]:
    """Return the files to take away or for other programs, by address."""
    view = View(catalog, addresses.CHANGES)
    exports = {
        revisions.CATALOG: directory.catalog_json(catalog, pages),
        revisions.FIGURES: figures_json(catalog, news.figure_names(view)),
        directory.ADDRESS: directory.addresses_csv(catalog, pages),
    }
    for name, table in tables.items():
        exports[f"tables/{name}.csv"] = table.csv()
        exports[f"tables/{name}.json"] = table.json()
    if catalog.brand.address:
        exports[feed.ADDRESS] = feed.feed(catalog, news.changes(view, before))
    return {address: text.encode() for address, text in exports.items()}
