"""What pydantic found wrong, told in the words of someone who edits YAML."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from refgen.errors import Place, Problem, did_you_mean, first_of
from refgen.model.base import models_within
from refgen.nodes import Node, plain

M = TypeVar("M", bound=BaseModel)
Located = tuple[str | int, ...]


def read_model(model: type[M], node: Node) -> tuple[M | None, list[Problem]]:
    """Return the node as a model, or every problem with it."""
    try:
        return model.model_validate(plain(node)), []
    except ValidationError as error:
        return None, first_of(_problems(model, node, error), node.place)


def locate(node: Node, path: Located) -> tuple[Place, str]:
    """Return where a path stands, and its name as an author would say it.

    The path may hold steps that were never written (the name of a union's branch, a field that
    was left out); they are passed over, so the place is that of the nearest value that exists.
    """
    names: list[str] = []
    for step in path:
        inner: Node | None = None
        if isinstance(node.value, dict) and isinstance(step, str):
            inner = node.value.get(step)
            name = step
        elif isinstance(node.value, list) and isinstance(step, int) and step < len(node.value):
            inner = node.value[step]
            own = inner.value.get("id") if isinstance(inner.value, dict) else None
            name = own.value if own is not None and isinstance(own.value, str) else str(step + 1)
        if inner is not None:
            node = inner
            names.append(name)
    return node.place, ".".join(names)


def field_names(model: type[BaseModel]) -> set[str]:
    """Return the name of every field of a model and of the models within it."""
    return {
        field.alias or name
        for inner in models_within([model])
        for name, field in inner.model_fields.items()
    }


_WRONG_TEXT = {"string_too_short", "string_too_long"}
_WRONG_SHAPE = {"string_type": "text", "model_type": "a map of fields"}


def _problems(model: type[BaseModel], root: Node, error: ValidationError) -> Iterator[Problem]:
    told: dict[tuple[Place, str], list[Any]] = {}
    for entry in error.errors():
        told.setdefault(locate(root, entry["loc"]), []).append(entry)
    for entries in told.values():
        # Where text or a map may stand, pydantic complains of both: tell only of the one written.
        if len(entries) > 1 and all(e["type"] in _WRONG_SHAPE for e in entries):
            place, name = locate(root, entries[0]["loc"])
            wanted = " or ".join(dict.fromkeys(_WRONG_SHAPE[e["type"]] for e in entries))
            message = f"must be {wanted}, not {_short(entries[0]['input'])}"
            yield Problem(place, name, message)
            continue
        if len(entries) > 1:
            entries = [e for e in entries if e["type"] not in _WRONG_SHAPE]
            # A text that is wrong as text need not also be wrong as the short form of a map.
            entries = [e for e in entries if e["type"] in _WRONG_TEXT] or entries
        elif entries[0]["type"] in _WRONG_SHAPE:
            _, name = locate(root, entries[0]["loc"])
            inside = any(inner.startswith(f"{name}.") for _, inner in told)
            if inside:
                continue
        for entry in entries:
            if not _follows(entry):
                yield _told(model, root, entry)


def _follows(entry: Any) -> bool:
    """Whether a list is called too short only because its entries could not be read."""
    return bool(entry["type"] == "too_short" and len(entry["input"]) >= entry["ctx"]["min_length"])


def _told(model: type[BaseModel], root: Node, entry: Any) -> Problem:
    kind, path, context = entry["type"], entry["loc"], entry.get("ctx") or {}
    path = (*path, *context.get("at", ()))  # a rule of the whole tells which of its values is wrong
    place, name = locate(root, path)
    last = str(path[-1]) if path else ""
    if kind == "missing":
        hint = f"Add '{last}: …' here."
        if last == "id" and (proposal := propose_id(entry["input"])):
            hint = f"Add 'id: {proposal}'; once published it stays."
        return Problem(place, name, f"'{last}' is missing", hint)
    if kind == "extra_forbidden":
        # A field that belongs elsewhere in the record is no answer to itself.
        hint = did_you_mean(last, [name for name in field_names(model) if name != last])
        if entry["input"] is None and not hint.startswith("Did you mean"):
            hint = "Inside { } a comma starts a new field: put the text in quotes."
        return Problem(place, name, "no such field", hint)
    if entry["input"] is None:
        hint = "Write a value, or remove the line. A value that begins with # needs quotes."
        return Problem(place, name, "is empty", hint)
    told = _TOLD.get(kind)
    if told is not None:
        message, hint = told(entry["input"], context)
        return Problem(place, name, message, hint)
    return Problem(place, name, _sentence(entry["msg"]), str(context.get("hint", "")))


def propose_id(value: Any) -> str:
    """Return an id made of the first words of an item's title or text."""
    if not isinstance(value, dict):
        return ""
    text = next((v for k in ("title", "text", "ask", "label") if (v := value.get(k))), "")
    words = "".join(c if c.isascii() and c.isalnum() else " " for c in str(text).lower()).split()
    return "-".join(words[:4])[:60].rstrip("-")


