"""The import graph of refgen: one direction, and few who know YAML or MkDocs."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from graphlib import TopologicalSorter
from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[1] / "refgen"

# From left to right: what stands on one line does not import each other either.
LINE = """
errors swap forks watching bundled remarks stylesheets colours packs elements spelling
measures syntax settings options
units
nodes
sources edits vectors markdown outlines
logos
layers
phrases model
messages references schema addresses icons
hashes
entries
noted fitting published linking rename grounds advice branching
diagnosis judging
catalog
hydraulics
rigs
setups reports locks
texts conditions
tables
pictures worksheet views answers
listings lessons comparison handbooks marks revisions
news
templates
pages
findable
search offline assets directory feed
compose
plugin new export
project archive
many
cli
__main__
"""
RANK = {name: rank for rank, row in enumerate(LINE.split("\n")) for name in row.split()}


def imports_of(source: str) -> Iterator[str]:
    """Yield every module a text imports, be it within a function or for types only."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "relative imports hide where they lead"
            yield node.module or ""
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.Call):
            called = ast.unparse(node.func)
            assert called not in ("__import__", "importlib.import_module", "import_module")


def modules() -> dict[str, set[str]]:
    """Return the modules of refgen with what each imports, by dotted name."""
    paths = {
        ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts): path
        for path in PACKAGE.rglob("*.py")
    }
    named = {name.removesuffix(".__init__"): path for name, path in paths.items()}
    return {name: set(imports_of(path.read_text("utf-8"))) for name, path in named.items()}


MODULES = modules()


def stage(module: str) -> str:
    return module.split(".")[1] if "." in module else ""


def stages_imported() -> dict[str, set[str]]:
    """Return each stage with the other stages it imports."""
    graph: dict[str, set[str]] = {}
    for module, imported in MODULES.items():
        inner = {stage(name) for name in imported if name.startswith("refgen.")}
        graph.setdefault(stage(module), set()).update(inner & RANK.keys() - {stage(module)})
    return graph


def test_imports_are_seen_wherever_they_stand() -> None:
    source = (
        "import a.b\nfrom c import d as e\nif TYPE_CHECKING:\n    from f import g\n"
        "def h():\n    import i\n    class J:\n        from k.l import m\n"
    )
    assert set(imports_of(source)) == {"a.b", "c", "c.d", "f", "f.g", "i", "k.l", "k.l.m"}


def test_every_module_has_its_place_in_the_line() -> None:
    stages = {stage(module) for module in MODULES} - {""}
    assert stages - RANK.keys() == set(), "give it a place in LINE, left of all that import it"
    assert RANK.keys() - stages == set()


def test_a_stage_imports_only_from_its_left() -> None:
    back = [
        f"{importer} imports {imported}"
        for importer, all_imported in stages_imported().items()
        for imported in sorted(all_imported)
        if importer in RANK and RANK[imported] >= RANK[importer]
    ]
    assert back == []


def test_no_modules_import_each_other_within_a_stage_either() -> None:
    graph = {name: imported & MODULES.keys() - {name} for name, imported in MODULES.items()}
    for name in graph:  # `from refgen.model import KINDS` is no import of refgen itself
        graph[name].discard("refgen")
    order = list(TopologicalSorter(graph).static_order())
    assert set(order) == MODULES.keys()


def test_the_hydraulics_know_nothing_but_how_to_refuse() -> None:
    assert stages_imported()["hydraulics"] == {"errors"}
    for module, imported in MODULES.items():
        if stage(module) == "hydraulics":
            foreign = {name.split(".")[0] for name in imported} - {"refgen", "__future__"}
            assert foreign <= sys.stdlib_module_names, module


def importers(package: str) -> set[str]:
    return {
        stage(module)
        for module, imported in MODULES.items()
        if any(name.split(".")[0] == package for name in imported)
    }


def test_only_the_plugin_and_the_commands_know_mkdocs_and_its_theme() -> None:
    assert importers("mkdocs") | importers("material") == {"options", "plugin"} | (
        importers("mkdocs") & {"cli"}
    )


def test_yaml_is_known_only_where_files_are_read() -> None:
    assert importers("yaml") == {"nodes", "syntax"}
    assert all(RANK[name] < RANK["catalog"] for name in importers("yaml"))


def test_templates_are_filled_in_one_place() -> None:
    assert importers("jinja2") == {"templates"}


def test_no_module_is_longer_than_three_hundred_lines() -> None:
    lengths = {
        path.relative_to(PACKAGE).as_posix(): path.read_text("utf-8").count("\n")
        for path in PACKAGE.rglob("*.py")
    }
    assert {name: length for name, length in lengths.items() if length > 300} == {}
