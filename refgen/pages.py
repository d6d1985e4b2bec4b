"""Finished HTML pages out of the checked records."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from markupsafe import Markup

from refgen import addresses, marks, worksheet
from refgen.addresses import index_address, record_address
from refgen.catalog import Catalog, Entry
from refgen.errors import RefgenError
from refgen.forks import shared_out
from refgen.layers import Key
from refgen.model.base import ENTRY_KINDS
from refgen.model.safety import Hazard
from refgen.revisions import Revision
from refgen.tables import ComputedTable
from refgen.templates import environment_of, fill
from refgen.views import View

# What macros leave behind; nothing on a page is set in lines.
_BLANK_LINES = re.compile(r"\n\s*\n")

_LESSON = "assets/lesson.js"
_SCRIPTS = {
    "trainer": _LESSON,
    "sheets": _LESSON,
    "lessons": _LESSON,
    "compare": _LESSON,
    "search": "assets/search.js",
}
"""Scripts of the pages that need more than the site's own, by the page's name."""


@dataclass(frozen=True)
class Page:
    """One finished page: its article, and what the frame around it needs."""

    address: str
    kind: str
    id: str
    title: str
    description: str
    content: bytes
    """The article's HTML in UTF-8; as a text it takes Python twice the memory, for a few dashes."""
    anchors: tuple[str, ...] = ()
    source: str = ""
    """File the page was written in, for an edit link."""
    review: str = ""
    """Day by which it should be read again, ISO; '' if none is set."""
    moved_to: str = ""
    moved: Mapping[str, str] = field(default_factory=dict)
    script: str = "assets/site.js"
    """Address of the one script it asks for before it has loaded."""
    withdrawn: str = ""
    """Why the page must no longer be gone by; '' if it may."""

    @property
    def html(self) -> str:
        """The article."""
        return self.content.decode()

    @property
    def mark(self) -> str:
        """Short hash of the page's own content, printed on it."""
        return hashlib.sha256(self.content).hexdigest()[:8]


def render_pages(
    catalog: Catalog,
    tables: Mapping[str, ComputedTable],
    templates: Path,
    before: Revision | None = None,
    parts: int = 1,
) -> list[Page]:
    """Return every page of the site, sorted by address.

    Args:
        catalog: All records.
        tables: The computed tables by id.
        templates: Folder of the templates.
        before: An earlier revision, to tell what has changed.
        parts: Into how many parts the work is shared out.
    """

    def rendered(part: int) -> list[Page]:
        renderer = _Renderer(catalog, tables, templates, (part, parts))
        renderer.values["changes"] = {"before": before}
        return list(renderer.pages())

    pages: dict[str, Page] = {}
    for same in zip(*shared_out(rendered, parts), strict=True):
        page = max(same, key=lambda one: len(one.content))
        if other := pages.get(page.address):
            files = " and ".join(sorted({other.source or other.id, page.source or page.id}))
            hint = "Rename the record whose page is new."
            raise RefgenError(f"two pages would stand at {page.address} ({files}). {hint}")
        pages[page.address] = page
    return [pages[address] for address in sorted(pages)]


