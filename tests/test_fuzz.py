"""A few hundred sets of broken data; `python -m tests.fuzz` puts thousands to the test."""

from __future__ import annotations

import os

import pytest

from tests.fuzz.breaks import WAYS
from tests.fuzz.tally import run_all

pytestmark = pytest.mark.skipif(os.name != "posix", reason="forks, pipes and links are of Unix")
SETS, SEED = 300, 7


def test_broken_data_are_told_and_never_crash_hang_or_harm_the_last_good_site() -> None:
    tally = run_all(SETS, SEED, workers=min(2, os.cpu_count() or 1), built=150)
    assert tally.faults == []
    assert tally.refused.total() + tally.accepted.total() == SETS
    assert tally.builds > 0
    met = tally.refused.keys() | tally.accepted.keys()
    assert len(met) > len(WAYS) * 0.9  # a few ways find nothing to break at their turn


def test_each_way_to_break_data_says_what_must_come_of_it() -> None:
    outcomes = [way.outcome for way in WAYS.values()]
    assert len(outcomes) > 60
    assert {outcomes.count(one) > 3 for one in ("refused", "accepted", "either")} == {True}
