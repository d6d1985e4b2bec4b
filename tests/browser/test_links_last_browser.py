"""Old addresses followed in a real browser: from a host, from a folder, and without network."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import Server
from tests.moving import OLD, move_all, start

pytestmark = pytest.mark.browser

NOW = {
    "procedures/yard-wash.html": "procedures/end-of-day.html",
    "procedures/yard-wash.html#bleed": "procedures/end-of-day.html#bleed",
    "procedures/yard-wash.html#brush": "procedures/end-of-day.html#brush",
    "procedures/yard-wash.html#grease": "procedures/grease-it.html#chain",
    "procedures/yard-wash.html#long": "procedures/end-of-day.html#long",
    "procedures/greasing.html#swivel": "procedures/grease-it.html#swivel",
    "deposits/froth.html": "symptoms/froth-ours.html",
    "terms/index.html#skidder": "terms/index.html#skidder",
}


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The company's site before and after its moves."""
    project = tmp_path_factory.mktemp("moving") / "ours"
    start(project)
    before = project.parent / "before"
    shutil.copytree(project / "site", before)
    move_all(project)
    return before, project / "site"


def arrives(page: Page, root: str, old: str) -> None:
    page.goto("about:blank")
    page.goto(root + old)
    page.wait_for_url(root + NOW[old])
    name = NOW[old].partition("#")[2]
    if name:
        target = page.locator(f"[id={name}]")
        holder = target if target.inner_text() else target.locator("xpath=..")
        assert OLD[old] in holder.inner_text().replace("\u00a0", " ")
        expect(target).to_be_in_viewport()
    else:
        assert OLD[old] in page.locator("h1").inner_text()


@pytest.mark.parametrize("old", OLD)
def test_an_old_address_leads_to_what_it_named(
    page: Page, server_of: Callable[[Path], Server], sites: tuple[Path, Path], old: str
) -> None:
    arrives(page, server_of(sites[1]).url, old)


@pytest.mark.parametrize("old", OLD)
def test_so_it_does_in_a_folder(page: Page, sites: tuple[Path, Path], old: str) -> None:
    arrives(page, f"{sites[1].as_uri()}/", old)


def test_so_it_does_on_a_phone_that_kept_the_new_site_and_has_no_network(
    context: BrowserContext,
    page: Page,
    server_of: Callable[[Path], Server],
    sites: tuple[Path, Path],
) -> None:
    server = server_of(sites[1])
    page.goto(f"{server.url}index.html")
    page.locator("#_kept", has_text="Saved for use without signal").wait_for(timeout=60_000)
    server.stop()
    for old in OLD:
        arrives(page, server.url, old)


def test_without_script_a_moved_part_is_one_tap_away(
    browser: Browser, sites: tuple[Path, Path]
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    root = f"{sites[1].as_uri()}/"
    page.goto(f"{root}procedures/end-of-day.html#grease")
    row = page.locator("a.moved-item")
    expect(row).to_be_in_viewport()
    row.click()
    page.wait_for_url(f"{root}procedures/grease-it.html#chain")
    context.close()
