"""The real site of the demonstration, built once, and an empty project of a company."""

from __future__ import annotations

from pathlib import Path

import pytest

from refgen.project import Project, open_project
from tests.built import built_once
from tests.reading import ReadPage, read_page

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="session")
def project() -> Project:
    return open_project(ROOT / "mkdocs.yml")


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder of the demonstration, as `refgen build` makes it; not to be changed."""
    return built_once(tmp_path_factory, "pebblecombe")


@pytest.fixture(scope="session")
def read(site: Path) -> dict[str, ReadPage]:
    """Every page of the site by its address."""
    return {
        path.relative_to(site).as_posix(): read_page(path) for path in sorted(site.rglob("*.html"))
    }


@pytest.fixture(scope="session")
def quillfen(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder of the second invented company's site: other machines, metric, a lower ceiling."""
    return built_once(tmp_path_factory, "quillfen")


@pytest.fixture
def company(tmp_path: Path) -> Path:
    """An empty project of a company over the shared base."""
    (tmp_path / "assets").mkdir()
    (tmp_path / "data" / "ours").mkdir(parents=True)
    (tmp_path / "mkdocs.yml").write_text(
        "site_name: Ours\ndocs_dir: assets\ntheme: {name: material}\n"
        "plugins:\n  - refgen:\n      layers: [base, data/ours]\n"
    )
    (tmp_path / "data" / "ours" / "brand.yml").write_text(
        "name: Ours\nsite: Our reference\nunits_first: metric\n"
    )
    return tmp_path
