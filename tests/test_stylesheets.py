"""Of the theme's stylesheet exactly what our pages rest on is kept."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path

import material
import pytest

from refgen.assets import names_in, own_styles, print_styles
from refgen.bundled import bundled
from refgen.stylesheets import used_part

NAMES = frozenset({"box", "p", "table", "td", "md-typeset"})


@pytest.mark.parametrize(
    ("css", "kept"),
    [
        ("p{margin:0}", "p{margin:0}"),
        (".box p{margin:0}", ".box p{margin:0}"),
        (".dialog p{margin:0}", ""),
        ("p,.dialog{margin:0}", "p{margin:0}"),
        ("video{margin:0}", ""),
        ("#top{margin:0}", ""),
        ("[data-md-scheme=x] p{margin:0}", ""),
        ("p:not(.dialog){margin:0}", "p:not(.dialog){margin:0}"),
        (".box>table td:first-child{margin:0}", ".box>table td:first-child{margin:0}"),
        ("@media print{.box{margin:0}.dialog{margin:1px}}", "@media print{.box{margin:0}}"),
        ("@font-face{font-family:x}", ""),
        ("@keyframes spin{to{top:0}}", ""),
        (".box{color:red!important}", ".box{color:red!important}"),
        (".box{background:url(data:x)}p{margin:0}", "p{margin:0}"),
        (":root{--a:url(x)}.box{mask-image:var(--a)}p{margin:0}", "p{margin:0}"),
    ],
)
def test_a_rule_stays_if_all_it_names_can_occur(css: str, kept: str) -> None:
    assert used_part(css, NAMES, "") == kept


def test_a_variable_stays_if_something_that_stays_uses_it_however_far_off() -> None:
    css = ":root{--a:var(--b);--b:1px;--c:2px;--d:3px}p{margin:var(--a)}"
    assert used_part(css, NAMES, "") == ":root{--a:var(--b);--b:1px}p{margin:var(--a)}"
    assert "--d:3px" in used_part(css, NAMES, "td{margin:var(--d)}")


def test_an_update_of_the_theme_that_changes_our_part_is_told(
    golden: Callable[[str, str], None],
) -> None:
    """If this fails, look at the pages on both phone sizes, then accept it as a golden change."""
    styles = Path(material.__file__).parent / "templates" / "assets" / "stylesheets"
    css = "\n".join(path.read_text("utf-8") for path in sorted(styles.glob("*.min.css")))
    own = own_styles(bundled("site_templates"))
    paper = print_styles(bundled("site_templates"))
    assert "var(--md-" not in paper  # which of the theme's stay is told by what a screen needs
    names = names_in(bundled("site_templates"))
    part = used_part(css, names, own)
    assert 5_000 < len(part) < 20_000
    assert "url(" not in part + own + paper  # README's policy lets in files of the site only
    golden("theme-part.sha256", hashlib.sha256(part.encode()).hexdigest() + "\n")
