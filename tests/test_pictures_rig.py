"""Pictures of rigs and pipes: what is drawn is measured in the drawing and held against a sum."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from math import acos, atan2, degrees, log10, sin, sqrt
from pathlib import Path

import pytest
from markupsafe import Markup

from refgen.catalog import Catalog
from refgen.model.lookup import Table
from refgen.pictures import Drawn, curves_of, gauge_of, of_table
from refgen.tables import compute_tables
from refgen.units import INCH, US_GALLON
from tests.tabling import Files, Load, barrow, loader, pages_of, record

SVG = "{http://www.w3.org/2000/svg}"
GPM = US_GALLON / 60


@pytest.fixture
def load(data: Callable[..., list[Path]]) -> Load:
    """Return what loads the catalog of records under the base's own words and brand."""
    return loader(data)


def read(picture: Markup) -> ET.Element:
    return ET.fromstring(str(picture))


def pieces(drawn: ET.Element, kind: str, tag: str) -> list[ET.Element]:
    return [piece for piece in drawn.iter(f"{SVG}{tag}") if piece.get("class") == kind]


def points(path: ET.Element) -> list[tuple[float, float]]:
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", path.attrib["d"])]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def ends(line: ET.Element) -> tuple[float, float, float, float]:
    x1, y1, x2, y2 = (float(line.attrib[name]) for name in ("x1", "y1", "x2", "y2"))
    return x1, y1, x2, y2


def centre(dot: ET.Element) -> tuple[float, float]:
    return float(dot.attrib["cx"]), float(dot.attrib["cy"])


def shown(drawn: Drawn | None) -> ET.Element:
    assert drawn is not None
    return read(drawn.picture)


def told(drawn: ET.Element) -> str:
    return (drawn.findtext(f"{SVG}desc") or "").replace("\u00a0", " ")


# ---- pump and nozzle

# Of the barrow's nozzles (12 gpm, 3000 psi) number 14 takes all 12 at 2939 psi, number 10 opens the
# unloader and passes 10·√(3000/4000) = 8.66.


def test_the_working_point_stands_where_the_lines_cross(load: Load) -> None:
    drawn = shown(curves_of(load(barrow(", nozzles: [right]")), "barrow", "main"))
    (pump,) = pieces(drawn, "pump", "path")
    (left, limit), (right, _), (_, floor) = points(pump)
    x, y = centre(pieces(drawn, "crossing", "circle")[0])
    assert x == pytest.approx(right, abs=0.2)
    assert (floor - y) / (floor - limit) == pytest.approx(2939 / 3000, abs=0.005)
    # The line of hose and nozzle is p ∝ Q², and goes through the crossing.
    (asked,) = pieces(drawn, "asked", "path")
    for place, height in points(asked):
        flow = (place - left) / (right - left)
        assert (floor - height) / (floor - limit) == pytest.approx(2939 / 3000 * flow**2, abs=0.01)


def test_jets_too_small_cross_on_the_limit_and_send_the_rest_back(load: Load) -> None:
    drawn = shown(curves_of(load(barrow(", nozzles: [tight]")), "barrow", "main"))
    (left, limit), (right, _), _ = points(pieces(drawn, "pump", "path")[0])
    x, y = centre(pieces(drawn, "crossing", "circle")[0])
    assert y == pytest.approx(limit, abs=0.2)
    assert (x - left) / (right - left) == pytest.approx(8.66 / 12, abs=0.005)
    assert "cross that line at 8.7 gpm (33 L/min): the gauge shows 3,000 psi" in told(drawn)


def test_without_a_nozzle_there_are_no_curves_and_no_gauge(load: Load) -> None:
    catalog = load(barrow(", nozzles: []"))
    assert curves_of(catalog, "barrow", "main") is None
    assert gauge_of(catalog, "barrow") is None


# ---- gauge


def turn(line: ET.Element) -> float:
    """Return how far a mark is turned from the top [deg], clockwise, by its two ends."""
    x1, y1, x2, y2 = ends(line)
    return degrees(atan2(x2 - x1, y1 - y2))


