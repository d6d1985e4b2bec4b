"""Every requirement has a lower bound that can be tried."""

from __future__ import annotations

import re
import sys

import pytest

from tests.lowest import PROJECT, lowest, release
from tests.test_imports import MODULES


def test_every_requirement_has_a_lower_bound() -> None:
    text = PROJECT.read_text("utf-8")
    named = re.findall(r'^    "([A-Za-z][\w-]*)[>=<!~]', text, re.MULTILINE)
    assert lowest().keys() == set(named)
    assert len(named) == len(set(named))


def test_what_refgen_imports_is_what_it_requires() -> None:
    imported = {name.partition(".")[0] for names in MODULES.values() for name in names}
    # Named otherwise than they are imported, or brought by one that is required.
    names = {
        "jinja2": "jinja2", "markdown_it": "markdown-it-py", "material": "mkdocs-material",
        "markupsafe": "jinja2", "mkdocs": "mkdocs", "pydantic": "pydantic",
        "pydantic_core": "pydantic", "resvg_py": "resvg-py", "segno": "segno",
        "tinycss2": "tinycss2", "watchdog": "watchdog", "yaml": "pyyaml", "click": "click",
    }  # fmt: skip
    text = PROJECT.read_text("utf-8").partition("dependencies = [")[2].partition("]")[0]
    required = set(re.findall(r'"([a-z0-9-]+)[>=]', text))
    foreign = imported - sys.stdlib_module_names - {"refgen"}
    assert {names[name] for name in foreign} == required


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [("8.1", "8.1.0", True), ("9.8.2", "9.8", False), ("3", "3.0.0", True), ("3.1", "3.10", False)],
)
def test_versions_are_compared_as_numbers(one: str, other: str, same: bool) -> None:
    assert (release(one) == release(other)) is same
