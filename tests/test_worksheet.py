"""What the worksheet's page and script are given from the Python side."""

from __future__ import annotations

import gzip
import json
import math
import re
from pathlib import Path
from typing import Any

import pytest

from refgen.bundled import bundled
from refgen.compose import read_catalog
from refgen.errors import OutOfRange
from refgen.hydraulics import antifreeze, culvert, derate, hose, open_channel, power, setting
from refgen.measures import PSI, UNITS
from refgen.model.base import Flow, HoseBore, Pressure
from refgen.model.setup import JetSetup
from refgen.project import open_project
from refgen.units import parse_quantity
from refgen.worksheet import sheet, worksheet_script
from refgen.worksheet.constants import constants
from refgen.worksheet.fields import Field
from refgen.worksheet.fleet import fleet
from refgen.worksheet.limits import range_of, range_of_type, ranges_in
from refgen.worksheet.scripts import shortened, whole_script
from refgen.worksheet.setup_form import ANSWERS, changes
from refgen.worksheet.sums import SUMS
from refgen.worksheet.symbols import shown_pairs, units

ROOT = Path(__file__).resolve().parents[1]
THEME = bundled("site_templates") / "theme"
PROJECT = open_project(ROOT / "mkdocs.yml")
CATALOG = read_catalog(PROJECT.layers, ROOT)
DATA, SCRIPT = worksheet_script(CATALOG, THEME).split("\n")
TOLD: dict[str, Any] = json.loads(DATA.removeprefix("window.refgenSheet=").removesuffix(";"))
WHOLE = whole_script(THEME)
FIELDS = [
    *(field for fields in sheet("us").setup.values() for field in fields),
    *(field for one in SUMS for field in one.fields),
]


# ---- ranges are read from where they are checked


@pytest.mark.parametrize(
    ("module", "what", "refused_at"),
    [
        (derate, "height above the sea [m]", derate.altitude_share),
        (derate, "air temperature [K]", derate.heat_share),
        (culvert, "solids in the slurry [-]", lambda s: culvert.slurry_water(1.0, s)),
        (culvert, "bulk density of soil [kg/m³]", lambda d: culvert.soil_mass(1.0, d)),
        (setting, "overshoot of the unloader [-]", lambda o: setting.regulator_setting(1e7, 0, o)),
        (power, "power factor [-]", lambda f: power.outlet_flow(1, 1, 1, 0.5, 0.8, f)),
        (open_channel, "Manning's n", lambda n: open_channel.full_flow(0.1, 0.01, n)),
        (antifreeze, "share of glycol by volume [-]", antifreeze.freezing_point),
    ],
)
def test_a_range_is_the_one_that_the_formula_keeps(module: Any, what: str, refused_at: Any) -> None:
    low, high = range_of(module, what)
    assert high is not None
    for inside in (low, high):
        refused_at(inside)
    for outside in (math.nextafter(low, -math.inf), math.nextafter(high, math.inf)):
        with pytest.raises(OutOfRange):
            refused_at(outside)


def test_ranges_that_depend_on_another_number_are_left_out() -> None:
    assert "hose on the reel [m]" not in ranges_in(hose)  # it ends at the hose's length


def test_ranges_of_the_model_are_those_that_people_meet_in_a_setup() -> None:
    assert range_of_type(Flow) == (parse_quantity("0.01 gpm").si, parse_quantity("500 gpm").si)
    assert range_of_type(Pressure) == (0.0, parse_quantity("25000 psi").si)
    assert range_of_type(HoseBore) == (0.002, 0.06)
    assert range_of_type(JetSetup.model_fields["count"]) == (1.0, 60.0)


# ---- the form


@pytest.mark.parametrize("first", ["us", "metric"])
def test_what_a_field_starts_from_lies_in_its_range(first: Any) -> None:
    for field in FIELDS:
        start = str(field.told(first).get("is", ""))
        low, high = field.range
        if field.of == "choice":
            assert start in dict(field.choices)
        elif start:
            value = float(start) if field.of in ("number", "count") else parse_quantity(start).si
            assert low <= value <= (math.inf if high is None else high), field


def test_a_field_that_may_be_off_names_itself_as_the_cause() -> None:
    for field in FIELDS:
        assert ("word" in field.told("us")) is (field.off is not None)


