"""Where the shared base data and the templates lie, in a checkout and in an installed copy."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def bundled(name: str) -> Path:
    """Return the folder `data/base` or `site_templates` that belongs to this copy of refgen."""
    installed = _PACKAGE / "bundled" / name
    return installed if installed.is_dir() else _PACKAGE.parent / name


def is_installed(folder: Path) -> bool:
    """Tell whether a folder came with an installed copy of refgen, and so is nobody's to edit."""
    return folder.resolve().is_relative_to(_PACKAGE / "bundled")
