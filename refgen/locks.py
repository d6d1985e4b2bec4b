"""The files in which a layer keeps what was published and what its overrides rest on."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from refgen.catalog import Catalog
from refgen.noted import FILE, write_noted
from refgen.published import Lock, write_lock


def note_overrides(catalog: Catalog, layers: Iterable[Path]) -> list[Path]:
    """Write each layer's `overrides.yml` anew; return the files that changed."""
    written = []
    for layer in layers:
        path = layer / FILE
        text = write_noted(catalog.every_override, layer.name)
        before = path.read_text("utf-8") if path.exists() else ""
        if text == before:
            continue
        if text:
            path.write_text(text, "utf-8")
        else:
            path.unlink()
        written.append(path)
    return written


def lock_layers(catalog: Catalog, layers: Iterable[Path]) -> list[tuple[Path, int]]:
    """Write each layer's `published.yml`; return the files with how many addresses are new."""
    written = []
    for layer in layers:
        anchors = {
            key: entry.anchors
            for key, entry in catalog.entries.items()
            if (layer / key[0] / f"{key[1]}.yml").is_file()
        }
        text, added = write_lock(catalog.locks.get(layer.name, Lock()), anchors)
        path = layer / "published.yml"
        if added:
            path.write_text(text, "utf-8")
        written.append((path, added))
    return written
