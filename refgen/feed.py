"""The changes as a feed, for whoever wants to be told of them.

Source: RFC 4287, The Atom Syndication Format.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable
from datetime import UTC, datetime, time
from xml.sax.saxutils import escape, quoteattr

from refgen.addresses import CHANGES
from refgen.catalog import Catalog
from refgen.news import Change

ADDRESS = "changes.atom"


def feed(catalog: Catalog, changes: Iterable[Change]) -> str:
    """Return the changes as Atom, an entry each, with whole addresses.

    An entry's id is made from what it says, so a reader is told once of each change, and the same
    data give the same feed.
    """
    assert catalog.brand.address is not None
    root = f"{catalog.brand.address.rstrip('/')}/"
    updated = _updated(catalog)
    entries = "".join(_entry(change, root, updated, catalog.w["changes_of"]) for change in changes)
    return (
        '<?xml version="1.0" encoding="utf-8"?>\n'
        f'<feed xmlns="http://www.w3.org/2005/Atom" xml:lang={quoteattr(catalog.brand.language)}>\n'
        f"<id>{escape(root + ADDRESS)}</id>\n"
        f"<title>{escape(catalog.w['changes_of'].format(title=catalog.brand.site))}</title>\n"
        f"<updated>{updated}</updated>\n"
        f"<author><name>{escape(catalog.brand.name)}</name></author>\n"
        f'<link rel="self" href={quoteattr(root + ADDRESS)}/>\n'
        f"<link href={quoteattr(root + CHANGES)}/>\n"
        f"{entries}</feed>\n"
    )


def _entry(change: Change, root: str, updated: str, of: str) -> str:
    address = root + (change.address or CHANGES)
    told = " ".join(change.said)
    mark = hashlib.sha256(f"{change.part}|{change.title}|{told}".encode()).hexdigest()[:16]
    title = change.title if change.part == "new" else of.format(title=change.title)
    return (
        f"<entry><id>{escape(f'{root}{CHANGES}#{mark}')}</id>"
        f"<title>{escape(title)}</title><updated>{updated}</updated>"
        f"<link href={quoteattr(address)}/><summary>{escape(told)}</summary></entry>\n"
    )


def _updated(catalog: Catalog) -> str:
    """Return the time of the revision: as the build is told, or the last day of a review.

    Source: reproducible-builds.org, SOURCE_DATE_EPOCH.
    """
    told = os.environ.get("SOURCE_DATE_EPOCH", "")
    if told.isdecimal():
        return datetime.fromtimestamp(int(told), UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    days = [e.record.reviewed.on for e in catalog.entries.values() if e.record.reviewed]
    day = max(days, default=None)
    if day is None:
        return "1970-01-01T00:00:00Z"
    return datetime.combine(day, time(), UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
