"""Every word of the interface comes from words.yml, and every word there is used."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

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


def test_every_word_is_used_somewhere() -> None:
    used = "\n".join(path.read_text("utf-8") for path in [*TEMPLATES, *CODE])
    made_of_parts = (
        "group_",
        "kind_",
        "basis_",
        "mark_",
        "signal_",
        "condition_",
        "form_",
        "read_",
        "faces_",
        "way_",
        "title_",
        "about_",
        "unsure_",
        "matters_",
        "changed_",
        "marks_",
        "addresses_",
    )
    unused = [
        name
        for name in WORDS
        if not name.startswith(made_of_parts) and not re.search(rf"\b{name}\b", used)
    ]
    assert unused == []
