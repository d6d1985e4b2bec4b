"""A company's project from nothing: its brand, its layer, its two commands.

The files are written out, laid over the shared data and checked before one of them reaches the
company's folder, so a new project is always one that builds.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator, Mapping, MutableMapping
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory
from typing import Any, Literal, get_args
from urllib.parse import unquote, urlsplit

from refgen import __version__
from refgen.bundled import bundled
from refgen.catalog import Catalog
from refgen.colours import LEAST_CONTRAST, contrast, ink_on, nearest_ground
from refgen.compose import read_catalog
from refgen.errors import RefgenError
from refgen.model.equipment import Part
from refgen.units import System

Hosting = Literal["github", "gitlab", "none"]

LAYER = "data/ours"
_SAMPLE = ("hand-reel", "petrol-engine")
"""What the example of a machine has of the parts that machines differ in."""
# Where a template goes; examples keep their place below the layer.
_PLACES = {
    "mkdocs.yml": "mkdocs.yml",
    "README.md": "README.md",
    "requirements.txt": "requirements.txt",
    "gitignore": ".gitignore",
    "gitkeep": "files/.gitkeep",
    "brand.yml": f"{LAYER}/brand.yml",
    "github.yml": ".github/workflows/publish.yml",
    "gitlab.yml": ".gitlab-ci.yml",
    "hosting/nginx.conf": "hosting/nginx.conf",
    "hosting/Caddyfile": "hosting/Caddyfile",
}
# An answer by its name, or a size in US units and the round one that stands for it in metric.
_MARK = re.compile(r"<<(?:(\w+)|([^<>|]+)\|([^<>|]+))>>")


class CannotStart(RefgenError):
    """A new project would overwrite what is there."""


@dataclass(frozen=True)
class Company:
    """What a new company says of itself."""

    name: str
    site: str
    units: System
    primary: str
    on_primary: str
    address: str = ""
    emergency: str = ""
    hosting: Hosting = "github"


def questions(given: MutableMapping[str, str | None]) -> Iterator[tuple[str, str, str]]:
    """Yield name, question and usual answer of everything that is not given yet.

    An answer must be put into `given` before the next question is taken, which may build on it.
    """
    for name, question, usual in (
        ("name", "Name of the company", "Our company"),
        ("site", "Name of the reference", "{name}{jetting} reference"),
        ("units", "Units shown first, us or metric", "us"),
        ("address", "Address of the site, if it is known", ""),
        ("emergency", "Number of the emergency services, if they are to be shown", ""),
        ("primary", "Colour of the heading bar", "#1d3b53"),
        ("hosting", "Whose CI file to write: github, gitlab or none", "github"),
    ):
        if given.get(name) is None:
            company = given["name"] or ""
            jetting = "" if "jet" in company.lower() else " jetting"  # its name says it already
            yield name, question, usual.format(name=company, jetting=jetting)


def answered(name: str, answer: str) -> str:
    """Return an answer as typed, after making sure that it can stand.

    Raises:
        CannotStart: If it is none that can be chosen, or no colour that can be read.
    """
    choices = {"units": get_args(System), "hosting": get_args(Hosting)}.get(name, ())
    if choices and answer not in choices:
        raise CannotStart(f"{name}: '{answer}' is none of {', '.join(choices)}.")
    if name == "address" and answer and not answer.startswith(("https://", "http://")):
        raise CannotStart(f"address: '{answer}' is no address. Such as https://jet.example.org/.")
    if name != "primary":
        return answer
    if not re.fullmatch("#[0-9a-fA-F]{6}", answer):
        raise CannotStart(f"primary: '{answer}' is no colour. Such as #1d3b53.")
    if contrast(answer, ink := ink_on(answer)) < LEAST_CONTRAST:
        nearest = nearest_ground(answer, ink)
        fact = f"neither white nor black on it has a contrast of {LEAST_CONTRAST:g} to 1"
        raise CannotStart(f"primary: {fact}. The nearest that passes is '{nearest}'.")
    return answer


def company_of(answers: Mapping[str, str | None]) -> Company:
    """Return the company of some answers.

    Raises:
        CannotStart: If one of them cannot stand.
    """
    said = {name: answered(name, answer or "") for name, answer in answers.items()}
    return Company(
        name=said["name"],
        site=said["site"],
        units="metric" if said["units"] == "metric" else "us",
        primary=said["primary"],
        on_primary=ink_on(said["primary"]),
        address=said["address"],
        emergency=said["emergency"],
        hosting=next(choice for choice in get_args(Hosting) if choice == said["hosting"]),
    )


def start_project(folder: Path, company: Company) -> list[str]:
    """Write a project that passes check and build; return the files, from the folder.

    Raises:
        CannotStart: If one of the files is already there; then nothing is written.
        DataError: If an answer cannot stand in a brand; then nothing is written.
    """
    base = bundled("data/base")
    values = _values(company, read_catalog([base], base))
    origin = _origin()
    wheel = Path(unquote(urlsplit(origin).path)) if origin.startswith("file://") else None
    values["requirement"] = _requirement(origin, wheel)
    files = {
        place: _filled(template.read_text("utf-8"), values).encode()
        for place, template in _templates(company.hosting)
    }
    files[f"{LAYER}/assets/.gitkeep"] = b""
    if wheel is not None and wheel.is_file():  # what no registry has must travel with the project
        files[wheel.name] = wheel.read_bytes()
    there = sorted(place for place in files if os.path.lexists(folder / place))
    if there:
        hint = "Choose another folder, or move them away. Nothing was written."
        raise CannotStart(f"{folder}: already has {', '.join(there)}. {hint}")
    for place in files:
        if not (folder / place).parent.resolve().is_relative_to(folder.resolve()):
            hint = "Take the link away. Nothing was written."
            raise CannotStart(f"{folder / place}: a link leads out of the folder. {hint}")
    with TemporaryDirectory() as trial:
        _write(Path(trial), files)
        read_catalog([base, Path(trial) / LAYER], Path(trial))
    _write(folder, files)
    return sorted(files)


def _templates(hosting: Hosting) -> Iterator[tuple[str, Path]]:
    """Yield each file's place in the project and its template."""
    folder = bundled("site_templates") / "new"
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_file() and (name not in ("github.yml", "gitlab.yml") or path.stem == hosting):
            yield _PLACES.get(name, f"{LAYER}/{name}"), path


