"""Lighthouse itself: whether it is here, and a run of it."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

from tests.browser.conftest import chromium

HERE = Path(__file__).parent
MODULES = HERE / "node_modules"
# Only loopback is reached: a page that asks anything of another host is refused it.
CHROMIUM = (
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--host-resolver-rules='MAP * ~NOTFOUND, EXCLUDE 127.0.0.1'",
)


def pinned() -> str:
    """Return the version of Lighthouse to measure with."""
    return str(json.loads((HERE / "package.json").read_text("utf-8"))["dependencies"]["lighthouse"])


def wanting(modules: Path = MODULES) -> list[str]:
    """Return what is not here and how to get it, a sentence each."""
    found = []
    if shutil.which("npm") is None:
        found.append("There is no npm. Install Node.js with it, such as: apt-get install npm")
    if chromium() is None:
        found.append("There is no Chromium. Install it, such as: apt-get install chromium")
    package = modules / "lighthouse" / "package.json"
    if not package.is_file():
        found.append(f"Lighthouse is not installed. Run: npm ci --prefix {_shown(modules.parent)}")
    elif (version := json.loads(package.read_text("utf-8"))["version"]) != pinned():
        found.append(
            f"Lighthouse {version} is installed, not {pinned()}."
            f" Run: npm ci --prefix {_shown(modules.parent)}"
        )
    return found


def _shown(folder: Path) -> str:
    return os.path.relpath(folder)


def run(address: str) -> dict[str, Any]:
    """Return Lighthouse's report of a page on a phone: mobile, simulated throttling, its defaults.

    Raises:
        RuntimeError: If it gave none.
    """
    command = (
        str(MODULES / ".bin" / "lighthouse"),
        address,
        "--output=json",
        "--output-path=stdout",
        "--quiet",
        "--no-enable-error-reporting",
        f"--chrome-flags={' '.join(CHROMIUM)}",
    )
    environment = {**os.environ, "CHROME_PATH": str(chromium())}
    done = subprocess.run(command, capture_output=True, text=True, env=environment)
    if not done.stdout:
        raise RuntimeError(f"{address}: {done.stderr.strip() or 'Lighthouse said nothing'}")
    report: dict[str, Any] = json.loads(done.stdout)
    return report
