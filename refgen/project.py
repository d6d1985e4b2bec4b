"""A company's project: its mkdocs.yml, its layers, and what can be done with them."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from refgen.addresses import CHANGES
from refgen.bundled import is_installed
from refgen.catalog import Catalog
from refgen.compose import compose, read_catalog
from refgen.errors import RefgenError
from refgen.export import write_export
from refgen.news import changes, told
from refgen.plugin import build_site, open_config, serve_site
from refgen.revisions import Revision, read_revision
from refgen.schema import editor_settings, write_schemas
from refgen.sources import show_path
from refgen.swap import built_beside
from refgen.views import View


@dataclass(frozen=True)
class Project:
    """An opened project."""

    config_file: Path
    layers: tuple[Path, ...]
    site: Path
    templates: Path
    since: Path
    """Folder that keeps an earlier revision, if there is one."""

    @property
    def root(self) -> Path:
        """Folder of mkdocs.yml, against which files are named to the author."""
        return self.config_file.resolve().parent

    @property
    def own_layers(self) -> list[Path]:
        """The layers that lie in this project, which alone may be edited.

        An environment made inside the project brings the base with it; that copy is not its own.
        """
        return [
            layer
            for layer in self.layers
            if layer.resolve().is_relative_to(self.root) and not is_installed(layer)
        ]

    def catalog(self) -> Catalog:
        """Return the checked catalog."""
        return read_catalog(self.layers, self.root)

    def build(self, strict: bool = False, since: Path | None = None) -> tuple[str, int]:
        """Build the site and swap it in; return where it is and how many pages it has.

        Raises:
            RefgenError: If the data are wrong, or `since` keeps no earlier revision.
        """
        if since is not None:
            _revision_in(since)
        with built_beside(self.site) as beside:
            build_site(self.config_file, beside, strict, since)
            pages = len(list(beside.rglob("*.html")))
        return show_path(self.site, Path.cwd()), pages

    def export(self, folder: Path) -> int:
        """Write the pages to a folder as plain HTML and as Markdown; return how many there are.

        Raises:
            RefgenError: If the data are wrong, or the folder holds anything but an export.
        """
        site = compose(self.layers, self.templates, self.root, self.since)
        return write_export(site, self.templates, folder)

    def changes(self, since: Path) -> str:
        """Return what has changed since a revision, a line each, for whoever edits.

        Raises:
            RefgenError: If the data are wrong, or `since` keeps no earlier revision.
        """
        before = _revision_in(since)
        return told(changes(View(self.catalog(), CHANGES), before))

    def serve(self, host: str, port: int) -> None:
        """Serve until stopped, rebuilding on edits."""
        serve_site(self.config_file, host, port)

    def write_schemas(self) -> list[str]:
        """Write the schemas and, if there is none, the editors' setting; tell what was written."""
        written = [show_path(path, self.root) for path in write_schemas(self.root)]
        names = [show_path(layer, self.root) for layer in self.own_layers]
        settings = self.root / ".vscode" / "settings.json"
        wanted = editor_settings(names)
        kept = _settings_in(settings)
        kept |= wanted
        settings.parent.mkdir(exist_ok=True)
        settings.write_text(json.dumps(kept, indent=1) + "\n", "utf-8")
        return [*written, show_path(settings, self.root)]


def _settings_in(file: Path) -> dict[str, Any]:
    """Return an editor's settings as they are kept.

    Raises:
        RefgenError: If they cannot be read, or lie outside the project's folder.
    """
    if not file.resolve().is_relative_to(file.parents[1].resolve()):
        raise RefgenError(f"{file}: leads out of the project. Take the link away.")
    try:
        kept = json.loads(file.read_text("utf-8")) if file.exists() else {}
    except ValueError as error:
        raise RefgenError(
            f"{file}: is no plain JSON ({error}). Mend it, or move it away."
        ) from error
    if not isinstance(kept, dict):
        raise RefgenError(f"{file}: holds no settings. Mend it, or move it away.")
    return kept


def _revision_in(folder: Path) -> Revision:
    revision = read_revision(folder)
    if revision is None:
        hint = "It is a folder with catalog.json and figures.json of a published site."
        raise RefgenError(f"{folder}: keeps no earlier revision. {hint}")
    return revision


def open_project(config_file: Path) -> Project:
    """Return the project of an mkdocs.yml.

    Raises:
        RefgenError: If the file is not right, or does not use refgen.
    """
    layers, site, templates, since = open_config(config_file)
    return Project(config_file, tuple(layers), site, templates, since)
