"""Builds that are killed, and a served project on which bad edits fall."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.endure import BAD, BAD_ELSEWHERE, endure
from tests.hostile import tamed, write_project
from tests.kills import kill_builds

pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals differ")


def test_builds_killed_at_random_leave_one_whole_site(tmp_path: Path) -> None:
    # Thirty and more by command: `python -m tests.kills`.
    write_project(tmp_path, tamed)
    term = tmp_path / "data" / "terms" / "trial.yml"

    def turn(state: int) -> None:
        term.write_text(f"title: Trial\nanswer: State {state}.\n", "utf-8")

    came = kill_builds(tmp_path / "mkdocs.yml", turn, times=10, seed=3)
    assert came["neither"] == came["not put right"] == 0
    assert came["as it was"] > 0
    assert came.total() == 10


def test_serving_goes_on_through_edits_good_and_bad(tmp_path: Path) -> None:
    root = tmp_path / "project"
    root.mkdir()
    found = endure(root, edits=8, seed=1)
    assert found.faults == []
    assert found.edits.total() == 8
    assert found.edits.keys() & (BAD.keys() | BAD_ELSEWHERE.keys())
