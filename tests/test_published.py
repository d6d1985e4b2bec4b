"""The lock on addresses: what was published goes on existing, or leads on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from refgen.catalog import Catalog
from refgen.errors import DataError
from refgen.locks import lock_layers
from refgen.published import Lock, write_lock
from tests.stages import SMALL, catalog_from

CatalogOf = Callable[..., Catalog]
TERM = "title: Skid\nanswer: A runner.\n"
LOUD = (
    "title: Loud\nanswer: Stop.\nfirst: Stop.\nstop:\n  - {id: bang, text: A bang.}\n"
    "causes:\n  - {id: valve, title: Valve, check: Listen., fix: Mend it.}\n"
)


def told(catalog_of: CatalogOf, *layers: dict[str, str]) -> list[str]:
    with pytest.raises(DataError) as caught:
        catalog_of(*layers)
    return [str(problem).split("\n")[0] for problem in caught.value.problems]


def test_what_still_is_and_what_leads_on_satisfies_the_lock(catalog_of: CatalogOf) -> None:
    loud = LOUD.replace("id: valve", "id: valve, was: [poppet]")
    catalog = catalog_of(
        {
            "symptoms/loud": loud + "was: [noisy]\n",
            "published": "symptoms/loud: [bang, poppet, valve]\nsymptoms/noisy: [bang]\n",
        }
    )
    assert catalog.locks["company"].published["symptoms", "loud"] == ("bang", "poppet", "valve")


def test_a_vanished_record_is_told_once_and_not_for_each_of_its_items(
    catalog_of: CatalogOf,
) -> None:
    layer = {"published": "symptoms/loud: [bang, valve]\n"}
    message = "company/published.yml:1: 'symptoms/loud' was published and is gone"
    assert told(catalog_of, layer) == [message]


def test_a_vanished_item_is_told_on_its_own_line(catalog_of: CatalogOf) -> None:
    layer = {"symptoms/loud": LOUD, "published": "symptoms/loud:\n  - bang\n  - crack\n"}
    message = "company/published.yml:3: 'symptoms/loud#crack' was published and is gone"
    assert told(catalog_of, layer) == [message]


def test_a_vanished_figure_is_told_too(catalog_of: CatalogOf) -> None:
    layer = {"published": "hazards/injection: [stand-clear, stay-away]\n"}
    message = "company/published.yml:1: 'hazards/injection#stay-away' was published and is gone"
    assert told(catalog_of, layer) == [message]


def test_of_a_record_that_cannot_be_read_nothing_is_called_gone(catalog_of: CatalogOf) -> None:
    layer = {"terms/skid": "title: Skid\n", "published": "terms/skid: [far]\n"}
    assert told(catalog_of, layer) == ["company/terms/skid.yml:1: 'answer' is missing"]


def test_a_company_may_hide_what_another_layer_published(catalog_of: CatalogOf) -> None:
    base = {
        "symptoms/loud": LOUD,
        "terms/skid": TERM,
        "published": "symptoms/loud: [bang, valve]\nterms/skid: []\n",
    }
    hides = {
        "terms/skid": "hide: true\n",
        "symptoms/loud": "causes:\n  - {id: knock, title: Rod, check: Listen., fix: Mend it.}\n"
        "  - {id: valve, hide: true}\n",
    }
    catalog_of(base, hides)


def test_with_a_hidden_field_go_all_the_addresses_in_it(catalog_of: CatalogOf) -> None:
    base = {"published": "hazards/injection: [gloves, hospital, no-hands, stand-clear]\n"}
    hides = "reason: Trial.\nfirst_response: {hide: true}\nfigures: {hide: true}\n"
    text = "answer: Stay away.\nprevent: [{id: gloves, hide: true}]\n"
    catalog_of(base, {"hazards/injection": hides + text})


def test_with_a_hidden_section_go_the_items_within_it(catalog_of: CatalogOf) -> None:
    base = {"published": "checklists/weekly: [oil, pump]\n"}
    sections = "{id: hose, title: H, ticks: [{id: bend, text: B}]}, {id: pump, hide: true}"
    catalog_of(base, {"checklists/weekly": f"sections: [{sections}]\n"})


def test_what_else_vanished_is_not_excused_by_what_was_hidden(catalog_of: CatalogOf) -> None:
    base = {"published": "hazards/injection: [gloves, mask]\n"}
    hides = {"hazards/injection": "reason: Trial.\nprevent: [{id: gloves, hide: true}]\n"}
    message = "company/published.yml:1: 'hazards/injection#mask' was published and is gone"
    assert told(catalog_of, base, hides) == [message]


def test_what_is_only_changed_is_not_excused(catalog_of: CatalogOf) -> None:
    base = {"published": "hazards/injection: [stop]\n"}
    changed = {"hazards/injection": "reason: Trial.\nstop: [Someone was hit.]\n"}
    message = "company/published.yml:1: 'hazards/injection#stop' was published and is gone"
    assert told(catalog_of, base, changed) == [message]


def test_a_company_may_not_hide_what_it_published_itself(catalog_of: CatalogOf) -> None:
    base = {"terms/skid": TERM}
    own = {"terms/skid": "hide: true\n", "published": "terms/skid: []\n"}
    message = "depot/published.yml:1: 'terms/skid' was published and is gone"
    assert told(catalog_of, base, own) == [message]


@pytest.mark.parametrize("written", ["all", "{a: b}", "[[a]]", "true"])
def test_a_lock_spoiled_by_hand_is_told(catalog_of: CatalogOf, written: str) -> None:
    layer = {"published": f"terms/bypass: {written}\n"}
    message = "company/published.yml:1: terms/bypass: must be a list of ids"
    assert told(catalog_of, layer) == [message]


def test_a_lock_is_written_sorted_and_loses_nothing() -> None:
    lock = Lock({("terms", "old"): (), ("symptoms", "loud"): ("gone", "bang")})
    anchors = {("symptoms", "loud"): ("valve", "bang"), ("parts", "pump"): ()}
    text, added = write_lock(lock, anchors)
    assert text == (
        "# Addresses that have been published. Never remove a line: links rest on them.\n"
        "parts/pump: []\n"
        "symptoms/loud: [bang, gone, valve]\n"
        "terms/old: []\n"
    )
    assert added == 2  # the record parts/pump and the item valve


def test_each_layer_locks_its_own_records_and_only_when_there_are_new_ones(
    data: Callable[..., list[Path]],
) -> None:
    layers = data({"symptoms/loud": LOUD}, {"terms/skid": TERM})
    catalog = catalog_from([SMALL, *layers])
    assert lock_layers(catalog, layers) == [
        (layers[0] / "published.yml", 3),
        (layers[1] / "published.yml", 1),
    ]
    head = "# Addresses that have been published. Never remove a line: links rest on them.\n"
    text = (layers[0] / "published.yml").read_text()
    assert text == head + "symptoms/loud: [bang, valve]\n"
    again = catalog_from([SMALL, *layers])
    (layers[1] / "published.yml").write_text("terms/skid: []\n")
    assert [added for _, added in lock_layers(again, layers)] == [0, 0]
    assert (layers[1] / "published.yml").read_text() == "terms/skid: []\n"


def test_a_written_lock_is_kept_by_the_data_it_was_written_from(
    data: Callable[..., list[Path]],
) -> None:
    layers = data({"symptoms/loud": LOUD})
    lock_layers(catalog_from([SMALL, *layers]), layers)
    catalog_from([SMALL, *layers])
    (layers[0] / "symptoms" / "loud.yml").write_text(LOUD.replace("id: valve", "id: poppet"))
    with pytest.raises(DataError, match="'symptoms/loud#valve' was published and is gone"):
        catalog_from([SMALL, *layers])


def test_an_item_of_a_renamed_record_goes_on_in_it_or_is_told(catalog_of: CatalogOf) -> None:
    renamed = {"symptoms/loud": f"{LOUD}was: [noisy]\n"}
    lock = {"published": "symptoms/noisy: [bang, gone]\n"}
    assert told(catalog_of, {**renamed, **lock}) == [
        "company/published.yml:1: 'symptoms/noisy#gone' was published and is gone"
    ]
    moved = {"symptoms/loud": f"{LOUD}was: [noisy]\nmoved: {{gone: terms/bypass}}\n"}
    catalog_of({**moved, **lock})


def test_a_record_of_another_kind_can_lead_on_from_the_old_address(catalog_of: CatalogOf) -> None:
    catalog = catalog_of(
        {
            "symptoms/loud": f"{LOUD}was: [deposits/noise]\n",
            "published": "deposits/noise: [gone]\n",
        }
    )
    assert catalog.moved["deposits", "noise"] == ("symptoms", "loud")


def test_an_item_cannot_both_stand_and_have_moved(catalog_of: CatalogOf) -> None:
    assert told(catalog_of, {"symptoms/loud": f"{LOUD}moved: {{bang: terms/bypass}}\n"}) == [
        "company/symptoms/loud.yml:8: moved.bang: 'bang' still stands in stop.bang"
    ]
