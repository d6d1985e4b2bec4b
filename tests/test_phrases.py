"""Words of the interface: what a layer may say in its own words, and what it may not."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
import yaml

from refgen.bundled import bundled
from refgen.compose import read_catalog
from refgen.errors import DataError
from refgen.phrases import blanks_of, unsaid

WriteLayers = Callable[..., list[Path]]


def words(data: WriteLayers, line: str) -> list[Path]:
    return [bundled("data/base"), *data({"words": f"words:\n  {line}\n"}, names=("ours",))]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("page_mark: 'Page {nope}'", "ours/words.yml:2: words.page_mark: nothing fills '{nope}'"),
        ("page_mark: 'Page {'", "ours/words.yml:2: words.page_mark: has braces that are not right"),
        ("page_mark: 'Page {}'", "ours/words.yml:2: words.page_mark: has braces that are not"),
        ("page_mark: 'Page {mark!r}'", "ours/words.yml:2: words.page_mark: has braces that"),
        ("page_mark: 'Page {mark:>9}'", "ours/words.yml:2: words.page_mark: has braces that"),
        ("page_mark: 'Page {mark.x}'", "ours/words.yml:2: words.page_mark: has braces that"),
        ("home: '{title}'", "ours/words.yml:2: words.home: nothing fills '{title}'"),
        ("home: {hide: true}", "ours/words.yml:2: words.home: pages need it, so it cannot be"),
    ],
)
def test_words_that_could_not_be_said_are_told(data: WriteLayers, line: str, told: str) -> None:
    layers = words(data, line)
    with pytest.raises(DataError) as caught:
        read_catalog(layers, layers[-1].parent)
    assert len(caught.value.problems) == 1
    assert told in str(caught.value)


@pytest.mark.parametrize(
    "line", ["home: Start", "page_mark: 'Blatt {mark}'", "page_mark: Page", "home: '{{ x }}'"]
)
def test_other_words_may_be_said(data: WriteLayers, line: str) -> None:
    layers = words(data, line)
    catalog = read_catalog(layers, layers[-1].parent)
    name, _, said = line.partition(": ")
    assert catalog.w[name] == said.strip("'")


def test_what_no_layer_says_is_known_but_for_headings_of_groups() -> None:
    text = (bundled("data/base") / "words.yml").read_text("utf-8")
    own = set(yaml.safe_load(text)["words"])
    assert unsaid(own) == []
    assert unsaid(own - {"home", "page_mark", "group_emergency"}) == ["home", "page_mark"]


def test_blanks_are_plain_names() -> None:
    assert blanks_of("{count} of {all}, {{as typed}}") == {"count", "all"}
    assert blanks_of("}") is None
    assert blanks_of("{0}") is None