def test_each_word_of_the_form_is_there() -> None:
    named = [field.word for field in FIELDS]
    named += [word for field in FIELDS for _, word in field.choices]
    named += [one.word for one in SUMS] + [word for one in SUMS for _, word, _ in one.rows]
    named += [note for one in SUMS for note in one.notes] + [word for _, word, _ in ANSWERS]
    for name in named:
        assert CATALOG.w[name]


def test_fields_are_named_once_within_their_sum() -> None:
    for fields in (*sheet("us").setup.values(), *(one.fields for one in SUMS)):
        names = [field.id for field in fields]
        assert len(names) == len(set(names))
    groups = sheet("us").setup
    addressed = [field.id for name in ("pump", "nozzle", "job") for field in groups[name]]
    assert len(addressed) == len(set(addressed))


def test_changes_are_told_in_the_system_that_comes_first() -> None:
    def heights(first: Any) -> list[str]:
        return [text for name, _, chips in changes(first) if name == "up" for _, text in chips]

    assert heights("us")[1:] == ["2,500 ft", "5,000 ft", "7,500 ft", "10,000 ft"]
    assert heights("metric")[1:] == ["500 m", "1,000 m", "2,000 m", "3,000 m"]
    values = [v for name, _, chips in changes("us") if name == "up" for v, _ in chips if v]
    assert [float(value) for value in values] == pytest.approx([762.0, 1524.0, 2286.0, 3048.0])


# ---- the data


def test_every_unit_goes_over_with_its_factor() -> None:
    told = {row[0]: row for row in units(CATALOG.w)}
    for unit in UNITS:
        assert told[unit.symbol][1:4] == (unit.dimension, unit.factor, unit.offset)
        assert told[unit.symbol][4] == unit.also
    # 1/4 in a foot is a fall of 2.08 %.
    assert 0.25 * float(str(told["in/ft"][2])) == pytest.approx(0.0208, abs=5e-5)


def test_no_two_units_of_one_dimension_differ_by_capitals_alone() -> None:
    names = [
        (row[1], name.lower(), row[0]) for row in units(CATALOG.w) for name in {row[0], *row[4]}
    ]
    meant: dict[tuple[Any, Any], set[Any]] = {}
    for dimension, name, symbol in names:
        meant.setdefault((dimension, name), set()).add(symbol)
    assert {name: found for name, found in meant.items() if len(found) > 1} == {}


def test_each_kind_of_result_is_shown_in_units_that_there_are() -> None:
    known = {unit[0] for unit in units(CATALOG.w)}
    assert {symbol for pair in shown_pairs().values() for symbol in pair} <= known
    shown = {what for _, _, what in ANSWERS} | {what for one in SUMS for _, _, what in one.rows}
    assert shown <= shown_pairs().keys() | {"time", "number"}


def test_constants_are_those_of_their_sources() -> None:
    told = constants("us")
    # Standard gravity (ISO 80000-3); Avila et al. 2011; ASME A112.1.2: one inch at least.
    assert (told["gravity"], told["laminarTo"], told["inch"]) == (9.80665, 2040.0, 0.0254)
    assert told["ranges"]["rough"] == (0.0, 0.05)
    assert told["standardWater"] == 288.15
    # 5000 psi and 400 bar are dials that are made; each crew's gauge has one in its own unit.
    assert 5000 * PSI in told["dials"]
    assert 400e5 in constants("metric")["dials"]
    assert 400e5 not in told["dials"]


def test_the_script_asks_for_each_constant_and_for_no_other() -> None:
    assert set(re.findall(r"\bk\.(\w+)", WHOLE)) == constants("us").keys()


