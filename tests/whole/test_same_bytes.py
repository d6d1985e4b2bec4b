"""The same data give the same bytes: on any day, in any zone, tongue, folder and order of files."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from refgen.archive import write_zip
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


@pytest.fixture
def every_text(tmp_path: Path) -> Path:
    """A project with every field filled, address and feed included, and a file of its own."""
    root = tmp_path / "here"
    root.mkdir()
    write_project(root, tamed)
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
    return bytes_of(root / "site") | {"site.zip": (root / "site.zip").read_bytes()}


def bytes_of(site: Path) -> dict[str, bytes]:
    return {p.relative_to(site).as_posix(): p.read_bytes() for p in site.rglob("*") if p.is_file()}


def age(folder: Path) -> None:
    """Make everything in a folder look as if it had been written long ago."""
    for path in sorted(folder.rglob("*"), reverse=True):
        os.utime(path, (86_400, 86_400))


def compare(one: dict[str, bytes], two: dict[str, bytes]) -> None:
    assert one.keys() == two.keys()
    assert [name for name in one if one[name] != two[name]] == []
    assert {"sw.js", "assets/pack.lzma", "assets/revision.js", "site.zip"} <= one.keys()


def test_another_day_zone_tongue_seed_folder_and_order_give_the_same_bytes(
    every_text: Path,
) -> None:
    other = every_text.with_name("some-where-else") / "deep"
    shutil.copytree(every_text, other)
    age(other)
    one = publish(every_text, 0, 0, HERE)
    compare(one, publish(other, 401, 99, THERE))
    assert not any(str(every_text).encode() in content for content in one.values())


def test_the_demonstration_is_the_same_from_wherever_it_comes(site: Path, tmp_path: Path) -> None:
    other = tmp_path / "some-where-else" / "deep"
    for name in ("data/pebblecombe", "site_templates/docs"):
        shutil.copytree(ROOT / name, other / name)
    shutil.copy(ROOT / "mkdocs.yml", other)
    age(other)
    write_zip(site, tmp_path / "site.zip")
    one = bytes_of(site) | {"site.zip": (tmp_path / "site.zip").read_bytes()}
    compare(one, publish(other, 401, 99, THERE))
    assert not any(str(ROOT).encode() in content for content in one.values())


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
