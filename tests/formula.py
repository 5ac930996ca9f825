"""Reads the formula of a working as it is printed and works it out again, knowing nothing of the core.

Grammar: names of figures, numbers, + − × ÷ ( ), ``larger of (a, b)`` and ``smaller of (a, b)``.
"""

import ast
import operator
import re
from collections.abc import Mapping

OPERATIONS = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}


def work_out(formula: str, figures: Mapping[str, float]) -> float:
    """The value of a printed formula."""
    text = formula
    for i, name in enumerate(sorted(figures, key=len, reverse=True)):
        text = re.sub(rf"(?<![\w]){re.escape(name)}(?![\w])", f" ⟨{i}⟩ ", text)
    for i, name in enumerate(sorted(figures, key=len, reverse=True)):
        text = text.replace(f"⟨{i}⟩", f"({figures[name]!r})")
    text = text.replace("×", "*").replace("÷", "/").replace("−", "-")
    text = text.replace("larger of", "max").replace("smaller of", "min").replace("√", "sqrt")
    return _value(ast.parse(text.strip(), mode="eval").body)


def _value(node: ast.expr) -> float:
    match node:
        case ast.Constant(value=int() | float() as number):
            return number
        case ast.UnaryOp(op=ast.USub(), operand=inner):
            return -_value(inner)
        case ast.BinOp(left=left, op=op, right=right):
            return OPERATIONS[type(op)](_value(left), _value(right))
        case ast.Call(func=ast.Name(id="max"), args=args):
            return max(map(_value, args))
        case ast.Call(func=ast.Name(id="min"), args=args):
            return min(map(_value, args))
        case ast.Call(func=ast.Name(id="sqrt"), args=[arg]):
            return _value(arg) ** 0.5
    raise ValueError(f"not part of a printed formula: {ast.dump(node)}")
