"""What a record holds that leads somewhere or can be led to."""

from __future__ import annotations

import pytest

from refgen.catalog import Catalog
from refgen.model.base import Ref
from refgen.references import CITATION, anchors_of, bare_fields, contents_of


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("{worn}", ["worn"]),
        ("a {worn}, b {sound}.", ["worn", "sound"]),
        ("{materials/pvc-solid#worn}", ["materials/pvc-solid#worn"]),
        ("{= 10 ft}", ["= 10 ft"]),
        ("{=1 1/2 in}", ["=1 1/2 in"]),
        ("{{worn}}", []),
        ("{{ 7*7 }}", []),
        ("{Worn}", []),
        ("{worn }", []),
        ("{materials/pvc-solid}", []),
        ("{a--b}", []),
        ("{= }", ["= "]),  # an empty quantity, which the catalog refuses
        ("{= 1\n2 ft}", []),
    ],
)
def test_a_citation_is_one_word_a_path_or_a_quantity_in_single_braces(
    text: str, found: list[str]
) -> None:
    assert [match[0][1:-1] for match in CITATION.finditer(text)] == found


def test_a_walk_finds_every_link_of_a_record(small: Catalog) -> None:
    entry = small.entries["symptoms", "no-pressure"]
    assert entry.contents.refs == [
        (("cautions", 0, "hazard"), Ref("hazards", "injection")),
        (("stop", 0, "hazard"), Ref("hazards", "injection")),
        (("causes", 0, "fix_by", 0), Ref("procedures", "start")),
        (("causes", 1, "needs", "all", 0), Ref("parts", "pulse-valve")),
        (("hazards", 0), Ref("hazards", "injection")),
    ]


def test_a_walk_finds_texts_figures_items_and_parts(small: Catalog) -> None:
    material = small.entries["materials", "clay"].contents
    assert [path for path, _ in material.figures] == [
        ("ceilings", "unknown"),
        ("ceilings", "worn"),
        ("ceilings", "sound"),
        ("heat",),
    ]
    texts = [(".".join(map(str, path)), str(text)) for path, text in material.texts]
    assert ("answer", "Hold to {worn}.") in texts
    assert ("cautions.0.text", "Nozzle in the pipe before pressure.") in texts
    assert ("heat.why", "Joints soften.") in texts
    path = small.entries["paths", "no-water"].contents
    assert [item.id for _, item in path.items] == ["tank", "valve", "fill", "call"]
    assert [part.id for _, part in path.parts] == ["yes", "no", "yes", "no"]


def test_items_and_named_figures_have_addresses_and_cells_have_none(small: Catalog) -> None:
    hazard = contents_of(small.entries["hazards", "injection"].record)
    assert [name for _, name, _ in anchors_of(hazard)] == [
        "no-hands",
        "gloves",
        "hospital",
        "stand-clear",
    ]
    table = contents_of(small.entries["tables", "fills"].record)
    assert [name for _, name, _ in anchors_of(table)] == ["small"]


def test_fields_that_hold_bare_ids_are_found_in_the_models() -> None:
    assert bare_fields("patterns") == {"pattern", "patterns"}
    assert bare_fields("symptoms") == {"same_as", "symptoms"}
    assert bare_fields("parts") == {
        "all",
        "any",
        "fitted",
        "not_fitted",
        "needs",
        "parts",
        "unless",
    }
    assert bare_fields("terms") == set()
