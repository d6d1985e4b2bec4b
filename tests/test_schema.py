"""The schemas by which an editor completes and checks a record as it is typed."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator
from pydantic import BaseModel

from refgen.model import KINDS
from refgen.model.company import Brand, Words
from refgen.model.setup import Setup
from refgen.schema import schemas, schemas_by_folder, write_schemas
from tests.stages import SMALL

ROOT = Path(__file__).resolve().parents[1]
SCHEMAS = schemas()
CHECKS = {kind: Draft202012Validator(schema) for kind, schema in SCHEMAS.items()}
MODELS: dict[str, type[BaseModel]] = {**KINDS, "brand": Brand, "words": Words, "setup": Setup}


class Editor(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):
    """Reads as editors do: by the core schema of YAML 1.2, numbers being numbers."""

    yaml_implicit_resolvers: dict[str, Any] = {}  # noqa: RUF012  # yaml's own way


for tag, pattern in {
    "null": r"~|null|Null|NULL|",
    "bool": r"true|True|TRUE|false|False|FALSE",
    "int": r"[-+]?[0-9]+",
    "float": r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?",
}.items():
    Editor.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(f"^({pattern})$"), None)


def wrong(kind: str, text: str) -> list[str]:
    """Return where an editor would underline something."""
    value = yaml.load(text, Loader=Editor)
    found = CHECKS[kind].iter_errors(value)
    return [".".join(map(str, error.absolute_path)) or error.message for error in found]


def records() -> Iterator[tuple[str, Path]]:
    """Yield the schema and file of every record there is, of the tests' and of the real data."""
    for layer in (SMALL, *sorted((ROOT / "data").iterdir())):
        for path in sorted(layer.rglob("*.yml")):
            kind = path.stem if path.parent == layer else path.parent.name
            if kind in SCHEMAS:
                yield kind, path


def objects(schema: Any) -> Iterator[dict[str, Any]]:
    if isinstance(schema, dict):
        if "properties" in schema:
            yield schema
        for inner in schema.values():
            yield from objects(inner)
    elif isinstance(schema, list):
        for inner in schema:
            yield from objects(inner)


@pytest.mark.parametrize("kind", MODELS)
def test_each_kind_has_a_valid_schema_that_describes_every_field(kind: str) -> None:
    schema = SCHEMAS[kind]
    Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["$id"] == f"{kind}.json"
    assert schema.get("additionalProperties") is False
    for part in objects(schema):
        for name, described in part["properties"].items():
            # Where a field says the same as the model it holds, the model alone says it.
            held = schema.get("$defs", {}).get(described.get("$ref", "").rpartition("/")[2], {})
            said = described.get("description") or held["description"]
            assert said.endswith("."), name


@pytest.mark.parametrize("kind", MODELS)
def test_a_schema_offers_every_field_of_its_model_by_the_name_an_author_writes(kind: str) -> None:
    names = {info.alias or name for name, info in MODELS[kind].model_fields.items()}
    steering = {"hide", "reason", "after", "before"} if kind != "setup" else set()
    assert SCHEMAS[kind]["properties"].keys() == names | steering


def test_every_pattern_is_one_that_an_editors_language_has() -> None:
    # ECMAScript with the u flag: only signs with a meaning may be escaped, and classes as \s.
    text = json.dumps(SCHEMAS, ensure_ascii=False)
    patterns = {json.loads(f'"{p}"') for p in re.findall(r'"pattern": "((?:[^"\\]|\\.)*)"', text)}
    assert len(patterns) > 20
    for pattern in patterns:
        escaped = re.findall(r"\\(.)", pattern)
        assert set(escaped) <= set("^$\\.*+?()[]{}|/dswDSW"), pattern
        re.compile(pattern)


def test_every_record_there_is_is_right_in_an_editor() -> None:
    checked = 0
    for kind, path in records():
        assert wrong(kind, path.read_text("utf-8")) == [], path
        checked += 1
    assert checked >= len(KINDS)