def test_the_fleet_goes_over_as_written() -> None:
    told = fleet(CATALOG)
    assert told["machines"].keys() == CATALOG.machines().keys()
    trailer = told["machines"]["rowan-trailer"]
    assert (trailer["flow"], trailer["unloader"], trailer["plungers"]) == (
        "18 gpm",
        "2800 psi",
        "3",
    )
    assert trailer["hoses"][0]["reel"] == "30 in"
    assert "half-thruster" in trailer["hoses"][0]["nozzles"]
    assert "half-thruster" not in trailer["hoses"][1]["nozzles"]
    assert told["nozzles"]["half-thruster"]["jets"][0]["number"] == "4"
    assert "bore" not in told["nozzles"]["half-thruster"]["jets"][0]
    assert told["hoses"]["half-line"]["rating"] == "4000 psi"
    # Read with one nozzle at 2250 psi, on a dial to 5000 psi of class 2.5.
    (key,) = told["read"]
    assert key == "alder-barrow/hand-drum/quarter-flusher"
    reading = told["read"][key]
    assert (reading["gauge"], reading["error"]) == pytest.approx((2250 * PSI, 125 * PSI))
    assert reading["rig"]["hoses"][0]["length"] == pytest.approx(150 * 0.3048)


def test_a_pipe_that_must_not_be_jetted_says_so() -> None:
    materials = fleet(CATALOG)["materials"]
    barred = {
        (name, condition)
        for name, material in materials.items()
        for condition, ceiling in material["ceilings"].items()
        if ceiling.get("jet") == "no"
    }
    assert barred
    for name, condition in barred:
        record = CATALOG.entries["materials", name].record
        assert getattr(record.ceilings, condition).jet == "no"


def test_every_quantity_that_goes_over_can_be_read_again() -> None:
    for kind, names in (
        ("machines", ("flow", "pressure", "unloader", "power", "tank")),
        ("hoses", ("bore", "roughness", "weight", "rating", "warmest")),
        ("nozzles", ("stiff", "from", "to")),
    ):
        for record in TOLD[kind].values():
            for name in names:
                if name in record:
                    parse_quantity(record[name])


def test_words_go_over_under_the_short_names_that_the_script_asks_for() -> None:
    assert "ws_" not in SCRIPT + DATA
    asked = set(re.findall(r"\$\d?[0-9a-z]\b", SCRIPT)) - set(TOLD["constants"])
    assert asked <= TOLD["words"].keys()
    assert CATALOG.w["ws_full_flow"] in TOLD["words"].values()


# ---- the script


def test_the_script_is_light_and_rests_on_nothing() -> None:
    assert len(gzip.compress(SCRIPT.encode(), 9)) <= 15_000
    for word in (
        "eval(",
        "new Function",
        "innerHTML",
        "outerHTML",
        "insertAdjacentHTML",
        "document.write",
        "import(",
        "fetch(",
        "XMLHttpRequest",
        "http:",
        "https:",
    ):
        assert word not in WHOLE, word


def test_the_script_holds_no_sentence() -> None:
    texts = re.findall(r'"((?:[^"\\\n]|\\.)*)"', re.sub(r"^\s*//.*$", "", WHOLE, flags=re.M))
    assert [text for text in texts if re.search(r"[A-Za-z]{2,} [A-Za-z]{2,} ", text)] == []


@pytest.mark.parametrize(
    ("script", "short"),
    [
        (
            "(function () {const a = {flow: 1, b: 2}; const flow = a.flow ? a.b : a;})();",
            "(function(){let A={flow:1,b:2},B=A.flow?A.b:A})();",
        ),
        (
            '(function () {const say = "say // it"; const found = /say \\/ it/g;})();',
            '(function(){let A="say // it",B=/say \\/ it/g})();',
        ),
        (
            "(function () {function one(left) { return left - -left; }\n"
            "function two(right) { return one(right + +right); }})();",
            "(function(){function A(a){return a- -a}function B(a){return A(a+ +a)}})();",
        ),
        (
            "(function () {const list = [0.5, true]; for (const one of list) { use(one); }})();",
            "(function(){let A=[.5,!0];for(let a of A){b(a)}})();",
        ),
    ],
    ids=["properties stay", "texts stay", "names are used again", "numbers"],
)
def test_a_script_is_shortened_without_a_change_of_meaning(script: str, short: str) -> None:
    assert shortened(script) == short


def test_files_are_the_same_each_time() -> None:
    assert worksheet_script(CATALOG, THEME) == f"{DATA}\n{SCRIPT}"


def test_a_field_for_the_script_leaves_out_what_is_not_there() -> None:
    field = Field("one", "flow", "flow", (0.0, None), "8 gpm")
    assert field.told("us") == {"id": "one", "of": "flow", "needed": True, "is": "8 gpm"}
