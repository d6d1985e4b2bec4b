"""Every text of every kind of record filled with what could run, leave its place or turn round.

A project is written twice. The `tame` one is the hostile one with each sign that means something
to a browser, a template or a spreadsheet changed into a letter; so, after the same change, every
page of the one must be every page of the other, element by element.
"""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError

from refgen.bundled import bundled
from refgen.model import KINDS
from refgen.model.base import Plain, Text
from refgen.model.company import Brand, Words
from refgen.nodes import plain, read_text
from tests.stages import SMALL

PAYLOADS = (
    "<script>canary=1</script>",
    '"><img src=x onerror=canary=1>',
    "'><svg/onload=canary=1>",
    "[press](javascript:canary=1)",
    "</script><script>canary=1</script>",
    "]]><!-- -->",
    "{{ 7*7 }}{% include 'x' %}{{# x #}}",
    "</title></main></body><style>main{{display:none}}</style>",
    "=HYPERLINK('http://evil.example','x')",
    "@SUM(1+1)",
    "+1-1",
    "-1+1|cmd",
    "&lt;b&gt; &#x3c;i&#62; %3Cu%3E",
    "javascript:canary=1",
    "`${{canary=1}}` \\u003cscript\\u003e",
    "![x](http://evil.example/x.png) <a href=//evil.example>x</a>",
    'x" autofocus onfocus="canary=1',
    "مرحبا <bdo dir=rtl>x</bdo> עברית",
    "<!--#exec cmd=x--><?php canary ?>",
    "<iframe src=javascript:canary=1></iframe>",
)
_ACTING = re.compile(r"[<>&\"'`(){}\[\]%$\\#!|?/:]")
# Left alone: names of files, and what means something by itself.
_NAMES = {("Brand", "logo"), ("CalibrationReading", "hose")}


def tamed(text: str) -> str:
    """Return a text with a letter for each sign that could act."""
    return _ACTING.sub("x", text)


def text_fields() -> set[tuple[str, str]]:
    """Return every field of every kind of record, and of the brand, that holds text."""
    found, seen, waiting = set(), set[type](), [*KINDS.values(), Brand]
    while waiting:
        model = waiting.pop()
        if model in seen:
            continue
        seen.add(model)
        for name, info in model.model_fields.items():
            if _holds_text(info.annotation):
                found.add((model.__name__, info.alias or name))
            waiting += _models_in(info.annotation)
    return found - _NAMES


def _holds_text(kind: Any) -> bool:
    return kind in (Text, Plain) or any(
        _holds_text(inner) for inner in get_args(kind) if get_origin(kind) is not dict
    )


def _models_in(kind: Any) -> Iterator[type[BaseModel]]:
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        yield kind
    for inner in get_args(kind):
        yield from _models_in(inner)


class _Filler:
    """Puts payloads into the texts of one record after the other, and notes where."""

    def __init__(self, dress: Callable[[str], str]) -> None:
        self.dress = dress
        self.filled: set[tuple[str, str]] = set()
        self.number = 0

    def text(self, braces: bool = True) -> str:
        self.number += 1
        payload = PAYLOADS[self.number % len(PAYLOADS)]
        if not braces:
            payload = payload.replace("{", "").replace("}", "")
        # Both projects sort alike: by the number, or by a sign that stays as it is.
        acting = payload[0] in "=+-@"
        number = f"t{self.number:04}"
        return self.dress(f"{payload} {number}" if acting else f"{number} {payload}")

    def record(self, model: type[BaseModel], data: dict[str, Any]) -> dict[str, Any]:
        """Fill the texts that a record has, then, one by one, those that it may have."""
        self._replace(model, data)
        for place, inner in list(_maps(model, data)):
            for name, info in place.model_fields.items():
                key = info.alias or name
                if (
                    key in inner
                    or (place.__name__, key) in _NAMES
                    or not _holds_text(info.annotation)
                ):
                    continue
                several = get_origin(_bare(info.annotation)) is tuple
                inner[key] = [self.text(), self.text()] if several else self.text()
                try:
                    model.model_validate(data)
                    self.filled.add((place.__name__, key))
                except ValidationError:
                    del inner[key]
        model.model_validate(data)
        return data

    def _replace(self, model: type[BaseModel], data: dict[str, Any]) -> None:
        for place, inner in list(_maps(model, data)):
            for name, info in place.model_fields.items():
                key = info.alias or name
                if key in inner and self._fills(place, key, info.annotation):
                    inner[key] = self._texts(inner[key])
                    self.filled.add((place.__name__, key))

    @staticmethod
    def _fills(model: type[BaseModel], name: str, kind: Any) -> bool:
        return _holds_text(kind) and (model.__name__, name) not in _NAMES

    def _texts(self, value: Any) -> Any:
        if isinstance(value, list):
            return [self._texts(inner) for inner in value]
        return self.text() if isinstance(value, str) else value


