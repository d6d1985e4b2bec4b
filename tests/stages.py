"""The stages from folders to catalog, as the tests run them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from refgen.catalog import Catalog, load_catalog
from refgen.layers import Laid, lay
from refgen.model import KINDS
from refgen.sources import Sources, read_sources

SMALL = Path(__file__).parent / "small"
"""A layer with a record or two of each kind, enough to make a catalog of."""


@cache
def _small() -> Sources:
    """Return the small layer, which is the same for every test: read once, told as `small/…`."""
    return read_sources([SMALL], KINDS, SMALL.parent)


def sources_of(layers: list[Path]) -> Sources:
    """Return what was read; files are told from the folder the last layer lies in."""
    if layers[:1] != [SMALL]:
        return read_sources(layers, KINDS, layers[-1].parent)
    small, above = _small(), read_sources(layers[1:], KINDS, layers[-1].parent)
    return Sources((*small.layers, *above.layers), (*small.problems, *above.problems))


def laid_of(layers: list[Path]) -> Laid:
    """Return the layers laid over each other."""
    return lay(sources_of(layers))


def catalog_from(layers: list[Path]) -> Catalog:
    """Return the catalog of some layers."""
    return load_catalog(laid_of(layers))
