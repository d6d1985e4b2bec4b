"""The whole of refgen in one place: data in, pages and files out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from refgen import directory, search, worksheet
from refgen.catalog import Catalog, load_catalog
from refgen.layers import lay
from refgen.logos import read_logo
from refgen.model import KINDS
from refgen.pages import Page, catalog_json, render_pages
from refgen.sources import read_sources
from refgen.tables import compute_tables


@dataclass(frozen=True)
class Site:
    """Everything a build publishes, but for the frame around each page."""

    catalog: Catalog
    pages: tuple[Page, ...]
    files: dict[str, bytes]
    """Files that are no pages, by address."""


def read_catalog(layers: Iterable[Path], shown_from: Path) -> Catalog:
    """Return the checked catalog of some layers, told of relative to a folder."""
    layers = list(layers)
    laid = lay(read_sources(layers, KINDS, shown_from))
    brand = laid.singles["brand"].value if "brand" in laid.singles else None
    logo = read_logo(brand.get("logo") if isinstance(brand, dict) else None, layers, shown_from)
    return replace(load_catalog(laid), logo=logo)


def compose(layers: Iterable[Path], templates: Path, shown_from: Path) -> Site:
    """Turn the data into a site."""
    catalog = read_catalog(layers, shown_from)
    tables = compute_tables(catalog)
    pages = render_pages(catalog, tables, templates)
    files = {
        "catalog.json": catalog_json(pages).encode(),
        directory.ADDRESS: directory.addresses_csv(catalog, pages).encode(),
        search.ADDRESS: search.search_index(catalog, pages).encode(),
        **worksheet.worksheet_files(catalog, templates / "theme"),
    }
    for name, table in tables.items():
        files[f"tables/{name}.csv"] = table.csv().encode()
        files[f"tables/{name}.json"] = table.json().encode()
    return Site(catalog, tuple(pages), files)
