"""Folders of records: what belongs in a layer and what does not."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from refgen.errors import Place
from refgen.sources import read_sources, show_path
from tests.stages import sources_of

TERM = "title: Skid\nanswer: A runner.\n"
WriteLayers = Callable[..., list[Path]]


def told(layers: list[Path]) -> list[str]:
    return [str(problem).split("\n")[0] for problem in sources_of(layers).problems]


def test_a_layer_holds_its_records_by_kind_and_id_and_its_single_files(data: WriteLayers) -> None:
    sources = sources_of(data({"terms/skid": TERM, "parts/pump": TERM, "brand": "name: X\n"}))
    assert sources.problems == ()
    (layer,) = sources.layers
    assert layer.name == "base"
    assert list(layer.records) == [("parts", "pump"), ("terms", "skid")]
    assert layer.records["terms", "skid"].place == Place("base/terms/skid.yml", 1, "base")
    assert layer.singles.keys() == {"brand"}


def test_layers_keep_the_order_they_were_named_in(data: WriteLayers) -> None:
    layers = data({"terms/skid": TERM}, {"terms/skid": TERM})
    assert [layer.name for layer in sources_of(layers[::-1]).layers] == ["company", "base"]


def test_hidden_files_pictures_and_examples_are_no_records(data: WriteLayers) -> None:
    layers = data(
        {
            "terms/skid": TERM,
            "terms/.skid.yml.swp": b"\x00",
            ".git/config.yml": "x",
            "assets/logo.svg": "<svg/>",
            "examples/terms/sled.yml": TERM,
            "README.md": "x",
        }
    )
    assert told(layers) == []
    assert len(sources_of(layers).layers[0].records) == 1


@pytest.mark.parametrize(
    ("file", "message"),
    [
        ("terms/skid.yaml", "base/terms/skid.yaml:1: only .yml files belong here"),
        ("terms/skid.YML", "base/terms/skid.YML:1: only .yml files belong here"),
        ("terms/notes.txt", "base/terms/notes.txt:1: only .yml files belong here"),
        ("terms/more/skid.yml", "base/terms/more:1: only .yml files belong here"),
        ("terms/Skid.yml", "base/terms/Skid.yml:1: 'Skid' cannot be an id"),
        ("terms/a--b.yml", "base/terms/a--b.yml:1: 'a--b' cannot be an id"),
        (f"terms/{'a' * 61}.yml", f"base/terms/{'a' * 61}.yml:1: '{'a' * 61}' cannot be an id"),
        ("term/skid.yml", "base/term:1: 'term' is no kind of record"),
        ("skid.yml", "base/skid.yml:1: no such file belongs at the top of a layer"),
        ("brand.yaml", "base/brand.yaml:1: no such file belongs at the top of a layer"),
    ],
)
def test_what_does_not_belong_in_a_layer_is_told(
    data: WriteLayers, file: str, message: str
) -> None:
    assert told(data({file: TERM})) == [message]


@pytest.mark.parametrize(
    ("file", "content", "hint"),
    [
        ("terms/skid.txt", TERM, "Each record is one file ending in .yml."),
        (
            "terms/Skid",
            TERM,
            "Use small letters, digits and single hyphens, such as 'pvc-solid'.",
        ),
        ("skid", TERM, "Records stand in a folder: parts, terms."),
        ("patr/skid", TERM, "Did you mean 'parts'?"),
        ("xxxx/skid", TERM, "Known: parts, terms."),
        ("terms/skid", b"\xff\xfe", "Save it as UTF-8."),
        ("terms/skid", "", "Write the record."),
    ],
)
def test_what_does_not_belong_is_told_with_what_to_do(
    data: WriteLayers, tmp_path: Path, file: str, content: str | bytes, hint: str
) -> None:
    layers = data({file: content})
    (problem,) = read_sources(layers, ("parts", "terms"), tmp_path).problems
    assert problem.hint == hint


def test_a_record_that_cannot_be_read_is_known_to_be_there(data: WriteLayers) -> None:
    (layer,) = sources_of(data({"terms/a": "a: b: c\n", "terms/b": TERM})).layers
    assert layer.unread == {("terms", "a")}


@pytest.mark.parametrize("name", ["con", "prn", "aux", "nul", "com1", "com9", "lpt1", "lpt9"])
def test_a_name_that_windows_keeps_for_a_device_is_no_id(data: WriteLayers, name: str) -> None:
    assert told(data({f"terms/{name}": TERM})) == [
        f"base/terms/{name}.yml:1: '{name}' cannot be an id"
    ]


@pytest.mark.parametrize("name", ["com10", "lpt0", "console"])
def test_a_name_that_is_only_like_a_devices_is_an_id(data: WriteLayers, name: str) -> None:
    assert told(data({f"terms/{name}": TERM})) == []


def test_a_folder_of_no_kind_gets_the_nearest_kind(data: WriteLayers) -> None:
    (problem,) = sources_of(data({"term/skid": TERM})).problems
    assert problem.hint == "Did you mean 'terms'?"


def test_a_missing_layer_is_told_by_its_folder(tmp_path: Path) -> None:
    (problem,) = sources_of([tmp_path / "base"]).problems
    assert str(problem) == ("base:1: there is no such folder\n    Name a folder of data as layer.")


def test_two_layers_of_one_name_are_told(data: WriteLayers, tmp_path: Path) -> None:
    (one,) = data({"terms/skid": TERM})
    twin = tmp_path / "more" / "base"
    twin.mkdir(parents=True)
    sources = read_sources([one, twin], ("terms",), tmp_path)
    assert [str(problem) for problem in sources.problems] == [
        "more/base:1: two layers are called 'base'\n    Give one of the two folders another name."
    ]


def test_a_link_out_of_the_layer_is_not_followed(data: WriteLayers, tmp_path: Path) -> None:
    (layer,) = data({"terms/skid": TERM})
    outside = tmp_path / "outside.yml"
    outside.write_text(TERM)
    (layer / "terms" / "sledge.yml").symlink_to(outside)
    (problem,) = sources_of([layer]).problems
    assert str(problem) == (
        "base/terms/sledge.yml:1: the file lies outside its layer\n"
        "    Copy it in instead of linking."
    )


def test_a_file_too_large_is_told_with_its_size(data: WriteLayers) -> None:
    layers = data({"terms/skid": TERM + "#" * (400_001 - len(TERM))})
    (problem,) = sources_of(layers).problems
    assert str(problem) == (
        "base/terms/skid.yml:1: the file has 400 kB\n    A record holds at most 400 kB; divide it."
    )
    fits = data({"terms/skid": TERM + "#" * (400_000 - len(TERM))})
    assert told(fits) == []


def test_a_file_that_cannot_be_read_is_told(
    data: WriteLayers, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(path: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    layers = data({"terms/skid": TERM})
    monkeypatch.setattr(Path, "read_bytes", refuse)
    (problem,) = sources_of(layers).problems
    assert str(problem) == "base/terms/skid.yml:1: the file cannot be read (Permission denied)"


def test_an_id_may_have_sixty_letters(data: WriteLayers) -> None:
    assert told(data({f"terms/{'a' * 60}": TERM})) == []


def test_every_unreadable_file_is_told_and_the_others_are_read(data: WriteLayers) -> None:
    sources = sources_of(
        data({"terms/a": "a: b: c\n", "terms/b": "", "terms/c": TERM, "terms/d": b"\xff\xfe"})
    )
    assert list(sources.layers[0].records) == [("terms", "c")]
    assert [(p.place.file, p.message) for p in sources.problems] == [
        ("base/terms/a.yml", "a second ': ' stands on this line"),
        ("base/terms/b.yml", "the file is empty"),
        ("base/terms/d.yml", "the file is not text in UTF-8"),
    ]


def test_files_are_named_from_the_authors_folder_where_they_lie_in_it(tmp_path: Path) -> None:
    assert show_path(tmp_path / "a" / "b.yml", tmp_path) == "a/b.yml"
    assert show_path(tmp_path / "b.yml", tmp_path / "a") == (tmp_path / "b.yml").as_posix()


@pytest.mark.skipif(os.name != "posix", reason="pipes are of Unix")
@pytest.mark.parametrize("name", ["brand.yml", "words.yml", "published.yml"])
def test_nothing_waits_for_a_pipe(data: WriteLayers, name: str) -> None:
    (layer,) = data({"terms/skid": TERM})
    os.mkfifo(layer / name)
    (problem,) = sources_of([layer]).problems
    assert str(problem) == (
        f"base/{name}:1: this is no file\n    Put a file of text here, or take it away."
    )


def test_a_huge_file_is_not_even_read(data: WriteLayers) -> None:
    (layer,) = data({"terms/skid": TERM})
    with (layer / "terms" / "big.yml").open("wb") as file:
        file.truncate(1 << 40)
    assert told([layer]) == ["base/terms/big.yml:1: the file has 1099511627 kB"]


@pytest.mark.parametrize(
    ("to", "what"),
    [
        ("/etc", "for a folder"),
        ("../base", "for a folder"),
        (".", "for a folder"),
        ("nowhere", "that leads nowhere"),
        ("terms", "that leads nowhere"),
    ],
)
def test_a_link_is_no_folder_of_records(data: WriteLayers, to: str, what: str) -> None:
    (layer,) = data({"brand": "name: X\n"})
    (layer / "terms").symlink_to(to)
    (problem,) = sources_of([layer]).problems
    assert str(problem) == f"base/terms:1: a link stands here {what}\n    Copy in what is meant."


@pytest.mark.parametrize(
    ("to", "what"),
    [(".", "for a folder"), ("nowhere.yml", "that leads nowhere"), ("a.yml", "that leads nowhere")],
)
def test_a_link_is_no_record_unless_to_a_file(data: WriteLayers, to: str, what: str) -> None:
    (layer,) = data({"terms/skid": TERM})
    (layer / "terms" / "a.yml").symlink_to(to)
    (problem,) = sources_of([layer]).problems
    assert str(problem) == (
        f"base/terms/a.yml:1: a link stands here {what}\n    Copy in what is meant."
    )


def test_a_link_to_a_file_of_the_same_layer_is_read(data: WriteLayers) -> None:
    (layer,) = data({"terms/skid": TERM})
    (layer / "terms" / "sledge.yml").symlink_to("skid.yml")
    (read,) = sources_of([layer]).layers
    assert list(read.records) == [("terms", "skid"), ("terms", "sledge")]


def test_a_name_cannot_turn_what_is_told_round(data: WriteLayers) -> None:
    (layer,) = data({"terms/a\nb\x1b[31m\u202ec.yml": TERM})
    name = r"a\nb\x1b[31m\u202ec"
    assert told([layer]) == [f"base/terms/{name}.yml:1: '{name}' cannot be an id"]
