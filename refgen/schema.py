"""JSON Schema of every kind of record, so that an editor completes and checks as one types."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from refgen.errors import RefgenError
from refgen.model import KINDS
from refgen.model.company import Brand, Words
from refgen.model.setup import Setup

FOLDER = ".schema"
_SETTING = "yaml.schemas"
_DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schemas() -> dict[str, dict[str, Any]]:
    """Return the schema of each kind, and of brand, words and setup, by name."""
    models: dict[str, type[BaseModel]] = {**KINDS, "brand": Brand, "words": Words, "setup": Setup}
    found = {}
    for name, model in models.items():
        schema = _merging(model.model_json_schema(), name)
        found[name] = {"$schema": _DRAFT, "$id": f"{name}.json", **schema}
    return found


def _merging(schema: dict[str, Any], name: str) -> dict[str, Any]:
    """Let a record of a later layer give some fields only, and steer how it is merged."""
    if name == "setup":
        return schema
    words: dict[str, Any] = {
        "hide": {"type": "boolean", "description": "Takes away what an earlier layer has."},
        "reason": {"type": "string", "description": "Why an earlier layer is overridden."},
        "after": {"type": "string", "description": "Id of the item it stands behind."},
        "before": {"type": "string", "description": "Id of the item it stands before."},
    }
    entries = _entries_of_lists(schema)
    for name, part in [("", schema), *schema.get("$defs", {}).items()]:
        whole = next((s for s in part.get("anyOf", [part]) if "properties" in s), None)
        if whole is None or (name in entries and "id" not in whole["properties"]):
            continue  # a list of such entries is replaced whole, so each of them is whole
        whole["properties"] = {**words, **whole["properties"]}
        whole["required"] = [field for field in whole.get("required", []) if field == "id"]
    return schema


def _entries_of_lists(schema: Any) -> set[str]:
    """Return the names of all models that stand as entries of a list."""
    if isinstance(schema, list):
        return {name for inner in schema for name in _entries_of_lists(inner)}
    if not isinstance(schema, dict):
        return set()
    found = {name for inner in schema.values() for name in _entries_of_lists(inner)}
    items = schema.get("items")
    if isinstance(items, dict) and "$ref" in items:
        found.add(items["$ref"].rpartition("/")[2])
    return found


def write_schemas(root: Path) -> list[Path]:
    """Write the schemas below a folder; return the files, sorted.

    Raises:
        RefgenError: If their folder is a link.
    """
    folder = root / FOLDER
    if folder.is_symlink():
        raise RefgenError(f"{folder}: is a link. Take it away; the schemas are written here.")
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for name, schema in sorted(schemas().items()):
        path = folder / f"{name}.json"
        path.unlink(missing_ok=True)  # never through a link that someone left there
        path.write_text(json.dumps(schema, ensure_ascii=False, indent=1) + "\n", "utf-8")
        written.append(path)
    return written


def write_settings(root: Path, layers: list[str]) -> Path:
    """Write where an editor finds the schemas into its settings, and return their file.

    Whatever else is set stays, other schemas too.

    Args:
        root: Folder of the project.
        layers: Folders of data in it, as they are named from there.

    Raises:
        RefgenError: If the settings cannot be read, or lie outside the project's folder.
    """
    file = root / ".vscode" / "settings.json"
    kept, wired = _settings_in(file), schemas_by_folder(layers)
    before = kept.get(_SETTING)
    kept[_SETTING] = {**before, **wired} if isinstance(before, dict) else wired
    file.parent.mkdir(exist_ok=True)
    file.write_text(json.dumps(kept, indent=1) + "\n", "utf-8")
    return file


def _settings_in(file: Path) -> dict[str, Any]:
    """Return an editor's settings as they are kept."""
    if not file.resolve().is_relative_to(file.parents[1].resolve()):
        raise RefgenError(f"{file}: leads out of the project. Take the link away.")
    try:
        kept = json.loads(file.read_text("utf-8")) if file.exists() else {}
    except ValueError as error:
        hint = "Take comments out, mend it, or move it away."
        raise RefgenError(f"{file}: is no plain JSON ({error}). {hint}") from error
    if not isinstance(kept, dict):
        raise RefgenError(f"{file}: holds no settings. Mend it, or move it away.")
    return kept


def schemas_by_folder(layers: list[str]) -> dict[str, list[str]]:
    """Return each schema's file with the files it is for, as the YAML language server takes it."""
    wired: dict[str, list[str]] = {}
    for name in schemas():
        if name == "setup":
            patterns = ["*.setup.yml"]
        else:
            ending = f"{name}/*.yml" if name in KINDS else f"{name}.yml"
            patterns = [f"{layer}/{ending}" for layer in layers]
        wired[f"./{FOLDER}/{name}.json"] = patterns
    return wired