def _bare(kind: Any) -> Any:
    while get_origin(kind) is Annotated:
        kind = get_args(kind)[0]
    if get_origin(kind) in (Union, UnionType):
        return _bare(next(inner for inner in get_args(kind) if inner is not NoneType))
    return kind


def _maps(model: type[BaseModel], data: Any) -> Iterator[tuple[type[BaseModel], dict[str, Any]]]:
    """Yield every map of fields in a record with its model."""
    if not isinstance(data, dict):
        return
    yield model, data
    for name, info in model.model_fields.items():
        inner = data.get(info.alias or name)
        for kind in _models_in(info.annotation):
            if isinstance(inner, list):
                for one in inner:
                    yield from _maps(kind, one)
            elif isinstance(inner, dict) and get_origin(_bare(info.annotation)) is dict:
                for one in inner.values():
                    yield from _maps(kind, one)
            else:
                yield from _maps(kind, inner)
            break


def write_project(root: Path, dress: Callable[[str], str]) -> set[tuple[str, str]]:
    """Write a project with every text dressed; return the fields that were filled."""
    filler = _Filler(dress)
    layer = root / "data"
    for path in sorted(SMALL.rglob("*.yml")):
        kind = path.parent.name
        model = Brand if path.stem == "brand" else KINDS.get(kind)
        if model is None:
            continue
        node, problems = read_text(path.read_text("utf-8"), path.name)
        assert node is not None, problems
        data = plain(node)
        for more in EXTRA.get(f"{kind}/{path.stem}" if kind in KINDS else "brand", ()):
            data |= copy.deepcopy(more)
        written = json.dumps(filler.record(model, data), ensure_ascii=False)
        (layer / path.relative_to(SMALL)).parent.mkdir(parents=True, exist_ok=True)
        (layer / path.relative_to(SMALL)).write_text(written, "utf-8")
    (layer / "words.yml").write_text(_words(filler), "utf-8")
    (root / "files").mkdir()
    site_name = json.dumps(filler.text(), ensure_ascii=False)
    (root / "mkdocs.yml").write_text(
        f"site_name: {site_name}\ndocs_dir: files\ntheme: {{name: material}}\n"
        "plugins:\n  - refgen:\n      layers: [data]\n",
        "utf-8",
    )
    return filler.filled


def _words(filler: _Filler) -> str:
    """Return every word of the interface with a payload behind it, its blanks kept."""
    node, _ = read_text((bundled("data/base") / "words.yml").read_text("utf-8"), "words.yml")
    assert node is not None
    data = plain(node)
    for name, said in data["words"].items():
        if name.startswith("search_"):  # lists of words for the search, never shown
            continue
        data["words"][name] = f"{said} {filler.text(braces=False)}"
    Words.model_validate(data)
    return json.dumps(data, ensure_ascii=False)


REVIEW = {"reviewed": {"on": "2026-01-01", "role": "x"}, "notes": ["x"]}
CONTACT = {"id": "one", "label": "x"}
EXTRA: dict[str, tuple[dict[str, Any], ...]] = {
    "brand": (
        {"address": "https://jet.example/", "emergency": [CONTACT], "contacts": [CONTACT]},
        {"withdrawn": [{"id": "one", "page": "materials/clay", "why": "x"}]},
        {
            "languages": [
                {"code": "en", "name": "x", "address": "https://jet.example/"},
                {"code": "es", "name": "x", "address": "https://jet.example/es/"},
            ]
        },
    ),
    "materials/clay": (REVIEW,),
    "procedures/start": ({"done": [{"text": "x"}], "need": [{"text": "x"}]},),
}
"""What the small layer lacks, so that each model of a text is met."""
