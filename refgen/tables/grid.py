"""What a computed table is, whatever it computes: heads, cells, and why a cell is empty."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import dataclass, field

from refgen.model.figure import Basis
from refgen.texts import Shown

Record = dict[str, float | int | str | None]
"""One row of a table's data, for CSV and JSON: SI values and what they were written as."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: words and lines as shown, or a reason why there is no number."""

    lines: tuple[str | Shown, ...] = ()
    reason: str = ""
    words: str = ""
    """What is said before the lines, where a number alone would mislead."""
    basis: Basis | None = None
    """What a figure rests on; its word is shown beside it."""
    address: str = ""
    """Where the figure lives, or where its setup can be worked on."""


@dataclass(frozen=True, slots=True)
class Head:
    """Head of a row or column: what it is, and where a link on it leads."""

    text: str | Shown
    address: str = ""
    id: str = ""
    machine: str = ""
    """Machine whose row it is, so that the reader's own can be marked."""


@dataclass(frozen=True, slots=True)
class Grid:
    """Rows and columns under one caption."""

    caption: str
    corner: str
    columns: tuple[Head, ...]
    rows: tuple[tuple[Head, tuple[Cell, ...]], ...]

    def reasons(self) -> list[str]:
        """Return why cells are empty, each reason once, in the order in which they appear."""
        return list(dict.fromkeys(c.reason for _, cells in self.rows for c in cells if c.reason))


@dataclass(frozen=True, slots=True)
class Working:
    """How the numbers of a table came about."""

    formulas: tuple[str, ...] = ()
    """Each formula on a line, with what its letters stand for."""
    example: str = ""
    """One cell worked out, values with their units."""
    sources: tuple[str, ...] = ()
    """Ids of the sources of the formulas."""


@dataclass(frozen=True, slots=True)
class ComputedTable:
    """A table ready to be shown, with its numbers as data."""

    grids: tuple[Grid, ...]
    records: tuple[Record, ...] = ()
    """One record a cell or row, in SI and in trade units, for CSV and JSON."""
    assumptions: tuple[str, ...] = ()
    ids: tuple[str, ...] = field(default=())
    heed: tuple[str, ...] = ()
    """Lines that stand before the numbers."""
    working: Working = Working()

    def csv(self) -> str:
        """Return the records as CSV with one head line."""
        buffer = io.StringIO()
        writer = csv.DictWriter(buffer, list(self.records[0]) if self.records else [], "")
        writer.writeheader()
        writer.writerows(self.records)
        return buffer.getvalue()

    def json(self) -> str:
        """Return the records as JSON."""
        return json.dumps(list(self.records), ensure_ascii=False, indent=1) + "\n"
