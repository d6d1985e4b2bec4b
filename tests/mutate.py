"""Mutation testing of the hydraulics: `python -m tests.mutate [module …] [--workers N]`.

Each mutant is one module with one change: another operator, a limit moved by a hair or turned
round, a constant a little off, a guard left out. A mutant that no test notices survives and is
listed. Not collected by pytest and not part of the checks: it takes minutes.

A child is forked for each mutant, so that pytest is imported once. It reads the mutated module in
place of the real one and runs that module's own tests, then all tests of the hydraulics that import
it. A run that takes too long counts as noticed, since the tests would hang.
"""

from __future__ import annotations

import argparse
import ast
import contextlib
import copy
import importlib.abc
import importlib.machinery
import io
import os
import resource
import signal
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import Any

import hypothesis
import pytest

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "refgen" / "hydraulics"
TESTS = sorted((ROOT / "tests").glob("test_hydraulics_*.py"))
LONGEST = 60
"""Processor time [s] after which a run counts as hanging."""
NOTICED, SURVIVED = 1, 0

OTHER_OPERATOR: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
}
OTHER_COMPARISON: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
}
OTHER_NAME = {"min": "max", "max": "min", "sin": "cos", "cos": "sin", "floor": "ceil", "any": "all"}
GUARDS = ("require", "require_positive")
TYPES = ("Literal", "Callable", "dict", "tuple", "list")


@dataclass(frozen=True)
class Mutant:
    """One change of one module."""

    module: str
    line: int
    change: str
    tree: ast.Module


def mutants(path: Path) -> Iterator[Mutant]:
    """Yield every mutant of a module."""
    tree = ast.parse(path.read_text("utf-8"))
    for place, _ in enumerate(ast.walk(tree)):
        for number in range(4):
            mutated = copy.deepcopy(tree)
            skipped = _not_code(mutated)
            node = next(n for at, n in enumerate(ast.walk(mutated)) if at == place)
            if id(node) in skipped:
                break
            before = ast.unparse(node) if isinstance(node, (ast.expr, ast.stmt)) else ""
            if not _change(node, number):
                break
            after = ast.unparse(node) if isinstance(node, (ast.expr, ast.stmt)) else ""
            change = f"{_short(before)}  →  {_short(after)}"
            line = getattr(node, "lineno", 0)
            yield Mutant(path.stem, line, change, ast.fix_missing_locations(mutated))


def _short(text: str) -> str:
    return " ".join(text.split())[:70]


def _not_code(tree: ast.Module) -> set[int]:
    """Return what cannot change what is computed: types, decorators, texts, names exported."""
    skipped: set[int] = set()

    def skip(node: ast.AST | None) -> None:
        if node is not None:
            skipped.update(id(inner) for inner in ast.walk(node))

    for node in ast.walk(tree):
        if isinstance(node, (ast.FunctionDef, ast.ClassDef)):
            for decorator in node.decorator_list:
                skip(decorator)
        if isinstance(node, ast.FunctionDef):
            skip(node.returns)
        if isinstance(node, ast.arg):
            skip(node.annotation)
        if isinstance(node, ast.AnnAssign):
            skip(node.annotation)
        if isinstance(node, ast.JoinedStr):
            skip(node)
        if isinstance(node, ast.Subscript) and ast.unparse(node.value) in TYPES:
            skip(node)
    return skipped


def _change(node: Any, number: int) -> bool:
    """Make the change of this number to a node; False where it has none."""
    if isinstance(node, ast.Compare):
        return _change_comparison(node, number)
    if number:
        return False
    if isinstance(node, ast.BinOp) and type(node.op) in OTHER_OPERATOR:
        node.op = OTHER_OPERATOR[type(node.op)]()
    elif isinstance(node, ast.BoolOp):
        node.op = ast.Or() if isinstance(node.op, ast.And) else ast.And()
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        node.op = ast.UAdd()
    elif isinstance(node, ast.Constant) and isinstance(node.value, bool):
        node.value = not node.value
    elif isinstance(node, ast.Constant) and isinstance(node.value, int):
        node.value += 1
    elif isinstance(node, ast.Constant) and isinstance(node.value, float):
        node.value = node.value * 1.1 if node.value else 1.0
    elif isinstance(node, ast.Name) and node.id in OTHER_NAME and isinstance(node.ctx, ast.Load):
        node.id = OTHER_NAME[node.id]
    elif isinstance(node, ast.IfExp):
        node.body, node.orelse = node.orelse, node.body
    elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Call):
        called = node.value.func
        if not (isinstance(called, ast.Name) and called.id in GUARDS):
            return False
        node.value = ast.Constant(value=None)
    else:
        return False
    return True


