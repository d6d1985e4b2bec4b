"""The words of the interface have to be all there, each with no other blanks than refgen fills."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from functools import lru_cache
from string import Formatter

from refgen.bundled import bundled
from refgen.errors import Place, Problem
from refgen.layers import Laid
from refgen.nodes import read_text

_BLANK = re.compile(r"[a-z_]+")


def problems_with(laid: Laid) -> Iterator[Problem]:
    """Yield what keeps the words of all layers, laid over each other, from being said.

    A word that no layer has is no mistake as long as no page asks for it; see `unsaid`.
    """
    words = laid.singles.get("words")
    found = words.value.get("words") if words and isinstance(words.value, dict) else None
    if found is None or not isinstance(found.value, dict):
        return  # told when the file is read as a whole
    for name, wanted in _own_words().items():
        said = found.value.get(name)
        if said is not None and isinstance(said.value, str):
            yield from _wrong_blanks(name, said.value, blanks_of(wanted), said.place)
    for override in laid.overrides:
        if override.record[0] == "words" and override.path[:1] == ("words",) and not override.now:
            hint = "Say it in your own words instead."
            name = ".".join(override.path)
            yield Problem(override.place, name, "pages need it, so it cannot be hidden", hint)


def unsaid(words: Collection[str]) -> list[str]:
    """Return the words that refgen's pages may ask for and that are not among these, sorted.

    Without the headings of groups, which are asked for only where a record stands in the group.
    """
    return sorted(
        name for name in _own_words().keys() - set(words) if not name.startswith("group_")
    )


def blanks_of(text: str) -> set[str] | None:
    """Return the names in braces that stand for a value, None if the braces are not right.

    >>> sorted(blanks_of("Step {number} of {all}")), blanks_of("Step {number")
    (['all', 'number'], None)
    """
    try:
        parts = list(Formatter().parse(text))
    except ValueError:
        return None
    names = {name for _, name, _, _ in parts if name is not None}
    plain = all(not spec and not turn for _, name, spec, turn in parts if name is not None)
    return names if plain and all(_BLANK.fullmatch(name) for name in names) else None


def _wrong_blanks(name: str, text: str, wanted: set[str] | None, at: Place) -> Iterator[Problem]:
    blanks = blanks_of(text)
    allowed = ", ".join(f"{{{blank}}}" for blank in sorted(wanted or ())) or "none"
    hint = f"Blanks that are filled here: {allowed}; double other braces."
    if blanks is None:
        yield Problem(at, f"words.{name}", "has braces that are not right", hint)
    elif wrong := sorted(blanks - (wanted or set())):
        yield Problem(at, f"words.{name}", f"nothing fills '{{{wrong[0]}}}'", hint)


@lru_cache(maxsize=1)
def _own_words() -> Mapping[str, str]:
    """Return the words that refgen brings, which are those that its pages say."""
    text = (bundled("data/base") / "words.yml").read_text("utf-8")
    node, _ = read_text(text, "words.yml")
    assert node is not None
    assert isinstance(node.value, dict)
    words = node.value["words"].value
    assert isinstance(words, dict)
    return {name: str(said.value) for name, said in words.items()}
