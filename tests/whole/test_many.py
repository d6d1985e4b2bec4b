"""Several brands over one base, built at once: each byte for byte as if it were alone."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from refgen.errors import RefgenError
from refgen.many import build_all
from refgen.project import open_project

COLOURS = ("#17404a", "#5a1f3d", "#1d3b53")


def start(folder: Path, number: int) -> Path:
    project = folder / f"company-{number}"
    (project / "files").mkdir(parents=True)
    (project / "data" / "ours").mkdir(parents=True)
    (project / "mkdocs.yml").write_text(
        "site_name: Ours\ndocs_dir: files\ntheme: {name: material}\n"
        "plugins:\n  - refgen:\n      layers: [base, data/ours]\n"
    )
    units = ("us", "metric")[number % 2]
    (project / "data" / "ours" / "brand.yml").write_text(
        f"name: Company {number}\nsite: Book {number}\nunits_first: {units}\n"
        f'colours: {{primary: "{COLOURS[number]}", on_primary: "#ffffff"}}\n'
    )
    return project


def bytes_of(site: Path) -> dict[str, bytes]:
    return {p.relative_to(site).as_posix(): p.read_bytes() for p in site.rglob("*") if p.is_file()}


def test_each_is_as_if_it_were_built_alone(tmp_path: Path) -> None:
    # More projects than processes, so that one process builds several.
    projects = [start(tmp_path, number) for number in range(3)]
    built = {one.project: one for one in build_all(tmp_path, jobs=2)}
    assert set(built) == set(projects)
    for project in projects:
        assert built[project].wrong == ""
        alone = project / "alone"
        replace(open_project(project / "mkdocs.yml"), site=alone).build()
        assert bytes_of(alone) == bytes_of(project / "site")
    assert len({(p / "site" / "index.html").read_bytes() for p in projects}) == 3


def test_one_that_is_wrong_is_told_and_holds_up_no_other(tmp_path: Path) -> None:
    start(tmp_path, 0)
    broken = start(tmp_path, 1)
    (broken / "data" / "ours" / "brand.yml").write_text("nmae: Ours\n")
    done = subprocess.run(
        [sys.executable, "-m", "refgen", "build", "--all", str(tmp_path)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 1
    assert "company-0: " in done.stdout
    assert "company-1: 1 problem in the data" in done.stderr
    assert "Did you mean 'name'?" in done.stderr
    assert (tmp_path / "company-0" / "site" / "index.html").is_file()
    assert not (broken / "site").exists()


def test_a_folder_without_projects_is_told(tmp_path: Path) -> None:
    with pytest.raises(RefgenError, match="holds no project"):
        list(build_all(tmp_path))
