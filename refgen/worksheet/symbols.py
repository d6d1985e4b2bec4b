"""Units as the worksheet reads and shows them: those of `refgen.measures`, and one of its own."""

from __future__ import annotations

from collections.abc import Mapping

from refgen.tables.shape import PAIRS
from refgen.units import UNITS, Unit

# How plumbers write a fall; only the worksheet needs it.
FURTHER = (Unit("in/ft", "share", "us", 1 / 12, "%", also=("inch per foot",)),)
_ALL = (*UNITS, *FURTHER)
_BY_SYMBOL = {unit.symbol: unit for unit in _ALL}

# What each unit is called in full, for reading and listening; any other goes by its symbol.
_WORDS = {
    "psi": "ws_unit_psi",
    "bar": "ws_unit_bar",
    "gpm": "ws_unit_gpm",
    "imp gpm": "ws_unit_imp_gpm",
    "L/min": "ws_unit_l_min",
    "L/s": "ws_unit_l_s",
    "m³/h": "ws_unit_m3_h",
    "in": "ws_unit_in",
    "mm": "ws_unit_mm",
    "cm": "ws_unit_cm",
    "ft": "ws_unit_ft",
    "m": "ws_unit_m",
    "yd": "ws_unit_yd",
    "gal": "ws_unit_gal",
    "imp gal": "ws_unit_imp_gal",
    "L": "ws_unit_l",
    "m³": "ws_unit_m3",
    "ft³": "ws_unit_ft3",
    "yd³": "ws_unit_yd3",
    "lb": "ws_unit_lb",
    "kg": "ws_unit_kg",
    "lb/ft": "ws_unit_lb_ft",
    "kg/m": "ws_unit_kg_m",
    "lb/ft³": "ws_unit_lb_ft3",
    "kg/m³": "ws_unit_kg_m3",
    "ft/min": "ws_unit_ft_min",
    "m/min": "ws_unit_m_min",
    "ft/s": "ws_unit_ft_s",
    "m/s": "ws_unit_m_s",
    "hp": "ws_unit_hp",
    "kW": "ws_unit_kw",
    "°": "ws_unit_degrees",
    "s": "ws_unit_s",
    "min": "ws_unit_min",
    "h": "ws_unit_h",
    "%": "ws_unit_percent",
    "rpm": "ws_unit_rpm",
    "V": "ws_unit_volts",
    "A": "ws_unit_amperes",
    "in/ft": "ws_unit_in_ft",
}
# How results are shown beyond what computed tables show: in US customary, in metric.
_FURTHER_PAIRS = {
    "temperature": ("°F", "°C"),
    "mass": ("lb", "kg"),
    "soil": ("yd³", "m³"),
    "loose": ("ft³", "m³"),
    "small length": ("in", "mm"),
    "head": ("ft", "m"),
    "share": ("%", "%"),
    "belt": ("ft/min", "m/s"),
    "turning": ("rpm", "rpm"),
}


def units(words: Mapping[str, str]) -> list[tuple[object, ...]]:
    """Return every unit: symbol, dimension, factor, offset, other names, full name, twin."""
    return [
        (u.symbol, u.dimension, u.factor, u.offset, u.also, _full_name(u, words), u.twin)
        for u in _ALL
    ]


def _full_name(unit: Unit, words: Mapping[str, str]) -> str:
    return words[_WORDS[unit.symbol]] if unit.symbol in _WORDS else unit.symbol


def shown_pairs() -> dict[str, tuple[str, str]]:
    """Return the units in which each kind of result is shown, US customary first."""
    pairs = {what: (us.symbol, metric.symbol) for what, (us, metric) in PAIRS.items()}
    for symbols in _FURTHER_PAIRS.values():
        assert set(symbols) <= _BY_SYMBOL.keys()
    return {**pairs, **_FURTHER_PAIRS}