def _sentence(message: str) -> str:
    return message[:1].lower() + message[1:]


def _short(value: Any) -> str:
    if isinstance(value, dict):
        return "a map of fields"
    if isinstance(value, (list, tuple)):
        return "a list"
    text = str(value).lower() if isinstance(value, bool) else str(value)
    return f"'{text[:60]}{'…' if len(text) > 60 else ''}'"


def _words(choices: str) -> list[str]:
    return [word.strip("' ") for word in choices.replace(" or ", ", ").split(",")]


_Teller = Callable[[Any, dict[str, Any]], tuple[str, str]]

# pydantic's own wording is for programmers; these are its error types that data can cause.
_TOLD: dict[str, _Teller] = {
    "string_type": lambda v, c: (f"must be text, not {_short(v)}", "Put it in quotes if need be."),
    "string_too_short": lambda v, c: ("is empty", "Write a text, or remove the line."),
    "string_too_long": lambda v, c: (
        f"is too long ({len(str(v))} characters)",
        f"Use at most {c['max_length']}; divide it.",
    ),
    "string_pattern_mismatch": lambda v, c: (
        f"{_short(v)} is not written right",
        _pattern_hint(c["pattern"]),
    ),
    "int_parsing": lambda v, c: (f"must be a whole number, not {_short(v)}", "Write digits only."),
    "int_type": lambda v, c: (f"must be a whole number, not {_short(v)}", "Write digits only."),
    "float_parsing": lambda v, c: (f"must be a number, not {_short(v)}", "Such as 0.75."),
    "float_type": lambda v, c: (f"must be a number, not {_short(v)}", "Such as 0.75."),
    "finite_number": lambda v, c: (f"must be a number, not {_short(v)}", "Such as 0.75."),
    "bool_parsing": lambda v, c: (f"must be true or false, not {_short(v)}", ""),
    "bool_type": lambda v, c: (f"must be true or false, not {_short(v)}", ""),
    "quantity_type": lambda v, c: (f"must be a quantity, not {_short(v)}", str(c["hint"])),
    "tuple_type": lambda v, c: (
        f"must be a list, not {_short(v)}",
        "Write each entry on its own line, after '- '.",
    ),
    "dict_type": lambda v, c: (
        f"must be a map of fields, not {_short(v)}",
        "Write 'name: value' lines, indented.",
    ),
    "model_type": lambda v, c: (
        f"must be a map of fields, not {_short(v)}",
        "Write 'name: value' lines, indented.",
    ),
    "too_short": lambda v, c: ("needs at least one entry", "Add one, or remove the line."),
    "literal_error": lambda v, c: (
        f"{_short(v)} is not one of the choices",
        did_you_mean(str(v), _words(c["expected"])),
    ),
    "greater_than_equal": lambda v, c: (f"{_short(v)} is too small", f"At least {c['ge']}."),
    "less_than_equal": lambda v, c: (f"{_short(v)} is too large", f"At most {c['le']}."),
    "date_from_datetime_parsing": lambda v, c: (f"{_short(v)} is no date", "Such as 2026-11-20."),
    "date_type": lambda v, c: (f"{_short(v)} is no date", "Such as 2026-11-20."),
}


# By what tells a pattern of the model from the others; any other is that of an id.
_PATTERN_HINTS = {
    "#[0-9a-fA-F]": "Write a colour as '#' and six digits or letters a to f.",
    "https": "Write an address that starts with https://.",
    "[A-Z]{2}": "Write it as two small letters, such as 'en', or with a country, such as 'es-MX'.",
    "0-9_": "Use small letters, digits and underscores, such as 'page_mark'.",
    "0-9/-": "Write the page's address without '.html', such as 'terms/index'.",
}


def _pattern_hint(pattern: str) -> str:
    hints = (hint for sign, hint in _PATTERN_HINTS.items() if sign in pattern)
    return next(hints, "Use small letters, digits and single hyphens, such as 'worn-jets'.")
