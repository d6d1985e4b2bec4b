"""`site.zip`, unpacked and opened from a folder in Chromium and in Firefox: no server anywhere."""

from __future__ import annotations

import json
import time
import zipfile
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser
from playwright.sync_api import Error as PlaywrightError

from refgen.archive import write_zip
from refgen.worksheet.fleet import told_rig
from tests.browser.firefox import Firefox, Phone
from tests.browser.sorts import ADDRESSES, EACH_SORT
from tests.browser.test_worksheet_browser import FULL, NUMBERS, VECTORS
from tests.rigs import rig_of_vector

pytestmark = pytest.mark.browser

RUNNING = ["chromium", "firefox"]


class ChromiumPhone:
    """What `Phone` is to Firefox, to Chromium."""

    def __init__(self, browser: Browser) -> None:
        self.user = browser.new_context(viewport={"width": 390, "height": 844}, locale="en-US")
        self.heard: list[str] = []
        self.open_window()

    def open_window(self) -> None:
        self.page = self.user.new_page()
        self.page.on("console", lambda m: self.heard.append(m.text) if m.type == "error" else None)
        self.page.on("pageerror", lambda error: self.heard.append(str(error)))
        self.page.on(
            "request",
            lambda r: self.heard.append(r.url) if not r.url.startswith("file:") else None,
        )

    def close_window(self) -> None:
        self.page.close()

    def close(self) -> None:
        self.user.close()

    def goto(self, url: str) -> None:
        # From one address to another on the same page nothing would be loaded.
        self.page.goto("about:blank")
        self.page.goto(url)

    def run(self, expression: str) -> Any:
        return self.page.evaluate(f"async () => {expression}")

    def press(self, selector: str) -> None:
        self.page.locator(selector).first.click()

    def type(self, text: str) -> None:
        if len(text) > 1 and text in ("Enter", "Escape", "Tab", "ArrowDown"):
            self.page.keyboard.press(text)
        else:
            self.page.keyboard.type(text)

    def wrong(self) -> list[str]:
        return self.heard


AnyPhone = ChromiumPhone | Phone


def until(phone: AnyPhone, expression: str) -> Any:
    """Return the value of an expression as soon as it is a true one."""
    ends = time.monotonic() + 10
    while time.monotonic() < ends:
        # A page that is being left answers nothing.
        with suppress(PlaywrightError, AssertionError):
            if value := phone.run(expression):
                return value
        time.sleep(0.03)
    raise AssertionError(f"never: {expression}")


@pytest.fixture(scope="module")
def folders(tmp_path_factory: pytest.TempPathFactory, site: Path, quillfen: Path) -> dict[str, str]:
    """Addresses of both demonstrations, unpacked from what `refgen zip` writes."""
    base = tmp_path_factory.mktemp("a stick")  # a name with a space, as sticks have
    for name, built in (("pebblecombe", site), ("quillfen", quillfen)):
        write_zip(built, base / f"{name}.zip")
        with zipfile.ZipFile(base / f"{name}.zip") as archive:
            archive.extractall(base / name)
    return {name: f"{(base / name).as_uri()}/" for name in ("pebblecombe", "quillfen")}


@pytest.fixture(params=RUNNING)
def phone(request: pytest.FixtureRequest) -> Iterator[AnyPhone]:
    browser = request.getfixturevalue("browser" if request.param == "chromium" else "firefox")
    one = Phone(browser) if isinstance(browser, Firefox) else ChromiumPhone(browser)
    yield one
    wrong = one.wrong()
    one.close()
    assert wrong == []


def test_the_driver_of_firefox_tells_errors_and_what_is_asked_of_a_host(firefox: Firefox) -> None:
    one = Phone(firefox)
    one.goto(
        "data:text/html,<script>console.error('lamp')</script><img src=http://127.0.0.1:59999/a>"
    )
    assert sorted(one.wrong()) == ["http://127.0.0.1:59999/a", "lamp"]
    one.goto("data:text/html,<p>under</p><div style='position:fixed;inset:0'></div>")
    with pytest.raises(AssertionError, match="p is covered"):
        one.press("p")
    one.close()


def test_every_sort_of_page_opens_with_its_looks_and_links(
    phone: AnyPhone, folders: dict[str, str]
) -> None:
    found = {}
    for address in ADDRESSES:
        phone.goto(folders["pebblecombe"] + address)
        found[address] = phone.run(
            """({bar: getComputedStyle(document.querySelector('.bar')).position,
                 scripted: [...document.querySelectorAll('.top button')].every(b => !b.hidden),
                 wide: document.documentElement.scrollWidth <= innerWidth,
                 head: document.querySelector('h1').checkVisibility(),
                 elsewhere: [...document.querySelectorAll('a[href]')].map(a => a.href)
                   .filter(href => !/^(file|tel):/.test(href))})"""
        )
    right = {"bar": "fixed", "scripted": True, "wide": True, "head": True, "elsewhere": []}
    assert {address: got for address, got in found.items() if got != right} == {}


def test_from_home_by_the_bar_and_by_search_to_a_page(
    phone: AnyPhone, folders: dict[str, str]
) -> None:
    phone.goto(f"{folders['pebblecombe']}index.html")
    phone.press(".bar a[href='search.html']")
    until(phone, "location.pathname.endsWith('/search.html') && !!window.refgenIndex")
    phone.press("#q")
    phone.type("gage low")
    hit = until(phone, "document.querySelector('#found a')?.textContent ?? ''")
    assert "Gauge low but steady" in hit
    until(phone, "location.search === '?q=gage+low'")
    phone.type("ArrowDown")
    phone.type("Enter")
    until(phone, "location.pathname.endsWith('/symptoms/gauge-low-steady.html')")
    phone.run("history.back()")
    until(phone, "document.querySelectorAll('#found a').length > 2")  # what was left stands there


