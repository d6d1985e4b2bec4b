"""The whole demonstration, as published: links, anchors, policy, and the promises of the pages."""

from __future__ import annotations

import json
import posixpath
from collections import Counter
from pathlib import Path
from urllib.parse import urldefrag, urlsplit

from refgen.project import Project
from tests.reading import ReadPage

Pages = dict[str, ReadPage]


def resolve(page: str, link: str) -> tuple[str, str]:
    """Return the file and the anchor a link leads to."""
    address, anchor = urldefrag(link)
    if page == "404.html" and address.startswith("/"):
        return address.lstrip("/"), anchor
    target = posixpath.normpath(posixpath.join(posixpath.dirname(page), address))
    return (page if not address else target), anchor


def internal(links: list[str]) -> list[str]:
    return [link for link in links if not urlsplit(link).scheme]


def test_every_link_leads_to_a_file_and_every_anchor_to_an_id(read: Pages, site: Path) -> None:
    dead = []
    for address, page in read.items():
        for link in internal(page.links):
            target, anchor = resolve(address, link)
            if not (site / target).is_file():
                dead.append(f"{address}: {link}")
            elif "=" in anchor:  # a setup for the worksheet, not a place on the page
                continue
            elif anchor and target in read and anchor not in read[target].ids:
                dead.append(f"{address}: {link} (no such anchor)")
    assert dead == []


def test_every_loaded_file_exists_and_none_comes_from_another_host(read: Pages, site: Path) -> None:
    for address, page in read.items():
        for link in page.loads:
            assert not urlsplit(link).scheme, f"{address} loads {link}"
            assert (site / resolve(address, link)[0]).is_file(), f"{address} loads {link}"


def test_before_it_has_loaded_a_page_asks_for_one_script(read: Pages) -> None:
    asked: Counter[str] = Counter()
    for address, page in read.items():
        scripts = {resolve(address, link)[0] for link in page.loads if link.endswith(".js")}
        assert len(scripts) == 1, address
        asked.update(scripts)
    assert asked.keys() == {"assets/site.js", "assets/lesson.js", "assets/search.js"}


def test_links_use_no_scheme_but_telephone(read: Pages) -> None:
    schemes = {urlsplit(link).scheme for page in read.values() for link in page.links}
    assert schemes <= {"", "tel"}


def test_ids_are_unique_on_each_page(read: Pages) -> None:
    for address, page in read.items():
        twice = [name for name, count in Counter(page.ids).items() if count > 1]
        assert twice == [], address


def test_every_page_carries_the_policy_and_no_inline_script(read: Pages) -> None:
    for address, page in read.items():
        assert "script-src 'self'" in page.metas["Content-Security-Policy"], address
        assert page.inline_scripts == 0, address
        assert page.handlers == [], address


def test_every_page_says_what_it_is(read: Pages) -> None:
    for address, page in read.items():
        assert page.metas["description"].strip(), address


def test_the_catalog_lists_every_page_once_with_anchors_that_are_there(
    read: Pages, site: Path
) -> None:
    entries = json.loads((site / "catalog.json").read_text("utf-8"))
    addresses = [entry["address"] for entry in entries]
    assert len(addresses) == len(set(addresses))
    assert set(addresses) == set(read)
    for entry in entries:
        # By which a later revision tells what changed.
        compared = {"says", "parts", "titles", "sizes"}
        assert set(entry) - compared == {"kind", "id", "title", "address", "anchors"}
        assert compared & set(entry) in (set(), compared)
        assert set(entry.get("parts", ())) <= set(entry["anchors"])
        assert set(entry["anchors"]) <= set(read[entry["address"]].ids), entry["address"]


def within(taps: int, read: Pages) -> set[str]:
    """Return the pages that so many taps from home reach."""
    reached, edge = {"index.html"}, {"index.html"}
    for _ in range(taps):
        edge = {resolve(a, link)[0] for a in edge for link in internal(read[a].links)} & set(read)
        edge -= reached
        reached |= edge
    return reached


def test_every_record_is_reached_from_home_in_at_most_three_taps(
    read: Pages, project: Project
) -> None:
    missing = set(read) - within(3, read) - {"404.html"}
    moved = {f"{kind}/{name}.html" for kind, name in project.catalog().moved}
    assert missing - moved == set()


def test_every_symptom_is_reached_from_home_in_two_taps(read: Pages, project: Project) -> None:
    symptoms = {f"symptoms/{name}.html" for name in project.catalog().of_kind("symptoms")}
    assert len(symptoms) > 20
    assert symptoms - within(2, read) == set()


def test_the_bar_is_the_same_on_every_page(site: Path, read: Pages) -> None:
    bars = set()
    for address in read:
        html = (site / address).read_text("utf-8")
        start = html.index('<nav class="bar"')
        bar = html[start : html.index("</nav>", start)]
        root = "/" if address == "404.html" else "../" * address.count("/")
        bars.add(bar.replace(f'href="{root}', 'href="'))
    assert len(bars) == 1


def test_only_what_pages_use_is_published(site: Path) -> None:
    kinds = {path.suffix for path in site.rglob("*") if path.is_file()}
    assert kinds <= {
        ".html",
        ".css",
        ".js",
        ".svg",
        ".png",
        ".json",
        ".lzma",
        ".csv",
        ".webmanifest",
        ".atom",
    }
    assert not list(site.rglob("*.map"))


def test_a_page_is_light_enough_for_a_weak_signal(site: Path) -> None:
    import gzip

    heavy = {}
    for path in site.rglob("*.html"):
        size = len(gzip.compress(path.read_bytes(), 6))
        if (
            size > 12_000
            and path.parent.name not in ("terms", "sources")
            and "a-to-z" not in path.name
        ):
            heavy[path.relative_to(site).as_posix()] = size
    assert {name: size for name, size in heavy.items() if "handbook" not in name} == {}
