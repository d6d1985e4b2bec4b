"""The site kept on a phone: with the server gone, through updates, failures, half-done uploads."""

from __future__ import annotations

import json
import random
import re
import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, expect

from refgen.bundled import bundled
from refgen.offline import worker_script, write_offline, write_retired
from tests.browser.conftest import Server

pytestmark = pytest.mark.browser

ServerOf = Callable[[Path], Server]
WORKER = worker_script(bundled("site_templates") / "theme")
LOST = "This page is not kept on this phone, and there is no signal to fetch it."
REVISION = "navigator.serviceWorker.ready.then(() => window.refgenRevision)"
KEPT = "caches.keys().then(names => names.filter(name => !name.endsWith(' notes')).length)"


@pytest.fixture
def copy(site: Path, tmp_path: Path) -> Path:
    """A copy of the site to change."""
    return Path(shutil.copytree(site, tmp_path / "copy"))


def addresses(site: Path) -> list[str]:
    return [e["address"] for e in json.loads((site / "catalog.json").read_text("utf-8"))]


def change(folder: Path, address: str, mark: str) -> None:
    """Change a page as an edit of its text does."""
    path = folder / address
    path.write_text(path.read_text("utf-8").replace("</h1>", f" {mark}</h1>", 1), "utf-8")


def publish(folder: Path, withdrawn: dict[str, str] | None = None) -> str:
    """Write pack, worker and revision of a changed folder, as a build does."""
    ends = (".csv", ".json")  # what a build leaves to those with signal
    files = (path.relative_to(folder).as_posix() for path in folder.rglob("*"))
    not_kept = {address for address in files if address.endswith(ends)}
    return write_offline(folder, WORKER, withdrawn, not_kept, LOST)


def saved(page: Page, server: Server, address: str = "index.html") -> None:
    """Open a page and wait until all is kept and the worker serves."""
    page.goto(server.url + address)
    expect(page.locator("#_kept[data-now=saved]")).to_be_attached(timeout=60_000)
    page.wait_for_function("navigator.serviceWorker.controller !== null")


def look_for_news(page: Page) -> None:
    """Look for a new revision now, and wait until it is kept or given up."""
    page.evaluate(
        """async () => {
          const registration = await navigator.serviceWorker.ready;
          await registration.update().catch(() => null);
          const coming = registration.installing;
          if (coming) await new Promise(done => coming.addEventListener("statechange", done));
        }"""
    )


def heading(page: Page, url: str) -> str:
    page.goto(url)
    return page.locator("h1").inner_text()


def test_with_the_server_gone_every_page_of_the_catalog_opens(
    page: Page, site: Path, server_of: ServerOf
) -> None:
    server = server_of(site)
    saved(page, server)
    server.stop()
    for address in addresses(site):
        answer = page.goto(server.url + address, wait_until="commit")
        assert answer is not None, address
        assert answer.from_service_worker, address
        html = (site / address).read_bytes()
        assert answer.body() == html, address
        assert answer.headers["content-type"] == "text/html; charset=utf-8"


def test_with_the_server_gone_the_page_is_whole_and_search_works(
    page: Page, site: Path, server_of: ServerOf
) -> None:
    server = server_of(site)
    saved(page, server)
    server.stop()
    page.goto(server.url)  # a new page, whose every file must come from what is kept
    expect(page.locator("#_kept[data-now=saved]")).to_be_attached()
    assert page.evaluate("getComputedStyle(document.querySelector('.bar')).position") == "fixed"
    page.get_by_role("link", name="Search").click()
    page.locator("#q").fill("unloder chatter")
    page.locator("#found a").first.click()
    expect(page.locator("h1")).to_have_text("Unloader hammers while jetting")
    page.goto(f"{server.url}search.html?q=milky+oil#found")
    expect(page.locator("#found a").first).to_have_attribute("href", "symptoms/milky-oil.html")


