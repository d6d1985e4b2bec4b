"""Mutation testing: `python -m tests.mutate [module …] [--workers N]`.

Of the hydraulics (`hydraulics.duty`, or `hydraulics` for all of them) and of the stages that turn
files into a checked catalog (`catalog`, `layers` …). Each mutant is one module with one change,
see `mutants`. A mutant that no test notices survives and is listed. Not collected by pytest and
not part of the checks: it takes minutes.

A child is forked for each mutant, so that pytest and whatever does not rest on the module is
imported once. It reads the mutated module in place of the real one and runs that module's own
tests, then those of the others that rest on it. A run that takes too long counts as noticed, since
the tests would hang.
"""

from __future__ import annotations

import argparse
import ast
import contextlib
import importlib.abc
import importlib.machinery
import io
import os
import resource
import signal
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import hypothesis
import pytest

from tests.mutants import Mutant, mutants

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "refgen"
HYDRAULICS = sorted(
    f"hydraulics.{path.stem}"
    for path in (PACKAGE / "hydraulics").glob("*.py")
    if path.stem != "__init__"
)
DATA = [
    *("sources", "nodes", "syntax", "layers"),
    *("messages", "references", "entries", "linking", "grounds", "judging", "fitting", "diagnosis"),
    *("branching", "published", "noted", "advice", "catalog"),
]
LONGEST = 60
"""Processor time [s] after which a run counts as hanging."""
NOTICED, SURVIVED = 1, 0


def own_tests(module: str) -> list[Path]:
    """Return the file of tests that bears the module's name, if there is one."""
    path = ROOT / "tests" / f"test_{module.replace('.', '_')}.py"
    return [path] if path.is_file() else []


def tests_of(module: str) -> list[list[Path]]:
    """Return the tests of a module: its own, then the others that rest on it."""
    own = own_tests(module)
    if module in HYDRAULICS:
        others = [path for path, names in IMPORTED.items() if module in names]
    else:
        # What a mutant of a late stage changes is seen first by those that go through them all.
        others = [ROOT / "tests" / "test_cases.py"]
        others += [path for name in reversed(DATA) for path in own_tests(name)]
    return [own, [path for path in others if path not in own]]


def _source(module: str) -> Path:
    path = PACKAGE / Path(*module.split("."))
    return path / "__init__.py" if path.is_dir() else path.with_suffix(".py")


def _rests_on(path: Path, with_packages: bool = False) -> set[str]:
    """Return the modules of refgen that a file imports, directly or through others.

    A module's package is imported before it, and all that the package imports; that is counted
    only where it is asked for.
    """
    found: set[str] = set()
    waiting = [path]
    while waiting:
        for node in ast.walk(ast.parse(waiting.pop().read_text("utf-8"))):
            if not isinstance(node, ast.ImportFrom) or not node.module:
                continue
            names = [node.module] + [f"{node.module}.{alias.name}" for alias in node.names]
            if with_packages:
                names += [node.module[:at] for at, sign in enumerate(node.module) if sign == "."]
            for name in names:
                inner = name.removeprefix("refgen.")
                source = _source(inner)
                if name.startswith("refgen.") and source.is_file() and inner not in found:
                    found.add(inner)
                    waiting.append(source)
    return found


IMPORTED = {path: _rests_on(path) for path in sorted((ROOT / "tests").glob("test_hydraulics_*.py"))}


