"""What is wrong with an mkdocs.yml, told with its line, and where its site must not go."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from refgen.errors import RefgenError

_NAMES = {"str": "text", "list": "a list", "dict": "a map of fields", "int": "a whole number"}
_NAMES |= {"bool": "true or false", "float": "a number", "NoneType": "nothing"}
_VALUE = re.compile(r"Config value '(?P<name>[^']+)': (?P<said>.*)", re.DOTALL)
_OPTION = re.compile(
    r"Plugin '[^']+' (?:option|value):? '(?P<name>[^']+)'[:.]? ?(?P<said>.*)", re.DOTALL
)
_LINE = re.compile(r"line (\d+), column \d+")


def told(config_file: Path, said: Iterable[str]) -> RefgenError:
    """Return what the builder says of an mkdocs.yml, with the line and in plain words."""
    lines = []
    # All that is wrong with a plugin's options comes as one message, a line each.
    for message in (one for text in said for one in re.split(r"\n(?=Plugin ')", text)):
        value = _VALUE.match(message)
        if match := _OPTION.match(value["said"] if value else message) or value:
            at = line_of(config_file, match["name"])
            fact = f"{match['name']}: {_plain(match['said'])}"
        else:
            found = _LINE.search(message)
            at, fact = int(found[1]) if found else 1, _plain(message)
        lines.append(f"{config_file}:{at}: {fact}")
    return RefgenError("\n".join(lines) or f"{config_file}:1: cannot be used")


def line_of(config_file: Path, name: str) -> int:
    """Return the line of a field, or of the last part of its name that is there; 1 if none is."""
    try:
        lines = config_file.read_text("utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        return 1
    for part in reversed(re.split(r"[.\[\]]+", name)):
        for number, line in enumerate(lines, 1):
            if part and re.match(rf"[\s-]*[{{]?\s*['\"]?{re.escape(part)}['\"]?\s*(:|$)", line):
                return number
    return 1


def check_site(config_file: Path, site: Path, kept: Iterable[Path]) -> None:
    """Make sure that a site may take the place of what is there.

    Args:
        config_file: The project's mkdocs.yml.
        site: Where the site is to go.
        kept: Folders and files that must never be replaced: layers, templates, what is published.

    Raises:
        RefgenError: If the site would replace one of them, stand in one, or replace what no build
            has put there.
    """
    at = f"{config_file}:{line_of(config_file, 'site_dir')}: site_dir"
    here = site.resolve()
    hint = "Name a folder of its own for the site."
    for path in kept:
        there = path.resolve()
        if there.is_relative_to(here):
            raise RefgenError(f"{at}: the site would take the place of {path}. {hint}")
        if here.is_relative_to(there):
            raise RefgenError(f"{at}: the site would stand within {path}. {hint}")
    if here.exists() and not here.is_dir():
        raise RefgenError(f"{at}: {site} is a file. {hint}")
    if here.is_dir() and any(here.iterdir()) and not (here / "index.html").is_file():
        raise RefgenError(f"{at}: {site} holds what no build has put there. {hint}")


def _plain(said: str) -> str:
    """Return a message without the words of programmers, on one line."""
    said = re.sub(r"<class '(\w+)'>", lambda m: _NAMES.get(m[1], m[1]), said)
    return " ".join(said.split())
