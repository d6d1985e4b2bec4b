"""Contrast by the guidelines' own examples, and the nearest colour against every other one."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from math import dist

import pytest

from refgen.catalog import Catalog
from refgen.colours import _oklab, contrast, ink_on, nearest_ground
from refgen.errors import DataError


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#ffffff", "#000000", 21.0),  # (1 + 0.05) / (0 + 0.05)
        ("#000000", "#ffffff", 21.0),
        ("#123456", "#123456", 1.0),
        # Pure red: 0.2126 of white's luminance, so (1.05) / (0.2126 + 0.05).
        ("#ffffff", "#ff0000", 1.05 / 0.2626),
        ("#ffffff", "#00ff00", 1.05 / 0.7652),
        ("#0000ff", "#000000", 0.1222 / 0.05),
    ],
)
def test_contrast_follows_the_guidelines(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, rel=1e-9)


def test_white_and_black_lie_where_oklab_puts_them() -> None:
    # The paper's own table: white is (1, 0, 0), black (0, 0, 0).
    assert _oklab((255, 255, 255)) == pytest.approx((1, 0, 0), abs=1e-6)
    assert _oklab((0, 0, 0)) == (0, 0, 0)


@pytest.mark.parametrize(
    ("ground", "ink"),
    [
        ("#ff6600", "#ffffff"),
        ("#3388cc", "#ffffff"),
        ("#3388cc", "#000000"),
        ("#00a651", "#ffeedd"),
    ],
)
def test_no_colour_that_passes_is_nearer(ground: str, ink: str) -> None:
    found = nearest_ground(ground, ink)
    assert found is not None
    assert contrast(found, ink) >= 7
    rgb = tuple(int(ground[n : n + 2], 16) for n in (1, 3, 5))
    place = _oklab(rgb)
    away = dist(place, _oklab(tuple(int(found[n : n + 2], 16) for n in (1, 3, 5))))
    assert away > 0
    for other in product(range(0, 256, 15), repeat=3):
        if contrast("#" + "".join(f"{c:02x}" for c in other), ink) >= 7:
            assert dist(place, _oklab(other)) >= away - 1e-3, other


def test_an_ink_that_reads_on_nothing_has_no_nearest_ground() -> None:
    assert nearest_ground("#ffffff", "#888888") is None


@pytest.mark.parametrize(
    ("primary", "on_primary", "told"),
    [
        (
            "#ff6600",
            "#ffffff",
            # (1 + 0.05) / (0.2126 + 0.7152 × 0.1329 + 0.05) = 2.94
            "company/brand.yml:1: colours.primary: "
            "text of #ffffff on it has a contrast of 2.9 to 1,"
            " and needs 7 to 1\n"
            "    The nearest that passes is '#af1d00'. Or keep it, with 'on_primary: \"#000000\"'.",
        ),
        (
            "#777777",
            "#808080",
            "company/brand.yml:1: colours.primary: "
            "text of #808080 on it has a contrast of 1.1 to 1,"
            " and needs 7 to 1\n"
            "    Take black or white for the text.",
        ),
    ],
)
def test_a_brand_that_misses_the_contrast_is_refused_with_what_would_pass(
    catalog_of: Callable[..., Catalog], primary: str, on_primary: str, told: str
) -> None:
    brand = f'colours: {{primary: "{primary}", on_primary: "{on_primary}"}}\n'
    with pytest.raises(DataError) as caught:
        catalog_of({"brand": brand})
    assert [str(problem) for problem in caught.value.problems] == [told]


def test_a_brand_that_reads_well_passes(catalog_of: Callable[..., Catalog]) -> None:
    brand = 'colours: {primary: "#ffd736", on_primary: "#000000"}\n'
    assert catalog_of({"brand": brand}).brand.colours.primary == "#ffd736"


def test_ink_is_the_one_that_reads_better() -> None:
    assert ink_on("#17404a") == "#ffffff"
    assert ink_on("#ffd736") == "#000000"