def test_needle_limit_and_plate_stand_at_their_place_on_the_dial(load: Load) -> None:
    # 3000 psi at two thirds of the dial at most: 5000. 270° for 5000 psi, 0 at −135°.
    files = barrow(", nozzles: [right]")
    files["machines/barrow"] = str(files["machines/barrow"]).replace(
        "pressure: 3000 psi", "pressure: 3200 psi\nunloader: 3000 psi"
    )
    drawn = shown(gauge_of(load(files), "barrow"))
    for kind, psi in (("needle", 2939), ("limit", 3000), ("plate", 3200)):
        mark = pieces(drawn, kind, "line")[0]
        angle = turn(mark) if kind == "needle" else turn(mark) - 180
        angle = (angle + 180) % 360 - 180
        assert angle == pytest.approx(-135 + 270 * psi / 5000, abs=0.6), kind
    assert told(drawn) == (
        "Gauge 2,900 psi (200 bar); Limit 3,000 psi (207 bar); Plate 3,200 psi (221 bar)."
    )


# ---- hose loss


def table_picture(catalog: Catalog) -> Drawn | None:
    (found,) = catalog.of_kind("tables").values()
    assert isinstance(found, Table)
    return of_table(catalog, found)


def test_each_bores_line_lies_where_the_loss_is_worked_out(load: Load) -> None:
    # 8 gpm lose 241 psi in 100 ft of 3/8 in, 18 gpm 260 psi in 1/2 in (1040 in 400 ft).
    fields = {"rows": ["8 gpm"], "columns": ["3/8 in", "1/2 in"]}
    drawn = shown(table_picture(load({"tables/t": record("hose-loss", **fields)})))
    across = {float(t.text or 0): float(t.attrib["x"]) for t in pieces(drawn, "mark-x", "text")}
    up = {
        float((t.text or "0").replace(",", "")): float(t.attrib["y"])
        for t in pieces(drawn, "mark-y", "text")
    }

    def flow(x: float) -> float:
        return 10 ** ((x - across[1]) / (across[100] - across[1]) * 2)

    def loss(y: float) -> float:
        return float(10 * 10 ** ((up[10] - 5 - (y - 0)) / (up[10] - up[1000]) * 2))

    for line, gpm, psi in zip(pieces(drawn, "asked", "path"), (8, 18), (241, 260), strict=True):
        near = min(points(line), key=lambda p: abs(log10(flow(p[0]) / gpm)))
        # Between two points the loss goes with the flow to the power 1.8.
        right = psi * (flow(near[0]) / gpm) ** 1.8
        assert loss(near[1]) == pytest.approx(right, rel=0.03)


def test_flows_without_a_formula_are_left_out_of_a_line(load: Load) -> None:
    # 1 in: Re 4000 at 4·ν·π·d/4 = π·0.0254·1.1386e-6·1000 m³/s = 1.44 gpm; nothing left of that.
    fields = {"rows": ["60 gpm"], "columns": ["1 in"], "assume": {"length": "2000 ft"}}
    drawn = shown(table_picture(load({"tables/t": record("hose-loss", **fields)})))
    (line,) = pieces(drawn, "asked", "path")
    marks = {t.text: float(t.attrib["x"]) for t in pieces(drawn, "mark-x", "text")}
    assert points(line)[0][0] > marks["1"]


def test_metric_brands_get_metric_scales(load: Load) -> None:
    fields = {"rows": ["8 gpm"], "columns": ["10 mm"]}
    files: Files = {"tables/t": record("hose-loss", **fields)}
    drawn = shown(table_picture(load(files, {"brand": "units_first: metric\n"})))
    texts = ["".join(t.itertext()) for t in drawn.iter(f"{SVG}text")]
    assert {"↑ bar", "L/min →", "bore in mm", "10"} <= set(texts)


# ---- pipes and bends


def test_the_water_stands_as_deep_as_manning_says(load: Load) -> None:
    fields = {"rows": ["6 in"], "columns": ["1 %", "2 %"], "flows": ["60 gpm"]}
    drawn = shown(table_picture(load({"tables/t": record("flow-in-pipe", **fields)})))
    for water, pipe, slope in zip(
        pieces(drawn, "water", "path"), pieces(drawn, "pipe", "circle"), (0.01, 0.02), strict=True
    ):
        radius, (x, y) = float(pipe.attrib["r"]), centre(pipe)
        surface = min(height for _, height in points(water))
        share = (y + radius - surface) / (2 * radius)
        # Back from the drawn depth to the flow.
        angle, bore = 2 * acos(1 - 2 * share), 6 * INCH
        area = bore**2 / 8 * (angle - sin(angle))
        hydraulic = area / (bore / 2 * angle)
        assert area * hydraulic ** (2 / 3) * sqrt(slope) / 0.013 == pytest.approx(
            60 * GPM, rel=0.03
        )
        # Every corner of the water lies within the pipe.
        assert all((px - x) ** 2 + (py - y) ** 2 <= (radius + 0.2) ** 2 for px, py in points(water))


