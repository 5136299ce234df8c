"""Small changes to a module's source, each of which its tests ought to notice.

In:  the text of a module.   Out: `Mutant`s, in the order of the text.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass
from typing import Any

COMPARED: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
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
RECKONED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
}
CALLED = {"min": "max", "max": "min", "any": "all", "all": "any"}
BARE = (ast.Constant, ast.Name)
"""What is written without brackets."""


@dataclass(frozen=True)
class Mutant:
    """One change to one module.

    Attributes:
        module: its dotted name within the package.
        line: where the change is.
        start: where what is changed begins, in bytes of the module's text.
        old: what is there.
        new: what it is changed to.
    """

    module: str
    line: int
    start: int
    old: str
    new: str

    def applied(self, source: str) -> str:
        """Return the module's text with the change made."""
        text, end = source.encode(), self.start + len(self.old.encode())
        return (text[: self.start] + self.new.encode() + text[end:]).decode()


def mutants_of(module: str, source: str) -> list[Mutant]:
    """Return every change that is known to a module's text."""
    tree, text, starts = ast.parse(source), source.encode(), [0]
    for line in text.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    found = []
    for node in _looked_at(tree):
        for at, new in _changed(node):
            start = starts[at.lineno - 1] + at.col_offset
            end = starts[(at.end_lineno or 0) - 1] + (at.end_col_offset or 0)
            old = text[start:end].decode()
            written = ast.unparse(new)
            if isinstance(new, ast.expr) and not isinstance(new, BARE):
                written = f"({written})"
            found.append(Mutant(module, at.lineno, start, old, written))
    return sorted(found, key=lambda mutant: (mutant.start, mutant.new))


def _looked_at(node: ast.AST) -> Iterator[ast.expr | ast.stmt]:
    """Yield what may be changed: no annotation, no error raised, no part of words."""
    for name, field in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list", "bases"):
            continue
        for child in field if isinstance(field, list) else [field]:
            if isinstance(child, ast.expr | ast.stmt):
                yield child
            is_left = isinstance(child, ast.Raise | ast.Assert | ast.JoinedStr)
            if isinstance(child, ast.AST) and not is_left:
                yield from _looked_at(child)


def _changed(node: ast.expr | ast.stmt) -> Iterator[tuple[Any, ast.expr | ast.stmt]]:
    """Yield what may be changed of a node, itself or a part of it, and to what."""
    match node:
        case ast.Compare(ops=[op]):
            for other in COMPARED[type(op)]:
                yield node, _with(node, ops=[other()])
        case ast.BinOp(op=op) | ast.AugAssign(op=op) if type(op) in RECKONED:
            yield node, _with(node, op=RECKONED[type(op)]())
        case ast.BoolOp(op=op):
            other = ast.Or() if isinstance(op, ast.And) else ast.And()
            yield node, _with(node, op=other)
        case ast.Constant(value=bool(value)):
            yield node, ast.Constant(not value)
        case ast.Constant(value=int(value)):
            yield node, ast.Constant(value + 1)
            yield node, ast.Constant(value - 1)
        case ast.Call(func=ast.Name(id=called) as name) if called in CALLED:
            yield name, ast.Name(CALLED[called])
        case ast.UnaryOp(op=ast.USub() | ast.Not(), operand=operand):
            yield node, operand
        case ast.IfExp(test=test):
            yield test, ast.UnaryOp(ast.Not(), test)
        case ast.If(test=test):
            yield test, ast.Constant(value=False)
            yield test, ast.Constant(value=True)
        case ast.Expr(value=ast.Call()) | ast.Continue() | ast.Break():
            yield node, ast.Pass()
        case ast.JoinedStr(values=values):
            for place, value in enumerate(values):
                if isinstance(value, ast.FormattedValue):
                    left = values[:place] + values[place + 1 :]
                    yield node, _with(node, values=left)


def _with(node: ast.expr | ast.stmt, **fields: object) -> ast.expr | ast.stmt:
    """Return a copy of a node with fields of its changed."""
    other = copy(node)
    for name, value in fields.items():
        setattr(other, name, value)
    return ast.fix_missing_locations(other)
