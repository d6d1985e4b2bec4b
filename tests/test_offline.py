"""What is written so that a phone can keep the site: list, pack, revision, web manifest."""

from __future__ import annotations

import hashlib
import json
import os
import random
import re
from pathlib import Path
from typing import Any

import pytest

from refgen.assets import search_script, web_manifest
from refgen.bundled import bundled
from refgen.model.company import Brand
from refgen.offline import worker_script, write_offline, write_retired
from refgen.remarks import script_without_remarks
from tests import packed

FILES = {
    "index.html": "<h1>Home</h1>",
    "kinds/ä page.html": "<p>Grün – 3/8″</p>",
    "assets/site.css": "p { margin: 0 }",
    "data.json": "{}",
    "for-a-sheet.csv": "\ufeffa,b\n",
}
PICTURE = b"\x89PNG\r\n\x1a\n\xff\xfe"
WORKER = "// the worker\n"


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A small built site."""
    for address, text in FILES.items():
        path = tmp_path / address
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, "utf-8")
    (tmp_path / "assets" / "icon.png").write_bytes(PICTURE)
    return tmp_path


def listed(site: Path) -> dict[str, Any]:
    """Return what stands before the worker's text."""
    text = (site / "sw.js").read_text("utf-8")
    first, rest = text.split("\n", 1)
    assert rest == WORKER
    found: dict[str, Any] = json.loads(first.removeprefix("const SITE = ").removesuffix(";"))
    return found


def test_the_list_holds_every_file_with_its_hash(site: Path) -> None:
    write_offline(site, WORKER)
    found = listed(site)["files"]
    kept = [address for address, _, _ in found]
    assert kept == sorted({*FILES, "assets/icon.png", "assets/revision.js"})
    for address, letters, _ in found:
        whole = hashlib.sha256((site / address).read_bytes()).hexdigest()
        assert whole.startswith(letters)
        assert len(letters) == 16


def texts_of(site: Path) -> dict[str, bytes]:
    """Read the pack as a phone does: one file after another, as long as the list says."""
    content = packed.unpacked((site / "assets" / "pack.lzma").read_bytes())
    files, start = {}, 0
    for address, _, length in listed(site)["files"]:
        if length:
            files[address] = content[start : start + length]
            start += length
    assert start == len(content)
    return files


def test_the_pack_holds_every_text_byte_for_byte_and_no_picture(site: Path) -> None:
    write_offline(site, WORKER)
    files = texts_of(site)
    assert set(files) == {*FILES, "assets/revision.js"}
    for address, content in files.items():
        assert content == (site / address).read_bytes()


def test_what_pages_share_is_packed_once_however_far_apart(tmp_path: Path) -> None:
    whole = random.Random(1)
    frame, *own = (whole.randbytes(20_000).hex() for _ in range(6))
    for number, text in enumerate(own):
        (tmp_path / f"{number}.html").write_text(frame + text)
    write_offline(tmp_path, WORKER)
    # Hex digits hold half of what they take. Six stretches of them are different, not ten.
    assert (tmp_path / "assets" / "pack.lzma").stat().st_size < 6 * 20_000 * 1.15


def test_what_no_phone_needs_is_neither_kept_nor_a_new_revision(site: Path) -> None:
    revision = write_offline(site, WORKER, None, {"for-a-sheet.csv"})
    assert "for-a-sheet.csv" not in texts_of(site)
    assert "for-a-sheet.csv" not in [address for address, _, _ in listed(site)["files"]]
    (site / "for-a-sheet.csv").write_text("another")
    assert write_offline(site, WORKER, None, {"for-a-sheet.csv"}) == revision


