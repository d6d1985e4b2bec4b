"""The commands. Each line of work is elsewhere; here are only options, output and exit codes.

Exit codes: 0 fine, 1 the data have problems, 2 used wrongly.
"""

from __future__ import annotations

import json
import logging
import os
import sys
from collections.abc import Callable
from datetime import date, datetime
from functools import wraps
from pathlib import Path
from typing import Any, BinaryIO, TypeVar

import click

from refgen import __version__
from refgen.errors import RefgenError

F = TypeVar("F", bound=Callable[..., Any])


def _config_file(must_exist: bool) -> Callable[[F], F]:
    return click.option(
        "-f",
        "--config-file",
        default="mkdocs.yml",
        show_default=True,
        type=click.Path(exists=must_exist, dir_okay=False, path_type=Path),
        help="The project's mkdocs.yml.",
    )


_config = _config_file(must_exist=True)
_since = click.option(
    "--since",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="Folder of an earlier revision, such as the last site, to tell what has changed.",
)


def _told(command: F) -> F:
    """Turn what is wrong into one message and exit code 1."""

    @wraps(command)
    def run(*args: Any, **options: Any) -> Any:
        try:
            return command(*args, **options)
        except RefgenError as error:
            click.echo(str(error), err=True)
            sys.exit(1)
        except OSError as error:  # a full disk, a folder that may not be written to
            if error.filename is None or error.strerror is None:
                raise
            click.echo(f"{error.filename}: {error.strerror}.", err=True)
            sys.exit(1)

    return run  # type: ignore[return-value]  # same signature, by wraps


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, "-V", "--version")
def main() -> None:
    """Turn one set of YAML data into a jetting reference that works without signal."""
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")


def _asked(name: str, question: str, usual: str, check: Callable[[str, str], str]) -> str:
    """Ask until the answer can stand."""

    def value(text: str) -> str:
        try:
            return check(name, text)
        except RefgenError as error:
            raise click.UsageError(str(error)) from error

    answer: str = click.prompt(question, default=usual, value_proc=value, err=True)
    return answer


@main.command()
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@click.option("--name", help="Name of the company.")
@click.option("--site", help="Name of the reference.")
@click.option("--units", type=click.Choice(["us", "metric"]), help="Units shown first.")
@click.option("--address", help="Where the site will be found, such as https://jet.example.org/.")
@click.option("--emergency", help="Number of the emergency services.")
@click.option("--primary", help="Colour of the heading bar, as #rrggbb.")
@click.option(
    "--hosting",
    type=click.Choice(["github", "gitlab", "none"]),
    help="Whose CI file to write, for hosting as a static site.",
)
@click.option("--defaults", is_flag=True, help="Ask nothing.")
@_told
def new(folder: Path, defaults: bool, **given: str | None) -> None:
    """Start a company's project in DIR; nothing is overwritten."""
    from refgen.new import answered, company_of, questions, start_project

    for name, question, usual in questions(given):
        given[name] = usual if defaults else _asked(name, question, usual, answered)
    for file in start_project(folder, company_of(given)):
        click.echo(folder / file)
    click.echo(f"Read {folder / 'README.md'}. Its first command builds the site.")


@main.command()
@_config
@click.option("--lock", is_flag=True, help="Note what is published, and what overrides rest on.")
@click.option(
    "--day",
    type=click.DateTime(["%Y-%m-%d"]),
    help="Tell which reviews are overdue on this day; left out, today.",
)
@_since
@_told
def check(config_file: Path, lock: bool, day: datetime | None, since: Path | None) -> None:
    """Tell every mistake in the data, and what should be looked at."""
    from refgen.locks import lock_layers, note_overrides
    from refgen.project import open_project
    from refgen.reports import check_report

    project = open_project(config_file)
    catalog = project.catalog()
    click.echo(check_report(catalog, day.date() if day else date.today()))
    if since is not None:
        click.echo(f"\n{project.changes(since)}")
    if lock:
        for path, added in lock_layers(catalog, project.own_layers):
            click.echo(f"{path}: {added} new")
        for path in note_overrides(catalog, project.own_layers):
            click.echo(f"{path}: noted what stands below")


