"""The worksheet's data: one classic script with all that its model and form need from this side.

The page computes on the phone. So that nothing is typed twice, constants, ranges, units, fields
and the fleet are written from here; `site_templates/theme/worksheet*.js` hold the formulas and the
page.
"""

from __future__ import annotations

import json
from typing import Any

from refgen.catalog import Catalog
from refgen.worksheet.constants import constants
from refgen.worksheet.fleet import fleet
from refgen.worksheet.form import form, words_used
from refgen.worksheet.scripts import SCRIPT, worksheet_script
from refgen.worksheet.symbols import shown_pairs, units

__all__ = ["DATA", "SCRIPT", "worksheet_data", "worksheet_script"]

DATA = "assets/worksheet-data.js"
"""Address of the data, from the site's root."""


def worksheet_data(catalog: Catalog) -> str:
    """Return the classic script that hands the worksheet its data."""
    first = catalog.brand.units_first
    words = catalog.w
    fields = form(first)
    names = sorted({*words_used(fields), *(name for name in words if name.startswith("ws_"))})
    data: dict[str, Any] = {
        "first": 0 if first == "us" else 1,
        "constants": constants(),
        "units": units(),
        "pairs": shown_pairs(),
        "form": fields,
        "words": {name: words[name] for name in names},
        **fleet(catalog),
    }
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    return f"(window.refgenSheet = window.refgenSheet || {{}}).data = {text};\n"
