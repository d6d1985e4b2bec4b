"""Synthetic references of any size: the build of the real one, and not one of its sentences.

Each real record is a mould: its fields, items, quantities and links stay, its prose becomes words
made of syllables. A larger reference casts every mould again and again, links staying mostly within
one cast; a smaller one leaves a share of each kind out, and what led there leads to another record
of the kind. So all kinds keep their share, but for what a company has few of however much it
writes: machines, their hoses and nozzles, and the tables that go over all of them are cast once.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import yaml

from refgen.bundled import bundled
from refgen.model import KINDS
from refgen.model.base import Model
from refgen.references import CITATION, bare_fields, contents_of

ROOT = Path(__file__).resolve().parents[1]
LAYERS = (bundled("data/base"), ROOT / "data" / "pebblecombe")
CAST_ONCE = ("machines", "hoses", "nozzles")
KEPT_WHOLE = (*CAST_ONCE, "tables", "parts", "patterns")
"""Kinds whose records rest on each other so much that none is left out."""
OVER_ALL = re.compile("ceilings|machine|nozzle$|settings|plugged|reach|pressure-by-pipe")
"""Names of the tables that go over all machines or pipes, and so are cast once."""
PARTS_ONCE = ("needs", "unless", "any", "all", "fitted", "not_fitted")
"""Fields by which a machine is asked: these name the first cast."""
BRAND = """\
name: Some company
site: Some reference
colours: {primary: "#102030", on_primary: "#ffffff"}
"""
STRAY = 0.2
"""Share of the links that lead to another cast."""

Id = tuple[str, str]
_LINK = re.compile(rf"({'|'.join(KINDS)})/([a-z0-9-]+)(#[a-z0-9-]+)?")
_ONE_ID = re.compile(r"([a-z0-9-]+)(#[a-z0-9-]+)?")
_BARE = {field: kind for kind in KINDS for field in bare_fields(kind)}


def write_reference(folder: Path, records: int, seed: int = 1) -> Path:
    """Write a project with so many records to a folder, and return its mkdocs.yml."""
    layer = folder / "data"
    for (kind, name), fields in _cast(records, random.Random(seed)).items():
        path = layer / kind / f"{name}.yml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(yaml.safe_dump(fields, allow_unicode=True, sort_keys=False), "utf-8")
    (layer / "words.yml").write_bytes((LAYERS[0] / "words.yml").read_bytes())
    (layer / "brand.yml").write_text(BRAND, "utf-8")
    (folder / "files").mkdir(exist_ok=True)
    (folder / "mkdocs.yml").write_text(
        "site_name: Some reference\ndocs_dir: files\ntheme: {name: material}\n"
        "plugins:\n  - refgen:\n      layers: [data]\n",
        "utf-8",
    )
    return folder / "mkdocs.yml"


def _moulds() -> dict[Id, dict[str, Any]]:
    return {
        (kind, path.stem): yaml.load(path.read_text("utf-8"), yaml.BaseLoader)
        for kind in KINDS
        for layer in LAYERS
        for path in sorted((layer / kind).glob("*.yml"))
    }


def _once(mould: Id) -> bool:
    return mould[0] in CAST_ONCE or (mould[0] == "tables" and bool(OVER_ALL.search(mould[1])))


def _cast(records: int, chance: random.Random) -> dict[Id, dict[str, Any]]:
    """Return the records by kind and id."""
    moulds = _moulds()
    single = [mould for mould in moulds if _once(mould)]
    many = [mould for mould in moulds if not _once(mould)]
    whole, rest = divmod(records - len(single), len(many))
    if whole == 0:
        needed = _taken_over(moulds)
        kept = [mould for mould in many if mould[0] in KEPT_WHOLE or mould in needed]
        loose = [mould for mould in many if mould not in kept]
        wanted = records - len(single) - len(kept)
        assert wanted > 0, "fewer records than machines, parts and tables there are"
        casts = [[*single, *kept, *_share(loose, wanted)]]
    else:
        casts = [[*single, *many], *[many] * (whole - 1), _share(many, rest)]
    there = {(mould, number) for number, cast in enumerate(casts) for mould in cast}
    return _Caster(moulds, there, chance).records()


def _share(moulds: list[Id], wanted: int) -> list[Id]:
    """Return so many moulds, spread evenly, and so over the kinds."""
    return [moulds[number * len(moulds) // wanted] for number in range(wanted)]


def _taken_over(moulds: Mapping[Id, dict[str, Any]]) -> set[Id]:
    """Return the symptoms whose causes others take over."""
    causes = (cause for fields in moulds.values() for cause in fields.get("causes", ()))
    named = (cause["same_as"].partition("#")[0] for cause in causes if "same_as" in cause)
    return {("symptoms", name.rpartition("/")[2]) for name in named}


class _Caster:
    def __init__(
        self, moulds: Mapping[Id, dict[str, Any]], there: set[tuple[Id, int]], chance: random.Random
    ) -> None:
        self.moulds, self.there, self.chance = moulds, sorted(there), chance
        self.casts: dict[Id, list[int]] = {}
        self.of_kind: dict[str, list[tuple[Id, int]]] = {}
        for mould, number in self.there:
            self.casts.setdefault(mould, []).append(number)
            self.of_kind.setdefault(mould[0], []).append((mould, number))
        self.words = [_word(chance) for _ in range(4000)]
        weights = [1 / (rank + 3) for rank in range(len(self.words))]
        self.drawn = chance.choices(self.words, weights, k=200_000)
        self.next = 0
        self.prose = _prose_fields()

    def records(self) -> dict[Id, dict[str, Any]]:
        """Return every record by kind and id."""
        found = {}
        for mould, number in self.there:
            self.mould, self.number = mould, number
            fields = self._value(self.moulds[mould], "")
            fields.pop("was", None)
            if number:
                for only_once in ("ask", "drive", "number"):
                    fields.pop(only_once, None)
            found[mould[0], _name(mould[1], number)] = fields
        return found

    def _value(self, value: Any, field: str) -> Any:
        if isinstance(value, dict):
            return {name: self._value(inner, name) for name, inner in value.items()}
        if isinstance(value, list):
            written = [self._value(inner, field) for inner in value]
            links = field in _BARE or field in ("see", "pages", "to", "proof")
            return list(dict.fromkeys(written)) if links and _flat(written) else written
        if link := _LINK.fullmatch(value):
            return f"{link[1]}/{self._link((link[1], link[2]), link[3] or '')}"
        if field in _BARE and (link := _ONE_ID.fullmatch(value)):
            return self._link((_BARE[field], link[1]), link[2] or "", field in PARTS_ONCE)
        if field in ("title", "label", "also_called"):
            return " ".join(self.chance.choices(self.words, k=value.count(" ") + 2)).capitalize()
        return self._text(value) if field in self.prose and " " in value else value

    def _link(self, mould: Id, item: str, first: bool = False) -> str:
        """Return where a link leads: the same cast, at times another, or one of the kind."""
        if mould not in self.moulds:
            return mould[1] + item  # an item of this very record
        casts = self.casts.get(mould)
        if not casts:
            (_, name), number = self.chance.choice(self.of_kind[mould[0]])
            return _name(name, number)
        if first or len(casts) == 1:
            number = casts[0]
        elif self.number in casts and self.chance.random() > STRAY:
            number = self.number
        else:
            number = self.chance.choice(casts)
        return _name(mould[1], number) + item

    def _text(self, text: str) -> str:
        """Return other words in place of a text's, with what it cites."""
        last, parts = 0, []
        for citation in CITATION.finditer(text):
            parts += [self._words(text[last : citation.start()]), self._citation(citation)]
            last = citation.end()
        said = "".join([*parts, self._words(text[last:])])
        return said[:1].upper() + said[1:]

    def _citation(self, citation: re.Match[str]) -> str:
        mould = (citation["kind"] or "", citation["id"] or "")
        if not citation["kind"]:
            return citation[0]
        if mould not in self.casts:
            return "{= 10 ft}"
        return f"{{{mould[0]}/{self._link(mould, '')}#{citation['figure']}}}"

    def _words(self, text: str) -> str:
        return re.sub(r"[^\W\d_][\w'’-]*", lambda _: self._word(), re.sub(r"[\d*]+", "", text))

    def _word(self) -> str:
        self.next = (self.next + 1) % len(self.drawn)
        return self.drawn[self.next]


def _prose_fields() -> set[str]:
    """Return the names of all fields that hold prose."""
    from refgen.project import open_project

    catalog = open_project(ROOT / "mkdocs.yml").catalog()
    named: Iterable[Model] = (entry.record for entry in catalog.entries.values())
    return {
        [part for part in path if isinstance(part, str)][-1]
        for record in named
        for path, _ in contents_of(record).texts
    }


def _name(name: str, number: int) -> str:
    return f"{name}-c{number}" if number else name


def _flat(values: list[Any]) -> bool:
    return all(isinstance(value, str) for value in values)


def _word(chance: random.Random) -> str:
    syllables = chance.choices((1, 2, 3), (5, 4, 2))[0]
    return "".join(
        chance.choice("bdfgklmnprstvw") + chance.choice("aeiou") + chance.choice(("", "", "n", "r"))
        for _ in range(syllables)
    )
