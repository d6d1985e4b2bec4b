"""What a revision says, kept so that the next one can tell what has changed.

`catalog.json` holds every page with a hash of each part of it, `figures.json` every figure. Both
are published; a company keeps them in a folder, and the next build compares. Nothing depends on
the day: the same two revisions give the same changes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from refgen.catalog import Catalog, Entry
from refgen.errors import RefgenError
from refgen.layers import Key
from refgen.model.figure import Ceiling, Figure
from refgen.references import FigureKey
from refgen.texts import show_figure
from refgen.units import Quantity, both_ways

CATALOG, FIGURES = "catalog.json", "figures.json"


Size = list[str]
"""A size of a record, such as the pressure on a plate: in US units, in metric, in SI."""


@dataclass(frozen=True)
class KeptFigure:
    """A figure as an earlier revision showed it."""

    title: str
    label: str
    us: str
    metric: str
    value: str
    """By what two are told apart: SI values and what it forbids."""


@dataclass(frozen=True)
class KeptRecord:
    """A record as an earlier revision had it."""

    title: str
    says: str
    parts: Mapping[str, str] = field(default_factory=dict)
    sizes: Mapping[str, Size] = field(default_factory=dict)
    titles: Mapping[str, str] = field(default_factory=dict)
    """What its parts were called, by id; earlier ones keep none."""


@dataclass(frozen=True)
class Revision:
    """What is kept of an earlier revision."""

    records: Mapping[Key, KeptRecord]
    figures: Mapping[FigureKey, KeptFigure]
    terms: frozenset[str] = frozenset()


def sizes_of(entry: Entry) -> dict[str, Size]:
    """Return the sizes of a record, such as those of a plate, by the names of their fields."""
    values = {name: getattr(entry.record, name) for name in type(entry.record).model_fields}
    return {
        name: [both_ways(value, "us")[0], both_ways(value, "metric")[0], f"{value.si:.6g}"]
        for name, value in values.items()
        if isinstance(value, Quantity)
    }


def figure_value(figure: Figure) -> str:
    """Return by what two figures are told apart, whatever unit they are written in."""
    jet = figure.jet if isinstance(figure, Ceiling) else None
    sizes = [f"{q.si:.6g}" for q in (figure.is_, figure.to) if q is not None]
    return "|".join([*sizes, str(jet or ""), str(figure.when or "")])


def figures_json(catalog: Catalog, names: Mapping[FigureKey, str]) -> str:
    """Return every figure as JSON: where it stands, its name and value in both systems."""
    entries = []
    for (kind, name, own), figure in sorted(catalog.figures.items()):
        shown = {first: show_figure(figure, first) for first in ("us", "metric")}
        jet = str(figure.jet) if isinstance(figure, Ceiling) and figure.jet else ""
        entries.append(
            {
                "kind": kind,
                "id": name,
                "figure": own,
                "title": catalog.entries[kind, name].record.title,
                "label": names[kind, name, own],
                **{first: value.first if value else jet for first, value in shown.items()},
                "basis": figure.basis,
                "value": figure_value(figure),
            }
        )
    return json.dumps(entries, ensure_ascii=False, indent=1) + "\n"


def read_revision(folder: Path) -> Revision | None:
    """Return what a folder keeps of an earlier revision, None if it keeps nothing.

    Raises:
        RefgenError: If what it keeps cannot be read.
    """
    if not (folder / CATALOG).is_file():
        return None
    records, terms = {}, frozenset[str]()
    for entry in _read(folder / CATALOG):
        if entry.get("says"):
            records[entry["kind"], entry["id"]] = KeptRecord(
                entry["title"],
                entry["says"],
                entry["parts"],
                entry["sizes"],
                entry.get("titles", {}),
            )
        elif (entry["kind"], entry["id"]) == ("terms", "index"):
            terms = frozenset(entry["anchors"])
    figures = {
        (f["kind"], f["id"], f["figure"]): KeptFigure(
            f["title"], f["label"], f["us"], f["metric"], f["value"]
        )
        for f in (_read(folder / FIGURES) if (folder / FIGURES).is_file() else ())
    }
    return Revision(records, figures, terms)


def _read(path: Path) -> list[dict[str, Any]]:
    needed = {"kind", "id", "title"}
    try:
        entries = json.loads(path.read_text("utf-8"))
    except (ValueError, OSError) as error:
        raise RefgenError(
            f"{path}: cannot be read. Copy it anew from the published site."
        ) from error
    if not isinstance(entries, list) or not all(
        isinstance(entry, dict) and needed <= entry.keys() for entry in entries
    ):
        raise RefgenError(f"{path}: is no list that refgen wrote. Copy it from the published site.")
    return entries
