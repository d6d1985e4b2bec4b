"""Sites that many tests look at: built once a run, by whichever process asks first."""

from __future__ import annotations

import fcntl
import os
from dataclasses import replace
from pathlib import Path

import pytest

from refgen.project import open_project

ROOT = Path(__file__).resolve().parents[1]
CONFIGS = {
    "pebblecombe": ROOT / "mkdocs.yml",
    "quillfen": ROOT / "tests" / "quillfen" / "mkdocs.yml",
}


def built_once(folders: pytest.TempPathFactory, company: str) -> Path:
    """Return the folder of a company's site, as `refgen build` makes it; not to be changed."""
    shared = folders.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        shared = shared.parent  # the folders of all processes of this run lie in it
    site = shared / f"built-{company}" / "site"
    with (shared / f"built-{company}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not site.exists():
            replace(open_project(CONFIGS[company]), site=site).build()
    return site