def test_a_table_whose_pipes_all_run_full_has_no_picture(load: Load) -> None:
    fields = {"rows": ["2 in"], "columns": ["1 %"], "flows": ["100 gpm"]}
    assert table_picture(load({"tables/t": record("flow-in-pipe", **fields)})) is None


def test_bars_of_reach_are_as_long_as_the_table_says(load: Load) -> None:
    hose = (
        "title: Wide line\nanswer: H.\nbore: 1 in\nroughness: 0 mm\nworking_pressure: 4000 psi\n"
        "burst_pressure: 16000 psi\nweight: 0.5 lb/ft\n"
    )
    files = barrow(", nozzles: [wide]", **{"hoses/wide-line": hose, "tables/t": record("reach")})
    files["machines/barrow"] = str(files["machines/barrow"]).replace("5 ft", "200 ft")
    catalog = load(files)
    drawn = shown(table_picture(catalog))
    row = compute_tables(catalog)["t"].records[0]
    limit, *_ = ends(pieces(drawn, "limit", "line")[0])
    sure, bent = (float(b.attrib["width"]) for b in pieces(drawn, "left", "rect")[:2])
    whole = 200 * 0.3048
    assert sure / (limit - 2) == pytest.approx(
        float(str(row["straight_shortest_m"])) / whole, rel=0.01
    )
    assert bent / (limit - 2) == pytest.approx(float(str(row["bend_shortest_m"])) / whole, rel=0.01)
    widths = [float(b.attrib["width"]) for b in pieces(drawn, "left", "rect")]
    assert widths == sorted(widths, reverse=True)
    assert len(widths) == 4


# ---- all of them


def test_every_picture_is_small_plain_and_told_in_words(load: Load) -> None:
    hose = (
        "title: Wide line\nanswer: H.\nbore: 1 in\nroughness: 0 mm\nworking_pressure: 4000 psi\n"
        "burst_pressure: 16000 psi\nweight: 0.5 lb/ft\n"
    )
    files = barrow("", **{"hoses/wide-line": hose})
    del files["tables/t"]
    bores = ["1/8 in", "1/4 in", "3/8 in", "1/2 in", "3/4 in", "1 in"]
    files["tables/reach"] = record("reach")
    files["tables/loss"] = record("hose-loss", rows=["8 gpm"], columns=bores)
    files["tables/flow"] = record(
        "flow-in-pipe", rows=["4 in"], columns=["1 %", "2 %"], flows=["18 gpm"]
    )
    catalog = load(files)
    pages = pages_of(catalog)
    found = [
        svg
        for address in ("machines/barrow", "tables/reach", "tables/loss", "tables/flow")
        for svg in re.findall(r"<svg class=\"drawn.*?</svg>", pages[f"{address}.html"], re.DOTALL)
    ]
    assert len(found) == 6  # walk, gauge, curves, reach, losses, pipes
    for svg in found:
        assert len(svg.encode()) < 12_000
        drawn = ET.fromstring(svg)
        assert drawn.get("role") == "img"
        assert drawn.findtext(f"{SVG}title")
        assert len(told(drawn)) > 20
        assert not re.search(r"style=|<script|fill=|stroke=|href", svg)
        _, top, width, height = map(float, drawn.attrib["viewBox"].split())
        for text in drawn.iter(f"{SVG}text"):
            x, y, wide = (
                float(text.attrib["x"]),
                float(text.attrib["y"]),
                len(text.text or "") * 8.6,
            )
            start = x - {"start": 0, "middle": wide / 2, "end": wide}[text.attrib["text-anchor"]]
            assert start >= -2, text.text
            assert start + wide <= width + 6, text.text
            assert top + 10 <= y <= top + height, text.text
