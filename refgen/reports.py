"""What `refgen check` tells when nothing is wrong."""

from __future__ import annotations

from collections import Counter
from datetime import date

from refgen.catalog import Catalog
from refgen.errors import Problem
from refgen.layers import Override
from refgen.model import KINDS
from refgen.noted import said
from refgen.phrases import unsaid
from refgen.rigs import calibration_of

_MOST_NAMED = 8
"""Words that are named where many are missing."""


def check_report(catalog: Catalog, today: date) -> str:
    """Return what there is, what was overridden, and what should be looked at by a day."""
    count = Counter(kind for kind, _ in catalog.entries)
    parts = [f"{kind} {count[kind]}" for kind in KINDS if count[kind]]
    lines = [f"The data are right: {', '.join(parts)}."]
    if missing := unsaid(catalog.w):
        told = ", ".join(missing[:_MOST_NAMED]) + (" …" if len(missing) > _MOST_NAMED else "")
        lines += ["", f"{len(missing)} words that no layer has; a page that asks for one fails:"]
        lines += [f"  words.yml: {told}", "    Lay 'base' below, or take them from its words.yml."]
    if catalog.changed_below:
        lines += ["", "Changed underneath what a later layer says:"]
        lines += [f"  {problem}" for problem in catalog.changed_below]
    if catalog.overrides:
        lines += ["", "Safety texts and limits changed by a later layer:"]
        lines += [f"  {_overridden(override)}" for override in catalog.overrides]
    if late := overdue(catalog, today):
        lines += ["", f"{len(late)} past the day of the next review:"]
        lines += [f"  {problem}" for problem in late]
    if to_look_at := [*refused_readings(catalog), *catalog.advice]:
        lines += ["", f"{len(to_look_at)} to look at:"]
        lines += [f"  {problem}" for problem in to_look_at]
    return "\n".join(lines)


def overdue(catalog: Catalog, today: date) -> list[Problem]:
    """Return the records that should have been read again before a day, the longest due first."""
    late: list[tuple[date, Problem]] = []
    for entry in catalog.entries.values():
        review = entry.record.reviewed
        if review is not None and review.next is not None and review.next < today:
            message = f"was due on {review.next}, last read on {review.on} ({review.role})"
            hint = "Read it again, then set 'on' and 'next' anew."
            late.append((review.next, entry.problem(("reviewed", "next"), message, hint)))
    return [problem for _, problem in sorted(late)]


def refused_readings(catalog: Catalog) -> list[Problem]:
    """Return the gauge readings of machines that are not believed, and so not used."""
    found = []
    for name, machine in catalog.machines().items():
        if refused := calibration_of(catalog, machine).refused:
            entry = catalog.entries["machines", name]
            hint = "Read it again with clear jets, or take it out; until then it is not used."
            found.append(entry.problem(("calibration", "gauge"), refused, hint))
    return found


def _overridden(override: Override) -> str:
    """Return one line on a safety text or limit: where, what, what it was and is, and why."""
    kind, name = override.record
    where = f"{override.place.file}:{override.place.line}"
    path = ".".join(override.path) or "whole record"
    was = said(override.was)
    what = f"{was} is hidden." if override.now is None else f"{was}, here {said(override.now)}."
    reason = f" Reason: {override.reason}" if override.reason else ""
    return f"{where}: {kind}/{name} {path}: {what}{reason}"