@main.command()
@_config_file(must_exist=False)  # with --all there are many
@click.option("--strict", is_flag=True, help="Treat warnings of MkDocs as errors.")
@_since
@click.option(
    "--all",
    "every",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="Build every project in this folder instead, several at once.",
)
@click.option("--jobs", type=click.IntRange(1), help="How many at once; left out, one a core.")
@_told
def build(
    config_file: Path, strict: bool, since: Path | None, every: Path | None, jobs: int | None
) -> None:
    """Build the site; the last good one stays until it is whole."""
    from refgen.many import build_all
    from refgen.project import open_project

    if every is not None:
        if since is not None:
            raise click.UsageError("'--since' names one revision; with '--all' each keeps its own.")
        wrong = 0
        for built in build_all(every, strict, jobs):
            wrong += bool(built.wrong)
            click.echo(
                f"{built.project}: {built.wrong or f'{built.pages} pages'}", err=bool(built.wrong)
            )
        sys.exit(1 if wrong else 0)
    if not config_file.exists():
        message = f"File '{config_file}' does not exist."
        raise click.BadParameter(message, param_hint="'-f' / '--config-file'")
    site, pages = open_project(config_file).build(strict, since, again=False)
    click.echo(f"{pages} pages in {site}")


@main.command("zip")
@_config
@click.option(
    "--out",
    default="site.zip",
    show_default=True,
    type=click.Path(dir_okay=False, path_type=Path),
    help="File to write.",
)
@_told
def zip_command(config_file: Path, out: Path) -> None:
    """Put the built site into one file, for a stick or an email."""
    from refgen.archive import write_zip
    from refgen.project import open_project

    files = write_zip(open_project(config_file).site, out)
    click.echo(f"{files} files in {out}")


@main.command()
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@_config
@_told
def export(folder: Path, config_file: Path) -> None:
    """Write every page to DIR as plain HTML and as Markdown."""
    from refgen.project import open_project

    pages = open_project(config_file).export(folder)
    click.echo(f"{pages} pages in {folder}, as html and as markdown")


@main.command()
@_config
@click.option("--port", default=8000, show_default=True, help="Port to serve on.")
@click.option("--host", default="127.0.0.1", show_default=True, help="Address to serve on.")
@_told
def serve(config_file: Path, port: int, host: str) -> None:
    """Show the site while you edit; a mistake leaves the good pages."""
    from refgen.project import open_project

    logging.basicConfig(level=logging.INFO, format="%(message)s")
    click.echo(f"Serving on http://{host}:{port}/ (stop with Ctrl+C)")
    open_project(config_file).serve(host, port)


@main.command()
@click.argument("setup", type=click.File("rb"))
@_config_file(must_exist=False)  # a setup that names no record needs no project
@click.option("--json", "as_json", is_flag=True, help="Print the numbers in SI units as JSON.")
@click.option(
    "--units",
    type=click.Choice(["us", "metric"]),
    default="us",
    show_default=True,
    help="Units shown first.",
)
@_told
def solve(setup: BinaryIO, config_file: Path, as_json: bool, units: Any) -> None:
    """Work out what comes out of a SETUP (a YAML file, - for stdin)."""
    from refgen.answers import answer, read_setup
    from refgen.project import open_project

    name = getattr(setup, "name", "<stdin>")
    try:
        text = setup.read().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise RefgenError(f"{name}: the setup is not text in UTF-8. Save it so.") from error
    asked = read_setup(text, name)
    named = asked.names_records
    found = answer(asked, open_project(config_file).catalog() if named else None)
    click.echo(json.dumps(found.data(), indent=1) if as_json else found.text(units), nl=as_json)


@main.command()
@_config
@_told
def schema(config_file: Path) -> None:
    """Write JSON Schemas and the setting by which editors find them."""
    from refgen.project import open_project

    for line in open_project(config_file).write_schemas():
        click.echo(line)


@main.command()
@click.argument("old")
@click.argument("new")
@_config
@_told
def rename(old: str, new: str, config_file: Path) -> None:
    """Give OLD (kind/id, kind/id#item) the id NEW; old links last."""
    from refgen.project import open_project
    from refgen.rename import rename as rename_everywhere
    from refgen.sources import show_path

    project = open_project(config_file)
    project.catalog()  # refuse to rename in data that are already wrong
    for file, places in rename_everywhere(project.own_layers, old, new).files.items():
        click.echo(f"{show_path(Path(file), project.root)}: {places}")
    project.catalog()
