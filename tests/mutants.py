"""Changes of one module, each of which some test should notice.

Everywhere: another operator, a limit moved by a hair or turned round, a constant a little off, a
condition turned round, a guard left out. In the stages of the data also: another text, a test for
membership turned round, a call, a yield or an addition left out.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Any

OTHER_OPERATOR: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
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
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
OTHER_NAME = {"min": "max", "max": "min", "sin": "cos", "cos": "sin", "floor": "ceil", "any": "all"}
GUARDS = ("require", "require_positive")
TYPES = ("Literal", "Callable", "Mapping", "dict", "tuple", "list", "set", "type")
OTHER_TEXT = "another text"
CHANGEABLE = (ast.expr, ast.If, ast.While, ast.comprehension, ast.Expr, ast.AugAssign)


@dataclass(frozen=True)
class Mutant:
    """One change of one module, named by its path below the package (`hydraulics.duty`)."""

    module: str
    line: int
    change: str
    tree: ast.Module


def mutants(path: Path, module: str, of_data: bool) -> Iterator[Mutant]:
    """Yield every mutant of a module; `of_data` makes the changes for stages of the data too."""
    tree = ast.parse(path.read_text("utf-8"))
    left_alone = _not_code(tree)
    for place, original in enumerate(ast.walk(tree)):
        if id(original) in left_alone or not isinstance(original, CHANGEABLE):
            continue
        for number in range(4):
            mutated = copy.deepcopy(tree)
            node = next(islice(ast.walk(mutated), place, None))
            if not (_change(node, number) or (of_data and not number and _change_data(node))):
                break
            at = node.target if isinstance(node, ast.comprehension) else node
            change = f"{_short(original)}  →  {_short(node)}"
            yield Mutant(module, at.lineno, change, ast.fix_missing_locations(mutated))


def _short(node: ast.AST) -> str:
    return " ".join(ast.unparse(node).split())[:70]


def _not_code(tree: ast.Module) -> set[int]:
    """Return what cannot change what comes out: types, decorators, texts about the code."""
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
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            skip(node)
        if isinstance(node, ast.Assign) and _names_types(node):
            skip(node)
        if isinstance(node, ast.JoinedStr):
            skip(node)
            skipped.discard(id(node))
        if isinstance(node, ast.Subscript) and ast.unparse(node.value) in TYPES:
            skip(node)
    return skipped


def _names_types(node: ast.Assign) -> bool:
    """Whether an assignment gives a type a name, or lists the names that may be imported."""
    name = ast.unparse(node.targets[0])
    called = node.value.func if isinstance(node.value, ast.Call) else None
    generic = isinstance(called, ast.Name) and called.id == "TypeVar"
    return name == "__all__" or generic or (name[:1].isupper() and not name.isupper())


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


def _change_data(node: Any) -> bool:
    """Make the one change that only stages of the data know to a node; False where it has none."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        node.value = OTHER_TEXT if node.value != OTHER_TEXT else ""
    elif isinstance(node, ast.JoinedStr):
        node.values = [ast.Constant(value=OTHER_TEXT)]
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        node.op, node.operand = ast.Not(), ast.UnaryOp(op=ast.Not(), operand=node.operand)
    elif isinstance(node, (ast.If, ast.While)) and not isinstance(node.test, ast.Compare):
        node.test = ast.UnaryOp(op=ast.Not(), operand=node.test)
    elif isinstance(node, ast.comprehension) and node.ifs:
        node.ifs = []
    elif isinstance(node, ast.Expr) and isinstance(
        node.value, (ast.Call, ast.Yield, ast.YieldFrom)
    ):
        _leave_out(node)
    elif isinstance(node, ast.AugAssign):
        # What is added to keeps its value.
        node.op, node.value = ast.Add(), ast.parse("type(_)()", mode="eval").body
        node.value.func.args[0] = _as_read(node.target)
    else:
        return False
    return True


def _leave_out(node: ast.Expr) -> None:
    """Leave out a call; a yield gives nothing but stays, so that its function is a generator."""
    if isinstance(node.value, ast.Call):
        node.value = ast.Constant(value=None)
    else:
        node.value = ast.YieldFrom(value=ast.Tuple(elts=[], ctx=ast.Load()))


def _as_read(target: ast.expr) -> ast.expr:
    return ast.parse(ast.unparse(target), mode="eval").body
