"""The same data give the same bytes: on any day, in any zone, tongue, folder and order of files."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.hostile import tamed, write_project

ROOT = Path(__file__).resolve().parents[2]
HERE = {"TZ": "UTC", "LC_ALL": "C", "LANG": "C", "PYTHONHASHSEED": "0"}
THERE = {
    "TZ": "Pacific/Kiritimati",
    "LC_ALL": "de_DE.UTF-8",
    "LANG": "tr_TR.UTF-8",
    "PYTHONHASHSEED": "4321",
    "COLUMNS": "40",
}


@pytest.fixture(params=["every text", "demonstration"])
def project(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A project with every field filled, address and feed included, or the demonstration."""
    root = tmp_path / "here"
    if request.param == "every text":
        root.mkdir()
        write_project(root, tamed)
    else:
        shutil.copytree(ROOT / "data" / "pebblecombe", root / "data" / "pebblecombe")
        (root / "files").mkdir()
        config = (ROOT / "mkdocs.yml").read_text("utf-8")
        (root / "mkdocs.yml").write_text(config.replace("site_templates/docs", "files"), "utf-8")
    (root / "files" / "plan.txt").write_text("a file of one's own")
    return root


def publish(root: Path, days: int, seed: int, env: dict[str, str]) -> dict[str, bytes]:
    """Build and zip a project in another process; return every file, the zip among them."""
    known = {k: v for k, v in os.environ.items() if k != "SOURCE_DATE_EPOCH"}
    known |= env | {"PYTHONPATH": str(ROOT), "NO_MKDOCS_2_WARNING": "1"}
    for command in ("build", "zip"):
        call = [sys.executable, ROOT / "tests" / "elsewhere.py", str(days), str(seed), command]
        ran = subprocess.run(call, cwd=root, env=known, capture_output=True, text=True)
        assert ran.returncode == 0, ran.stderr
    site = root / "site"
    files = {p.relative_to(site).as_posix(): p.read_bytes() for p in site.rglob("*") if p.is_file()}
    return files | {"site.zip": (root / "site.zip").read_bytes()}


def test_another_day_zone_tongue_seed_folder_and_order_give_the_same_bytes(project: Path) -> None:
    other = project.with_name("some-where-else") / "deep"
    shutil.copytree(project, other)
    for path in sorted(other.rglob("*"), reverse=True):
        os.utime(path, (86_400, 86_400))
    one = publish(project, 0, 0, HERE)
    two = publish(other, 401, 99, THERE)
    assert one.keys() == two.keys()
    assert [name for name in one if one[name] != two[name]] == []
    assert {"sw.js", "assets/pack.lzma", "assets/revision.js", "site.zip"} <= one.keys()
    assert not any(str(project).encode() in content for content in one.values())


def test_the_clock_and_the_order_are_truly_others(tmp_path: Path) -> None:
    for name in "abcdefgh":
        (tmp_path / name).touch()
    code = (
        "import sys; sys.argv = ['x', '400', '7']\n"
        "from tests.elsewhere import set_clock, shuffle_folders\n"
        "set_clock(400); shuffle_folders(7)\n"
        "import datetime, os, time, pathlib\n"
        "print(int(time.time()), datetime.datetime.now().year, datetime.date.today().year)\n"
        f"print(''.join(os.listdir({str(tmp_path)!r})))\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    clock, order = ran.stdout.splitlines()
    plain = subprocess.run(
        [sys.executable, "-c", "import time; print(int(time.time()))"],
        capture_output=True,
        text=True,
    )
    seconds, *years = map(int, clock.split())
    assert 399 * 86_400 < seconds - int(plain.stdout) < 401 * 86_400
    assert years[0] == years[1]
    assert sorted(order) == list("abcdefgh")
    assert order != "abcdefgh"
