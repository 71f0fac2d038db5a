"""Faults that can be planted in a module's source, each the change of one expression or statement.

What is the same by construction is not drawn: docstrings, annotations, texts, decorators, `Field` limits,
asserts, numbers of a tolerance (below a thousandth), and `<` for `<=`, as two floats are hardly ever equal.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

_OPERATORS = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
_COMPARISONS = {
    ast.Lt: ast.Gt,
    ast.Gt: ast.Lt,
    ast.LtE: ast.GtE,
    ast.GtE: ast.LtE,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
_PAIRS = (
    ("sin", "cos"),
    ("min", "max"),
    ("minimum", "maximum"),
    ("argmin", "argmax"),
    ("floor", "ceil"),
    ("any", "all"),
    ("aos", "los"),
    ("start_utc_s", "end_utc_s"),
    ("m_min_deg", "m_max_deg"),
    ("e_min_deg", "e_max_deg"),
    ("low_deg", "high_deg"),
    ("minimum_deg", "maximum_deg"),
    ("from_deg", "to_deg"),
    ("azimuth_deg", "elevation_deg"),
    ("azimuth", "elevation"),
    ("m_deg", "e_deg"),
)
_PARTNER = {a: b for pair in _PAIRS for a, b in (pair, pair[::-1])}
#: Calls of one argument that can be left out.
_WRAPPERS = {
    "abs",
    "wrap_180",
    "wrap_360",
    "radians",
    "degrees",
    "sorted",
    "reversed",
    "round",
    "floor",
    "ceil",
}
_SMALLEST = 1e-3


@dataclass(frozen=True)
class Fault:
    """One change: the source from ``begin`` to ``end`` (characters) becomes ``new``."""

    begin: int
    end: int
    line: int
    old: str
    new: str

    def planted(self, source: str) -> str:
        """The source with the fault in it."""
        return source[: self.begin] + self.new + source[self.end :]


@cache
def faults_of(source: str) -> list[Fault]:
    """Every fault that can be planted, in the order of the source."""
    starts = [0]
    for line in source.splitlines(keepends=True):
        starts.append(starts[-1] + len(line.encode()))
    raw = source.encode()

    def place(line: int, column: int) -> int:
        return len(raw[: starts[line - 1] + column].decode())

    found = []
    for node, new in _changes(ast.parse(source)):
        begin, end = place(node.lineno, node.col_offset), place(node.end_lineno, node.end_col_offset)
        old, text = source[begin:end], ast.unparse(new)
        text = f"({text})" if isinstance(new, ast.expr) else text
        if ast.unparse(node) != ast.unparse(new):
            found.append(Fault(begin, end, node.lineno, old, text))
    return sorted(found, key=lambda fault: (fault.begin, fault.end, fault.new))


def _changes(tree: ast.AST) -> Iterator[tuple[ast.AST, ast.AST]]:
    """(node, what it becomes) over all that may be changed."""
    for node in _walked(tree):
        yield from ((node, new) for new in _instead_of(node))


def _walked(node: ast.AST) -> Iterator[ast.AST]:
    """The nodes below that count."""
    if isinstance(node, ast.JoinedStr | ast.Assert | ast.Raise | ast.Import | ast.ImportFrom):
        return
    if isinstance(node, ast.Call) and _name(node.func) in {"Field", "TypeVar", "Literal", "reported"}:
        return
    yield node
    for field, value in ast.iter_fields(node):
        if field in {"annotation", "returns", "decorator_list", "bases"}:
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST):
                yield from _walked(child)


def _name(node: ast.AST) -> str:
    return node.attr if isinstance(node, ast.Attribute) else node.id if isinstance(node, ast.Name) else ""


def _with(node: ast.AST, **changed: object) -> ast.AST:
    new = copy.deepcopy(node)
    for name, value in changed.items():
        setattr(new, name, value)
    return new


def _instead_of(node: ast.AST) -> Iterator[ast.AST]:
    yield from _other_operator(node)
    yield from _other_value(node)
    match node:
        case ast.Call(func=ast.Name(id=name)) if name in _PARTNER:
            yield _with(node, func=ast.Name(_PARTNER[name]))
        case ast.Call(args=[argument], keywords=[], func=func) if _name(func) in _WRAPPERS:
            yield argument
        case ast.Call(args=[ast.Name() as one, ast.Name() as other], keywords=[], func=ast.Name()):
            yield _with(node, args=[other, one])
        case ast.AugAssign() | ast.Continue() | ast.Break():
            yield ast.Pass()


def _other_operator(node: ast.AST) -> Iterator[ast.AST]:
    match node:
        case ast.BinOp(left=left, op=ast.Mod()) if not isinstance(left, ast.Constant):
            yield left
        case ast.BinOp(op=op) if type(op) in _OPERATORS:
            yield _with(node, op=_OPERATORS[type(op)]())
        case ast.Compare(ops=[op]) if type(op) in _COMPARISONS:
            yield _with(node, ops=[_COMPARISONS[type(op)]()])
        case ast.BoolOp(op=op):
            yield _with(node, op=ast.Or() if isinstance(op, ast.And) else ast.And())
        case ast.UnaryOp(op=ast.Not() | ast.USub() | ast.Invert(), operand=operand):
            yield operand


def _other_value(node: ast.AST) -> Iterator[ast.AST]:
    match node:
        case ast.IfExp(body=body, orelse=orelse):
            yield _with(node, body=orelse, orelse=body)
        case ast.Constant(value=bool(value)):
            yield ast.Constant(not value)
        case ast.Constant(value=int(value) | float(value)) if value == 0 or abs(value) >= _SMALLEST:
            yield ast.Constant(value + 1 if isinstance(value, int) else value * 1.5 + (value == 0.0))
        case ast.Attribute(attr=name) if name in _PARTNER and isinstance(node.ctx, ast.Load):
            yield _with(node, attr=_PARTNER[name])
