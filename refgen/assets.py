"""Files beside the pages that depend on brand and theme: stylesheet, scripts, icons, manifest."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path

from refgen.icons import icon_png, icon_svg
from refgen.logos import Logo, icon_dots
from refgen.model.company import Brand
from refgen.remarks import script_without_remarks, styles_without_remarks
from refgen.stylesheets import used_part

JOINED = ("site", "ticks", "pins", "rows")
"""Scripts of every page, in one file: a request costs a phone more than the bytes."""
LESSON = ("class", "quiz")
SEARCH = ("words", "index", "meanings", "find", "page")
"""Parts of the search in the order in which they run, each `theme/search-<part>.js`."""
ICON_DOTS = (192, 512)
"""Sizes of the PNG icons, which are what phones ask for."""


def site_css(theme_css: str, own_css: str, brand: Brand, names: frozenset[str]) -> str:
    """Return the stylesheet for screens: the theme's, then ours, then the brand's colours.

    Args:
        theme_css: The theme's stylesheets, whole.
        own_css: Ours.
        brand: Whose colours they are.
        names: Every class and element that can occur; of the theme only their rules stay.
    """
    brand_css = (
        f":root {{ --brand-primary: {brand.colours.primary};"
        f" --brand-on-primary: {brand.colours.on_primary};"
        f" --brand-logo-ground: {brand.colours.logo_ground or brand.colours.primary}; }}\n"
    )
    return f"{used_part(theme_css, names, own_css)}\n{own_css}\n{brand_css}"


def own_styles(templates: Path) -> str:
    """Return our own stylesheet for screens, which is laid under that for paper."""
    return (templates / "theme" / "site.css").read_text("utf-8")


def print_styles(templates: Path) -> str:
    """Return our own stylesheet for paper, which pages ask for only when they have loaded."""
    return (templates / "theme" / "print.css").read_text("utf-8")


def names_in(templates: Path) -> frozenset[str]:
    """Return every word of the templates and scripts: all classes and elements are among them."""
    sources = sorted([*templates.rglob("*.html"), *templates.rglob("*.js")])
    return frozenset(
        word for path in sources for word in re.findall(r"[\w-]+", path.read_text("utf-8"))
    )


def web_manifest(brand: Brand, words: Mapping[str, str]) -> str:
    """Return what a phone needs to put the site on its home screen.

    Addresses are given from the manifest's own place, so it holds wherever the site is put.
    """
    manifest = {
        "name": brand.site,
        "short_name": words["short_name"] if len(brand.site) > 24 else brand.site,
        "lang": brand.language,
        "id": "index.html",
        "start_url": "index.html",
        "scope": "./",
        "display": "standalone",
        "theme_color": brand.colours.primary,
        "background_color": brand.colours.primary,
        "icons": [
            {"src": "assets/icon.svg", "sizes": "any", "type": "image/svg+xml"},
            *(
                {
                    "src": f"assets/icon-{dots}.png",
                    "sizes": f"{dots}x{dots}",
                    "type": "image/png",
                    "purpose": purpose,
                }
                for dots in ICON_DOTS
                for purpose in ("any", "maskable")
            ),
        ],
    }
    return json.dumps(manifest, ensure_ascii=False, indent=1) + "\n"


def site_script(theme: Path, words: Mapping[str, str]) -> str:
    """Return what the script of every page holds, with the words it says before it."""
    known = _known("refgenWords", "here_", words)
    return known + "".join((theme / f"{name}.js").read_text("utf-8") for name in JOINED)


def search_script(theme: Path) -> str:
    """Return the parts of the search as one classic script, in which each may use the others."""
    parts = "\n".join((theme / f"search-{part}.js").read_text("utf-8") for part in SEARCH)
    return f'(function () {{\n"use strict";\n{parts}}})();\n'


def offline_script(theme: Path, words: Mapping[str, str]) -> str:
    """Return the script that tells how far the site is kept, with the words it says before it."""
    return _known("refgenKept", "offline_", words) + (theme / "offline.js").read_text("utf-8")


def _known(name: str, beginning: str, words: Mapping[str, str]) -> str:
    """Return a line of script that gives the words of some beginning a name."""
    said = {name: text for name, text in sorted(words.items()) if name.startswith(beginning)}
    written = json.dumps(said, separators=(",", ":")).replace("<", "\\u003c")
    return f"window.{name} = {written};\n"


def page_scripts(theme: Path, words: Mapping[str, str]) -> dict[str, str]:
    """Return the scripts of pages by address, of which a page asks for one before it has loaded.

    Each of those holds what every page needs, and what some sorts need beside that comes after it.
    All ask for the one that tells how far the site is kept, when they have been seen.
    """
    site = site_script(theme, words)
    lesson = "".join((theme / f"{name}.js").read_text("utf-8") for name in LESSON)
    return {
        "assets/site.js": site,
        "assets/lesson.js": site + lesson,
        "assets/search.js": site + search_script(theme),
        "assets/offline.js": offline_script(theme, words),
    }


def icons(brand: Brand, logo: Logo | None) -> dict[str, bytes]:
    """Return the icons by address, with the logo itself where there is one."""
    if logo is None:
        drawn = {f"assets/icon-{dots}.png": icon_png(brand, dots) for dots in ICON_DOTS}
        return {"assets/icon.svg": icon_svg(brand).encode(), **drawn}
    svg = logo.icon(brand.colours.logo_ground or brand.colours.primary)
    drawn = {f"assets/icon-{dots}.png": icon_dots(svg, dots) for dots in ICON_DOTS}
    return {logo.address: logo.content, "assets/icon.svg": svg.encode(), **drawn}


def own_files(
    templates: Path,
    theme_css: str,
    brand: Brand,
    words: Mapping[str, str],
    logo: Logo | None = None,
) -> dict[str, bytes]:
    """Return the site's own assets by address."""
    theme = templates / "theme"
    css = site_css(theme_css, own_styles(templates), brand, names_in(templates))
    return {
        "assets/site.css": styles_without_remarks(css).encode(),
        "assets/print.css": styles_without_remarks(print_styles(templates)).encode(),
        **{
            address: script_without_remarks(script).encode()
            for address, script in page_scripts(theme, words).items()
        },
        **icons(brand, logo),
        "site.webmanifest": web_manifest(brand, words).encode(),
    }
