"""Quantities: parsed as written, kept in SI, shown in both systems."""

from __future__ import annotations

from decimal import Decimal

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from refgen.units import (
    DIMENSIONS,
    UNITS,
    NotAQuantity,
    Unit,
    both_ways,
    convert,
    parse_quantity,
    round_to,
    show,
    significant_digits,
    unit_named,
    units_of,
)

few = settings(derandomize=True, max_examples=200, deadline=None)

# Each unit in the words of pint, an independent library of units.
PINT = {
    "psi": "pound_force_per_square_inch", "bar": "bar", "kPa": "kilopascal", "MPa": "megapascal",
    "Pa": "pascal", "psi/ft": "pound_force_per_square_inch / foot", "bar/m": "bar / meter",
    "gpm": "gallon / minute", "imp gpm": "imperial_gallon / minute", "L/min": "liter / minute",
    "L/s": "liter / second", "m³/h": "meter**3 / hour", "m³/s": "meter**3 / second", "in": "inch",
    "mm": "millimeter", "cm": "centimeter", "ft": "foot", "yd": "yard", "mile": "mile",
    "m": "meter", "km": "kilometer", "ft/s": "foot / second", "ft/min": "foot / minute",
    "m/s": "meter / second", "m/min": "meter / minute", "gal": "gallon",
    "imp gal": "imperial_gallon", "L": "liter", "m³": "meter**3", "lb": "pound", "kg": "kilogram",
    "g": "gram", "lb/ft": "pound / foot", "kg/m": "kilogram / meter", "lbf": "pound_force",
    "N": "newton", "kN": "kilonewton", "hp": "horsepower", "kW": "kilowatt", "W": "watt",
    "°": "degree", "s": "second", "min": "minute", "h": "hour", "days": "day", "weeks": "week",
    "%": "percent", "ppm": "ppm", "rpm": "revolution / minute / turn", "V": "volt", "A": "ampere",
    "MJ/kg": "megajoule / kilogram", "ft³": "foot**3", "yd³": "yard**3",
    "lb/ft³": "pound / foot**3", "kg/m³": "kilogram / meter**3",
}  # fmt: skip
TEMPERATURES = {"°F": "degree_Fahrenheit", "°C": "degree_Celsius", "K": "kelvin"}
# What pint has not, or has otherwise (its year is the Julian one): by definition.
YEAR = 365.2425 * 86400  # the Gregorian year, 97 leap days in 400 years
DEFINED = {"months": YEAR / 12, "years": YEAR, "×": 1.0, "dBA": 1.0, "mesh": 1.0}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


def named(symbol: str) -> Unit:
    unit = unit_named(symbol)
    assert unit is not None
    return unit


def test_every_unit_is_compared_with_an_independent_source() -> None:
    compared = [*PINT, *TEMPERATURES, *DEFINED]
    assert sorted(compared) == sorted(unit.symbol for unit in UNITS)


@pytest.mark.parametrize("symbol", PINT)
def test_a_unit_has_the_factor_that_pint_gives(registry: pint.UnitRegistry, symbol: str) -> None:
    expected = registry.Quantity(1, PINT[symbol]).to_base_units().magnitude
    assert parse_quantity(f"1 {symbol}").si == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("symbol", TEMPERATURES)
@pytest.mark.parametrize("number", ["0", "20.5", "140"])
def test_a_temperature_is_the_one_that_pint_gives(
    registry: pint.UnitRegistry, symbol: str, number: str
) -> None:
    expected = registry.Quantity(float(number), TEMPERATURES[symbol]).to("kelvin").magnitude
    assert parse_quantity(f"{number} {symbol}").si == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("symbol", DEFINED)
def test_other_units_are_what_their_definition_says(symbol: str) -> None:
    assert parse_quantity(f"1 {symbol}").si == pytest.approx(DEFINED[symbol], rel=1e-12)


def test_a_unit_and_its_twin_measure_the_same_and_are_of_two_systems() -> None:
    for unit in UNITS:
        if unit.twin:
            twin = named(unit.twin)
            assert twin.dimension == unit.dimension
            assert twin.system != unit.system


def test_no_name_stands_for_two_units() -> None:
    names = [name for unit in UNITS for name in (unit.symbol, *unit.also)]
    assert len(names) == len(set(names))


def test_the_commonest_unit_of_each_dimension_comes_first() -> None:
    assert [unit.symbol for unit in units_of("pressure")][:2] == ["psi", "bar"]
    assert all(units_of(dimension) for dimension in DIMENSIONS)


