"""The worksheet: a form and a script that work out a setup on the phone, and the data they need.

So that nothing is typed twice, constants, ranges, units, fields and the fleet are written out from
here; `site_templates/theme/worksheet-*.js` hold the formulas and the page.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from refgen.catalog import Catalog
from refgen.measures import System
from refgen.worksheet.constants import constants
from refgen.worksheet.fields import Field, Sum
from refgen.worksheet.fleet import fleet
from refgen.worksheet.scripts import shortened, whole_script
from refgen.worksheet.setup_form import ANSWERS, DIFFERENCES, SETUP, changes
from refgen.worksheet.sums import SUMS
from refgen.worksheet.symbols import shown_pairs, units

__all__ = ["SCRIPT", "Sheet", "sheet", "worksheet_script"]

SCRIPT = "assets/worksheet.js"
"""Its address from the site's root. The page asks for it when it has loaded."""

_WORD = re.compile(r"\bws_[a-z0-9_]+\b|(?<=\.)copied\b")
_CONSTANT = re.compile(r"\bk\.(\w+)")
_DIGITS = "0123456789abcdefghijklmnopqrstuvwxyz"


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the page's template shows: the form, the places for answers, and the short sums."""

    setup: dict[str, tuple[Field, ...]]
    answers: tuple[tuple[str, str, str], ...]
    differences: tuple[tuple[str, str, str], ...]
    changes: tuple[tuple[str, str, tuple[tuple[str, str], ...]], ...]
    sums: tuple[Sum, ...]


def sheet(first: System) -> Sheet:
    """Return what the template shows, in the system of units that comes first."""
    differences = tuple(row for row in ANSWERS if row[0] in DIFFERENCES)
    return Sheet(SETUP, ANSWERS, differences, changes(first), SUMS)


def worksheet_script(catalog: Catalog, theme: Path) -> str:
    """Return the data the page needs, on a line of their own, and after them its script.

    The script holds no sentence: it asks for words by name. Those names, and those of constants,
    are no use to a phone, and become short ones in both.

    Args:
        catalog: The records, and the words of the interface.
        theme: Folder of the theme's scripts.
    """
    script, data = whole_script(theme), _data(catalog)
    short = {name: f"${_code(place)}" for place, name in enumerate(data["constants"])}
    script = shortened(_CONSTANT.sub(lambda match: f"k.{short[match[1]]}", script))
    data["constants"] = {short[name]: value for name, value in data["constants"].items()}
    told = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    uses = Counter(_WORD.findall(script))
    names = [*[name for name, _ in uses.most_common()], *_WORD.findall(told)]
    codes = {name: f"${_code(place)}" for place, name in enumerate(dict.fromkeys(names))}
    words = {codes.get(name, name): catalog.w[name] for name in [*codes, *_field_words(data)]}
    told = _coded(told, codes)[:-1] + ',"words":' + json.dumps(words, separators=(",", ":")) + "}"
    return f"window.refgenSheet={told};\n{_coded(script, codes)}"


def _data(catalog: Catalog) -> dict[str, Any]:
    first = catalog.brand.units_first
    return {
        "first": 0 if first == "us" else 1,
        "constants": constants(first),
        "units": units(catalog.w),
        "pairs": shown_pairs(),
        "form": {
            "setup": {name: [f.told(first) for f in fields] for name, fields in SETUP.items()},
            "sums": [{"id": s.id, "fields": [f.told(first) for f in s.fields]} for s in SUMS],
        },
        **fleet(catalog),
    }


def _field_words(data: dict[str, Any]) -> list[str]:
    """Return the words by which the fields of short sums are named as causes."""
    fields = (field for one in data["form"]["sums"] for field in one["fields"])
    words = {field["word"] for field in fields if "word" in field}
    return sorted(word for word in words if not _WORD.match(word))


def _coded(text: str, codes: dict[str, str]) -> str:
    return _WORD.sub(lambda match: codes[match[0]], text)


def _code(place: int) -> str:
    return _DIGITS[place] if place < 36 else _DIGITS[place // 36] + _DIGITS[place % 36]
