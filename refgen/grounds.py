"""What a figure rests on: its own basis or its record's, and what it still lacks."""

from __future__ import annotations

from collections.abc import Iterator

from refgen.model.figure import ARGUED, SOURCED, Ceiling, Figure, Grounds
from refgen.model.record import Record


def grounded(figure: Figure, record: Record) -> Figure:
    """Return the figure with basis, source and reason of its record where it has none."""
    if figure.basis is not None:
        return figure
    return figure.model_copy(
        update={
            "basis": record.basis,
            "source": figure.source or record.source,
            "why": figure.why or record.why,
        }
    )


def missing_grounds(figure: Figure, record: Record) -> Iterator[tuple[str, str]]:
    """Yield what a figure lacks to be believed, with what to write."""
    yield from _lacking(grounded(figure, record), "the figure")
    for other in figure.differs:
        yield from _lacking(other, "the differing value")
        if isinstance(figure, Ceiling) and figure.is_ and other.is_.si < figure.is_.si:
            hint = f"Put {other.is_} first and {figure.is_} under 'differs'."
            yield "the cautious value must stand first", hint


def _lacking(grounds: Grounds, what: str) -> Iterator[tuple[str, str]]:
    basis = grounds.basis
    if basis is None:
        hint = "Add 'basis: …' with a source, or 'basis: caution' with 'why: …'."
        yield f"{what} has no basis", hint
    elif basis in SOURCED and grounds.source is None:
        yield f"basis '{basis}' needs a source", "Add 'source: id-of-a-source'."
    elif basis in ARGUED and grounds.why is None:
        yield f"basis '{basis}' needs a reason", "Add 'why: …'."
    elif basis == "physics" and grounds.formula is None:
        yield "basis 'physics' needs its formula", "Add 'formula: …'."