@pytest.mark.parametrize(
    ("text", "si"),
    [
        ("1900 psi", 1900 * 6894.757293168361),
        ("1900psi", 1900 * 6894.757293168361),
        ("  3/8 in ", 0.375 * 0.0254),
        ("1 1/2 in", 1.5 * 0.0254),
        ("1-1/2 in", 1.5 * 0.0254),
        ("1½ in", 1.5 * 0.0254),
        ("⅜ in", 0.375 * 0.0254),
        (".5 in", 0.5 * 0.0254),
        ("-3/8 in", -0.375 * 0.0254),
        ("−300 m", -300.0),
        ("+5 m", 5.0),
        ("10 feet", 3.048),
        ('6"', 0.1524),
        ("45 l/min", 0.045 / 60),
        ("3\u00a0m", 3.0),
        ("010 m", 10.0),
    ],
)
def test_a_quantity_is_read_as_people_write_it(text: str, si: float) -> None:
    assert parse_quantity(text).si == pytest.approx(si, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "'' is no pressure"),
        ("psi 1900", "'psi 1900' is no pressure"),
        ("1900", "'1900' has no unit"),
        ("1900 psis", "'1900 psis': no unit is called 'psis'"),
        ("1e3 psi", "'1e3 psi': no unit is called 'e3 psi'"),
        ("1 900 psi", "'1 900 psi' is no pressure"),
        ("1,900 psi", "'1,900 psi' is no pressure"),
        ("1.900.000 psi", "'1.900.000 psi' is no pressure"),
        ("3/0 psi", "'3/0 psi' divides by zero"),
        ("8 gpm", "'8 gpm' is a flow, not a pressure"),
        ("15 deg", "'15 deg' is an angle, not a pressure"),
        ("١٢ psi", "'١٢ psi' is no pressure"),
        ("inf psi", "'inf psi' is no pressure"),
        ("1900 psi or so", "'1900 psi or so': no unit is called 'psi or so'"),
        ("9" * 80, f"'{'9' * 60}' is no pressure"),
    ],
)
def test_what_is_no_pressure_is_told_with_what_to_write(text: str, message: str) -> None:
    with pytest.raises(NotAQuantity) as caught:
        parse_quantity(text, "pressure")
    assert caught.value.message == message
    assert caught.value.hint in (
        "Write a number and a unit (psi, bar, kPa, MPa, Pa), for example '1900 psi'.",
        "Write thousands without a comma, and decimals with a point.",
    )


@pytest.mark.parametrize(
    ("dimension", "hint"),
    [
        (None, "Write a number and a unit, for example '1900 psi', '3/8 in' or '45 L/min'."),
        ("length", "Write a number and a unit (in, mm, cm, ft, yd, mile), for example '3/8 in'."),
        ("angle", "Write a number and a unit (°), for example '15 °'."),
        ("temperature", "Write a number and a unit (°F, °C, K), for example '10 °F'."),
        (
            "flow",
            "Write a number and a unit (gpm, imp gpm, L/min, L/s, m³/h, m³/s), "
            "for example '8 gpm'.",
        ),
    ],
)
def test_a_hint_shows_units_of_the_dimension_and_an_example(
    dimension: str | None, hint: str
) -> None:
    with pytest.raises(NotAQuantity) as caught:
        parse_quantity("some", dimension)
    assert caught.value.hint == hint
    assert str(caught.value) == f"'some' is no {dimension or 'quantity'}"


def test_a_quantity_has_at_most_sixty_signs() -> None:
    assert parse_quantity("0" * 55 + "1 psi").si == pytest.approx(6894.757293168361)
    with pytest.raises(NotAQuantity):
        parse_quantity("0" * 56 + "1 psi")


def test_a_comma_gets_the_hint_about_commas() -> None:
    with pytest.raises(NotAQuantity) as caught:
        parse_quantity("1,900 psi")
    assert caught.value.hint == "Write thousands without a comma, and decimals with a point."


def test_two_scales_of_temperature_meet_at_minus_forty() -> None:
    assert parse_quantity("-40 degF").si == pytest.approx(parse_quantity("-40 degC").si)


def test_nothing_is_colder_than_absolute_zero() -> None:
    assert parse_quantity("-273.15 degC").si == pytest.approx(0, abs=1e-9)
    with pytest.raises(NotAQuantity, match=r"^'-274 degC' is below absolute zero$"):
        parse_quantity("-274 degC")


numbers = st.decimals(
    min_value=Decimal("0.001"), max_value=Decimal("99999"), places=3, allow_nan=False
)


@few
@given(numbers, st.sampled_from([(u, n) for u in UNITS for n in (u.symbol, *u.also)]))
def test_a_quantity_comes_back_in_the_unit_it_was_written_in(
    number: Decimal, unit_and_name: tuple[Unit, str]
) -> None:
    unit, name = unit_and_name
    quantity = parse_quantity(f"{number} {name}")
    assert quantity.unit is unit
    assert quantity.number == str(number)
    assert convert(quantity.si, unit) == pytest.approx(float(number), rel=1e-9, abs=1e-9)