def test_with_the_server_gone_other_ways_of_writing_an_address_work(
    page: Page, site: Path, server_of: ServerOf
) -> None:
    server = server_of(site)
    saved(page, server)
    server.stop()
    home = (site / "index.html").read_bytes()
    for way in ("", "index.html", "?from=home", "index"):
        answer = page.goto(server.url + way)
        assert answer is not None
        assert answer.body() == home, way
    page.goto(f"{server.url}materials")
    assert page.url == f"{server.url}materials/"  # so that the page's own links hold
    assert heading(page, f"{server.url}materials/pvc-solid") == "Solid PVC pipe"


def test_a_page_that_is_not_there_is_told_apart_from_one_that_takes_signal(
    page: Page, site: Path, server_of: ServerOf
) -> None:
    server = server_of(site)
    saved(page, server)
    address = f"{server.url}materials/no-such-pipe.html"
    missing = page.goto(address)
    assert missing is not None
    assert missing.status == 404
    styled = "getComputedStyle(document.querySelector('.bar')).position"
    assert page.evaluate(styled) == "fixed"  # from an address that lies deeper than the page
    assert page.locator("h1:visible").all_inner_texts() == ["No such page"]
    server.stop()
    missing = page.goto(address)
    assert missing is not None
    assert missing.status == 503
    assert page.locator("h1:visible").all_inner_texts() == ["Not on this phone"]
    assert page.evaluate(styled) == "fixed"
    expect(page.locator(".answer:visible")).to_contain_text("there is no signal to fetch it")
    page.get_by_role("link", name="A to Z").click()
    expect(page.locator("h1")).to_have_text("A to Z")


def test_a_file_that_no_phone_keeps_is_had_with_signal_and_told_without(
    page: Page, site: Path, server_of: ServerOf
) -> None:
    server = server_of(site)
    saved(page, server, "tables/nozzle-size.html")
    link = page.get_by_role("link", name="These numbers as CSV")
    with page.expect_download() as had:
        link.click()
    assert had.value.path().read_bytes() == (site / "tables" / "nozzle-size.csv").read_bytes()
    server.stop()
    link.click()
    expect(page.locator("#_told")).to_have_text(
        "This file is not kept on the phone. It takes signal to get it."
    )
    assert page.url == f"{server.url}tables/nozzle-size.html"


def test_the_foot_says_revision_and_when_it_was_checked(
    page: Page, site: Path, server_of: ServerOf
) -> None:
    server = server_of(site)
    saved(page, server)
    revision = (site / "assets" / "revision.js").read_text("utf-8").split('"')[1]
    text = page.locator("#_kept").inner_text()
    assert text.startswith(f"Saved for use without signal. Revision {revision}, checked ")
    assert str(time.localtime().tm_year) in text
    server.stop()
    page.goto(f"{server.url}emergency.html")
    expect(page.locator("#_kept[data-now=saved]")).to_contain_text(text[:60])


def test_the_first_view_asks_for_four_files_and_no_other_host(
    context: BrowserContext, page: Page, site: Path, server_of: ServerOf
) -> None:
    server = server_of(site)
    asked: list[str] = []
    context.on("request", lambda request: asked.append(request.url))
    page.goto(f"{server.url}symptoms/milky-oil.html", wait_until="load")
    after = {"offline.js", "print.css", "revision.js", "site.webmanifest", "sw.js", "pack.lzma"}
    # The logo is also the icon. This host forbids keeping anything, so it is asked for it twice;
    # a host that allows it is asked once.
    assert len({path for path in server.asked if path.rpartition("/")[2] not in after}) <= 4
    saved(page, server)
    told = context.new_cdp_session(page).send("Page.getAppManifest")
    assert (told["url"], told["errors"]) == (f"{server.url}site.webmanifest", [])
    assert [url for url in asked if not url.startswith(server.url)] == []


def test_the_first_install_comes_in_one_pack(page: Page, site: Path, server_of: ServerOf) -> None:
    server = server_of(site)
    saved(page, server)
    assert server.asked.count("/assets/pack.lzma") == 1
    # Of some hundred files only those that are no text come one by one.
    single = {path for path in server.asked if path.endswith((".html", ".json", ".csv"))}
    assert single == {"/index.html"}


