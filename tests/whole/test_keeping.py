"""What of keeping pages a published site has, and one that is being edited has not."""

from __future__ import annotations

import json
import struct
from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config

from tests.hostile import tamed, write_project


def test_a_published_site_tells_phones_of_every_file_they_need(site: Path) -> None:
    assert 'id="_kept"' in (site / "index.html").read_text("utf-8")
    worker = (site / "sw.js").read_text("utf-8")
    first = worker.split("\n", 1)[0].removeprefix("const SITE = ").removesuffix(";")
    files = {p.relative_to(site).as_posix() for p in site.rglob("*") if p.is_file()}
    kept = {address for address, _, _ in json.loads(first)["files"]}
    own = {"sw.js", "assets/pack.lzma"}
    for_others = {"addresses.csv", "catalog.json", "figures.json"}
    numbers = {a for a in files if a.startswith("tables/") and a.endswith((".csv", ".json"))}
    assert files - kept == own | for_others | numbers


def test_the_icons_of_a_published_site_have_the_sizes_they_say(site: Path) -> None:
    manifest = json.loads((site / "site.webmanifest").read_text("utf-8"))
    drawn = [icon for icon in manifest["icons"] if icon["type"] == "image/png"]
    assert drawn
    for icon in drawn:
        size = struct.unpack(">II", (site / icon["src"]).read_bytes()[16:24])
        assert icon["sizes"] == f"{size[0]}x{size[1]}"
    assert [i for i in manifest["icons"] if not (site / i["src"]).is_file()] == []


def test_serving_leaves_every_trace_of_the_worker_out(tmp_path: Path) -> None:
    write_project(tmp_path, tamed)
    folder = tmp_path / "served"
    config = load_config(str(tmp_path / "mkdocs.yml"), site_dir=str(folder))
    config.plugins.on_startup(command="serve", dirty=False)
    build(config)
    assert 'id="_kept"' not in (folder / "index.html").read_text("utf-8")
    assert (folder / "sw.js").read_text("utf-8").startswith("const SITE = null;")
    assert not (folder / "assets" / "pack.lzma").exists()
