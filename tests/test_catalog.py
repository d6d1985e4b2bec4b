"""The catalog: whole or not made at all, every mistake told at once."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from refgen.catalog import Catalog, Entry
from refgen.errors import DataError, RefgenError
from refgen.model import KINDS
from refgen.model.base import Ref
from refgen.model.trouble import Symptom
from tests.stages import SMALL, catalog_from

CatalogOf = Callable[..., Catalog]
TERM = "title: Skid\nanswer: A runner.\n"


def told(catalog_of: CatalogOf, *layers: dict[str, str]) -> list[str]:
    with pytest.raises(DataError) as caught:
        catalog_of(*layers)
    return [str(problem).split("\n")[0] for problem in caught.value.problems]


def test_the_small_layer_has_a_record_of_every_kind(small: Catalog) -> None:
    assert {kind for kind, _ in small.entries} == set(KINDS)


def test_records_of_a_kind_come_in_the_order_of_their_titles(catalog_of: CatalogOf) -> None:
    catalog = catalog_of(
        {
            "terms/a": "title: Zinc\nanswer: X.\n",
            "terms/z": "title: acid\nanswer: X.\n",
            "terms/m": "title: Zinc\nanswer: X.\n",
        }
    )
    assert list(catalog.of_kind("terms")) == ["z", "bypass", "a", "m"]


def test_lessons_come_in_the_order_of_the_course_those_outside_it_last(
    catalog_of: CatalogOf, small: Catalog
) -> None:
    lesson = (SMALL / "lessons" / "first.yml").read_text("utf-8")
    catalog = catalog_of(
        {
            "lessons/pumps": lesson.replace("First lesson", "A pump") + "number: 2\n",
            "lessons/jets": lesson.replace("First lesson", "The jet") + "number: 1\n",
        }
    )
    assert list(catalog.of_kind("lessons")) == ["jets", "pumps", "first"]


def test_symptoms_and_machines_are_had_as_what_they_are(small: Catalog) -> None:
    assert sorted(small.symptoms) == ["no-pressure", "weak-jet"]
    assert {type(record) for record in small.symptoms.values()} == {Symptom}
    assert [machine.kind for machine in small.machines().values()] == ["machines"]


def test_a_word_that_no_layer_has_is_named(small: Catalog) -> None:
    with pytest.raises(RefgenError) as caught:
        small.w["page_mark"]
    assert str(caught.value) == (
        "words.yml: no layer has the word 'page_mark'. Lay 'base' below, or take it from the"
        " words.yml of the base."
    )


def test_all_mistakes_of_all_files_are_told_at_once_in_the_order_of_files(
    catalog_of: CatalogOf,
) -> None:
    layer = {
        "terms/b": "title: B\nanswer:\nsee: [terms/nowhere]\n",
        "terms/a": "title: A\nanswer: X: Y\n",
        "parts/p": "title: P\nanswer: P.\ndoes: P.\nsee: [terms/nowhere, terms/a, terms/b]\n",
        "brand": "units_first: imperial\n",
    }
    assert told(catalog_of, layer) == [
        "company/brand.yml:1: units_first: 'imperial' is not one of the choices",
        "company/parts/p.yml:4: see.1: no term 'nowhere'",
        "company/terms/a.yml:2: a second ': ' stands on this line",
        "company/terms/b.yml:2: answer: is empty",
    ]


def test_the_same_mistake_is_told_once(catalog_of: CatalogOf) -> None:
    text = "title: Skid\nanswer: Keep {least} and {least}.\n"
    assert len(told(catalog_of, {"terms/skid": text})) == 1


def test_a_link_to_a_record_that_cannot_be_read_is_no_second_mistake(
    catalog_of: CatalogOf,
) -> None:
    layer = {
        "terms/broken": "title: Broken\n",
        "terms/skid": "title: Skid\nanswer: See {terms/broken#far}.\nsee: [terms/broken#item]\n",
    }
    assert told(catalog_of, layer) == ["company/terms/broken.yml:1: 'answer' is missing"]


def test_links_back_come_by_kind_then_title_and_never_from_the_page_itself(
    catalog_of: CatalogOf,
) -> None:
    catalog = catalog_of(
        {
            "terms/z": "title: Alpha\nanswer: X.\nsee: [materials/clay, terms/z]\n",
            "terms/a": "title: Zulu\nanswer: X.\nsee: [materials/clay#worn]\n",
            "terms/m": "title: Mike\nanswer: Keep to {materials/clay#worn}.\n",
        }
    )
    assert catalog.backlinks["materials", "clay"] == (
        ("deposits", "grease"),
        ("terms", "z"),
        ("terms", "m"),
        ("terms", "a"),
    )
    assert ("terms", "z") not in catalog.backlinks


def test_former_records_and_items_lead_on(catalog_of: CatalogOf) -> None:
    catalog = catalog_of(
        {
            "terms/skid": TERM + "was: [sledge, runner]\n",
            "symptoms/no-pressure": "causes:\n  - {id: dry, was: [empty]}\n",
        }
    )
    assert catalog.moved == {
        ("terms", "sledge"): ("terms", "skid"),
        ("terms", "runner"): ("terms", "skid"),
    }
    assert catalog.entries["symptoms", "no-pressure"].moved == {"empty": "dry"}


def test_every_figure_is_found_by_record_and_name_with_its_grounds(small: Catalog) -> None:
    worn = small.figures["materials", "clay", "worn"]
    assert str(worn.is_) == "1,500 psi"
    assert (worn.basis, worn.source) == ("test", Ref("sources", "sewer-trial"))
    assert small.figures["materials", "clay", "heat"].basis == "practice"
    # A cell of a table has no name of its own.
    assert sorted(small.figures) == [
        ("hazards", "injection", "stand-clear"),
        ("materials", "clay", "heat"),
        ("materials", "clay", "sound"),
        ("materials", "clay", "unknown"),
        ("materials", "clay", "worn"),
    ]


def test_an_entry_knows_its_addresses_and_where_its_values_stand(small: Catalog) -> None:
    entry = small.entries["symptoms", "no-pressure"]
    assert isinstance(entry, Entry)
    assert entry.key == ("symptoms", "no-pressure")
    assert entry.anchors == ("leak", "dry", "pulse")
    place, name = entry.at(("causes", 1, "needs", "all", 0))
    assert (place.line, name) == (11, "causes.pulse.needs")


def test_a_company_of_its_own_needs_brand_and_words_from_some_layer(
    data: Callable[..., list[Path]],
) -> None:
    brand = (SMALL / "brand.yml").read_text().replace("materials/clay#worn", "= 10 ft")
    layers = data({"terms/skid": TERM + "group: on-wheels\n", "brand": brand})
    with pytest.raises(DataError) as caught:
        catalog_from(layers)
    assert [str(p).split("\n")[0] for p in caught.value.problems] == [
        "words.yml:1: no layer has this file"
    ]
    catalog = catalog_from(layers + data({}, {"words": "words: {group_on_wheels: A}\n"})[1:])
    assert catalog.brand.name == "Some company"
    assert catalog.w == {"group_on_wheels": "A"}
    assert catalog.machines() == {}


def test_a_group_is_known_by_its_heading_in_words(catalog_of: CatalogOf) -> None:
    layer = {"terms/skid": TERM + "group: on-wheels\n"}
    assert told(catalog_of, layer) == [
        "company/terms/skid.yml:3: group: no group 'on-wheels' in words.yml"
    ]
    catalog_of({**layer, "words": "words: {group_on_wheels: On wheels}\n"})


def test_records_are_frozen(small: Catalog) -> None:
    with pytest.raises(Exception, match="frozen"):
        small.entries["terms", "bypass"].record.title = "Other"
