"""Small changes of a module's source, each a fault that some test should notice.

cosmic-ray knows how to change a node of the tree; which of its operators are worth a test run, and where, is said here.
"""

from __future__ import annotations

import ast
from typing import TYPE_CHECKING, Any, NamedTuple

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.operators import (
    binary_operator_replacement,
    boolean_replacer,
    break_continue,
    comparison_operator_replacement,
    exception_replacer,
    number_replacer,
    unary_operator_replacement,
    zero_iteration_for_loop,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["Mutant", "mutants"]

_BINARY = (
    "Add_Sub Sub_Add Mul_Div Div_Mul FloorDiv_Div Mod_Mul Pow_Mul BitOr_BitAnd BitAnd_BitOr BitXor_BitAnd "
    "RShift_LShift LShift_RShift"
)
_COMPARISONS = "Lt_LtE Lt_GtE LtE_Lt LtE_Gt Gt_GtE Gt_LtE GtE_Gt GtE_Lt Eq_NotEq NotEq_Eq Is_IsNot IsNot_Is"
OPERATORS: tuple[Any, ...] = (
    *(getattr(binary_operator_replacement, f"ReplaceBinaryOperator_{name}")() for name in _BINARY.split()),
    *(getattr(comparison_operator_replacement, f"ReplaceComparisonOperator_{name}")() for name in _COMPARISONS.split()),
    unary_operator_replacement.ReplaceUnaryOperator_USub_UAdd(),
    unary_operator_replacement.ReplaceUnaryOperator_Delete_Not(),
    number_replacer.NumberReplacer(),
    boolean_replacer.ReplaceTrueWithFalse(),
    boolean_replacer.ReplaceFalseWithTrue(),
    boolean_replacer.ReplaceAndWithOr(),
    boolean_replacer.ReplaceOrWithAnd(),
    boolean_replacer.AddNot(),
    break_continue.ReplaceBreakWithContinue(),
    break_continue.ReplaceContinueWithBreak(),
    exception_replacer.ExceptionReplacer(),
    zero_iteration_for_loop.ZeroIterationForLoop(),
)
"""One replacement for each arithmetic sign; for each comparison the limit itself to the other side, and the opposite."""


class Mutant(NamedTuple):
    """A module with one change in it: where, what its line was and becomes, and the whole changed source."""

    id: str
    line: int
    was: str
    becomes: str
    text: str


def mutants(path: str, text: str) -> Iterator[Mutant]:
    """Every mutant of one module that compiles, in the order of the text, with an id that stays while the text stays."""
    lines = [*text.splitlines(keepends=True), ""]  # a tree may end on the line after the last
    spans = list(_idle(ast.parse(text)))
    for node in ast_nodes(get_ast(text)):
        for operator in OPERATORS:
            positions = list(operator.mutation_positions(node))
            for index, (start, _) in enumerate(positions):
                if node.parent is not None and node.parent.type == "parameters":  # `*` between parameters
                    continue
                if any(first <= start < last for first, last in spans):
                    continue
                changed = _changed(lines, node, operator, index)
                if changed == text or not _compiles(changed):
                    continue
                line, column = start
                name = type(operator).__name__.removeprefix("Replace")
                was, becomes = _difference(lines, changed.splitlines(keepends=True), line)
                yield Mutant(f"{path}:{line}:{column}:{name}:{index}", line, was, becomes, changed)


def _changed(lines: list[str], node: Any, operator: Any, index: int) -> str:
    """The source with the change; the tree is put back as it was, since operators write into it."""
    before = [(part, getattr(part, "value", None), list(getattr(part, "children", ()))) for part in ast_nodes(node)]
    (first, left), (last, right) = node.get_start_pos_of_prefix(), node.end_pos
    replaced = operator.mutate(node, index).get_code()
    for part, value, children in before:
        if children:
            part.children = children
        else:
            part.value = value
    return "".join([*lines[: first - 1], lines[first - 1][:left], replaced, lines[last - 1][right:], *lines[last:]])


def _compiles(text: str) -> bool:
    try:
        ast.parse(text)
    except SyntaxError:
        return False
    return True


def _difference(before: list[str], after: list[str], line: int) -> tuple[str, str]:
    """The first line that differs, before and after; the line of the change where nothing in it does."""
    for old, new in zip(before, after, strict=False):
        if old != new:
            return old.strip(), " ".join(new.split())
    return before[line - 1].strip(), ""


_Position = tuple[int, int]


def _idle(tree: ast.Module) -> Iterator[tuple[_Position, _Position]]:
    """Where a change is no fault: annotations, type aliases, what only type checkers read, and what holds by construction."""
    aliases = [node for node in tree.body if isinstance(node, ast.Assign) and _names_a_type(node)]
    for node in [*ast.walk(tree), *aliases]:
        found: list[ast.AST | None] = []
        match node:
            case ast.arg(annotation=annotation) | ast.AnnAssign(annotation=annotation):
                found = [annotation]
            case ast.Call(func=ast.Name(id="round"), args=[_, ast.Constant(value=int(digits)) as places]) if (
                digits >= 5
            ):
                found = [places]  # it takes off what binary fractions add, and one digit more or less does so as well
            case ast.FunctionDef(returns=returns):
                found = [returns]
            case (
                ast.If(test=ast.Name(id="TYPE_CHECKING"))
                | ast.Assert()
                | ast.keyword(arg="strict" | "frozen" | "slots")
            ):
                found = [node]
        if node in aliases:
            found = [node]
        for one in found:
            if isinstance(one, (ast.expr, ast.stmt, ast.keyword)):
                assert one.end_lineno is not None
                assert one.end_col_offset is not None
                yield (one.lineno, one.col_offset), (one.end_lineno, one.end_col_offset)


def _names_a_type(assignment: ast.Assign) -> bool:
    """`Shape = Circle | Square`, and no constant in capitals."""
    (target, *others) = assignment.targets
    name = target.id.lstrip("_") if isinstance(target, ast.Name) else ""
    return not others and name[:1].isupper() and not name.isupper()
