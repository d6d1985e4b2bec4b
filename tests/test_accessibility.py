"""The report on WCAG 2.2 names every criterion of level A and AA once, and tests that exist."""

from __future__ import annotations

import ast
import re
from pathlib import Path

TESTS = Path(__file__).resolve().parent
REPORT = (TESTS / "ACCESSIBILITY.md").read_text("utf-8")
ROW = re.compile(r"^\| (\d\.\d\.\d+) ([^|]+) \| (A|AA) \| ([^|]+) \| ([^|]+) \|$", re.MULTILINE)
ROWS = ROW.findall(REPORT)
NAMED = re.compile(r"`([\w/]+\.py)::(\w+)`")

# W3C Recommendation "Web Content Accessibility Guidelines (WCAG) 2.2", 12 December 2024: numbers of
# the success criteria by level. 4.1.1 was removed; level AAA is not asked for.
A = re.findall(
    r"\S+",
    """1.1.1 1.2.1 1.2.2 1.2.3 1.3.1 1.3.2 1.3.3 1.4.1 1.4.2 2.1.1 2.1.2 2.1.4 2.2.1 2.2.2 2.3.1
    2.4.1 2.4.2 2.4.3 2.4.4 2.5.1 2.5.2 2.5.3 2.5.4 3.1.1 3.2.1 3.2.2 3.2.6 3.3.1 3.3.2 3.3.7
    4.1.2""",
)
AA = re.findall(
    r"\S+",
    """1.2.4 1.2.5 1.3.4 1.3.5 1.4.3 1.4.4 1.4.5 1.4.10 1.4.11 1.4.12 1.4.13 2.4.5 2.4.6 2.4.7
    2.4.11 2.5.7 2.5.8 3.1.2 3.2.3 3.2.4 3.3.3 3.3.4 3.3.8 4.1.3""",
)


def test_every_criterion_of_both_levels_stands_once_with_its_level() -> None:
    assert len(A) + len(AA) == 55
    assert sorted((number, level) for number, _, level, _, _ in ROWS) == sorted(
        [(number, "A") for number in A] + [(number, "AA") for number in AA]
    )
    assert len(ROWS) == sum(line.startswith("| ") for line in REPORT.splitlines()) - 1
    assert "4.1.1 Parsing is not in the list" in REPORT


def test_a_row_is_tested_looked_at_or_about_what_is_not_there() -> None:
    assert {stands for _, _, _, stands, _ in ROWS} == {"tested", "looked at", "not there"}


def test_what_is_said_to_be_tested_names_a_test_and_every_named_test_is_there() -> None:
    for number, _, _, stands, by in ROWS:
        named = NAMED.findall(by)
        assert named or stands != "tested", number
        for file, name in named:
            tree = ast.parse((TESTS / file).read_text("utf-8"))
            assert name in {n.name for n in tree.body if isinstance(n, ast.FunctionDef)}, number


def test_what_nobody_has_tried_is_said() -> None:
    untried = REPORT.split("**Nobody has tried yet:**")[1].split("\n\n")[0]
    for thing in ("screen reader", "voice control", "Safari", "real phone"):
        assert thing in untried
