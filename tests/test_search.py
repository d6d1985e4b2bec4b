"""The search index: small, the same each time, and harmless whatever the data hold."""

from __future__ import annotations

import gzip
import json
import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from refgen.bundled import bundled
from refgen.catalog import Catalog
from refgen.compose import read_catalog
from refgen.findable import findable
from refgen.pages import render_pages
from refgen.search import search_index
from refgen.spelling import cut, root
from refgen.tables import compute_tables
from tests.many import many

ROOT = Path(__file__).resolve().parents[1]
LAYERS = [ROOT / "data" / "base", ROOT / "data" / "pebblecombe"]


def read(script: str) -> dict[str, Any]:
    """Return the index that a script holds."""
    assert script.startswith("window.refgenIndex = ")
    index: dict[str, Any] = json.loads(script.removeprefix("window.refgenIndex = ").rstrip(";\n"))
    return index


def index_of(catalog: Catalog) -> str:
    pages = render_pages(catalog, compute_tables(catalog), bundled("site_templates"))
    return search_index(findable(catalog, pages), catalog.w, catalog.words.synonyms)


def index_of_records(catalog: Catalog) -> str:
    return search_index(findable(catalog, ()), catalog.w, catalog.words.synonyms)


@pytest.fixture(scope="module")
def catalog() -> Catalog:
    return read_catalog(LAYERS, ROOT)


@pytest.fixture(scope="module")
def script(catalog: Catalog) -> str:
    return index_of(catalog)


@pytest.fixture(scope="module")
def index(script: str) -> dict[str, Any]:
    return read(script)


@pytest.fixture
def trial(tmp_path: Path) -> Path:
    """A layer of a company with nothing in it yet."""
    (tmp_path / "terms").mkdir()
    return tmp_path


def ids_of(index: dict[str, Any]) -> list[str]:
    """Return the ids; one that is left out is its title in small letters, with dashes between."""
    pairs = zip(index["ids"].split("\n"), index["titles"].split("\n"), strict=True)
    return [i or re.sub("[^a-z0-9]+", "-", title.lower()).strip("-") for i, title in pairs]


def number_in(text: str, index: dict[str, Any]) -> list[int]:
    """Read numbers as `number` writes them: low parts first, the last one below `last`."""
    numbers, got, step = [], 0, 1
    for sign in text:
        digit = index["codes"].index(sign)
        got += step * digit
        if digit >= index["last"]:
            step *= len(index["codes"]) - index["last"]
        else:
            numbers.append(got)
            got, step = 0, 1
    return numbers


def table(index: dict[str, Any]) -> dict[str, list[int]]:
    """Return each word of the sections with the places of the records that use it."""
    words: dict[str, list[int]] = {}
    word = ""
    for coded, post in zip(index["words"].split(" "), index["posts"].split(" "), strict=True):
        word = word[: index["codes"].index(coded[0])] + coded[1:]
        place, places = -1, []
        for value in number_in(post, index):
            place += value >> 1
            places.append(place)
        words[word] = places
    return words


def test_a_record_takes_at_most_120_bytes_on_the_wire(script: str, index: dict[str, Any]) -> None:
    records = len(index["ids"].split("\n"))
    assert records > 300
    assert len(gzip.compress(script.encode(), 6)) / records <= 120


def test_an_index_of_three_thousand_stays_below_300_kb(catalog: Catalog) -> None:
    found = many(findable(catalog, ()), 3000)
    assert len({(one.pattern, one.id) for one in found}) == 3000
    script = search_index(found, catalog.w, catalog.words.synonyms)
    assert len(gzip.compress(script.encode(), 6)) <= 300_000


def test_each_record_has_its_place_in_every_column(index: dict[str, Any]) -> None:
    many = sum(run[3] for run in index["runs"])
    for column in ("ids", "titles", "also", "lines"):
        assert len(index[column].split("\n")) == many, column


def test_every_record_stands_in_the_index_once(catalog: Catalog, index: dict[str, Any]) -> None:
    ids = iter(ids_of(index))
    found = [run[2].replace("*", next(ids)) for run in index["runs"] for _ in range(run[3])]
    assert len(found) == len(set(found))
    for kind, name in catalog.entries:
        own = f"{kind}/{name}.html"
        assert own in found or f"{kind}/index.html#{name}" in found, own
    assert "emergency.html" in found
    assert "symptoms/index.html" in found
    assert "search.html" not in found


def test_a_word_of_the_table_stands_in_the_records_it_names(
    catalog: Catalog, index: dict[str, Any]
) -> None:
    words, endings = table(index), tuple(index["endings"].split())
    assert list(words) == sorted(words)
    assert len(words) > 1000
    told = own = 0
    ids = ids_of(index)
    kinds = [run[2].split("/")[0] for run in index["runs"] for _ in range(run[3])]
    places = [(kind, name) for kind, name in zip(kinds, ids, strict=True)]
    for (kind, name), entry in catalog.entries.items():
        if kind != "symptoms":
            continue
        place = places.index((kind, name))
        said = {root(w, endings) for _, text in entry.contents.texts for w in cut(str(text))}
        mine = {word for word, where in words.items() if place in where}
        assert len(mine) > 5, name
        told += len(mine)
        own += sum(root(word, endings) in said for word in mine)
    # What is not said in the texts comes from titles of causes, groups and parts in question.
    assert own >= 0.6 * told