def test_tables_keep_their_names_in_view_and_show_one_row_alone(
    phone: AnyPhone, folders: dict[str, str]
) -> None:
    phone.goto(f"{folders['pebblecombe']}tables/nozzle-size.html")
    stays = phone.run(
        """(() => { const box = document.querySelectorAll('.box')[1]; box.scrollTo(300, 300);
            const at = e => e.getBoundingClientRect(), frame = at(box);
            const head = at(box.querySelectorAll('thead th')[5]);
            const name = at(box.querySelectorAll('tbody th')[6]);
            return [box.scrollLeft, Math.abs(head.top - frame.top),
                    Math.abs(name.left - frame.left)];
        })()"""
    )
    assert stays[0] > 200
    assert max(stays[1:]) <= 2
    phone.press(".look:has(thead th:nth-child(5)) tbody tr:nth-child(2) th :is(a, button)")
    until(phone, "document.querySelector('dialog').open")
    name = phone.run("document.querySelector('dialog h2').textContent")
    phone.type("Escape")
    until(phone, "!document.querySelector('dialog').open")
    assert phone.run("document.activeElement.textContent") == name


def test_the_chosen_machine_look_and_ticks_are_kept_from_page_to_page(
    phone: AnyPhone, folders: dict[str, str]
) -> None:
    base = folders["pebblecombe"]
    phone.goto(f"{base}my-machine.html")
    phone.press("button[data-machine=hazel-van]")
    ground = "getComputedStyle(document.body).backgroundColor"
    before = phone.run(ground)
    phone.press(".top button")
    chosen = phone.run(ground)
    assert chosen != before
    phone.goto(f"{base}procedures/start-machine.html")
    assert phone.run(ground) == chosen
    assert phone.run("document.getElementById('pulse-off').checkVisibility()") is False
    phone.press("#prime .tick")
    phone.close_window()
    phone.open_window()
    phone.goto(f"{base}procedures/start-machine.html")
    assert phone.run("document.querySelector('#prime .tick').ariaPressed") == "true"
    phone.goto(f"{base}tables/machine-jets.html")
    rows = phone.run(
        "[...document.querySelectorAll('tr[data-mine]')].map(r => r.dataset.rowMachine)"
    )
    assert set(rows) == {"hazel-van"}
    phone.goto(f"{base}index.html")
    seen = phone.run("[...document.querySelectorAll('.rows a')].map(a => a.textContent)")
    assert "Start the machine" in seen


def test_the_worksheet_gives_the_published_numbers(
    phone: AnyPhone, folders: dict[str, str]
) -> None:
    phone.goto(f"{folders['pebblecombe']}worksheet.html{FULL}")
    until(phone, "document.querySelector('.ws-now').checkVisibility()")
    assert phone.run("document.querySelector('#_answers .answer').textContent") != ""
    vectors = VECTORS["operating_point"]
    rigs = json.dumps([told_rig(rig_of_vector(vector["setup"])) for vector in vectors])
    found = phone.run(
        f"{rigs}.map(rig => {{ const at = refgenSheet.model.workingPoint(rig);"
        f" return {json.dumps(NUMBERS)}.map(name => at[name]); }})"
    )
    units = {"flow": "flow_m3_per_s", "gauge": "gauge_pa", "nozzle": "nozzle_pa"}
    assert len(found) == len(vectors) > 20
    for vector, numbers in zip(vectors, found, strict=True):
        for name, key in units.items():
            got = numbers[NUMBERS.index(name)]
            assert got == pytest.approx(vector["expect"][key], rel=1e-3), (name, vector["setup"])


def test_a_class_is_chosen_and_its_lesson_asked_and_answered(
    phone: AnyPhone, folders: dict[str, str]
) -> None:
    base = folders["quillfen"]
    phone.goto(f"{base}lessons/cart-hour-trainer.html")
    assert phone.run("document.getElementById('bleed').checkVisibility()") is True
    phone.press(".class input[value=rush-cart]")
    phone.goto(f"{base}machines/compare.html")
    columns = phone.run(
        "[...document.querySelectorAll('[data-column]')].filter(e => e.checkVisibility())"
        ".map(e => e.dataset.column)"
    )
    assert set(columns) == {"rush-cart"}
    phone.goto(f"{base}lessons/cart-hour.html?class=rush-cart")
    assert phone.run("document.getElementById('bleed').checkVisibility()") is False
    phone.press("#pulse input[value=bend]")
    phone.press("#pulse button.check")
    assert phone.run("document.querySelector('#pulse .verdict').textContent") == "Right"
    phone.press(".lesson .rows a")
    back = until(phone, "document.querySelector('.back a')?.textContent ?? ''")
    assert "step 1 of" in back
    phone.press(".back a")
    until(phone, "location.pathname.endsWith('/lessons/cart-hour.html')")
    until(phone, "document.querySelector('#pulse .verdict')?.textContent === 'Right'")


def test_a_page_in_the_folder_leads_to_every_other_kind(
    phone: AnyPhone, folders: dict[str, str]
) -> None:
    """Links, and the two answers of a browser to a missing file, are the folder's own."""
    phone.goto(f"{folders['pebblecombe']}index.html")
    phone.press(f".ways a[href='{EACH_SORT['index of a kind']}']")
    until(phone, "location.pathname.endsWith('/symptoms/index.html')")
    phone.press(".rows a[href$='gauge-low-steady.html']")
    until(phone, "location.pathname.endsWith('/symptoms/gauge-low-steady.html')")
    foot = until(phone, "document.getElementById('_kept')?.textContent ?? ''")
    assert "folder" in foot
