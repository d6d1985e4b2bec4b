"""What a tech types, and whether the page that is found then says what it must."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from playwright.sync_api import Page

pytestmark = pytest.mark.browser

LOOKUPS = yaml.safe_load((Path(__file__).parents[1] / "lookups.yml").read_text("utf-8"))
FIND = """query => refgenSearch.load().then(
    () => refgenSearch.find(query).hits.slice(0, 3).map(hit => hit.record.address)
)"""


def patterns(fact: str | list[str]) -> list[str]:
    return [fact] if isinstance(fact, str) else fact


def said_on(page: Page, site: Path, addresses: list[str]) -> str:
    """Return all that pages say, folded parts too, as one line."""
    said = []
    for address in addresses:
        page.goto(f"{site.as_uri()}/{address}")
        # Between blocks `textContent` puts no space.
        said.append(page.locator("main").evaluate("main => main.innerHTML"))
    text = re.sub(r"<(?:script|svg)\b.*?</(?:script|svg)>", " ", " ".join(said), flags=re.DOTALL)
    text = re.sub(r"</?(?:b|i|em|strong|span)\b[^>]*>", "", text)
    return " ".join(re.sub(r"<[^>]*>|&nbsp;", " ", text).split())


@pytest.mark.parametrize("lookup", LOOKUPS, ids=[lookup["q"] for lookup in LOOKUPS])
def test_what_is_typed_finds_the_page_and_the_page_answers(
    page: Page, site: Path, lookup: dict[str, Any]
) -> None:
    page.goto(f"{site.as_uri()}/search.html")
    found = page.evaluate(FIND, lookup["q"])
    addresses = [f"{name}.html" for name in lookup["pages"]]
    assert set(addresses) <= set(found), found
    said = said_on(page, site, addresses)
    missing = [
        pattern
        for fact in lookup["says"]
        for pattern in patterns(fact)
        if not re.search(pattern, said, re.IGNORECASE)
    ]
    assert missing == [], said
    wrong = [p for p in lookup.get("never", []) if re.search(p, said, re.IGNORECASE)]
    assert wrong == [], said


def test_each_lookup_asks_for_facts_and_a_third_hold_a_trap() -> None:
    assert len(LOOKUPS) >= 25
    assert all(len(lookup["says"]) >= 2 for lookup in LOOKUPS)
    assert sum("never" in lookup for lookup in LOOKUPS) >= len(LOOKUPS) / 3