def test_an_update_fetches_what_changed_and_waits_for_the_readers_word(
    page: Page, copy: Path, server_of: ServerOf
) -> None:
    server = server_of(copy)
    saved(page, server)
    old = page.evaluate(REVISION)
    change(copy, "materials/clay-old.html", "changed")
    new = publish(copy)
    assert new != old
    del server.asked[:]
    look_for_news(page)
    assert sorted(set(server.asked)) == [
        "/assets/revision.js", "/materials/clay-old.html", "/sw.js",
    ]  # fmt: skip
    # The old one goes on, on this page and on the next, until the reader agrees.
    assert heading(page, f"{server.url}materials/clay-old.html") == "Old clay pipe"
    expect(page.locator("#_ready")).to_contain_text("A new version is ready.")
    assert page.evaluate(REVISION) == old
    with page.expect_navigation():
        page.get_by_role("button", name="Use it now").click()
    expect(page.locator("h1")).to_have_text("Old clay pipe changed")
    assert page.evaluate(REVISION) == new
    # With the last page of the old revision gone, what it kept goes too.
    page.goto(f"{server.url}index.html")
    page.goto(f"{server.url}emergency.html")
    page.wait_for_function(f"{KEPT}.then(kept => kept === 1)")
    server.stop()
    assert heading(page, f"{server.url}materials/clay-old.html") == "Old clay pipe changed"


def test_a_page_of_the_old_revision_keeps_its_files_until_it_is_left(
    context: BrowserContext, page: Page, copy: Path, server_of: ServerOf
) -> None:
    server = server_of(copy)
    saved(page, server)
    page.goto(f"{server.url}emergency.html")
    other = context.new_page()
    saved(other, server)
    index = copy / "assets" / "search-index.js"
    index.write_text(index.read_text("utf-8") + "window.refgenIndex.newer = true;\n", "utf-8")
    publish(copy)
    look_for_news(page)
    with page.expect_navigation():
        page.get_by_role("button", name="Use it now").click()
    asked = "fetch('assets/search-index.js').then(answer => answer.text())"
    assert "newer = true" in page.evaluate(asked)
    assert "newer = true" not in other.evaluate(asked)
    # There too it is said, and taken up when the reader likes.
    with other.expect_navigation():
        other.get_by_role("button", name="Use it now").click()
    assert "newer = true" in other.evaluate(asked)


def test_an_update_of_a_tenth_of_all_pages_fetches_these_and_no_others(
    page: Page, copy: Path, server_of: ServerOf
) -> None:
    server = server_of(copy)
    saved(page, server)
    titled = [a for a in addresses(copy) if "</h1>" in (copy / a).read_text("utf-8")]
    changed = titled[::10]
    for address in changed:
        change(copy, address, "changed")
    publish(copy)
    del server.asked[:]
    look_for_news(page)
    fetched = {path.lstrip("/") for path in server.asked}
    assert fetched == {*changed, "sw.js", "assets/revision.js"}
    page.goto(f"{server.url}search.html")
    with page.expect_navigation():
        page.get_by_role("button", name="Use it now").click()
    page.wait_for_function("navigator.serviceWorker.controller !== null")
    server.stop()
    for address in [*changed[::4], *titled[1::40]]:
        answer = page.goto(server.url + address, wait_until="domcontentloaded")
        assert answer is not None, address
        assert answer.body() == (copy / address).read_bytes(), address


@pytest.mark.parametrize("point", [0, 1, 3, 9, 18])
def test_a_server_that_dies_midway_leaves_the_old_version_whole(
    page: Page, copy: Path, server_of: ServerOf, point: int
) -> None:
    server = server_of(copy)
    saved(page, server)
    changed = [a for a in addresses(copy) if a.startswith("symptoms/")][:20]
    for address in changed:
        change(copy, address, "changed")
    publish(copy)
    server.dies_after = point  # of the worker, the revision's name and twenty pages
    look_for_news(page)
    server.stop()
    for address in [*changed[:3], "index.html", "terms/index.html"]:
        assert "changed" not in heading(page, server.url + address)
    # The next try goes on where this one ended.
    server.start()
    del server.asked[:]
    look_for_news(page)
    page.goto(f"{server.url}index.html")
    expect(page.locator("#_ready")).to_be_visible()
    again = [path for path in server.asked if path.startswith("/symptoms/")]
    assert 0 < len(again) <= len(changed)
    assert len(again) < len(changed) or point < 9
    with page.expect_navigation():
        page.get_by_role("button", name="Use it now").click()
    server.stop()
    for address in changed:
        assert heading(page, server.url + address).endswith("changed")


