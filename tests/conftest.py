"""What the tests of all stages share: layers written on the spot, and golden texts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from refgen.catalog import Catalog
from tests.stages import SMALL, catalog_from

GOLDEN = Path(__file__).parent / "golden"

Files = Mapping[str, str | bytes | None]
WriteLayers = Callable[..., list[Path]]


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-golden", action="store_true", help="accept what differs from tests/golden"
    )


@pytest.fixture
def data(tmp_path: Path) -> WriteLayers:
    """Write files as layers and return the layers' folders.

    `data({"terms/bypass": "title: …"}, {…})` makes the layers `base` and `company`; other names
    are given by `names`. A file without ending gets `.yml`; bytes are written as they are, None
    makes an empty folder.
    """

    def write(*layers: Files, names: tuple[str, ...] = ("base", "company", "depot")) -> list[Path]:
        folders = []
        for name, files in zip(names, layers, strict=False):
            folder = tmp_path / name
            folder.mkdir(exist_ok=True)
            for file, content in files.items():
                _write(folder / file, content)
            folders.append(folder)
        return folders

    return write


def _write(path: Path, content: str | bytes | None) -> None:
    if content is None:
        path.mkdir(parents=True, exist_ok=True)
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    if not path.suffix:
        path = path.with_name(f"{path.name}.yml")
    path.write_bytes(content if isinstance(content, bytes) else content.encode())


@pytest.fixture
def catalog_of(data: WriteLayers) -> Callable[..., Catalog]:
    """Return the catalog of some layers written over the small one."""

    def load(*layers: Files) -> Catalog:
        return catalog_from([SMALL, *data(*layers, names=("company", "depot"))])

    return load


@pytest.fixture(scope="session")
def small() -> Catalog:
    """The catalog of the small layer alone."""
    return catalog_from([SMALL])


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """Compare a text with a file of tests/golden, or accept it with --update-golden."""

    def compare(name: str, text: str) -> None:
        path = GOLDEN / name
        if request.config.getoption("--update-golden"):
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, "utf-8")
        assert path.is_file(), f"there is no golden/{name}; accept it with --update-golden"
        assert text == path.read_text("utf-8"), f"golden/{name} differs; --update-golden accepts"

    return compare


# The built site of the demonstration (`site`) and a company's project (`company`) are fixtures of
# tests/whole/conftest.py, beside the tests that take the time of a whole build.
