"""A build is put in place only when it is whole, whatever happens on the way."""

from __future__ import annotations

import ctypes
import errno
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from refgen import swap
from refgen.swap import built_beside

ROOT = Path(__file__).resolve().parents[1]


def files_of(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): path.read_text()
        for path in folder.rglob("*")
        if path.is_file()
    }


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A good site of a former build."""
    site = tmp_path / "out" / "site"
    (site / "deep").mkdir(parents=True)
    (site / "index.html").write_text("good")
    (site / "deep" / "page.html").write_text("good too")
    return site


GOOD = {"index.html": "good", "deep/page.html": "good too"}


@pytest.fixture(params=["exchange", "two renames"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Both ways to swap: in one step where the system can, and in two where it cannot."""
    if request.param == "two renames":
        monkeypatch.setattr(swap, "_exchange", lambda one, other: False)
    return str(request.param)


def fail(site: Path) -> None:
    """Begin a build that does not end well."""
    with built_beside(site) as beside:
        (beside / "index.html").write_text("half")
        raise RuntimeError("no more")


def test_a_first_build_makes_the_folder_and_those_above_it(tmp_path: Path, way: str) -> None:
    site = tmp_path / "a" / "b" / "site"
    with built_beside(site) as beside:
        (beside / "index.html").write_text("new")
    assert files_of(site) == {"index.html": "new"}
    assert [path.name for path in site.parent.iterdir()] == ["site"]


def test_a_build_that_ends_well_replaces_the_whole_site(site: Path, way: str) -> None:
    with built_beside(site) as beside:
        assert files_of(beside) == {}
        (beside / "index.html").write_text("new")
        assert files_of(site) == GOOD  # until the very end
    assert files_of(site) == {"index.html": "new"}
    assert [path.name for path in site.parent.iterdir()] == ["site"]


def test_a_build_that_fails_leaves_the_site_and_nothing_else(site: Path, way: str) -> None:
    with pytest.raises(RuntimeError, match="no more"):
        fail(site)
    assert files_of(site) == GOOD
    assert [path.name for path in site.parent.iterdir()] == ["site"]


def run(code: str, site: Path, kill_when_told: bool = False) -> int:
    """Run some code in another process; return its exit code."""
    process = subprocess.Popen(
        [sys.executable, "-c", code, str(site)], cwd=ROOT, stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    if kill_when_told:
        assert process.stdout.readline() == "half\n"
        process.send_signal(signal.SIGKILL)
    with process.stdout:
        return process.wait(20)


HALF = """
import sys, time
from pathlib import Path
from refgen.swap import built_beside
with built_beside(Path(sys.argv[1])) as beside:
    (beside / "index.html").write_text("half")
    print("half", flush=True)
    time.sleep(60)
"""
BETWEEN = """
import os, signal, sys
from pathlib import Path
from refgen import swap
swap._exchange = lambda one, other: False
plain = Path.rename
def rename(self, target):
    plain(self, target)
    os.kill(os.getpid(), signal.SIGKILL)
Path.rename = rename
with swap.built_beside(Path(sys.argv[1])) as beside:
    (beside / "index.html").write_text("new")
"""
unix = pytest.mark.skipif(os.name != "posix", reason="kill -9 is a thing of Unix")


@unix
def test_a_build_killed_in_the_middle_leaves_the_site_whole(site: Path, way: str) -> None:
    assert run(HALF, site, kill_when_told=True) == -signal.SIGKILL
    assert files_of(site) == GOOD
    with built_beside(site) as beside:  # what the killed one left behind is no hindrance
        assert files_of(beside) == {}
        (beside / "index.html").write_text("new")
    assert files_of(site) == {"index.html": "new"}
    assert [path.name for path in site.parent.iterdir()] == ["site"]


@unix
def test_a_build_killed_between_two_renames_is_put_right_by_the_next_even_if_that_fails(
    site: Path,
) -> None:
    assert run(BETWEEN, site) == -signal.SIGKILL
    assert not site.exists()
    with pytest.raises(RuntimeError, match="no more"):
        fail(site)
    assert files_of(site) == GOOD
    assert [path.name for path in site.parent.iterdir()] == ["site"]


def test_what_a_build_killed_at_its_very_end_left_behind_is_cleared_away(
    site: Path, way: str
) -> None:
    former = site.with_name(".site.former")
    former.mkdir()
    (former / "index.html").write_text("old")
    with built_beside(site) as beside:
        (beside / "index.html").write_text("new")
    assert files_of(site) == {"index.html": "new"}
    assert [path.name for path in site.parent.iterdir()] == ["site"]


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux swaps in one step")
def test_on_linux_two_folders_change_places_in_one_step(site: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    numbers = site.stat().st_ino, other.stat().st_ino
    if not swap._exchange(site, other):
        # What Linux says where the file system, and not the call, is at fault.
        assert ctypes.get_errno() in (errno.EINVAL, errno.ENOSYS, errno.EOPNOTSUPP)
        pytest.skip("this file system cannot swap in one step")
    assert (other.stat().st_ino, site.stat().st_ino) == numbers
    assert files_of(other) == GOOD


def test_folders_that_are_not_there_do_not_change_places(tmp_path: Path) -> None:
    assert not swap._exchange(tmp_path / "a", tmp_path / "b")


def test_a_site_that_is_a_link_is_replaced_where_it_leads_to(site: Path, way: str) -> None:
    link = site.parents[1] / "now"
    link.symlink_to(site)
    with built_beside(link) as beside:
        (beside / "index.html").write_text("new")
    assert link.is_symlink()
    assert files_of(site) == {"index.html": "new"}


def test_a_link_in_the_way_is_taken_away_and_not_followed(site: Path, way: str) -> None:
    outside = site.parents[1] / "outside"
    outside.mkdir()
    (outside / "kept").write_text("kept")
    for name in (".site.building", ".site.former"):
        site.with_name(name).symlink_to(outside)
    with built_beside(site) as beside:
        (beside / "index.html").write_text("new")
    assert files_of(site) == {"index.html": "new"}
    assert files_of(outside) == {"kept": "kept"}
