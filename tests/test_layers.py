"""Layers laid over each other: what merges, what is replaced, what is noted."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from refgen.layers import Laid, Override, is_figure, lay
from refgen.nodes import Node, plain, read_text
from refgen.sources import Layer, Sources
from tests.stages import laid_of

WriteLayers = Callable[..., list[Path]]


def node_of(text: str, layer: str) -> Node:
    node, problems = read_text(text, f"{layer}.yml", layer)
    assert node is not None, problems
    return node


def over(*texts: str) -> Laid:
    """Return one record laid over itself, a layer a text."""
    key = ("symptoms", "loud")
    names = ("base", "company", "depot")
    layers = tuple(
        Layer(name, {key: node_of(text, name)}) for name, text in zip(names, texts, strict=False)
    )
    return lay(Sources(layers, ()))


def merged(*texts: str) -> Any:
    laid = over(*texts)
    assert laid.problems == ()
    return plain(laid.records["symptoms", "loud"])


def noted(*texts: str) -> list[Override]:
    return list(over(*texts).overrides)


def test_maps_merge_by_field_at_every_depth() -> None:
    assert merged("a: 1\nb: {c: 2, d: 3}\n", "b: {d: 4, e: 5}\nf: 6\n") == {
        "a": "1",
        "b": {"c": "2", "d": "4", "e": "5"},
        "f": "6",
    }


def test_items_merge_by_id_and_new_ones_come_last() -> None:
    assert merged(
        "steps:\n  - {id: a, text: A}\n  - {id: b, text: B}\n",
        "steps:\n  - {id: c, text: C}\n  - {id: a, see: S}\n",
    ) == {
        "steps": [
            {"id": "a", "text": "A", "see": "S"},
            {"id": "b", "text": "B"},
            {"id": "c", "text": "C"},
        ]
    }


def test_an_item_stands_where_after_or_before_puts_it() -> None:
    base = "steps: [{id: a}, {id: b}, {id: c}]\n"
    company = "steps:\n  - {id: new, after: a}\n  - {id: c, before: a}\n  - {id: z, after: b}\n"
    assert [item["id"] for item in merged(base, company)["steps"]] == ["c", "a", "new", "b", "z"]
    later = "steps: [{id: a, after: c}, {id: b, before: b}]\n"
    laid = over(base, later)
    assert [i["id"] for i in plain(laid.records["symptoms", "loud"])["steps"]] == ["b", "c", "a"]
    assert [(p.field, p.message) for p in laid.problems] == [
        ("steps.b", "no item 'b' to stand before")
    ]


def test_any_other_list_is_replaced_whole() -> None:
    assert merged("see: [a, b]\nuse: [{p: x}]\n", "see: [c]\nuse: [{p: y}]\n") == {
        "see": ["c"],
        "use": [{"p": "y"}],
    }


def test_a_list_that_is_not_of_items_on_both_sides_is_replaced_whole() -> None:
    items, texts, twins = "[{id: a, x: 1}]", "[a, b]", "[{id: a}, {id: a}]"
    assert merged(f"l: {items}\n", f"l: {texts}\n") == {"l": ["a", "b"]}
    assert merged(f"l: {texts}\n", f"l: {items}\n") == {"l": [{"id": "a", "x": "1"}]}
    assert merged(f"l: {items}\n", "l: []\n") == {"l": []}
    assert merged(f"l: {items}\n", f"l: {twins}\n") == {"l": [{"id": "a"}, {"id": "a"}]}
    assert merged(f"l: {items}\n", "l: [{y: 2}]\n") == {"l": [{"y": "2"}]}


def test_a_figure_is_replaced_whole() -> None:
    base = "figures:\n  far: {is: 10 ft, basis: code, source: x}\n"
    company = "figures:\n  far: {is: 20 ft, basis: owner, source: y}\n"
    assert merged(base, company)["figures"]["far"] == {
        "is": "20 ft",
        "basis": "owner",
        "source": "y",
    }
    assert merged(base, "figures: {far: 20 ft}\n")["figures"]["far"] == "20 ft"
    assert merged("figures: {far: 20 ft}\n", base)["figures"]["far"]["is"] == "10 ft"
    assert merged("far: {when: always}\n", "far: {is: 5 ft}\n") == {"far": {"is": "5 ft"}}


def test_a_figure_is_a_map_that_says_what_is_or_that_no_jet_is() -> None:
    text = "a: {is: 1 ft}\nb: {jet: no}\nc: {why: x}\nd: this is it\ne: [is, jet]\n"
    fields = node_of(text, "base").value
    assert isinstance(fields, dict)
    assert [is_figure(fields[name]) for name in "abcde"] == [True, True, False, False, False]


def test_the_words_about_the_merge_do_not_reach_the_record() -> None:
    company = (
        "reason: Ours.\nsteps:\n  - {id: b, after: a, reason: Ours., text: B}\n"
        "figures: {far: {is: 5 ft, reason: Ours.}}\nnew: {x: 1, reason: Ours.}\n"
    )
    assert merged("steps: [{id: a}, {id: c}]\nfigures: {far: 3 ft}\n", company) == {
        "steps": [{"id": "a"}, {"id": "b", "text": "B"}, {"id": "c"}],
        "figures": {"far": {"is": "5 ft"}},
        "new": {"x": "1"},
    }


def test_hide_takes_away_a_field_an_item_or_a_record(data: WriteLayers) -> None:
    base = "a: 1\nb: 2\nsteps: [{id: x}, {id: y}]\n"
    company = "a: {hide: true}\nsteps: [{id: x, hide: true}]\n"
    assert merged(base, company) == {"b": "2", "steps": [{"id": "y"}]}
    laid = laid_of(data({"terms/a": "title: A\n", "terms/b": "x: y\n"}, {"terms/a": "hide: true"}))
    assert list(laid.records) == [("terms", "b")]


def test_a_record_of_another_kind_is_not_what_was_meant_to_be_hidden(data: WriteLayers) -> None:
    base = {"terms/skid": "x: y\n", "terms/bypass": "x: y\n", "parts/bypas": "x: y\n"}
    laid = laid_of(data(base, {"terms/bypas": "hide: true\n"}))
    (problem,) = laid.problems
    assert problem.message == "no earlier layer has this record to hide"
    assert problem.hint == "Did you mean 'bypass'?"


def test_hide_false_hides_nothing() -> None:
    assert merged("steps: [{id: x}]\n", "steps: [{id: x, hide: false, a: 1}]\n") == {
        "steps": [{"id": "x", "a": "1"}]
    }


def test_each_value_keeps_the_place_where_it_was_written() -> None:
    laid = over("a: 1\nsteps:\n  - {id: x, p: 1}\n", "b: 2\nsteps:\n  - id: x\n    q: 2\n")
    fields = laid.records["symptoms", "loud"].value
    assert isinstance(fields, dict)
    assert (fields["a"].place.file, fields["a"].place.line) == ("base.yml", 1)
    assert (fields["b"].place.file, fields["b"].place.line) == ("company.yml", 1)
    item = fields["steps"].value[0].value
    assert (item["p"].place.layer, item["p"].place.line) == ("base", 3)
    assert (item["q"].place.layer, item["q"].place.line) == ("company", 4)


def test_a_change_is_noted_with_both_values_and_its_reason() -> None:
    (note,) = noted(
        "stop:\n  - {id: bang, text: A bang.}\n",
        "stop:\n  - {id: bang, text: A knock., reason: It only knocks.}\n",
    )
    assert note.record == ("symptoms", "loud")
    assert note.path == ("stop", "bang", "text")
    assert (note.was.value, note.now and note.now.value) == ("A bang.", "A knock.")
    assert note.reason == "It only knocks."
    assert (note.place.layer, note.place.line) == ("company", 2)


def test_a_reason_speaks_for_everything_below_it_and_the_nearest_counts() -> None:
    notes = noted(
        "a: {b: 1, c: 2}\nd: 3\n",
        "reason: Far.\na:\n  reason: Near.\n  b: 5\n  c: {hide: true, reason: Here.}\nd: 6\n",
    )
    assert [(note.path, note.reason) for note in notes] == [
        (("a", "b"), "Near."),
        (("a", "c"), "Here."),
        (("d",), "Far."),
    ]


def test_a_reason_that_is_no_text_is_none() -> None:
    (note,) = noted("a: 1\n", "a: 2\nreason: [x]\n")
    assert note.reason == ""


def test_what_a_later_layer_only_repeats_or_adds_is_no_change() -> None:
    assert noted("a: 1\nb: [x, y]\n", "a: 1\nb: [x, y]\nc: 3\n") == []


def test_a_third_layer_is_laid_over_the_first_two() -> None:
    laid = over("a: 1\n", "a: 2\n", "a: 3\n")
    assert plain(laid.records["symptoms", "loud"]) == {"a": "3"}
    assert [(n.was.value, n.place.layer) for n in laid.overrides] == [
        ("1", "company"),
        ("2", "depot"),
    ]


def test_a_record_hidden_and_brought_back_is_whole_again(data: WriteLayers) -> None:
    laid = laid_of(data({"terms/a": "x: 1\n"}, {"terms/a": "hide: true\n"}, {"terms/a": "y: 2\n"}))
    assert plain(laid.records["terms", "a"]) == {"y": "2"}


def test_brand_and_words_merge_but_each_layer_keeps_its_own_lock(data: WriteLayers) -> None:
    laid = laid_of(
        data(
            {"words": "words: {a: A, b: B}\n", "published": "terms/x: []\n"},
            {"words": "words: {b: C}\n", "published": "terms/y: []\n"},
        )
    )
    assert plain(laid.singles["words"]) == {"words": {"a": "A", "b": "C"}}
    assert [note.record for note in laid.overrides] == [("words", "")]
    assert {name: plain(node) for name, node in laid.published.items()} == {
        "base": {"terms/x": []},
        "company": {"terms/y": []},
    }


def test_records_come_out_sorted_whatever_the_order_of_layers(data: WriteLayers) -> None:
    layers = data({"terms/b": "x: 1\n"}, {"terms/a": "x: 1\n", "parts/z": "x: 1\n"})
    wanted = [("parts", "z"), ("terms", "a"), ("terms", "b")]
    assert list(laid_of(layers).records) == wanted
    assert list(laid_of(layers[::-1]).records) == wanted
