"""Pages of a small invented catalog, compared with what a reviewer has read and accepted."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from refgen.bundled import bundled
from refgen.compose import Site, compose

LAYER = Path(__file__).resolve().parents[1] / "golden" / "layer"


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Site:
    base = tmp_path_factory.mktemp("small")
    for name in ("words.yml", "brand.yml"):
        shutil.copy(bundled("data/base") / name, base / name)
    return compose([base, LAYER], bundled("site_templates"), LAYER)


@pytest.mark.parametrize(
    "address",
    [
        "materials/trial-pipe.html",
        "symptoms/weak.html",
        "symptoms/faded.html",
        "procedures/stop.html",
        "machines/one.html",
        "machines/one-handbook.html",
        "hazards/jet.html",
        "tables/given.html",
        "materials/index.html",
        "emergency.html",
    ],
)
def test_page_is_as_accepted(small: Site, address: str, golden: Callable[[str, str], None]) -> None:
    page = next(page for page in small.pages if page.address == address)
    golden(f"pages/{address.replace('/', '-')}", page.html)


def test_a_handbook_says_nothing_of_what_the_machine_lacks(small: Site) -> None:
    pages = {page.address: page.html for page in small.pages}
    one, two = pages["machines/one-handbook.html"], pages["machines/two-handbook.html"]
    assert "Turn the valve." in one
    assert "Turn pulse off." in one
    assert "Lift the foot." not in one
    assert "Lift the foot." in two
    assert "Turn the valve." not in two
    assert "pulse" not in two.lower()


def test_a_procedure_shows_every_variant_with_what_it_is_for(small: Site) -> None:
    page = next(page for page in small.pages if page.address == "procedures/stop.html")
    assert 'data-needs="pedal"' in page.html
    assert 'data-unless="pedal"' in page.html
    assert "Only with: foot pedal" in page.html
    assert "Only without: foot pedal" in page.html
    assert 'id="halt"' in page.html
