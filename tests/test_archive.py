"""The site in one file: whole, sorted, undated, and the same bytes each time."""

from __future__ import annotations

import os
import zipfile
from pathlib import Path

import pytest

from refgen.archive import write_zip
from refgen.errors import RefgenError


@pytest.fixture
def site(tmp_path: Path) -> Path:
    folder = tmp_path / "site"
    for name, text in {
        "index.html": "home",
        "b/Z.css": "z",
        "a/ü.html": "ü",
        "b/a.css": "",
    }.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    return folder


def test_it_holds_every_file_in_order_and_dated_1980(site: Path, tmp_path: Path) -> None:
    assert write_zip(site, tmp_path / "site.zip") == 4
    with zipfile.ZipFile(tmp_path / "site.zip") as archive:
        assert archive.testzip() is None
        assert archive.namelist() == ["a/ü.html", "b/Z.css", "b/a.css", "index.html"]
        assert archive.read("a/ü.html").decode() == "ü"
        for info in archive.infolist():
            assert info.date_time == (1980, 1, 1, 0, 0, 0)
            assert info.external_attr >> 16 == 0o100644


def test_the_same_site_gives_the_same_bytes_whenever_it_was_built(
    site: Path, tmp_path: Path
) -> None:
    write_zip(site, tmp_path / "one.zip")
    for path in site.rglob("*"):
        os.utime(path, (1, 1))
    (site / "index.html").chmod(0o600)
    write_zip(site, tmp_path / "two.zip")
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()


def test_without_a_built_site_nothing_is_written(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    with pytest.raises(RefgenError, match=r"there is no built site\. Run 'refgen build' first"):
        write_zip(tmp_path / "site", tmp_path / "site.zip")
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_a_failure_leaves_the_last_file_as_it_was(
    site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    archive = tmp_path / "site.zip"
    write_zip(site, archive)
    before = archive.read_bytes()

    def full(*_: object, **__: object) -> None:
        raise OSError("no space left on device")

    monkeypatch.setattr(zipfile.ZipFile, "writestr", full)
    with pytest.raises(OSError, match="no space"):
        write_zip(site, archive)
    assert archive.read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["site", "site.zip"]


def test_nothing_from_outside_the_site_gets_in_and_no_link_leads_the_writing_out(
    site: Path, tmp_path: Path
) -> None:
    (tmp_path / "secret").write_text("secret")
    (tmp_path / ".site.zip.writing").symlink_to(tmp_path / "secret")
    write_zip(site, tmp_path / "site.zip")
    assert (tmp_path / "secret").read_text() == "secret"
    (site / "b" / "c").symlink_to(tmp_path / "secret")
    with pytest.raises(RefgenError, match="leads out of the site"):
        write_zip(site, tmp_path / "site.zip")
