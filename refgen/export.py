"""The pages for whoever publishes them with something else: plain HTML, and Markdown.

Two folders say the same, each complete with the files its pages link to, and `index.json` lists
what is in them. Nothing of today's builder is in it: no theme, no script, no worker.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from markupsafe import Markup

from refgen.addresses import NOT_FOUND, root_of
from refgen.assets import own_styles, print_styles, site_css
from refgen.compose import Site
from refgen.errors import RefgenError
from refgen.markdown import markdown_of
from refgen.pages import Page
from refgen.swap import built_beside

INDEX = "index.json"
HTML, MARKDOWN = "html", "markdown"
STYLES = "assets/site.css"
_MADE_BY = "refgen export"

_FRAME = Markup(
    '<!doctype html>\n<html lang="{language}">\n<head>\n<meta charset="utf-8">\n'
    '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
    "<title>{title}</title>\n"
    '<meta name="description" content="{description}">\n{moved}'
    '<link rel="stylesheet" href="{root}{styles}">\n</head>\n<body>\n'
    '<main id="_text" class="md-typeset">\n{article}\n</main>\n</body>\n</html>\n'
)
_NO_SCRIPT = ".js, button { display: none; }\n"
"""What would do nothing without a script is not shown either."""
_MOVED = Markup('<meta http-equiv="refresh" content="0; url={to}">\n')
# Sure to be taken as it stands, by YAML and by those who only look for the first colon.
_PLAIN = re.compile(r"[^\W\d_][\w ,.;()/%’'–-]*")
_NOT_TEXT = frozenset(["null", "true", "false", "yes", "no", "on", "off", "y", "n"])


def write_export(site: Site, templates: Path, folder: Path) -> int:
    """Write the pages of a site to a folder and return how many there are.

    The folder is put in place when it is whole.

    Args:
        site: The finished pages and files.
        templates: Folder of the templates, for the stylesheet.
        folder: Where to; it may be new, empty or an earlier export.

    Raises:
        RefgenError: If the folder holds anything else than an earlier export.
    """
    _refuse_what_is_not_ours(folder)
    pages = [page for page in site.pages if page.address != NOT_FOUND]
    files = _files(site, templates)
    with built_beside(folder) as beside:
        for page in pages:
            _write(beside, f"{HTML}/{page.address}", _html(page, site).encode())
            _write(beside, _markdown_place(page), _markdown(page).encode())
        for address, content in files.items():
            for tree in (HTML, MARKDOWN):
                _write(beside, f"{tree}/{address}", content)
        _write(beside, INDEX, _index(site, pages, files).encode())
    return len(pages)


def _refuse_what_is_not_ours(folder: Path) -> None:
    """Make sure that nothing is lost when a folder is replaced."""
    hint = "Name a new or an empty folder. Nothing was written."
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise RefgenError(f"{folder}: is no folder. {hint}")
    there = set(_files_in(folder))
    if not there:
        return
    try:
        index = json.loads((folder / INDEX).read_text("utf-8"))
        ours = index["made_by"] == _MADE_BY
        listed = {INDEX, *(page[tree] for page in index["pages"] for tree in (HTML, MARKDOWN))}
        listed |= {f"{tree}/{name}" for tree in (HTML, MARKDOWN) for name in index["files"]}
    except (OSError, ValueError, KeyError, TypeError):
        ours, listed = False, set()
    if not ours:
        raise RefgenError(f"{folder}: holds something else than an export. {hint}")
    if foreign := sorted(there - listed):
        raise RefgenError(f"{folder}: holds {foreign[0]}, which no export wrote. {hint}")


def _files_in(folder: Path) -> Iterator[str]:
    for path in folder.rglob("*"):
        if path.is_symlink() or not path.is_dir():
            yield path.relative_to(folder).as_posix()


def _files(site: Site, templates: Path) -> dict[str, bytes]:
    """Return what pages link to or show, by address."""
    catalog = site.catalog
    logo = {catalog.logo.address: catalog.logo.content} if catalog.logo else {}
    return {
        **site.exports,
        **logo,
        STYLES: "".join(
            [
                site_css("", own_styles(templates), catalog.brand, frozenset()),
                print_styles(templates),
                _NO_SCRIPT,
            ]
        ).encode(),
    }


def _write(folder: Path, place: str, content: bytes) -> None:
    parts = PurePosixPath(place)
    if ".." in parts.parts:
        raise RefgenError(f"'{place}' lies outside of the folder to write to.")
    path = folder / parts
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)


def _html(page: Page, site: Site) -> str:
    return str(
        _FRAME.format(
            language=site.catalog.brand.language,
            title=page.title,
            description=page.description,
            moved=_MOVED.format(to=page.moved_to) if page.moved_to else "",
            root=root_of(page.address),
            styles=STYLES,
            article=Markup(page.html),
        )
    )


def _markdown(page: Page) -> str:
    head = {"title": page.title, "address": page.address, "description": page.description}
    lines = [f"{name}: {_scalar(text)}" for name, text in head.items()]
    return "\n".join(["---", *lines, "---", "", markdown_of(page.html)])


def _scalar(text: str) -> str:
    """Return a text as YAML reads it back, plain where that does."""
    text = " ".join(text.split())
    plain = _PLAIN.fullmatch(text) and text.lower() not in _NOT_TEXT
    return text if plain else json.dumps(text, ensure_ascii=False)


def _markdown_place(page: Page) -> str:
    return f"{MARKDOWN}/{PurePosixPath(page.address).with_suffix('.md')}"


def _index(site: Site, pages: list[Page], files: dict[str, bytes]) -> str:
    listed = [
        {
            "title": page.title,
            "address": page.address,
            "kind": page.kind,
            "id": page.id,
            "anchors": list(page.anchors),
            HTML: f"{HTML}/{page.address}",
            MARKDOWN: _markdown_place(page),
            **({"moved_to": page.moved_to} if page.moved_to else {}),
        }
        for page in pages
    ]
    whole = {
        "made_by": _MADE_BY,
        "site": site.catalog.brand.site,
        "language": site.catalog.brand.language,
        "pages": listed,
        "files": sorted(files),
    }
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"
