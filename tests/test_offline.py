"""What is written so that a phone can keep the site: list, pack, revision, web manifest."""

from __future__ import annotations

import hashlib
import json
import os
import struct
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from mkdocs.commands.build import build
from mkdocs.config import load_config

from refgen.assets import web_manifest
from refgen.bundled import bundled
from refgen.model.company import Brand
from refgen.offline import write_offline, write_retired
from refgen.packs import pack_texts

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
    found = dict(listed(site)["files"])
    assert set(found) == {*FILES, "assets/icon.png", "assets/revision.js"}
    for address, letters in found.items():
        whole = hashlib.sha256((site / address).read_bytes()).hexdigest()
        assert whole.startswith(letters)
        assert len(letters) == 16


def unpacked(content: bytes) -> dict[str, str]:
    """Read a pack as a phone does: from its own description, not from what wrote it."""
    pack = json.loads(content)
    lines = pack["lines"].split("\n")
    texts = {}
    for address, runs in pack["files"].items():
        end, text = 0, []
        for step, length in zip(runs[::2], runs[1::2], strict=True):
            start = end + step
            end = start + length
            assert 0 <= start < end <= len(lines)
            text += lines[start:end]
        texts[address] = "\n".join(text)
    return texts


@given(st.dictionaries(st.text("ab", min_size=1), st.text("xy\n ", max_size=60).map(
    lambda text: text.replace("x", "a line that is long enough to point at"))))  # fmt: skip
def test_whatever_the_texts_are_the_pack_gives_them_back(texts: dict[str, str]) -> None:
    assert unpacked(pack_texts(texts)) == texts


def test_a_line_that_several_pages_share_is_written_once() -> None:
    frame, own = (
        "<nav>the same on every page of it</nav>",
        "<p>said on page {} and nowhere else</p>",
    )
    texts = {f"{n}.html": f"{frame}\n{own.format(n)}\n{frame}\n" for n in range(50)}
    pack = pack_texts(texts)
    assert pack.count(frame.encode()) == 1
    assert len(pack) < 0.7 * sum(map(len, texts.values()))


def test_the_pack_holds_every_text_byte_for_byte_and_no_picture(site: Path) -> None:
    write_offline(site, WORKER)
    pack = unpacked((site / "assets" / "pack.json").read_bytes())
    assert {a: t for a, t in pack.items() if a != "assets/revision.js"} == FILES
    assert pack["assets/revision.js"] == (site / "assets" / "revision.js").read_text("utf-8")


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


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project of a company with nothing of its own but its face."""
    root = tmp_path_factory.mktemp("company")
    (root / "assets").mkdir()
    (root / "ours").mkdir()
    (root / "mkdocs.yml").write_text(
        "site_name: Ours\ndocs_dir: assets\ntheme: {name: material}\n"
        "plugins:\n  - refgen:\n      layers: [base, ours]\n"
    )
    (root / "ours" / "brand.yml").write_text("name: Ours\nsite: Our reference\n")
    return root


@pytest.mark.parametrize("command", ["build", "serve"])
def test_serving_leaves_every_trace_of_the_worker_out(project: Path, command: Any) -> None:
    folder = project / command
    config = load_config(str(project / "mkdocs.yml"), site_dir=str(folder))
    config.plugins.on_startup(command=command, dirty=False)
    build(config)
    told = 'id="_kept"' in (folder / "index.html").read_text("utf-8")
    worker = (folder / "sw.js").read_text("utf-8")
    assert told is (command == "build")
    assert worker.startswith("const SITE = null;") is (command == "serve")
    assert (folder / "assets" / "pack.json").exists() is (command == "build")
    if command == "build":
        files = {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}
        first = worker.split("\n", 1)[0].removeprefix("const SITE = ").removesuffix(";")
        kept = {address for address, _ in json.loads(first)["files"]}
        assert files - kept == {"sw.js", "assets/pack.json"}
        manifest = json.loads((folder / "site.webmanifest").read_text("utf-8"))
        for icon in manifest["icons"]:
            if icon["type"] == "image/png":
                size = struct.unpack(">II", (folder / icon["src"]).read_bytes()[16:24])
                assert icon["sizes"] == f"{size[0]}x{size[1]}"
            else:
                assert (folder / icon["src"]).is_file()


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
    for name in ("worker.js", "offline.js", "search.js"):
        assert "http://" not in (theme / name).read_text("utf-8")
        assert "https://" not in (theme / name).read_text("utf-8")