class _Mutated(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Finds the mutated module in place of the real one."""

    def __init__(self, mutant: Mutant) -> None:
        self.name = f"refgen.{mutant.module}"
        self.code = compile(mutant.tree, f"<{mutant.module}>", "exec")

    def find_spec(self, name: str, path: Any, target: Any = None) -> Any:
        if name != self.name:
            return None
        return importlib.machinery.ModuleSpec(name, self)

    def create_module(self, spec: Any) -> None:
        return None

    def exec_module(self, module: ModuleType) -> None:
        exec(self.code, module.__dict__)


def _run(module: str, mutant: Mutant | None) -> int:
    """Run a module's tests, on a mutant of it if any. Only for a forked child."""
    resource.setrlimit(resource.RLIMIT_CPU, (LONGEST, LONGEST))
    signal.alarm(LONGEST * 6)
    assert f"refgen.{module}" not in sys.modules
    if mutant is not None:
        sys.meta_path.insert(0, _Mutated(mutant))
    options = ["-x", "-q", "-p", "no:cacheprovider", "--override-ini", "addopts="]
    # A mutant may well warn, and is not noticed by that: only what a test says counts.
    options += ["--import-mode=importlib", "--rootdir", str(ROOT), "-W", "ignore"]
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        for paths in tests_of(module):
            if paths and pytest.main([*options, *map(str, paths)]) != 0:
                return NOTICED
    return SURVIVED


def _start(module: str, mutant: Mutant | None) -> int:
    child = os.fork()
    if child:
        return child
    code = NOTICED
    with contextlib.suppress(BaseException):
        code = _run(module, mutant)
    os._exit(code)


def outcomes(found: list[Mutant], workers: int) -> Iterator[tuple[Mutant, bool]]:
    """Yield each mutant with whether a test noticed it."""
    waiting, running = list(reversed(found)), dict[int, Mutant]()
    while waiting or running:
        while waiting and len(running) < workers:
            mutant = waiting.pop()
            running[_start(mutant.module, mutant)] = mutant
        child, status = os.wait()
        yield running.pop(child), os.waitstatus_to_exitcode(status) != SURVIVED


def _import_what_stays(module: str) -> None:
    """Import what the tests need and no mutant of the module can change."""
    paths = [path for paths in tests_of(module) for path in paths]
    for name in sorted({inner for path in paths for inner in _rests_on(path)}):
        with_it = _rests_on(_source(name), with_packages=True)
        for at, sign in enumerate(name):
            if sign == ".":
                with_it |= _rests_on(_source(name[:at]), with_packages=True)
        if module not in {name, *with_it}:
            importlib.import_module(f"refgen.{name}")


def _tell(module: str, workers: int) -> tuple[int, int]:
    """Print what becomes of a module's mutants; return how many were noticed, of how many."""
    _, status = os.waitpid(_start(module, None), 0)
    if os.waitstatus_to_exitcode(status) != SURVIVED:
        sys.exit(f"the tests of {module} fail without any change")
    found = list(mutants(_source(module), module, of_data=module in DATA))
    noticed = 0
    for mutant, seen in outcomes(found, workers):
        noticed += seen
        if not seen:
            print(f"    {_source(module).name}:{mutant.line}: {mutant.change}", flush=True)
    print(f"{module:24} {noticed:4} of {len(found):4} noticed", flush=True)
    return noticed, len(found)


def _in_a_child(module: str, workers: int) -> tuple[int, int]:
    """Return what `_tell` does, told in a child, so that the next module finds nothing imported."""
    read, write = os.pipe()
    child = os.fork()
    if not child:
        code = 1
        with contextlib.suppress(SystemExit):
            _import_what_stays(module)
            os.write(write, " ".join(map(str, _tell(module, workers))).encode())
            code = 0
        os._exit(code)
    os.close(write)
    with open(read) as said:
        counts = said.read().split()
    os.waitpid(child, 0)
    if not counts:
        sys.exit(f"{module} could not be mutated")
    return int(counts[0]), int(counts[1])


def main() -> None:
    """Mutate, run and tell."""
    options = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    options.add_argument("modules", nargs="*", help="'hydraulics.duty', 'hydraulics', 'catalog' …")
    options.add_argument("--workers", type=int, default=2)
    chosen = options.parse_args()
    hypothesis.settings.register_profile("mutate", database=None, derandomize=True)
    hypothesis.settings.load_profile("mutate")
    every = [*HYDRAULICS, *DATA]
    wanted = [
        module
        for module in every
        if not chosen.modules or {module, module.split(".")[0]} & {*chosen.modules}
    ]
    if not wanted:
        options.error(f"no such module; there are {', '.join(every)}")
    noticed_in_all = made_in_all = 0
    for module in wanted:
        noticed, made = _in_a_child(module, chosen.workers)
        noticed_in_all, made_in_all = noticed_in_all + noticed, made_in_all + made
    share = noticed_in_all / made_in_all if made_in_all else 0.0
    print(f"{'all':24} {noticed_in_all:4} of {made_in_all:4} noticed, {share:.1%}")


if __name__ == "__main__":
    main()
