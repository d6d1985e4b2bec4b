"""Nothing jumps: on a slow line the scripts come long after the text has been seen."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route

from tests.browser.conftest import Server
from tests.browser.sorts import ADDRESSES

pytestmark = pytest.mark.browser

LATE = 0.3
"""How much later than the text each script comes [s]."""
WATCH = """window.moved = 0; window.what = [];
new PerformanceObserver(list => list.getEntries().forEach(entry => {
  window.moved += entry.value;
  window.what.push(...entry.sources.map(source => source.node && source.node.outerHTML));
})).observe({ type: "layout-shift", buffered: true });"""


@pytest.mark.parametrize("address", ADDRESSES)
def test_a_page_stays_where_it_is_when_its_scripts_come_late(
    page: Page, site: Path, server_of: Callable[[Path], Server], address: str
) -> None:
    def late(route: Route) -> None:
        time.sleep(LATE)
        route.continue_()

    page.route("**/*.js", late)
    page.add_init_script(WATCH)
    page.goto(server_of(site).url + address, wait_until="networkidle")
    # What browsers' makers call good is up to 0.1; here nothing has a reason to move.
    assert page.evaluate("window.moved") < 0.01, page.evaluate("window.what.join('\\n')")
