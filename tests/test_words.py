"""Every word of the interface comes from words.yml, and every word there is used."""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import pytest
import yaml

from refgen.model import KINDS
from refgen.model.equipment import Facing
from refgen.model.figure import Basis
from refgen.model.pipes import CONDITIONS
from refgen.model.safety import Signal
from refgen.model.teaching import Source
from refgen.news import Part

ROOT = Path(__file__).resolve().parents[1]
WORDS = yaml.safe_load((ROOT / "data" / "base" / "words.yml").read_text("utf-8"))["words"]
TEMPLATES = sorted((ROOT / "site_templates").rglob("*.html"))
CODE = sorted([*(ROOT / "refgen").rglob("*.py"), *(ROOT / "site_templates").rglob("*.js")])


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda p: p.stem)
def test_no_template_holds_a_word_of_its_own(path: Path) -> None:
    text = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", " ", path.read_text("utf-8"), flags=re.S)
    attributes = re.findall(r"(?:aria-label|title|alt|placeholder|content)=\"([^\"]*)\"", text)
    spoken = re.sub(r"<[^>]*>", " ", text)
    assert re.findall(r"[A-Za-z]{2,}", spoken) == []
    allowed = {
        "light",
        "dark",
        "noindex",
        "width",
        "device",
        "initial",
        "scale",
        "viewport",
        "fit",
        "cover",
        "url",
    }
    assert {w for a in attributes for w in re.findall(r"[A-Za-z]{3,}", a)} <= allowed


def quoted(path: str, pattern: str) -> set[str]:
    """Return what a pattern finds in a file of the code or of the templates."""
    return set(re.findall(pattern, (ROOT / path).read_text("utf-8"), re.M))


def groups() -> set[str]:
    """Return the groups that a record of the base stands in."""
    files = (ROOT / "data" / "base").glob("*/*.yml")
    return set(re.findall(r"^group: (.+)$", "\n".join(f.read_text("utf-8") for f in files), re.M))


# Words whose names are put together: how each begins, and what it can go on with.
MADE_OF_PARTS = {
    "group_": groups(),
    "kind_": {f"{kind}{more}" for kind in KINDS for more in ("", "_one", "_about")},
    "basis_": {*get_args(Basis)},
    "mark_": {*get_args(Basis)},
    "signal_": {*get_args(Signal)},
    "condition_": {*CONDITIONS},
    "form_": {*get_args(Source.model_fields["form"].annotation)},
    "read_": {*get_args(Source.model_fields["read"].annotation)},
    "faces_": {*get_args(Facing)},
    "changed_": {*get_args(Part)},
    "title_": quoted("refgen/pages.py", r'\("([a-z-]+)", addresses\.') - {"home"} | {"compare"},
    "about_": quoted("refgen/pages.py", r'\("([a-z-]+)", addresses\.') | {"compare"},
    "matters_": quoted("refgen/comparison.py", r'^        \("([a-z]+)", "'),
    "offline_": quoted("site_templates/theme/offline.js", r'say\("(\w+)"'),
    "marks_": quoted("refgen/marks.py", r'yield "([a-z]+)"'),
    "unsure_": {"caution", "practice"},
    "addresses_": {"kind", "title", "whole", "short"},
}


def test_every_word_is_used_somewhere() -> None:
    texts = (path.read_text("utf-8") for path in [*TEMPLATES, *CODE])
    used = {word for text in texts for word in re.findall(r"\w+", text)}
    made = {
        f"{head}{tail}".replace("-", "_").replace(" ", "_")
        for head, tails in MADE_OF_PARTS.items()
        for tail in tails
    }
    kinds_on_home = {f"way_{kind}{more}" for kind in KINDS for more in ("", "_more")}
    assert set(WORDS) - used - made - kinds_on_home == set()
    assert made - WORDS.keys() == set(), "asked for by a name that is put together, and not there"
