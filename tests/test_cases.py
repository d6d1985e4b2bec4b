"""Mistakes an author makes, one file each in tests/cases: what was written, what is told.

A case holds `files` (layer/kind/id.yml to text; the layers lie over the small one unless `alone`
is true, in the order in which they first occur) and either `told`, the whole message word by
word, or `kept`, values by kind/id and field that must come through as typed.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from refgen.errors import DataError
from refgen.nodes import Node
from tests.stages import SMALL, catalog_from, laid_of

CASES = sorted((Path(__file__).parent / "cases").glob("*.yml"))


def read_case(path: Path) -> dict[str, Any]:
    case: dict[str, Any] = yaml.safe_load(path.read_text("utf-8"))
    assert case.keys() <= {"files", "alone", "told", "kept"}
    return case


def layers_of(case: dict[str, Any], data: Callable[..., list[Path]]) -> list[Path]:
    layers: dict[str, dict[str, Any]] = {}
    for address, content in case["files"].items():
        layer, _, file = address.partition("/")
        layers.setdefault(layer, {})[file] = content
    written = data(*layers.values(), names=tuple(layers))
    return written if case.get("alone") else [SMALL, *written]


def value_at(node: Node, field: str) -> object:
    for name in field.split("."):
        inner = node.value[int(name) - 1 if name.isdigit() else name]
        node = inner
    return node.value


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_case(path: Path, data: Callable[..., list[Path]]) -> None:
    case = read_case(path)
    layers = layers_of(case, data)
    if "told" in case:
        with pytest.raises(DataError) as caught:
            catalog_from(layers)
        assert f"{caught.value}\n" == case["told"]
    else:
        catalog_from(layers)
        records = laid_of(layers).records
        for address, fields in case["kept"].items():
            kind, _, name = address.partition("/")
            for field, value in fields.items():
                assert value_at(records[kind, name], field) == value, field


def test_there_are_cases_and_each_says_what_comes_of_it() -> None:
    assert len(CASES) >= 45
    for path in CASES:
        assert ("told" in (case := read_case(path))) != ("kept" in case), path.stem
