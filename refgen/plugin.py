"""The one stage that knows MkDocs: it hands over finished pages and asks for a frame round them.

Everything is read and checked in `on_pre_build`, before MkDocs empties the last good site.
MkDocs then gets an empty page for each of ours; the frame asks for our HTML.
"""

from __future__ import annotations

import gc
import logging
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import material
from mkdocs.commands.build import build
from mkdocs.commands.serve import serve
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, ConfigurationError, MkDocsException, PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin, event_priority, get_plugin_logger
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page as MkDocsPage
from mkdocs.utils.templates import TemplateContext

from refgen.addresses import index_address, root_of, twins
from refgen.assets import own_files
from refgen.bundled import bundled
from refgen.compose import Site, compose, uncollected
from refgen.errors import RefgenError
from refgen.model import KINDS
from refgen.offline import worker_script, write_offline, write_retired
from refgen.options import RefgenConfig
from refgen.pages import Page
from refgen.settings import check_site, line_of, told
from refgen.watching import LOOK_EVERY, observer_of

log = get_plugin_logger("refgen")

# Scripts only from the site itself; no plug-ins, no changed base address, nowhere to send a form.
POLICY = "script-src 'self'; object-src 'none'; base-uri 'none'; form-action 'none'"

_THEME = "write 'theme: {name: material}'; the pages rest on it."


class RefgenPlugin(BasePlugin[RefgenConfig]):  # type: ignore[no-untyped-call]  # MkDocs leaves its base untyped
    """Builds the reference; see the module for the order of events."""

    def __init__(self) -> None:
        self.serving = False
        self.called_by_us = False
        """Whether `refgen build` runs it, which tells mistakes itself."""
        self.again = False
        """Whether this process will build again; if not, nothing need be kept for that."""
        self.site: Site | None = None
        self.pages: dict[str, Page] = {}

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Remember what runs; having this method also keeps the plugin between rebuilds."""
        self.serving = self.again = command == "serve"

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Set what the reference rests on, whatever mkdocs.yml says."""
        if config.theme.name != "material":
            raise PluginError(f"mkdocs.yml: {_THEME}")
        config.use_directory_urls = False
        config.theme.dirs.insert(0, str(self.templates / "theme"))
        config.theme.static_templates.clear()
        return config

    @property
    def templates(self) -> Path:
        """Folder of the templates."""
        return Path(self.config.templates) if self.config.templates else bundled("site_templates")

    def layers(self, config: MkDocsConfig) -> list[Path]:
        """Return the folders of data in order."""
        here = Path(config.config_file_path or "mkdocs.yml").resolve().parent
        return [
            bundled("data/base") if layer == "base" else here / layer
            for layer in self.config.layers
        ]

    def on_serve(
        self, server: LiveReloadServer, *, config: MkDocsConfig, **_: Any
    ) -> LiveReloadServer:
        """Rebuild when data or a template changes, and soon."""
        watched = [config.docs_dir, *filter(None, [config.config_file_path])]
        for path in watched:
            server.unwatch(path)
        folders = [*self.layers(config), self.templates]
        server.observer = observer_of(folders)  # type: ignore[assignment]  # of the same base
        server.build_delay = LOOK_EVERY / 2
        for path in (*watched, *map(str, folders)):
            server.watch(path)
        server.builder = _kept_going(server.builder)
        return server

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Read and check everything; while serving, a mistake leaves the last good pages."""
        here = Path(config.config_file_path or "mkdocs.yml").resolve().parent
        try:
            since = here / self.config.since
            with uncollected():
                self.site = compose(self.layers(config), self.templates, here, since, self.again)
        except RefgenError as error:
            if not self.serving or self.site is None:
                if self.called_by_us:
                    raise
                raise PluginError(str(error)) from error
            log.error("%s\nShowing the last good pages.", error)
        for problem in self.site.catalog.advice if self.site else ():
            log.info("look at %s", problem)

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Put our pages and assets in, and the theme's own files, which we do not use, out."""
        assert self.site is not None
        theme = Path(material.__file__).parent / "templates"
        docs = Path(config.docs_dir)
        for file in list(files):
            if not Path(file.abs_src_path or "").is_relative_to(docs):
                files.remove(file)
        self.pages = {}
        for page in self.site.pages:
            source = page.address.removesuffix(".html") + ".md"
            self.pages[source] = page
            file = File.generated(config, source, content="", inclusion=InclusionLevel.NOT_IN_NAV)
            # A file that came with refgen lies outside of the project, where nobody edits it.
            ours = page.source and not Path(page.source).is_absolute()
            file.edit_uri = page.source if ours else None
            files.append(file)
        css = sorted((theme / "assets" / "stylesheets").glob("*.min.css"))
        theme_css = "\n".join(path.read_text("utf-8") for path in css)
        catalog = self.site.catalog
        assets = own_files(self.templates, theme_css, catalog.brand, catalog.w, catalog.logo)
        for address, content in {**self.site.files, **self.site.exports, **assets}.items():
            files.append(File.generated(config, address, content=content))
        return files

    def on_page_context(
        self, context: TemplateContext, *, page: MkDocsPage, **_: Any
    ) -> TemplateContext:
        """Give the frame what it needs."""
        assert self.site is not None
        ours, catalog = self.pages[page.file.src_uri], self.site.catalog
        context["refgen"] = {  # type: ignore[typeddict-unknown-key]  # ours, beside MkDocs' own
            "page": ours,
            "brand": catalog.brand,
            "logo": catalog.logo,
            "w": catalog.w,
            "root": root_of(ours.address),
            "up": _up(ours, catalog.w),
            "twins": twins(catalog.brand, ours.address),
            # MkDocs' live reload writes its script into the page; only there the policy is off.
            "policy": "" if self.serving else POLICY,
            # A kept page would be an old one while it is edited: no worker, and no word of it.
            "offline": not self.serving,
        }
        return context

    @event_priority(-200)
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """When every other file is there, write the worker that lists them all."""
        worker = worker_script(self.templates / "theme")
        if self.serving:
            write_retired(Path(config.site_dir), worker)
        else:
            assert self.site is not None
            withdrawn = {p.address: p.withdrawn for p in self.site.pages if p.withdrawn}
            lost = self.site.catalog.w["unreached_lead"]
            write_offline(Path(config.site_dir), worker, withdrawn, self.site.exports, lost)