def test_a_phone_without_room_says_so_keeps_what_it_has_and_heals(
    context: BrowserContext, page: Page, copy: Path, server_of: ServerOf
) -> None:
    server = server_of(copy)
    origin = server.url.rstrip("/")
    room = context.new_cdp_session(page)
    room.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 600_000})
    page.goto(server.url)
    expect(page.locator("#_kept[data-now=full]")).to_contain_text("not enough room", timeout=20_000)
    room.send("Storage.overrideQuotaForOrigin", {"origin": origin})
    saved(page, server)
    # Full again, when a new revision comes: the one there is goes on, whole.
    change(copy, "materials/brick.html", "changed")
    publish(copy, {"index.html": "A number was wrong."})
    room.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 1000})
    look_for_news(page)
    expect(page.get_by_role("alert")).to_contain_text("A number was wrong.")
    server.stop()
    for address in ("materials/brick.html", "symptoms/milky-oil.html", "terms/index.html"):
        assert "changed" not in heading(page, server.url + address)
    server.start()
    room.send("Storage.overrideQuotaForOrigin", {"origin": origin})
    look_for_news(page)
    page.goto(f"{server.url}materials/brick.html")
    with page.expect_navigation():
        page.get_by_role("button", name="Use it now").click()
    expect(page.locator("h1")).to_have_text("Brick sewer changed")


def test_the_browser_is_asked_once_to_keep_it_and_a_refusal_is_told(
    page: Page, site: Path, server_of: ServerOf
) -> None:
    page.add_init_script(
        """StorageManager.prototype.persisted = () => Promise.resolve(false);
        StorageManager.prototype.persist = () => {
          localStorage.setItem("times", Number(localStorage.getItem("times")) + 1);
          return Promise.resolve(false);
        };"""
    )
    server = server_of(site)
    saved(page, server)
    expect(page.locator("#_kept")).to_contain_text("may clear it when room runs short")
    page.goto(f"{server.url}emergency.html")
    expect(page.locator("#_kept")).to_contain_text("may clear it when room runs short")
    assert page.evaluate("localStorage.getItem('times')") == "1"


def test_a_half_done_upload_is_refused_and_heals(
    page: Page, copy: Path, server_of: ServerOf
) -> None:
    server = server_of(copy)
    saved(page, server)
    old = (copy / "materials" / "brick.html").read_bytes()
    change(copy, "materials/brick.html", "changed")
    publish(copy)
    new = (copy / "materials" / "brick.html").read_bytes()
    (copy / "materials" / "brick.html").write_bytes(old)  # the list is there, the page is not yet
    look_for_news(page)
    page.goto(f"{server.url}index.html")
    expect(page.locator("#_kept[data-now=saved]")).to_be_attached()
    assert page.locator("#_ready").count() == 0
    (copy / "materials" / "brick.html").write_bytes(new)
    look_for_news(page)
    page.goto(f"{server.url}index.html")
    with page.expect_navigation():
        page.get_by_role("button", name="Use it now").click()
    server.stop()
    assert heading(page, f"{server.url}materials/brick.html") == "Brick sewer changed"


def test_a_page_newer_than_what_is_kept_comes_with_its_own_styles_and_scripts(
    page: Page, copy: Path, server_of: ServerOf
) -> None:
    server = server_of(copy)
    saved(page, server)
    colour = "getComputedStyle(document.querySelector('h1')).color"
    shutil.copy(copy / "materials" / "brick.html", copy / "materials" / "newest.html")
    with (copy / "assets" / "site.css").open("a", encoding="utf-8") as styles:
        styles.write("h1 { color: #010203 !important }")
    with (copy / "assets" / "site.js").open("a", encoding="utf-8") as script:
        script.write("\nwindow.newest = true;\n")
    publish(copy)
    page.goto(f"{server.url}materials/newest.html")
    assert page.evaluate(f"[{colour}, window.newest]") == ["rgb(1, 2, 3)", True]
    page.goto(f"{server.url}materials/brick.html")  # kept, and of one piece with what is kept
    assert page.evaluate("window.newest") is None
    assert page.evaluate(colour) != "rgb(1, 2, 3)"


