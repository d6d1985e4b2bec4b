"""The worksheet's script, joined from its parts."""

from __future__ import annotations

from pathlib import Path

SCRIPT = "assets/worksheet.js"
"""Address of the script, from the site's root."""

PARTS = ("model", "units", "sums", "setup", "pictures", "page")
"""Parts in the order in which they run, each `theme/worksheet-<part>.js`."""


def worksheet_script(theme: Path) -> str:
    """Return the parts as one classic script, without the lines that only people read.

    Args:
        theme: Folder of the theme's files.
    """
    lines = []
    for part in PARTS:
        for line in (theme / f"worksheet-{part}.js").read_text("utf-8").splitlines():
            bare = line.strip()
            if bare and not bare.startswith("//"):
                lines.append(bare)
    return "\n".join(lines) + "\n"
