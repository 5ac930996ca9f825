"""``python -m tests.benchmarks.weight [FOLDER]``: lines of code of the package, and lines of prose kept as TOML.

Counted are the lines of *.py and *.tcss that say something to the machine: no blank lines, comments or docstrings.
"""

import ast
import sys
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent


def code_lines(source: str) -> int:
    """Lines of a Python file without blanks, comments and docstrings; a string that spans lines is code."""
    told: set[int] = set()
    for node in ast.walk(ast.parse(source)):
        body = getattr(node, "body", None)
        for inner in body if isinstance(body, list) else ():
            if (
                isinstance(inner, ast.Expr)
                and isinstance(inner.value, ast.Constant)
                and isinstance(inner.value.value, str)
            ):
                told |= set(range(inner.lineno, (inner.end_lineno or inner.lineno) + 1))
    lines = enumerate(source.splitlines(), start=1)
    return sum(1 for n, line in lines if line.strip() and not line.strip().startswith("#") and n not in told)


def style_lines(source: str) -> int:
    """Lines of a style sheet without blanks and comments, each of which has a line of its own."""
    inside, counted = False, 0
    for line in map(str.strip, source.splitlines()):
        inside = inside or line.startswith("/*")
        counted += bool(line) and not inside
        inside = inside and not line.endswith("*/")
    return counted


def weigh(package: Path) -> Counter[str]:
    """Lines by kind and first folder."""
    found: Counter[str] = Counter()
    count = {".py": code_lines, ".tcss": style_lines, ".toml": lambda s: sum(1 for x in s.splitlines() if x.strip())}
    for path in sorted(package.rglob("*")):
        if path.suffix in count:
            place = path.relative_to(package).parts
            kind = "prose and tables (TOML)" if path.suffix == ".toml" else "code"
            lines = count[path.suffix](path.read_text("utf-8"))
            found[f"{kind}: {place[0] if len(place) > 1 else 'top'}"] += lines
            found[kind] += lines
    return found


if __name__ == "__main__":
    for name, lines in sorted(weigh(Path(sys.argv[1]) if sys.argv[1:] else ROOT / "workshop").items()):
        print(f"{lines:6,}  {name}")