@few
@given(numbers, st.sampled_from([u for u in UNITS if u.twin and u.dimension != "temperature"]))
def test_the_other_system_is_off_by_rounding_at_most(number: Decimal, unit: Unit) -> None:
    quantity = parse_quantity(f"{number} {unit.symbol}")
    written, other = both_ways(quantity, unit.system or "us")
    if unit.system is None:
        written, other = both_ways(quantity, "us")
    back = parse_quantity(other.replace(",", ""), unit.dimension)
    # Two significant digits are off by 1/20 at most (1.049… shown as 1.0).
    assert back.si == pytest.approx(quantity.si, rel=0.05)
    assert written.replace(",", "") == f"{number} {unit.symbol}"


@few
@given(st.floats(1e-9, 1e9), st.integers(1, 6))
def test_rounding_stays_within_half_a_unit_of_the_last_digit(value: float, digits: int) -> None:
    text = round_to(value, digits)
    assert "e" not in text.lower()
    assert float(text) == pytest.approx(value, rel=0.5 * 10 ** (1 - digits) * (1 + 1e-9))


@pytest.mark.parametrize(
    ("text", "first", "other"),
    [
        # By hand: 1 psi = 0.0689476 bar, 1 gpm = 3.78541 L/min, 1 in = 25.4 mm, 1 ft = 0.3048 m,
        # 1 gal = 3.78541 L, 1 lb = 0.453592 kg, 1 lbf = 4.44822 N, 1 hp = 0.7457 kW.
        ("1740 psi", "1,740 psi", "120 bar"),  # 119.97
        ("1900 psi", "1,900 psi", "131 bar"),  # 131.00
        ("12000 psi", "12,000 psi", "827 bar"),  # 827.4
        ("1234.5 psi", "1,234.5 psi", "85.12 bar"),  # 85.1158: four digits at most
        ("0 psi", "0 psi", "0 bar"),
        ("3/8 in", "3/8 in", "9.5 mm"),  # 9.525
        ("1 1/2 in", "1 1/2 in", "38 mm"),  # 38.1
        ("4 1/2 in", "4 1/2 in", "114 mm"),  # 114.3
        ("6 in", "6 in", "150 mm"),  # 152.4
        ("0.035 in", "0.035 in", "0.89 mm"),  # 0.889
        ("50 ft", "50 ft", "15 m"),  # 15.24
        ("1 mile", "1 mile", "1.6 km"),  # 1.609
        ("8 gpm", "8 gpm", "30 L/min"),  # 30.28
        ("12.5 gpm", "12.5 gpm", "47.3 L/min"),  # 47.32
        ("10 gal", "10 gal", "38 L"),  # 37.85
        ("0.1 lb/ft", "0.1 lb/ft", "0.15 kg/m"),  # 0.1488
        ("20 lbf", "20 lbf", "89 N"),  # 88.96
        ("11 hp", "11 hp", "8.2 kW"),  # 8.203
        ("100 ft/s", "100 ft/s", "30 m/s"),  # 30.48
        ("140 degF", "140 °F", "60 °C"),  # (140 − 32) / 1.8
        ("31 degF", "31 °F", "−1 °C"),  # −0.56
        ("120 bar", "1,740 psi", "120 bar"),  # 1740.5
        ("45 L/min", "12 gpm", "45 L/min"),  # 11.89
        ("-10 degC", "14 °F", "−10 °C"),
        ("-300 m", "−980 ft", "−300 m"),  # 984.3
        ("2 imp gal", "2 imp gal", "9.1 L"),  # 9.092
        ("15 deg", "15°", ""),
        ("10 %", "10%", ""),
        ("1 day", "1 day", ""),
        ("1 week", "1 week", ""),
        ("3 weeks", "3 weeks", ""),
        ("1 months", "1 month", ""),
        ("1 year", "1 year", ""),
        ("2 x", "2 times", ""),
        ("60 mesh", "60 mesh", ""),
    ],
)
def test_a_quantity_is_shown_in_both_systems(text: str, first: str, other: str) -> None:
    quantity = parse_quantity(text)
    assert both_ways(quantity, "us") == (first, other)
    assert both_ways(quantity, "metric") == ((other, first) if other else (first, other))


@pytest.mark.parametrize(
    ("number", "digits"),
    [
        ("1900", 2),
        ("1740", 3),
        ("10", 1),
        ("0", 1),
        ("0.0", 1),
        (".5", 1),
        ("12.50", 4),
        ("0.0015", 2),
        ("3/8", 2),
        ("-3/8", 2),
        ("1 1/2", 2),
        ("4 1/2", 3),
        ("-4-1/2", 3),
    ],
)
def test_a_written_number_carries_its_digits(number: str, digits: int) -> None:
    assert significant_digits(number) == digits


def test_a_computed_value_is_rounded_once_in_the_unit_asked_for() -> None:
    # 1 kW is 1/0.7457 hp = 1.341 hp; 12,345 psi is 12,300 at three digits.
    assert show(1000, named("hp")) == "1.34 hp"
    assert show(12345 * 6894.757293168361, named("psi")) == "12,300 psi"
    assert show(-0.00123, named("mm"), 2) == "−1.2 mm"
    assert show(0, named("lbf")) == "0 lbf"
    assert show(373.15, named("°F")) == "212 °F"
