"""Pictures: what is drawn is asked of the drawing, not compared with what was drawn before."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from itertools import combinations
from math import atan2, degrees, sqrt
from pathlib import Path
from typing import Any

import pytest
import yaml
from markupsafe import Markup

from refgen.bundled import bundled
from refgen.catalog import Catalog
from refgen.hydraulics import Duty, Margin, Margins
from refgen.model.equipment import Pattern
from refgen.pages import render_pages
from refgen.pictures import jets_picture, pressure_walk, walk_of
from refgen.units import PSI, System
from tests.stages import catalog_from

WORDS: dict[str, str] = yaml.safe_load((bundled("data/base") / "words.yml").read_text("utf-8"))[
    "words"
]
PATTERNS = sorted((bundled("data/base") / "patterns").glob("*.yml"))
SVG = "{http://www.w3.org/2000/svg}"


def pattern(*groups: tuple[int, int, str], **fields: Any) -> Pattern:
    """Return a pattern of rings (count, degrees, facing)."""
    jets = [
        {"id": f"ring-{n}", "count": count, "angle": f"{angle} deg", "faces": faces}
        for n, (count, angle, faces) in enumerate(groups)
    ]
    whole: dict[str, Any] = {
        "title": "Trial",
        "answer": "A.",
        "jets": jets,
        "discharge_coefficient": 0.75,
        "does": ["x"],
        "does_not": ["x"],
    }
    return Pattern.model_validate({**whole, **fields})


def read(picture: Markup) -> ET.Element:
    return ET.fromstring(str(picture))


def pieces(drawn: ET.Element, kind: str, tag: str) -> list[ET.Element]:
    return [piece for piece in drawn.iter(f"{SVG}{tag}") if piece.get("class") == kind]


def number(piece: ET.Element, name: str) -> float:
    return float(piece.attrib[name])


def texts(drawn: ET.Element) -> list[str]:
    return ["".join(piece.itertext()) for piece in drawn.iter(f"{SVG}text")]


def angle(jet: ET.Element) -> float:
    """Return the angle of a jet to the hose's axis [deg]: 0 back along it, 180 ahead."""
    along = number(jet, "x2") - number(jet, "x1")
    return degrees(atan2(abs(number(jet, "y2") - number(jet, "y1")), -along))


# ---- jets


def test_each_ring_is_drawn_above_and_below_at_its_true_angle() -> None:
    drawn = read(jets_picture(pattern((6, 20, "rear"), (2, 85, "rear"), (4, 70, "front")), WORDS))
    jets = pieces(drawn, "jet", "line")
    found = [round(angle(jet), 1) for jet in jets]
    assert found == pytest.approx([20, 20, 85, 85, 110, 110], abs=0.1)
    for upper, lower in zip(jets[::2], jets[1::2], strict=True):
        assert number(upper, "y2") == -number(lower, "y2")
        assert number(upper, "y2") < 0


def test_one_jet_straight_ahead_is_drawn_once_from_the_nose() -> None:
    drawn = read(jets_picture(pattern((1, 0, "front"), (4, 15, "rear")), WORDS))
    ahead, *rear = pieces(drawn, "jet", "line")
    assert angle(ahead) == 180
    assert number(ahead, "y1") == 0
    assert len(rear) == 2


def test_rings_are_counted_and_told_in_words() -> None:
    drawn = read(jets_picture(pattern((4, 20, "rear"), (2, 45, "rear"), turns=True), WORDS))
    assert {"4 × 20°", "2 × 45°"} <= set(texts(drawn))
    assert drawn.get("role") == "img"
    assert drawn.findtext(f"{SVG}title") == "Side view of the nozzle: Trial"
    assert drawn.findtext(f"{SVG}desc") == (
        "4 to the rear at 20°; 2 to the rear at 45°. The head spins."
    )