def test_with_the_worker_not_yet_up_phones_keep_the_old_or_nothing(
    browser: Browser, page: Page, copy: Path, server_of: ServerOf
) -> None:
    server = server_of(copy)
    saved(page, server)
    old = (copy / "sw.js").read_bytes()
    change(copy, "materials/brick.html", "changed")
    publish(copy)
    new = (copy / "sw.js").read_bytes()
    (copy / "sw.js").write_bytes(old)  # pages and pack are up, the worker is not yet
    look_for_news(page)
    assert heading(page, f"{server.url}materials/brick.html") == "Brick sewer"
    with browser.new_context() as unknown:
        other = unknown.new_page()
        assert heading(other, f"{server.url}materials/brick.html") == "Brick sewer changed"
        expect(other.locator("#_kept[data-now=failed]")).to_be_attached()
        (copy / "sw.js").write_bytes(new)
        saved(other, server)
        server.stop()
        assert heading(other, f"{server.url}materials/brick.html") == "Brick sewer changed"
    server.start()
    look_for_news(page)
    expect(page.locator("#_ready")).to_be_visible()


def test_a_first_install_cut_short_says_so_and_is_taken_up_again(
    page: Page, site: Path, server_of: ServerOf
) -> None:
    server = server_of(site)
    server.dies_after = 9  # the page, its few files and the worker, but not the pack
    page.goto(server.url)
    expect(page.locator("#_kept[data-now=failed]")).to_contain_text("did not work")
    server.stop()
    server.start()
    saved(page, server)
    server.stop()
    assert heading(page, f"{server.url}materials/brick.html") == "Brick sewer"


def test_what_the_browser_cleared_is_told_and_mended(
    page: Page, site: Path, server_of: ServerOf
) -> None:
    server = server_of(site)
    saved(page, server)
    page.evaluate(
        """async () => {
          for (const name of await caches.keys()) {
            const cache = await caches.open(name);
            for (const key of await cache.keys()) {
              if (key.url.includes("/symptoms/")) await cache.delete(key);
            }
          }
        }"""
    )
    server.stop()
    page.goto(f"{server.url}index.html")
    expect(page.locator("#_kept[data-now=partly], #_kept[data-now=failed]")).to_be_attached()
    server.start()
    saved(page, server)
    server.stop()
    assert heading(page, f"{server.url}symptoms/milky-oil.html") == "Milky oil in the pump"


def test_a_phone_that_has_cleared_all_says_so_and_keeps_it_again(
    page: Page, site: Path, server_of: ServerOf
) -> None:
    server = server_of(site)
    saved(page, server)
    page.evaluate("caches.keys().then(all => Promise.all(all.map(name => caches.delete(name))))")
    server.stop()
    answer = page.goto(f"{server.url}symptoms/milky-oil.html")
    assert answer is not None
    assert answer.from_service_worker
    expect(page.locator("body")).to_contain_text("there is no signal to fetch it")
    server.start()
    saved(page, server)
    server.stop()
    assert heading(page, f"{server.url}symptoms/milky-oil.html") == "Milky oil in the pump"


def test_a_page_left_open_hears_of_a_withdrawal_when_signal_comes_back(
    page: Page, copy: Path, server_of: ServerOf
) -> None:
    server = server_of(copy)
    saved(page, server)
    page.evaluate("localStorage.removeItem('refgen:checked')")  # as if it were long ago
    server.stop()
    # The host writes addresses with and without their ending.
    page.goto(f"{server.url}materials/brick")
    expect(page.locator("#_kept[data-now=saved]")).to_be_attached()
    publish(copy, {"materials/brick.html": "The ceiling was wrong."})
    server.start()
    assert page.get_by_role("alert").count() == 0
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.get_by_role("alert")).to_contain_text("The ceiling was wrong.")


