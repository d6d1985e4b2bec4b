"""Every name a thing goes by, looked up in a browser with the published index."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page

from refgen.addresses import record_address
from refgen.project import open_project

pytestmark = pytest.mark.browser

ROOT = Path(__file__).resolve().parents[2]
# One call for all names: the way to the page and back would take longer than the search.
FIRST_TWO = """names => names.map(
    name => refgenSearch.find(name).hits.slice(0, 2).map(hit => hit.record.address)
)"""


def test_every_name_finds_its_record_first_or_second(page: Page, site: Path) -> None:
    names = [
        (str(name), record_address(*entry.key))
        for entry in open_project(ROOT / "mkdocs.yml").catalog().entries.values()
        for name in (entry.record.title, *entry.record.also_called)
    ]
    page.goto(f"{site.as_uri()}/search.html")
    page.evaluate("refgenSearch.load().then(() => true)")
    found = page.evaluate(FIRST_TWO, [name for name, _ in names])
    assert len(names) > 3000
    missed = {
        f"{name} ({address})": hits
        for (name, address), hits in zip(names, found, strict=True)
        if address not in hits
    }
    assert missed == {}
