"""Files beside the pages that depend on brand and theme: stylesheet, scripts, icon."""

from __future__ import annotations

import re
from pathlib import Path

from refgen.model.company import Brand


def site_css(theme_css: str, own_css: str, brand: Brand) -> str:
    """Return the one stylesheet of the site: the theme's, then ours, then the brand's colours."""
    brand_css = (
        f":root {{ --brand-primary: {brand.colours.primary};"
        f" --brand-on-primary: {brand.colours.on_primary}; }}\n"
    )
    bare = re.sub(r"/\*# sourceMappingURL=.*?\*/", "", theme_css)
    return f"{bare}\n{own_css}\n{brand_css}"


def icon_svg(brand: Brand) -> str:
    """Return the site's icon: a nozzle with its rear jets, in the colours of the brand."""
    ground, ink = brand.colours.primary, brand.colours.on_primary
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 64 64">'
        f'<rect width="64" height="64" rx="12" fill="{ground}"/>'
        f'<g fill="none" stroke="{ink}" stroke-width="5" stroke-linecap="round">'
        '<path d="M8 32h18"/><path d="M30 24 14 12M30 40 14 52"/></g>'
        f'<path d="M26 22h14l16 10-16 10H26z" fill="{ink}"/></svg>\n'
    )


def own_files(templates: Path, theme_css: str, brand: Brand) -> dict[str, bytes]:
    """Return the site's own assets by address."""
    theme = templates / "theme"
    css = site_css(theme_css, (theme / "site.css").read_text("utf-8"), brand)
    return {
        "assets/site.css": css.encode(),
        "assets/site.js": (theme / "site.js").read_bytes(),
        "assets/icon.svg": icon_svg(brand).encode(),
    }