def _values(company: Company, base: Catalog) -> dict[str, str]:
    """Return what the marks in the templates stand for; texts are quoted as YAML takes them."""
    address = f"address: {_quoted(company.address)}"
    emergency = [
        "emergency:",
        "  - id: emergency",
        "    label: Fire, ambulance, police",
        f"    number: {_quoted(company.emergency or '112')}",
    ]
    lines: dict[str, list[str]] = {"fitted": [], "usual": [], "not_fitted": []}
    for name, part in base.of_kind("parts").items():
        if isinstance(part, Part):
            told = "usual" if not part.ask else "fitted" if name in _SAMPLE else "not_fitted"
            lines[told].append(f"  - {name} # {part.title}")
    return {
        "name": _quoted(company.name),
        "site": _quoted(company.site),
        "name_plain": company.name,
        "site_plain": company.site,
        "units": company.units,
        "primary": company.primary,
        "on_primary": company.on_primary,
        "host": urlsplit(company.address).hostname or "jet.example.org",
        "address_line": address if company.address else "# address: https://jetting.example.org/",
        "emergency_lines": "\n".join(
            emergency if company.emergency else (f"# {line}" for line in emergency)
        ),
        **{told: "\n".join(those) for told, those in lines.items()},
    }


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _filled(text: str, values: dict[str, str]) -> str:
    metric = values["units"] == "metric"
    return _MARK.sub(lambda mark: values[mark[1]] if mark[1] else mark[2 + metric], text)


def _write(folder: Path, files: dict[str, bytes]) -> None:
    for place, content in sorted(files.items()):
        path = folder / PurePosixPath(place)
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as file:  # never over what has come up meanwhile
            file.write(content)


def _origin() -> str:
    """Return the address this copy of refgen was installed from, '' if from a registry.

    Source: PEP 610, `direct_url.json`.
    """
    try:
        text = metadata.distribution("refgen").read_text("direct_url.json")
    except metadata.PackageNotFoundError:
        return ""
    told: dict[str, Any] = json.loads(text or "{}")
    url = str(told.get("url", ""))
    vcs = told.get("vcs_info")
    return f"{vcs['vcs']}+{url}@{vcs['commit_id']}" if vcs else url


def _requirement(origin: str, wheel: Path | None) -> str:
    """Return the line by which pip finds this very copy of refgen again."""
    if wheel is not None and wheel.is_file():
        return f"./{wheel.name}"
    if origin and wheel is None:
        return f"refgen @ {origin}"
    return f"refgen=={__version__}"
