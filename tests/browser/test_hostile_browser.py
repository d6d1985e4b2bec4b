"""Hostile texts in a real browser: nothing runs, nothing is fetched, nothing leaves its place."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page

from refgen.model import KINDS
from refgen.project import open_project
from tests.browser.conftest import Server, settled
from tests.browser.firefox import Firefox, Phone
from tests.hostile import tamed, write_project

pytestmark = pytest.mark.browser

# Each element with its attributes and text, once the page's scripts have run.
DRAWN = """() => {
  const out = [];
  // What speaks of the kept copy, the manifest and the styles for paper come once a page is seen.
  const late = "script, noscript, #_kept, #_kept *, #_ready, #_ready *, link[rel=manifest], "
    + "link[media=print]";
  for (const at of document.querySelectorAll(`*:not(${late})`)) {
    // How much room the page leaves under the bar goes by how long the bar's words are.
    const told = [...at.attributes].filter(a => at.parentElement || a.name !== "style");
    const attributes = told.map(a => a.name + "=" + a.value);
    const texts = [...at.childNodes].filter(n => n.nodeType === 3);
    const own = texts.map(n => n.data.trim()).filter(Boolean).join("|");
    out.push([at.tagName, at.parentNode && at.parentNode.tagName, ...attributes, own].join(" "));
  }
  return out;
}"""
_HASHES = re.compile(r"\b[0-9a-f]{8,16}\b")


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The hostile site and the tame one."""
    found = []
    for name, dress in (("hostile", str), ("tame", tamed)):
        root = tmp_path_factory.mktemp(name)
        write_project(root, dress)
        project = open_project(root / "mkdocs.yml")
        project.build()
        found.append(project.site)
    return found[0], found[1]


class Watch:
    """What a page did that it must not."""

    def __init__(self, page: Page, host: str) -> None:
        self.wrong: list[str] = []
        page.add_init_script("window.canary = 0")
        page.on("dialog", lambda d: (self.wrong.append(f"asks {d.message}"), d.dismiss()))
        page.on("pageerror", lambda e: self.wrong.append(f"fails: {e}"))
        page.on("console", self._said)
        page.on("request", lambda r: urlsplit(r.url).netloc == host or self.wrong.append(r.url))
        page.on("popup", lambda p: self.wrong.append(f"opens {p.url}"))

    def _said(self, message: object) -> None:
        kind, text = getattr(message, "type", ""), getattr(message, "text", "")
        if kind == "error" and "404" not in text:
            self.wrong.append(f"says: {text}")


def drawn(page: Page, url: str) -> list[str]:
    page.goto(url, wait_until="load")
    if "worksheet" in url:
        settled(page)  # its form is filled late
    found: list[str] = page.evaluate(DRAWN)
    return [_HASHES.sub("", tamed(line)) for line in found if "data-now" not in line]


def test_no_page_runs_fetches_or_shows_a_text_as_anything_but_text(
    browser: Browser, sites: tuple[Path, Path], server_of: Callable[[Path], Server]
) -> None:
    hostile, tame = (server_of(site) for site in sites)
    context = browser.new_context()
    one, other = context.new_page(), context.new_page()
    watch = Watch(one, urlsplit(hostile.url).netloc)
    names = [p.relative_to(sites[0]).as_posix() for p in sorted(sites[0].rglob("*.html"))]
    for name in names:
        if name.startswith("go/") or "data-moved" in (sites[0] / name).read_text("utf-8"):
            continue
        seen, wanted = drawn(one, hostile.url + name), drawn(other, tame.url + name)
        port = [f"{urlsplit(s.url).port}" for s in (hostile, tame)]
        seen = [line.replace(port[0], "") for line in seen]
        wanted = [line.replace(port[1], "") for line in wanted]
        assert seen == wanted, name
        assert one.evaluate("window.canary") == 0, name
    assert watch.wrong == []
    context.close()


def of_records(site: Path) -> list[str]:
    """Return the pages of records with what stands beside them; each record holds a payload."""
    names = [path.relative_to(site).as_posix() for path in sorted(site.glob("*/*.html"))]
    lists = {f"{kind}/index.html" for kind in KINDS} - {"terms/index.html", "sources/index.html"}
    return [name for name in names if not name.startswith("go/") and name not in lists]


def test_firefox_too_takes_every_text_of_a_record_for_text(
    firefox: Firefox, sites: tuple[Path, Path]
) -> None:
    phone = Phone(firefox)
    for name in ["index.html", "emergency.html", *of_records(sites[0])]:
        found: list[list[str]] = []
        for site in sites:
            phone.goto((site / name).as_uri())
            lines: list[str] = phone.run(f"({DRAWN})()")
            here = [line.replace(site.as_uri(), "") for line in lines]
            found.append([_HASHES.sub("", tamed(line)) for line in here])
        assert found[0] == found[1], name
        assert len(found[0]) > 50, name
        assert phone.run("typeof canary") == "undefined", name
    assert phone.wrong() == []
    phone.close()


def test_searching_choosing_and_answering_show_hostile_texts_as_text(
    browser: Browser, sites: tuple[Path, Path], server_of: Callable[[Path], Server]
) -> None:
    served = server_of(sites[0])
    context = browser.new_context()
    page = context.new_page()
    watch = Watch(page, urlsplit(served.url).netloc)
    page.goto(f"{served.url}search.html?q=%3Cscript%3Ecanary%3D1%3C/script%3E")
    page.locator("#q").fill("canary script")
    page.locator("[role=option]").first.wait_for()
    assert "<script>" in page.locator("#found").inner_text()
    page.goto(f"{served.url}my-machine.html")
    page.locator("button[data-machine]").first.click()
    page.goto(f"{served.url}lessons/first.html")
    page.locator(".question input").first.check()
    page.locator(".question button.check").first.click()
    assert page.locator(".question details").first.is_visible()
    page.goto(f"{served.url}procedures/start.html")
    assert page.locator(".mine").inner_text().strip()
    for script in page.locator("script").all():
        assert (script.get_attribute("src") or "").endswith(".js")
    assert page.evaluate("window.canary") == 0
    assert watch.wrong == []
    context.close()


def test_the_policy_stops_what_a_page_would_have_let_through(
    page: Page, sites: tuple[Path, Path], server_of: Callable[[Path], Server]
) -> None:
    served = server_of(sites[0])
    page.goto(f"{served.url}index.html")
    ran = page.evaluate(
        """() => new Promise(done => {
          window.canary = 0;
          document.addEventListener("securitypolicyviolation", () => done(window.canary));
          const at = document.createElement("div");
          at.innerHTML = '<img src=nothing onerror="window.canary = 1">';
          document.body.append(at);
          setTimeout(() => done("no violation"), 4000);
        })"""
    )
    assert ran == 0