def test_a_withdrawn_page_says_so_before_anyone_agrees_to_the_new_revision(
    page: Page, copy: Path, server_of: ServerOf
) -> None:
    server = server_of(copy)
    saved(page, server, "materials/brick.html")
    publish(copy, {"materials/brick.html": "The <b>ceiling</b> was wrong."})
    look_for_news(page)
    line = page.get_by_role("alert")
    expect(line).to_contain_text("This page has been withdrawn.")
    expect(line).to_contain_text("The <b>ceiling</b> was wrong.")
    server.stop()
    page.goto(f"{server.url}materials/clay-old.html")
    expect(page.locator("#_kept[data-now=saved]")).to_be_attached()
    assert page.get_by_role("alert").count() == 0
    page.goto(f"{server.url}materials/brick.html")
    expect(page.get_by_role("alert")).to_be_visible()


def test_a_site_in_a_folder_of_the_host_is_kept_beside_another(
    page: Page, site: Path, tmp_path: Path, server_of: ServerOf
) -> None:
    shutil.copytree(site, tmp_path / "host" / "en")
    shutil.copytree(site, tmp_path / "host" / "other")
    change(tmp_path / "host" / "other", "index.html", "other")
    publish(tmp_path / "host" / "other")
    server = server_of(tmp_path / "host")
    saved(page, server, "en/index.html")
    saved(page, server, "other/index.html")
    server.stop()
    assert heading(page, f"{server.url}en/").endswith("reference")
    assert heading(page, f"{server.url}other/").endswith("other")


def test_a_site_that_moved_into_a_folder_of_its_host_is_kept_there_too(
    page: Page, site: Path, tmp_path: Path, server_of: ServerOf
) -> None:
    host = Path(shutil.copytree(site, tmp_path / "host"))
    server = server_of(host)
    saved(page, server)
    host.rename(tmp_path / "reference")
    host.mkdir()
    (tmp_path / "reference").rename(host / "reference")
    # The worker of the former place answers until the page's own serves.
    saved(page, server, "reference/index.html")
    server.stop()
    for address in ("symptoms/milky-oil.html", "materials/brick.html"):
        answer = page.goto(f"{server.url}reference/{address}")
        assert answer is not None
        assert answer.body() == (site / address).read_bytes()
    page.get_by_role("link", name="Search").click()
    page.locator("#q").fill("milky oil")
    page.locator("#found a").first.click()
    assert page.url == f"{server.url}reference/symptoms/milky-oil.html"


def test_pages_being_edited_are_never_kept_and_a_former_worker_goes(
    page: Page, copy: Path, server_of: ServerOf
) -> None:
    server = server_of(copy)
    saved(page, server)
    # As `refgen serve` writes it: no place for what the worker tells, and a worker that goes.
    home = copy / "index.html"
    home.write_text(re.sub('<p id="_kept".*?</p>', "", home.read_text("utf-8")), "utf-8")
    change(copy, "index.html", "edited")
    write_retired(copy, WORKER)
    look_for_news(page)
    page.wait_for_function("navigator.serviceWorker.getRegistrations().then(all => !all.length)")
    page.wait_for_function("caches.keys().then(names => !names.length)")
    assert heading(page, f"{server.url}index.html").endswith("edited")


def test_from_a_folder_the_pages_run_without_a_worker_and_without_complaint(
    context: BrowserContext, page: Page, site: Path
) -> None:
    asked: list[str] = []
    said: list[str] = []
    context.on("request", lambda request: asked.append(request.url))

    def note(message: ConsoleMessage) -> None:
        if message.type in ("error", "warning"):
            said.append(f"{page.url}: {message.text}")

    page.on("console", note)
    page.on("pageerror", lambda error: said.append(str(error)))
    revision = (site / "assets" / "revision.js").read_text("utf-8").split('"')[1]
    chosen = random.Random(7).sample(addresses(site), 15)
    for address in ["index.html", "search.html", "emergency.html", *chosen]:
        if address == "404.html":  # its links are for a web host, which shows it at any depth
            continue
        page.goto((site / address).as_uri())
        expect(page.locator("#_kept[data-now=folder]")).to_contain_text(revision)
    assert said == []
    assert [url for url in asked if not url.startswith("file://")] == []