@pytest.mark.parametrize(
    "drawn_for",
    [
        *(pytest.param(path, id=path.stem) for path in PATTERNS),
        pytest.param([(6, 20, "rear"), (3, 25, "rear"), (12, 30, "rear")], id="close-angles"),
        pytest.param([(8, 0, "rear"), (8, 5, "rear"), (1, 0, "front")], id="flat"),
        pytest.param([(10, 90, "rear"), (10, 90, "front"), (10, 88, "rear")], id="square"),
    ],
)
def test_labels_stay_in_the_picture_and_off_each_other(drawn_for: Any) -> None:
    if isinstance(drawn_for, Path):
        record = pattern(jets=yaml.safe_load(drawn_for.read_text("utf-8"))["jets"])
    else:
        record = pattern(*drawn_for)
    picture = jets_picture(record, WORDS)
    drawn = read(picture)
    left, top, width, height = map(float, drawn.attrib["viewBox"].split())
    # A bold figure of 16 px is about 9 px wide, and reaches 14 px up from its line.
    boxes = []
    for piece in pieces(drawn, "count", "text"):
        half = len(piece.text or "") * 9 / 2
        x, y = number(piece, "x"), number(piece, "y")
        assert left <= x - half
        assert x + half <= left + width
        assert top <= y - 14
        boxes.append((x - half, y - 14, x + half, y))
    for one, other in combinations(boxes, 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, (one, other)
    for jet in pieces(drawn, "jet", "line"):
        assert top <= number(jet, "y2") <= top + height
        assert left <= number(jet, "x2") <= left + width
    assert len(str(picture).encode()) < 12_000


def test_nothing_in_a_picture_breaks_a_strict_policy() -> None:
    picture = str(jets_picture(pattern((4, 20, "rear"), title="<script>x</script>&"), WORDS))
    assert "&lt;script&gt;" in picture
    for forbidden in ("<script", "style=", "<style", "onload", "href", "fill=", "stroke="):
        assert forbidden not in picture


# ---- pressure walk


def duty(gauge: float, lost: float) -> Duty:
    """Return a working point of pressures alone [psi]."""
    left = gauge - lost
    return Duty(
        "full flow",
        5e-4,
        gauge * PSI,
        lost * PSI,
        left * PSI,
        0.0,
        100.0,
        50.0,
        1.0,
        (),
        (),
        (),
        (),
    )


def walk(gauge: float, lost: float, limit: float, first: System = "us") -> ET.Element:
    sharp = Margin(0.0, 0.0, "")
    margins = Margins(sharp, sharp, sharp, sharp, sharp, sharp, sharp, sharp, ())
    return read(pressure_walk("Walk", limit * PSI, duty(gauge, lost), margins, WORDS, first))


def test_bars_stand_in_proportion_and_fall_from_one_to_the_next() -> None:
    drawn = walk(gauge=2400, lost=900, limit=3000)
    gauge, lost, left = (pieces(drawn, kind, "rect")[0] for kind in ("gauge", "lost", "left"))
    whole = number(gauge, "width") / (2400 / 3000)
    assert number(lost, "width") / whole == pytest.approx(900 / 3000, abs=1e-3)
    assert number(left, "width") / whole == pytest.approx(1500 / 3000, abs=1e-3)
    assert number(lost, "x") == pytest.approx(number(left, "x") + number(left, "width"), abs=0.1)
    end = number(gauge, "x") + number(gauge, "width")
    assert number(lost, "x") + number(lost, "width") == pytest.approx(end, abs=0.1)
    limit = pieces(drawn, "limit", "line")[0]
    assert number(limit, "x1") == pytest.approx(number(gauge, "x") + whole, abs=0.1)


def test_values_stand_in_both_units_the_brands_first() -> None:
    # 2400, 900 and 1500 psi are 165.5, 62.1 and 103.4 bar; 3000 psi are 206.8 bar.
    shown = texts(walk(gauge=2400, lost=900, limit=3000))
    assert "2,400 psi (165 bar)" in shown
    assert "900 psi (62.1 bar)" in shown
    assert "1,500 psi (103 bar)" in shown
    assert "Limit 3,000 psi (207 bar)" in shown
    assert "165 bar (2,400 psi)" in texts(walk(2400, 900, 3000, "metric"))


def test_the_walk_is_told_in_words_and_keeps_to_its_size() -> None:
    drawn = walk(gauge=2400, lost=900, limit=3000)
    assert drawn.get("role") == "img"
    assert drawn.findtext(f"{SVG}title") == "Walk"
    assert drawn.findtext(f"{SVG}desc") == (
        "Gauge at the pump: 2,400 psi (165 bar); Lost in the hose: 900 psi (62.1 bar); "
        "Left at the nozzle: 1,500 psi (103 bar). Limit 3,000 psi (207 bar)."
    )
    _, _, width, height = map(float, drawn.attrib["viewBox"].split())
    assert width == 328
    for bar in drawn.iter(f"{SVG}rect"):
        assert number(bar, "y") + number(bar, "height") <= height


# ---- whose walk


@pytest.fixture
def fleet(data: Callable[..., list[Path]]) -> Callable[..., Catalog]:
    """Return the catalog of a machine of 12 gpm and 3000 psi whose hose takes these nozzles.

    By trade number: the pump's 12 gpm need 12·√(4000/3000) = 13.9 at least. The hose is so wide
    and short that it takes next to nothing.
    """

    def load(**numbers: int) -> Catalog:
        files: dict[str, str | bytes] = {
            name: (bundled("data/base") / name).read_bytes() for name in ("words.yml", "brand.yml")
        }
        files["patterns/straight"] = (
            "title: P\nanswer: P.\njets: [{id: rear, count: 1, angle: 20 deg, faces: rear}]\n"
            "discharge_coefficient: 0.75\ndoes: [x]\ndoes_not: [x]\n"
        )
        files["hoses/wide-line"] = (
            "title: Wide line\nanswer: H.\nbore: 1 in\nroughness: 0 mm\n"
            "working_pressure: 4000 psi\nburst_pressure: 16000 psi\n"
        )
        for name, size in numbers.items():
            files[f"nozzles/{name}"] = (
                f"title: {name.title()} one\nanswer: N.\npattern: straight\nthread: x\n"
                f"stiff_length: 3 in\njets: [{{id: rear, number: {size}}}]\n"
            )
        machine = {
            "title": "Barrow",
            "answer": "M.",
            "flow": "12 gpm",
            "pressure": "3000 psi",
            "fitted": [],
            "nozzles": list(numbers),
            "hoses": [{"id": "main", "hose": "wide-line", "length": "5 ft"}],
        }
        files["machines/barrow"] = json.dumps(machine)
        return catalog_from(data(files))

    return load


def test_the_walk_takes_the_nozzle_that_leaves_most_with_the_unloader_shut(
    fleet: Callable[..., Catalog],
) -> None:
    found = walk_of(fleet(tight=10, right=15, wide=20), "barrow", "main")
    assert found is not None
    assert found.said[0].startswith("Right one: of the nozzles carried for this hose")
    title = read(found.picture).findtext(f"{SVG}title")
    assert title == "Pressure from pump to nozzle: Wide line with Right one"
    # 4000·(12/15)² = 2560 psi goes with (flow/number)²: 5 % off in each make ± 2·√(5²+5²) = 14 %.
    low, high = re.findall(r"([\d,]+) psi", found.said[1].replace("\u00a0", " "))
    spread = 2 * sqrt(0.05**2 + 0.05**2)
    assert float(low.replace(",", "")) == pytest.approx(2560 * (1 - spread), rel=0.03)
    assert float(high.replace(",", "")) == pytest.approx(2560 * (1 + spread), rel=0.03)


def test_where_every_nozzle_opens_the_unloader_the_walk_says_so(
    fleet: Callable[..., Catalog],
) -> None:
    # Number 10 passes 10·√(3000/4000) = 8.66 gpm; 3.3 of the 12 go back.
    found = walk_of(fleet(tight=10, tighter=8), "barrow", "main")
    assert found is not None
    assert found.said[0].replace("\u00a0", " ") == (
        "Tight one: every nozzle carried for this hose opens the unloader; "
        "this one sends back the least, 3.3 gpm (13 L/min)."
    )


def test_without_a_nozzle_there_is_no_walk(fleet: Callable[..., Catalog]) -> None:
    assert walk_of(fleet(), "barrow", "main") is None


def test_pages_show_the_pictures_of_their_records(fleet: Callable[..., Catalog]) -> None:
    catalog = fleet(right=15)
    pages = {p.address: p.html for p in render_pages(catalog, {}, bundled("site_templates"))}
    drawn = 'class="drawn {}" role="img"'
    assert drawn.format("jets") in pages["patterns/straight.html"]
    assert drawn.format("jets") in pages["nozzles/right.html"]
    assert drawn.format("walk") in pages["machines/barrow.html"]
    assert "style=" not in pages["machines/barrow.html"]
    without = {p.address: p.html for p in render_pages(fleet(), {}, bundled("site_templates"))}[
        "machines/barrow.html"
    ]
    assert "<svg" not in without
