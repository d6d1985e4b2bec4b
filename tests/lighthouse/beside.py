"""What our pages are measured beside, both with the words of ours.

The floor is a page of plain HTML with one small stylesheet and nothing else: no faster one can be
had. The stock theme is what the same Markdown becomes with everything left at its defaults.
"""

from __future__ import annotations

import re
from pathlib import Path

from tests.growth import stock_build

SORTS = ("home", "symptom", "computed table")
"""Of which sorts a page is measured."""
STYLES = (
    "body { max-width: 40em; margin: 1em auto; padding: 0 1em; font: 17px/1.5 sans-serif; }\n"
    "table { border-collapse: collapse; } th, td { padding: 4px 8px; border: 1px solid #777; }\n"
)
_STYLESHEET = re.compile(r'<link rel="stylesheet" href="[^"]*site\.css">')


def write_floor(export: Path, addresses: list[str], folder: Path) -> Path:
    """Write some pages of an export to a folder, bare but for one small stylesheet."""
    folder.mkdir(parents=True)
    (folder / "bare.css").write_text(STYLES, "utf-8")
    (folder / "favicon.ico").touch()  # which a browser asks for where no page names one
    for address in addresses:
        link = f'<link rel="stylesheet" href="{"../" * address.count("/")}bare.css">'
        html, found = _STYLESHEET.subn(link, (export / address).read_text("utf-8"))
        if found != 1:
            raise ValueError(f"{address} of the export has {found} stylesheets")
        (folder / address).parent.mkdir(parents=True, exist_ok=True)
        (folder / address).write_text(html, "utf-8")
    return folder


def build_beside(config: Path, addresses: list[str], folder: Path) -> tuple[Path, Path]:
    """Build both from a project and return their folders, floor and stock theme."""
    folder.mkdir()
    stock_build(config, folder)
    floor = write_floor(folder / "export" / "html", addresses, folder / "floor")
    return floor, folder / "site"


def stock_address(address: str) -> str:
    """Return where the stock theme puts a page."""
    return re.sub(r"(^|/)index\.html$", r"\1", address).replace(".html", "/")