HOSE = (SMALL / "hoses" / "half-line.yml").read_text("utf-8")


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ("bore: 1/2 in", "bore: 1/2", "bore"),
        ("bore: 1/2 in", "bore: 8 gpm", "bore"),
        ("bore: 1/2 in", "bore: 1,2 in", "bore"),
        ("bore: 1/2 in", "bore: 12", "bore"),
        ("weight: 0.1 lb/ft", "weightt: 0.1 lb/ft", "weightt"),
        ("title: Half line", "title: [Half line]", "title"),
        ("title: Half line", "title: true", "title"),
        ("title: Half line", "title: ''", "title"),
        ("answer: The", "basis: hearsay\nanswer: The", "basis"),
        ("answer: The", "see: [half-line]\nanswer: The", "see.0"),
        ("answer: The", "see: [hoses/Half Line]\nanswer: The", "see.0"),
        ("answer: The", "was: half\nanswer: The", "was"),
        ("answer: The", "reviewed: {on: soon, role: x, by: me}\nanswer: The", "reviewed"),
    ],
)
def test_what_the_catalog_refuses_an_editor_underlines(old: str, new: str, place: str) -> None:
    assert old in HOSE
    found = wrong("hoses", HOSE.replace(old, new))
    assert len(found) == 1
    assert place in found[0]


@pytest.mark.parametrize(
    "bore",
    ["1/2 in", "1 1/2 in", "½ in", "1½ in", ".5 in", "0.5 inches", "13mm", '6"', "2 m", "−1 in"],
)
def test_a_quantity_may_be_written_in_every_way_that_is_read(bore: str) -> None:
    assert wrong("hoses", HOSE.replace("bore: 1/2 in", f"bore: {bore}")) == []


def test_numbers_may_stand_where_text_belongs() -> None:
    assert wrong("sources", (SMALL / "sources" / "sewer-trial.yml").read_text("utf-8")) == []
    assert wrong("terms", "title: 404\nanswer: 3.5\nalso_called: [1e3, 12]\n") == []


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("hoses", "hide: true\nreason: We have none.\n"),
        ("hoses", "working_pressure: 3000 psi\n"),
        ("materials", "ceilings:\n  worn: {is: 1000 psi, reason: Ours., basis: owner}\n"),
        ("materials", "ceilings: {worn: {hide: true}}\nreviewed: {next: 2027-01-01}\n"),
        ("symptoms", "causes:\n  - {id: dry, hide: true}\n  - {id: wet, check: C, after: dry}\n"),
        ("procedures", "steps:\n  - {id: on, variants: [{id: x, unless: y}]}\n"),
        ("brand", "colours: {primary: '#000000'}\n"),
    ],
)
def test_a_later_layer_may_give_some_fields_only(kind: str, text: str) -> None:
    assert wrong(kind, text) == []


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("materials", "cautions: [{text: Mind it.}]\n"),
        ("materials", "use: [{pattern: egg}]\n"),
        ("deposits", "confused_with: [{with: materials/clay}]\n"),
        ("terms", "figures: {far: {is: 1 ft, differs: [{basis: test}]}}\n"),
        ("symptoms", "causes: [{title: T, check: C, fix: F}]\n"),
    ],
)
def test_what_is_replaced_whole_must_be_whole_and_an_item_has_its_id(kind: str, text: str) -> None:
    assert len(wrong(kind, text)) == 1


def test_a_setup_is_not_laid_over_anything() -> None:
    setup = (
        "pump: {flow: 8 gpm, pressure: 3000 psi}\nhoses: [{bore: 1/2 in, length: 200 ft}]\n"
        "nozzle: {jets: [{count: 4, bore: 1 mm, angle: 30 deg, faces: rear}]}\n"
    )
    assert wrong("setup", setup) == []
    assert wrong("setup", setup.replace("flow: 8 gpm, ", "")) == ["pump"]
    assert wrong("setup", setup + "hide: true\n") != []


def test_schemas_are_written_one_a_kind_the_same_each_time(tmp_path: Path) -> None:
    written = write_schemas(tmp_path)
    assert [path.name for path in written] == sorted(f"{name}.json" for name in MODELS)
    first = [path.read_bytes() for path in written]
    assert [path.read_bytes() for path in write_schemas(tmp_path)] == first
    assert json.loads(first[0]) == SCHEMAS[written[0].stem]


def test_the_editor_of_this_project_has_the_schemas_of_this_code(tmp_path: Path) -> None:
    for path in write_schemas(tmp_path):
        kept = Path(__file__).resolve().parents[1] / ".schema" / path.name
        assert kept.read_bytes() == path.read_bytes(), "run 'refgen schema'"


def test_an_editor_finds_the_schema_by_the_folder_a_record_lies_in() -> None:
    wired = schemas_by_folder(["data/base", "data/ours"])
    assert wired["./.schema/terms.json"] == ["data/base/terms/*.yml", "data/ours/terms/*.yml"]
    assert wired["./.schema/brand.json"] == ["data/base/brand.yml", "data/ours/brand.yml"]
    assert wired["./.schema/setup.json"] == ["*.setup.yml"]
    assert len(wired) == len(MODELS)
