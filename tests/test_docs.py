"""What README and DEVELOPERS.md say is compared with the code."""

from __future__ import annotations

import re
from pathlib import Path

import click

from refgen import __version__
from refgen.cli import main
from refgen.model import KINDS
from refgen.options import RefgenConfig

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")


def test_readme_names_every_command_with_its_own_options() -> None:
    for name, command in main.commands.items():
        line = next(line for line in README.splitlines() if line.startswith(f"| `refgen {name}"))
        for parameter in command.params:
            if isinstance(parameter, click.Option) and parameter.name != "config_file":
                assert parameter.opts[-1] in line, f"{name} {parameter.opts[-1]}"


def test_readme_names_no_command_that_is_not_there() -> None:
    assert set(re.findall(r"^\| `refgen (\w+)", README, re.MULTILINE)) == set(main.commands)


def test_readme_describes_every_option_of_the_plugin() -> None:
    for name, _ in RefgenConfig()._schema:
        assert f"`{name}`" in README


def test_the_main_job_stands_in_readmes_first_paragraph() -> None:
    first = README.split("\n\n")[1]
    assert first.startswith("**refgen turns one set of YAML data")
    assert "without signal" in first


def test_the_changes_begin_with_this_version_in_whole_sentences() -> None:
    changes = README.partition("## Changes\n\n")[2].split("\n\n")[0].splitlines()
    assert changes[0].startswith(f"- **{__version__}** ")
    assert all(re.fullmatch(r"- \*\*\d+\.\d+\.\d+\*\* [A-Z].*\.", line) for line in changes)


def test_developers_names_every_module_and_no_other() -> None:
    modules = {
        path.name.removesuffix(".py") + ("/" if path.is_dir() else "")
        for path in (ROOT / "refgen").iterdir()
        if not path.name.startswith("_") and path.name != "bundled"
    }
    table = DEVELOPERS.split("| stage | module |")[1].split("\n\n")[0]
    named: set[str] = set()
    for row in table.splitlines()[2:]:
        named |= set(re.findall(r"`([a-z_]+/?)`", row.split("|")[2]))
    assert named == modules


def test_developers_fits_two_screens() -> None:
    assert len(DEVELOPERS.splitlines()) <= 80


def test_every_kind_has_its_template() -> None:
    for kind in KINDS:
        name = f"{kind}-index" if kind in ("terms", "sources") else kind
        assert (ROOT / "site_templates" / "pages" / f"{name}.html").is_file()
