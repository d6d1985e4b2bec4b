"""The judging of what Lighthouse reads, on a report of a page cut down to what is read."""

from __future__ import annotations

import copy
import gzip
import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

import pytest

from tests.lighthouse.beside import stock_address, write_floor
from tests.lighthouse.browse import HERE, pinned, wanting
from tests.lighthouse.host import headers, serving
from tests.lighthouse.readings import Reading, failures, middle, reading, shortcomings

REPORT = json.loads((HERE / "recorded.json").read_text("utf-8"))
# Added up by hand from the recorded requests: the page, its styles, its script, the logo and the
# manifest. What stands in the page or its styles is no request; four came when it had loaded.
SENT = 4571 + 11_328 + 5858 + 575 + 669
GOOD = Reading(100, 100, 100, 100, 0.9, 0.75, 0, 0, 20_000, 4, 0, 2000)


def changed(change: Callable[[dict[str, Any]], object]) -> dict[str, Any]:
    report: dict[str, Any] = copy.deepcopy(REPORT)
    change(report)
    return report


def test_of_a_report_the_first_view_is_what_was_asked_for_until_the_page_had_loaded() -> None:
    read = reading(REPORT)
    assert (read.sent, read.requests, read.fonts) == (SENT, 5, 0)
    assert (read.performance, read.seo, read.best_practices) == (100, 100, 93)
    assert (read.largest_paint, read.first_paint, read.blocked) == (0.981, 0.766, 0)


def test_a_font_counts_whenever_it_is_asked_for() -> None:
    font = {"url": "http://x/a", "networkRequestTime": 9e9, "transferSize": 1}

    def ask_for_a_font(report: dict[str, Any]) -> None:
        asked = report["audits"]["network-requests"]["details"]["items"]
        asked.append(font | {"resourceType": "Font"})

    read = reading(changed(ask_for_a_font))
    assert (read.fonts, read.sent) == (1, SENT)
    assert shortcomings(replace(GOOD, fonts=1)) == ["a font is loaded"]


def test_what_costs_points_is_named_unless_it_weighs_nothing() -> None:
    assert failures(REPORT) == ["errors-in-console", "inspector-issues"]


def test_a_page_that_could_not_be_measured_is_no_good_page() -> None:
    with pytest.raises(ValueError, match="gave no score"):
        reading(changed(lambda report: report["categories"]["seo"].update(score=None)))
    with pytest.raises(ValueError, match="did not paint"):
        reading(changed(lambda report: report.update(runtimeError={"message": "did not paint"})))


def test_the_middle_is_taken_of_each_figure() -> None:
    runs = [replace(GOOD, performance=p, largest_paint=t) for p, t in ((98, 3), (100, 1), (90, 2))]
    assert middle(runs) == replace(GOOD, performance=98, largest_paint=2)
    assert middle(runs[:2]).performance == 98


@pytest.mark.parametrize(
    ("figure", "value", "least_that_fails", "said"),
    [
        ("performance", 97, 96, "performance 96, below 97"),
        ("accessibility", 97, 96, "accessibility 96, below 97"),
        ("best_practices", 97, 96, "best-practices 96, below 97"),
        ("seo", 97, 96, "seo 96, below 97"),
        ("largest_paint", 0.95, 0.96, "largest paint at 0.96 s, later than 0.95 s"),
        ("sent", 36_000, 36_100, "first view of 36.1 kB, more than 36 kB"),
        ("requests", 4, 5, "5 requests for the first view, more than 4"),
    ],
)
def test_the_gate_opens_at_its_value_and_not_beyond(
    figure: str, value: float, least_that_fails: float, said: str
) -> None:
    assert shortcomings(replace(GOOD, **{figure: value})) == []
    assert shortcomings(replace(GOOD, **{figure: least_that_fails})) == [said]


def test_an_answer_may_take_its_time_but_no_points() -> None:
    slow = replace(GOOD, largest_paint=1.8, sent=90_000, requests=6)
    assert len(shortcomings(slow)) == 3
    assert shortcomings(slow, answers=True) == []
    assert shortcomings(replace(slow, performance=80), answers=True) == ["performance 80, below 97"]


def test_what_is_not_here_is_told_with_what_to_run(tmp_path: Path) -> None:
    (tmp_path / "node_modules" / "lighthouse").mkdir(parents=True)
    package = tmp_path / "node_modules" / "lighthouse" / "package.json"
    assert wanting(package.parents[1])[-1].startswith("Lighthouse is not installed. Run: npm ci")
    package.write_text('{"version": "1.0.0"}')
    assert wanting(package.parents[1])[-1].startswith(
        f"Lighthouse 1.0.0 is installed, not {pinned()}"
    )
    package.write_text(f'{{"version": "{pinned()}"}}')
    assert not [line for line in wanting(package.parents[1]) if "Lighthouse" in line]


def test_one_version_is_pinned_and_the_lock_names_no_host_to_have_it_from() -> None:
    lock = json.loads((HERE / "package-lock.json").read_text("utf-8"))["packages"]
    assert lock["node_modules/lighthouse"]["version"] == pinned() == "12.2.3"
    assert lock[""]["dependencies"] == {"lighthouse": pinned()}
    assert not [name for name, package in lock.items() if "resolved" in package]
    assert not [name for name, package in lock.items() if name and "integrity" not in package]


def test_the_host_packs_and_sends_what_readme_tells(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("<p>" + "water " * 200)
    assert headers()["Cache-Control"] == "no-cache"
    with serving(tmp_path, headers()) as url, urlopen(Request(url), timeout=10) as answer:
        body = answer.read()
        assert headers().items() <= dict(answer.headers).items()
        assert answer.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(body) == (tmp_path / "index.html").read_bytes()
    assert len(body) < 100


def test_the_floor_has_our_words_and_one_small_stylesheet(tmp_path: Path) -> None:
    page = tmp_path / "export" / "symptoms" / "leak.html"
    page.parent.mkdir(parents=True)
    page.write_text('<link rel="stylesheet" href="../assets/site.css">\n<p>It drips.</p>')
    floor = write_floor(tmp_path / "export", ["symptoms/leak.html"], tmp_path / "floor")
    html = (floor / "symptoms" / "leak.html").read_text()
    assert "<p>It drips.</p>" in html
    assert html.count("stylesheet") == 1
    assert (floor / "symptoms" / "../bare.css").is_file()
    assert 'href="../bare.css"' in html


@pytest.mark.parametrize(
    ("ours", "stock"),
    [("index.html", ""), ("terms/index.html", "terms/"), ("tables/reach.html", "tables/reach/")],
)
def test_where_the_stock_theme_puts_a_page(ours: str, stock: str) -> None:
    assert stock_address(ours) == stock