def test_urgent_symptoms_and_hazards_weigh_more_than_glossary_and_sources(
    index: dict[str, Any],
) -> None:
    weights: dict[str, list[float]] = {}
    for weight, _, pattern, _ in index["runs"]:
        weights.setdefault(pattern.split("/")[0], []).append(weight)
    order = ["sources", "terms", "parts", "hazards", "symptoms"]
    heaviest = [max(weights[kind]) for kind in order]
    assert heaviest == sorted(heaviest)
    assert len(set(weights["symptoms"])) == 2  # those on the emergency page, and the others


def test_hostile_text_is_kept_as_text(trial: Path) -> None:
    title = "</script><script>alert(1)</script> & 'x' ]]> \\\\"
    (trial / "terms" / "trial.yml").write_text(
        f'title: "{title}"\nanswer: "One <b>line</b>."\nalso_called: ["a|b", "c{{{{d}}}}"]\n',
        "utf-8",
    )
    made = index_of_records(read_catalog([LAYERS[0], trial], ROOT))
    assert not set("<>&") & set(made)
    index = read(made)
    place = ids_of(index).index("trial")
    assert index["titles"].split("\n")[place] == "</script><script>alert(1)</script> & 'x' ]]> \\"
    assert index["lines"].split("\n")[place] == "One <b>line</b>."
    assert index["also"].split("\n")[place] == "a b|c d"


def test_names_are_kept_bare_of_small_words_and_endings(trial: Path) -> None:
    (trial / "terms" / "trial.yml").write_text(
        "title: Zorbs\nanswer: Zorbs.\n"
        "also_called: [the zorbing of a quibble, which zorb, zorbed]\n",
        "utf-8",
    )
    index = read(index_of_records(read_catalog([LAYERS[0], trial], ROOT)))
    also = index["also"].split("\n")[ids_of(index).index("trial")]
    # 'zorbs' stands there twice, its other forms once each; 'which zorb' is not called 'zorb'.
    assert also.split("|") == ["which zorbs", "zorbs", "zorbs quibble"]


def test_a_record_with_few_names_keeps_more_words_of_its_sections(
    catalog: Catalog, index: dict[str, Any]
) -> None:
    uses = Counter(place for places in table(index).values() for place in places)
    also = [len(names.split("|")) if names else 0 for names in index["also"].split("\n")]
    many = [uses[place] for place, names in enumerate(also) if names > 15]
    few = [uses[place] for place, names in enumerate(also) if names in (3, 4, 5)]
    assert len(many) > 20
    assert max(many) <= 6
    assert max(few) > 15


def test_pages_that_are_no_record_go_by_the_names_of_the_words(
    catalog: Catalog, index: dict[str, Any]
) -> None:
    ids, also = ids_of(index), index["also"].split("\n")
    assert "calculator" in also[ids.index("worksheet.html")].split("|")
    assert len(catalog.words.names) > 20
    for address in catalog.words.names:
        assert also[ids.index(f"{address}.html")]


def test_synonyms_come_from_the_words_of_the_layers(trial: Path) -> None:
    (trial / "words.yml").write_text("synonyms:\n  - [Gully, Yard-Drain]\n", "utf-8")
    index = read(index_of_records(read_catalog([LAYERS[0], trial], ROOT)))
    assert index["synonyms"] == "gully|yard drain"


def test_a_source_is_found_by_its_name_alone(index: dict[str, Any]) -> None:
    ids, lines = ids_of(index), index["lines"].split("\n")
    assert lines[ids.index("en-14654")] == ""


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("3/8 in. hose", ["3/8", "in", "hose"]),
        ("1,900 psi", ["1900", "psi"]),
        ("0.43 psi", ["0.43", "psi"]),
        ("Winterise/winterize", ["winterise", "winterize"]),
        ("Ölfilter für Kanäle", ["olfilter", "fur", "kanale"]),
        ("H2S at 10 ppm", ["h2s", "at", "10", "ppm"]),
        ("¾in", ["3/4", "in"]),
        ("<b>", ["b"]),
        ("", []),
    ],
)
def test_words_are_cut_as_people_type_them(text: str, words: list[str]) -> None:
    assert list(cut(text)) == words


@pytest.mark.parametrize(
    "family",
    [
        ("leak", "leaks", "leaking", "leaked", "leaky"),
        ("plug", "plugs", "plugged", "plugging"),
        ("hose", "hoses"),
        ("valve", "valves"),
        ("body", "bodies"),
        ("pulse", "pulsing", "pulses", "pulsed"),
    ],
)
def test_forms_of_a_word_share_their_root(family: tuple[str, ...], index: dict[str, Any]) -> None:
    assert len({root(word, tuple(index["endings"].split())) for word in family}) == 1


@pytest.mark.parametrize(
    ("one", "other"), [("water", "winter"), ("string", "strong"), ("gas", "gate")]
)
def test_other_words_keep_apart(one: str, other: str, index: dict[str, Any]) -> None:
    endings = tuple(index["endings"].split())
    assert root(one, endings) != root(other, endings)