def _change_comparison(node: ast.Compare, number: int) -> bool:
    changes = [
        (place, other)
        for place, operator in enumerate(node.ops)
        for other in OTHER_COMPARISON.get(type(operator), ())[: 2 if len(node.ops) == 1 else 1]
    ]
    if number >= len(changes):
        return False
    place, other = changes[number]
    node.ops[place] = other()
    return True


def _modules_of(path: Path) -> set[str]:
    """Return the modules of the hydraulics that a file imports, directly or through others."""
    found: set[str] = set()
    waiting = [path]
    while waiting:
        for node in ast.walk(ast.parse(waiting.pop().read_text("utf-8"))):
            if not isinstance(node, ast.ImportFrom) or not node.module:
                continue
            names = [node.module] + [f"{node.module}.{alias.name}" for alias in node.names]
            for name in names:
                stem = name.removeprefix("refgen.hydraulics").removeprefix(".") or "__init__"
                source = PACKAGE / f"{stem}.py"
                if name.startswith("refgen.hydraulics") and source.is_file() and stem not in found:
                    found.add(stem)
                    waiting.append(source)
    return found


class _Mutated(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Finds the mutated module in place of the real one."""

    def __init__(self, mutant: Mutant) -> None:
        self.name = f"refgen.hydraulics.{mutant.module}"
        self.code = compile(mutant.tree, f"<{mutant.module}>", "exec")

    def find_spec(self, name: str, path: Any, target: Any = None) -> Any:
        if name != self.name:
            return None
        return importlib.machinery.ModuleSpec(name, self)

    def create_module(self, spec: Any) -> None:
        return None

    def exec_module(self, module: ModuleType) -> None:
        exec(self.code, module.__dict__)


def _run(mutant: Mutant | None) -> int:
    """Run the tests on a mutant; return SURVIVED or NOTICED. Only for a forked child."""
    resource.setrlimit(resource.RLIMIT_CPU, (LONGEST, LONGEST))
    signal.alarm(LONGEST * 6)
    assert not any(name.startswith("refgen.hydraulics") for name in sys.modules)
    own, others = [], TESTS
    if mutant is not None:
        sys.meta_path.insert(0, _Mutated(mutant))
        own = [path for path in TESTS if path.stem == f"test_hydraulics_{mutant.module}"]
        others = [path for path in TESTS if mutant.module in IMPORTED[path] and path not in own]
    options = ["-x", "-q", "-p", "no:cacheprovider", "--noconftest", "--override-ini", "addopts="]
    options += ["--import-mode=importlib", "--rootdir", str(ROOT), "-W", "ignore"]
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        for paths in (own, others):
            if paths and pytest.main([*options, *map(str, paths)]) != 0:
                return NOTICED
    return SURVIVED


def _start(mutant: Mutant | None) -> int:
    child = os.fork()
    if child:
        return child
    code = NOTICED
    with contextlib.suppress(BaseException):
        code = _run(mutant)
    os._exit(code)


IMPORTED = {path: _modules_of(path) for path in TESTS}


def outcomes(found: list[Mutant], workers: int) -> Iterator[tuple[Mutant, bool]]:
    """Yield each mutant with whether a test noticed it."""
    waiting, running = list(reversed(found)), dict[int, Mutant]()
    while waiting or running:
        while waiting and len(running) < workers:
            mutant = waiting.pop()
            running[_start(mutant)] = mutant
        child, status = os.wait()
        yield running.pop(child), os.waitstatus_to_exitcode(status) != SURVIVED


def main() -> None:
    """Mutate, run and tell."""
    options = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    options.add_argument("modules", nargs="*", help="modules of refgen/hydraulics; all if left out")
    options.add_argument("--workers", type=int, default=2)
    chosen = options.parse_args()
    hypothesis.settings.register_profile("mutate", database=None, derandomize=True)
    hypothesis.settings.load_profile("mutate")
    _, status = os.waitpid(_start(None), 0)
    if os.waitstatus_to_exitcode(status) != SURVIVED:
        sys.exit("the tests fail without any change")
    paths = [
        path
        for path in sorted(PACKAGE.glob("*.py"))
        if path.stem != "__init__" and (not chosen.modules or path.stem in chosen.modules)
    ]
    noticed_in_all = made_in_all = 0
    for path in paths:
        found = list(mutants(path))
        survivors = [mutant for mutant, seen in outcomes(found, chosen.workers) if not seen]
        noticed = len(found) - len(survivors)
        noticed_in_all, made_in_all = noticed_in_all + noticed, made_in_all + len(found)
        print(f"{path.stem:14} {noticed:4} of {len(found):4} noticed", flush=True)
        for mutant in sorted(survivors, key=lambda mutant: mutant.line):
            print(f"    {path.name}:{mutant.line}: {mutant.change}", flush=True)
    share = noticed_in_all / made_in_all if made_in_all else 0.0
    print(f"{'all':14} {noticed_in_all:4} of {made_in_all:4} noticed, {share:.1%}")


if __name__ == "__main__":
    main()
