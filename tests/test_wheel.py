"""The wheel, installed where there is nothing else, builds a company's site."""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

from refgen import __version__

ROOT = Path(__file__).resolve().parents[1]


def run(*command: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    environment = {k: v for k, v in os.environ.items() if k not in ("PYTHONPATH", "VIRTUAL_ENV")}
    return subprocess.run(command, cwd=cwd, capture_output=True, text=True, env=environment)


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    built = run(
        sys.executable,
        "-m",
        "pip",
        "wheel",
        "-q",
        "--no-deps",
        "-w",
        str(folder),
        str(ROOT),
        cwd=folder,
    )
    if built.returncode and "CI" not in os.environ:
        pytest.skip(f"no wheel can be built here: {built.stderr.strip().splitlines()[-1]}")
    assert built.returncode == 0, built.stderr
    return next(folder.glob("*.whl"))


@pytest.fixture(scope="module")
def sdist(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sdist")
    command = ("-m", "build", "--sdist", "--outdir", str(folder), str(ROOT))
    built = run(sys.executable, *command, cwd=folder)
    if built.returncode and "CI" not in os.environ:
        pytest.skip(f"no sdist can be built here: {built.stdout.strip().splitlines()[-1]}")
    assert built.returncode == 0, built.stdout + built.stderr
    return next(folder.glob("*.tar.gz"))


def kept(*places: str) -> set[str]:
    """Return the files in some places that belong to the project: those git keeps or would."""
    listed = run("git", "ls-files", "-co", "--exclude-standard", *places, cwd=ROOT)
    if listed.returncode:
        pytest.skip("what belongs to the project is known only where git is")
    return {name for name in listed.stdout.splitlines() if (ROOT / name).is_file()}


def test_the_wheel_carries_code_base_data_and_templates_and_nothing_else(wheel: Path) -> None:
    about = f"refgen-{__version__}.dist-info"
    told = {"METADATA", "WHEEL", "RECORD", "entry_points.txt", "licenses/LICENSE"}
    bundled = {f"refgen/bundled/{name}" for name in kept("data/base", "site_templates")}
    names = set(zipfile.ZipFile(wheel).namelist())
    assert names == kept("refgen") | bundled | {f"{about}/{name}" for name in told}
    assert "refgen/bundled/data/base/materials/pvc-solid.yml" in names
    assert not [name for name in names if "pebblecombe" in name or "quillfen" in name]


def test_the_sdist_carries_the_project_as_it_lies_and_nothing_else(sdist: Path) -> None:
    top = f"refgen-{__version__}/"
    places = ("refgen", "data", "site_templates", "tests", "*.md", "LICENSE", "mkdocs.yml")
    with tarfile.open(sdist) as packed:
        names = {name.removeprefix(top) for name in packed.getnames()}
    assert names == kept(*places, "pyproject.toml", ".gitignore") | {"PKG-INFO"}


def test_the_sdist_gives_the_same_wheel(wheel: Path, sdist: Path, tmp_path: Path) -> None:
    command = ("-m", "pip", "wheel", "-q", "--no-deps", "-w", str(tmp_path), str(sdist))
    assert run(sys.executable, *command, cwd=tmp_path).returncode == 0
    assert (tmp_path / wheel.name).read_bytes() == wheel.read_bytes()


def test_an_empty_environment_builds_a_companys_site(wheel: Path, tmp_path: Path) -> None:
    ours = tmp_path / "ours"
    # Where a new project's README puts it, so the installed base lies inside the project.
    assert run(sys.executable, "-m", "venv", str(ours / ".venv"), cwd=tmp_path).returncode == 0
    python = str(ours / ".venv" / "bin" / "python")
    installed = run(python, "-m", "pip", "install", "-q", str(wheel), cwd=tmp_path)
    if installed.returncode and "CI" not in os.environ:
        pytest.skip(f"packages cannot be had here: {installed.stderr.strip().splitlines()[-1]}")
    assert installed.returncode == 0, installed.stderr
    command = str(ours / ".venv" / "bin" / "refgen")
    assert run(command, "--version", cwd=tmp_path).stdout == f"refgen, version {__version__}\n"
    assert run(command, "--help", cwd=tmp_path).stdout.startswith("Usage: refgen [OPTIONS]")
    (ours / "assets").mkdir()
    (ours / "data" / "ours").mkdir(parents=True)
    (ours / "mkdocs.yml").write_text(
        "site_name: Ours\ndocs_dir: assets\ntheme: {name: material}\n"
        "plugins:\n  - refgen:\n      layers: [base, data/ours]\n"
    )
    (ours / "data" / "ours" / "brand.yml").write_text("name: Ours\nsite: Our reference\n")
    built = run(python, "-m", "refgen", "build", cwd=ours)
    assert built.returncode == 0, built.stderr
    assert "Our reference" in (ours / "site" / "materials" / "pvc-solid.html").read_text("utf-8")
    styles = (ours / "site" / "assets" / "site.css").read_text("utf-8")
    assert ".md-typeset h1{" in styles  # the theme's part
    assert ".md-typeset h1 {" in styles  # ours
    installed_base = sorted((ours / ".venv").rglob("bundled/data/base/**/*.yml"))
    before = [path.read_bytes() for path in installed_base]
    locked = run(python, "-m", "refgen", "check", "--lock", cwd=ours)
    assert (locked.returncode, ".venv" in locked.stdout) == (0, False), locked.stderr
    renamed = run(python, "-m", "refgen", "rename", "materials/brick", "brickwork", cwd=ours)
    assert renamed.stderr == "there is no materials/brick in this project's own layers.\n"
    assert [path.read_bytes() for path in installed_base] == before
    made = run(python, "-m", "refgen", "new", "--defaults", "fresh", cwd=tmp_path)
    assert made.returncode == 0, made.stderr
    fresh = tmp_path / "fresh"
    # The wheel is in no registry, so it travels with the project, and pip finds it there.
    assert (fresh / wheel.name).read_bytes() == wheel.read_bytes()
    assert f"./{wheel.name}" in (fresh / "requirements.txt").read_text().splitlines()
    for command in ("check", "build"):
        done = run(python, "-m", "refgen", command, cwd=fresh)
        assert done.returncode == 0, done.stderr
    assert "Our company" in (fresh / "site" / "index.html").read_text("utf-8")