def _up(page: Page, words: Mapping[str, str]) -> dict[str, str] | None:
    """Return the index above a page, for the way back."""
    if page.kind not in KINDS or page.id == "index":
        return None
    return {"address": index_address(page.kind), "title": words[f"kind_{page.kind}"]}


def _kept_going(build: Callable[[], None]) -> Callable[[], None]:
    """Return a rebuild after whose failure the last good pages are shown, not waited for."""

    def rebuild() -> None:
        try:
            build()
        except (MkDocsException, OSError, ValueError) as error:  # a broken mkdocs.yml, say
            log.error("%s\nShowing the last good pages.", error)

    return rebuild


def open_config(config_file: Path) -> tuple[list[Path], Path, Path, Path]:
    """Return layers, site folder, templates and earlier revision that an mkdocs.yml names.

    Raises:
        RefgenError: If the file is not right, or does not use refgen.
    """
    config = _loaded(config_file)
    plugin = config.plugins.get("refgen")
    if not isinstance(plugin, RefgenPlugin):
        hint = "Add 'refgen' under 'plugins:'."
        raise RefgenError(f"{config_file}:1: this project does not use refgen. {hint}")
    since = config_file.resolve().parent / plugin.config.since
    if config.theme.name != "material":
        raise told(config_file, [f"Config value 'theme': {_THEME}"])
    layers, site, templates = plugin.layers(config), Path(config.site_dir), plugin.templates
    if not (templates / "theme").is_dir():
        at = line_of(config_file, "templates")
        raise RefgenError(f"{config_file}:{at}: templates: {templates} holds no templates of pages")
    check_site(config_file, site, [*layers, templates, Path(config.docs_dir), config_file])
    return layers, site, templates, since


class _Said(logging.Handler):
    """Keeps what is logged, as text."""

    def __init__(self, level: int) -> None:
        super().__init__(level)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.said.append(record.getMessage())


def _loaded(config_file: Path) -> MkDocsConfig:
    """Return the configuration; what MkDocs would only log of a mistake is told."""
    handler = _Said(logging.ERROR)
    logger = logging.getLogger("mkdocs.config")
    logger.addHandler(handler)
    above, logger.propagate = logger.propagate, False
    try:
        return load_config(str(config_file))
    except PluginError as error:
        raise told(config_file, [str(error).partition(": ")[2]]) from error
    except (ConfigurationError, Abort) as error:
        raise told(config_file, handler.said or [str(error)]) from error
    except UnicodeDecodeError as error:
        raise told(config_file, ["the file cannot be read as YAML in UTF-8"]) from error
    finally:
        logger.removeHandler(handler)
        logger.propagate = above


def build_site(
    config_file: Path, folder: Path, strict: bool, since: Path | None = None, again: bool = True
) -> None:
    """Build the site of an mkdocs.yml into a folder.

    Args:
        config_file: The mkdocs.yml.
        folder: Where the site is written.
        strict: Whether MkDocs' warnings count as errors.
        since: Folder of an earlier revision; goes before what the mkdocs.yml says of that.
        again: Whether this process builds more of the same data afterwards.
    """
    config = load_config(str(config_file), site_dir=str(folder), strict=strict)
    plugin = config.plugins["refgen"]
    assert isinstance(plugin, RefgenPlugin)
    plugin.called_by_us = True
    if since is not None:
        plugin.config.since = str(since.resolve())
    config.plugins.on_startup(command="build", dirty=False)
    plugin.again = again
    try:
        with uncollected():
            build(config)
    except Abort as error:
        raise RefgenError("MkDocs warned, and warnings count as errors here.") from error
    except MkDocsException as error:
        raise RefgenError(str(error)) from error
    finally:
        config.plugins.on_shutdown()
    if not again:
        gc.freeze()  # the program ends: no need to go over all data once more before that


def serve_site(config_file: Path, host: str, port: int) -> None:
    """Serve the site of an mkdocs.yml until stopped, rebuilding on edits."""
    try:
        serve(str(config_file), dev_addr=f"{host}:{port}")
    except MkDocsException as error:
        raise RefgenError(str(error)) from error
    except OSError as error:
        hint = "Choose another with --port."
        raise RefgenError(f"cannot serve on {host}:{port}: {error.strerror}. {hint}") from error
