"""The lowest versions that pyproject.toml allows: `python -m tests.lowest [--check]`.

Prints them as constraints for pip; with `--check` says which of them are not what is installed.
`.ci/lowest` runs a part of the tests with exactly these, so that the bounds are true.
"""

from __future__ import annotations

import re
import sys
import tomllib
from importlib.metadata import version
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[1] / "pyproject.toml"
_REQUIREMENT = re.compile(r"(?P<name>[\w.-]+)(?:\[[\w,-]+\])?>=(?P<version>[\d.]+)(?:,.*)?")


def lowest() -> dict[str, str]:
    """Return the lowest allowed version of every requirement by its name.

    Raises:
        ValueError: If a requirement has no lower bound.
    """
    project = tomllib.loads(PROJECT.read_text("utf-8"))["project"]
    found = {}
    for requirement in (*project["dependencies"], *project["optional-dependencies"]["dev"]):
        match = _REQUIREMENT.fullmatch(requirement)
        if match is None:
            raise ValueError(f"'{requirement}' has no lower bound")
        found[match["name"]] = match["version"]
    return found


def release(number: str) -> tuple[int, ...]:
    """Return a version as numbers, in which 8.1 and 8.1.0 are the same."""
    parts = [int(part) for part in re.findall(r"\d+", number)]
    while parts and parts[-1] == 0:
        parts.pop()
    return tuple(parts)


def main() -> None:
    """Print the constraints, or tell what is installed in another version."""
    if "--check" not in sys.argv:
        print("\n".join(f"{name}=={number}" for name, number in lowest().items()))
        return
    other = {
        name: version(name)
        for name, number in lowest().items()
        if release(version(name)) != release(number)
    }
    if other:
        sys.exit(f"not the lowest version: {other}")


if __name__ == "__main__":
    main()
