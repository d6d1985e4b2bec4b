"""The list of sorts of pages is whole: what the demonstration has, and nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.browser.sorts import ADDRESSES, sort_of

pytestmark = pytest.mark.browser


def test_one_page_of_every_sort_is_named(site: Path) -> None:
    built = {path.relative_to(site).as_posix() for path in site.rglob("*.html")}
    assert {sort_of(address) for address in built} == {sort_of(address) for address in ADDRESSES}


@pytest.mark.parametrize(
    ("address", "sort"),
    [
        ("parts/unloader.html", "parts/*.html"),
        ("machines/alder-barrow-handbook.html", "machines/*-handbook.html"),
        ("lessons/first-day-sheets.html", "lessons/*-sheets.html"),
        ("tables/index.html", "*/index.html"),
        ("terms/index.html", "terms/index.html"),
        ("search.html?q=rootes", "search.html"),
    ],
)
def test_a_sort_is_told_from_the_address(address: str, sort: str) -> None:
    assert sort_of(address) == sort
