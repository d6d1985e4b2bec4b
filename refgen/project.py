"""A company's project: its mkdocs.yml, its layers, and what can be done with them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from refgen.addresses import CHANGES
from refgen.bundled import is_installed
from refgen.catalog import Catalog
from refgen.compose import compose, read_catalog
from refgen.errors import RefgenError
from refgen.export import write_export
from refgen.news import changes, told
from refgen.plugin import build_site, open_config, serve_site
from refgen.revisions import Revision, read_revision
from refgen.schema import write_schemas, write_settings
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

    def build(
        self, strict: bool = False, since: Path | None = None, again: bool = True
    ) -> tuple[str, int]:
        """Build the site and swap it in; return where it is and how many pages it has.

        With `again` false less memory is taken, and the next build in this process is slower.

        Raises:
            RefgenError: If the data are wrong, or `since` keeps no earlier revision.
        """
        if since is not None:
            _revision_in(since)
        with built_beside(self.site) as beside:
            build_site(self.config_file, beside, strict, since, again)
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
        """Write the schemas, and into an editor's settings where it finds them; tell the files.

        Raises:
            RefgenError: If either cannot be written without harm to what is there.
        """
        layers = [show_path(layer, self.root) for layer in self.own_layers]
        written = [*write_schemas(self.root), write_settings(self.root, layers)]
        return [show_path(path, self.root) for path in written]


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