def test_the_revision_is_that_of_the_files(site: Path) -> None:
    revision = write_offline(site, WORKER)
    assert (
        site / "assets" / "revision.js"
    ).read_text() == f'window.refgenRevision = "{revision}";\n'
    assert listed(site)["revision"] == revision
    for path in site.rglob("*.html"):
        assert revision not in path.read_text("utf-8")
    os.utime(site / "index.html", (1, 1))
    before = {path: path.read_bytes() for path in site.rglob("*") if path.is_file()}
    assert write_offline(site, WORKER) == revision
    assert {path: path.read_bytes() for path in site.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize("change", ["byte", "name", "more", "less"])
def test_any_other_file_or_byte_is_another_revision(site: Path, change: str) -> None:
    revision = write_offline(site, WORKER)
    home = site / "index.html"
    if change == "byte":
        home.write_text("<h1>Homf</h1>")
    elif change == "name":
        home.rename(site / "start.html")
    elif change == "more":
        (site / "empty.html").touch()
    else:
        home.unlink()
    assert write_offline(site, WORKER) != revision


def test_files_that_a_host_takes_for_itself_are_left_out(site: Path) -> None:
    revision = write_offline(site, WORKER)
    (site / ".nojekyll").touch()
    (site / "_headers").write_text("/*\n")
    (site / ".well-known").mkdir()
    (site / ".well-known" / "note.txt").touch()
    assert write_offline(site, WORKER) == revision


def test_withdrawn_pages_are_listed_with_their_reason(site: Path) -> None:
    reason = "</script> wrong \u2028 limit & <b>more</b>"
    revision = write_offline(site, WORKER)
    assert write_offline(site, WORKER, {"index.html": reason}) == revision
    first = (site / "sw.js").read_text("utf-8").split("\n", 1)[0]
    assert first.isascii()
    assert listed(site)["withdrawn"] == {"index.html": reason}


def test_where_pages_are_edited_the_worker_knows_no_site(site: Path) -> None:
    write_retired(site, WORKER)
    assert (site / "sw.js").read_text() == f"const SITE = null;\n{WORKER}"


def test_the_manifest_holds_wherever_the_site_is_put() -> None:
    colours = {"primary": "#17404a", "on_primary": "#ffffff"}
    brand = Brand.model_validate({"name": "Ours", "site": "Our <reference>", "colours": colours})
    manifest = json.loads(web_manifest(brand, {"short_name": "Jetting"}))
    assert manifest["name"] == manifest["short_name"] == "Our <reference>"
    assert manifest["display"] == "standalone"
    assert manifest["theme_color"] == "#17404a"
    addresses = [manifest["start_url"], manifest["scope"], *(i["src"] for i in manifest["icons"])]
    assert not [a for a in addresses if a.startswith("/") or ":" in a]
    assert {"192x192", "512x512"} <= {icon["sizes"] for icon in manifest["icons"]}
    long = Brand.model_validate({"name": "O", "site": "O" * 25, "colours": colours})
    assert json.loads(web_manifest(long, {"short_name": "Jetting"}))["short_name"] == "Jetting"


def test_the_worker_speaks_to_no_other_host() -> None:
    theme = bundled("site_templates") / "theme"
    scripts = [worker_script(theme)]
    scripts += [(theme / "offline.js").read_text("utf-8"), search_script(theme)]
    for script in scripts:
        assert "http://" not in script
        assert "https://" not in script


def test_no_text_in_a_script_runs_over_the_end_of_a_line() -> None:
    # Else a line of it that looks like a remark would be lost: only backquotes allow that.
    theme = bundled("site_templates") / "theme"
    scripts = {path.name: path.read_text("utf-8") for path in theme.glob("*.js")}
    bare = {name: script_without_remarks(script) for name, script in scripts.items()}
    assert len(bare) > 15
    assert [name for name, script in bare.items() if "`" in script] == []


def test_scripts_take_no_id_that_an_authors_item_could_have() -> None:
    # The search and the worksheet stand on pages of their own, where no record's items are.
    taken = {
        name
        for path in (bundled("site_templates") / "theme").glob("*.js")
        if not path.name.startswith(("search-", "worksheet-"))
        for name in re.findall(r'(?:\.id = |getElementById\()"([^"]+)"', path.read_text("utf-8"))
    }
    assert {"_kept", "_ready", "_one-row"} <= taken
    assert [name for name in taken if not name.startswith("_")] == []