class _Renderer:
    def __init__(
        self,
        catalog: Catalog,
        tables: Mapping[str, ComputedTable],
        templates: Path,
        share: tuple[int, int],
    ) -> None:
        self.catalog, self.tables = catalog, tables
        self.part, self.parts = share
        """Which part of how many is its own; pages of the others it leaves without content."""
        self.begun = 0
        sheet = worksheet.sheet(catalog.brand.units_first)
        self.values: dict[str, dict[str, Any]] = {
            "worksheet": {"sheet": sheet, "script": worksheet.SCRIPT}
        }
        """What single pages need beside the catalog, by name."""
        self.environment = environment_of(templates)

    def pages(self) -> Iterator[Page]:
        for key, entry in self.catalog.entries.items():
            if key[0] not in ENTRY_KINDS:
                yield self._record_page(key, entry)
        for kind in addresses.BESIDE:
            for name in self.catalog.of_kind(kind):
                yield from (
                    self._page_beside(kind, name, what) for what in self._beside(kind, name)
                )
        kinds = list(dict.fromkeys(kind for kind, _ in self.catalog.entries))
        for kind in kinds:
            yield self._index_page(kind)
        yield from self._single_pages()
        if len(self.catalog.machines()) > 1:
            yield self._page_of_kind("machines", "compare")
        yield from self._moved_pages()

    def _record_page(self, key: Key, entry: Entry) -> Page:
        kind, name = key
        view = View(self.catalog, record_address(kind, name), key)
        table = self.tables.get(name) if kind == "tables" else None
        html = self._render(f"pages/{kind}.html", view, r=entry.record, table=table)
        record = entry.record
        return Page(
            view.address,
            kind,
            name,
            record.title,
            view.plain(record.answer),
            html,
            entry.anchors,
            entry.node.place.file,
            record.reviewed.next.isoformat() if record.reviewed and record.reviewed.next else "",
            moved=entry.moved,
            script=_SCRIPTS.get(kind, Page.script),
            withdrawn=view.withdrawn,
        )

    def _beside(self, kind: str, name: str) -> tuple[str, ...]:
        record = self.catalog.entries[kind, name].record
        without = isinstance(record, Hazard) and not record.on_card
        return () if without else addresses.BESIDE.get(kind, ())

    def _page_beside(self, kind: str, name: str, what: str) -> Page:
        view = View(self.catalog, addresses.beside_address(kind, name, what), (kind, name))
        entry = self.catalog.entries[kind, name]
        html = self._render(f"pages/{what}.html", view, r=entry.record, tables=self.tables)
        title = view.w[f"{what}_of"].format(title=entry.record.title)
        at, source = f"{name}-{what}", entry.node.place.file
        page = Page(view.address, kind, at, title, title, html, (), source)
        script = _SCRIPTS.get(what, Page.script)
        return replace(page, script=script, withdrawn=view.withdrawn)

    def _index_page(self, kind: str) -> Page:
        view = View(self.catalog, index_address(kind))
        records = self.catalog.of_kind(kind)
        groups: dict[str, list[tuple[str, Any]]] = {
            group: [] for group in (*self.catalog.words.groups, "")
        }
        for name, record in records.items():
            groups[record.group or ""].append((name, record))
        groups = {name: found for name, found in groups.items() if found}
        template = f"pages/{kind}-index.html" if kind in ENTRY_KINDS else "pages/kind-index.html"
        html = self._render(template, view, kind=kind, groups=groups)
        anchors = tuple(records) if kind in ENTRY_KINDS else ()
        title = view.kind_word(kind)
        return Page(view.address, kind, "index", title, view.w[f"kind_{kind}_about"], html, anchors)

    def _page_of_kind(self, kind: str, name: str) -> Page:
        view = View(self.catalog, record_address(kind, name))
        title, about = view.w[f"title_{name}"], view.w[f"about_{name}"]
        html = self._render(f"pages/{name}.html", view)
        script = _SCRIPTS.get(name, Page.script)
        return Page(view.address, kind, name, title, about, html, script=script)

    def _single_pages(self) -> Iterator[Page]:
        for name, address in (
            ("home", addresses.HOME),
            ("search", addresses.SEARCH),
            ("emergency", addresses.EMERGENCY),
            ("my-machine", addresses.MY_MACHINE),
            ("worksheet", addresses.WORKSHEET),
            ("a-to-z", addresses.A_TO_Z),
            ("unsure-figures", addresses.UNSURE),
            ("marks", addresses.MARKS),
            ("changes", addresses.CHANGES),
            ("not-found", addresses.NOT_FOUND),
        ):
            view = View(self.catalog, address)
            word = name.replace("-", "_")
            title = self.catalog.brand.site if name == "home" else view.w[f"title_{word}"]
            html = self._render(f"pages/{name}.html", view, **self.values.get(name, {}))
            about, script = view.w[f"about_{word}"], _SCRIPTS.get(name, Page.script)
            yield Page(address, "pages", name, title, about, html, script=script)

    def _moved_pages(self) -> Iterator[Page]:
        for (kind, old), target in self.catalog.moved.items():
            if kind in ENTRY_KINDS:
                continue
            record, found = self.catalog.entries[target].record, record_address(*target)
            moves = [(old, record_address(kind, old), found)]
            for what in addresses.BESIDE.get(
                kind, ()
            ):  # what has no page beside it leads to itself
                there = what in self._beside(*target)
                to = addresses.beside_address(*target, what) if there else found
                moves.append((f"{old}-{what}", addresses.beside_address(kind, old, what), to))
            for name, address, opened in moves:
                to = (view := View(self.catalog, address, target)).href(opened)
                html = self._render("pages/moved.html", view, r=record, to=to)
                yield Page(address, kind, name, record.title, record.title, html, moved_to=to)
        for short, (opened, title) in marks.short_addresses(self.catalog).items():
            to = (view := View(self.catalog, short)).href(opened)
            html = self._render("pages/moved.html", view, r={"title": title}, to=to)
            yield Page(short, "go", short, title, title, html, moved_to=to)

    def _render(self, template: str, view: View, **values: Any) -> bytes:
        self.begun += 1
        if self.begun % self.parts != self.part:
            return b""
        who = "/".join(filter(None, view.key)) or view.address
        html = fill(self.environment, template, who, p=view, w=view.w, **values)
        return (self._withdrawn(view) + _BLANK_LINES.sub("\n", html)).encode()

    def _withdrawn(self, view: View) -> str:
        """Return the line that stands before everything else on a withdrawn page."""
        if not view.withdrawn:
            return ""
        said = view.w["offline_withdrawn"].format(reason=view.withdrawn)
        line = Markup('<p id="_withdrawn" class="withdrawn" role="alert" data-fixed>{}</p>\n')
        return str(line.format(said))
