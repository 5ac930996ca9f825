"""The house plan: arrows run one way, and the start path stays light."""

import ast
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

from tests.factory import pullover, shaped
from workshop.core.constructions import CONSTRUCTIONS
from workshop.core.making import roles
from workshop.core.necklines import NECKLINES
from workshop.core.plan import plan
from workshop.prints.machine import summary_data
from workshop.prints.paper import markdown, svg
from workshop.prints.plan_sheet import plan_sheet
from workshop.project import Body
from workshop.saves import dumps

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "workshop"

EVERYBODYS = {"workshop.__version__", "workshop.records", "workshop.records.record"}

ALLOWED: dict[str, set[str]] = {
    "records": set(),
    "project": set(),
    "tables": {"project", "tables"},
    "units": {"visible", "project", "tables"},
    "core.sums": set(),
    "core.calculation": {"core.sums"},
    "core.remarks": {"tables"},
    "core.notes": {"core.remarks", "core.calculation", "tables"},
    "core.constructions": set(),
    "core.necklines": set(),
    "core.edgings": set(),
    "core.fabric.row_heads": set(),
    "core.fabric.patterns": {"core.edgings", "core.fabric.row_heads", "core.making.roles", "project"},
    "core.fabric.charting": set(),
    "core.fabric": {
        "core.fabric", "core.constructions", "core.edgings", "core.garments", "core.making", "core.cloth", "core.sums", "core.calculation", "core.remarks", "core.notes", "project", "tables",
    },
    "core.making": {"core.making", "core.edgings", "core.fabric.patterns", "core.sums", "core.calculation", "core.remarks", "core.notes", "project", "tables"},
    "core.cloth": {"core.cloth", "core.edgings", "core.fabric.patterns", "core.making", "core.sums", "core.calculation", "core.remarks", "core.notes", "project", "tables"},
    "core.wearer": {
        "core.wearer", "core.constructions", "core.necklines", "core.edgings", "core.cloth", "core.sums", "core.calculation", "core.remarks", "core.notes", "project", "tables",
    },
    "core.garments": {
        "core.garments", "core.constructions", "core.necklines", "core.edgings", "core.fabric.patterns", "core.making", "core.wearer", "core.sums", "core.calculation", "core.remarks", "core.notes",
        "project",
    },
    "core.knitting": {
        "core.knitting", "core.finished", "core.edgings", "core.fabric.patterns", "core.garments", "core.making", "core.cloth", "core.sums", "core.calculation", "core.remarks", "core.notes", "project", "tables",
    },
    "core.knitting.needles": {"core.knitting", "core.making", "core.plan", "project", "tables"},
    "core.knitting.outcomes": {"core.knitting", "core.making", "core.plan", "core.remarks", "project"},
    "core.knitting.yarn_saved": {"core.knitting", "core.making", "core.edgings", "core.plan", "tables"},
    "core.knitting.weighings": {"core.knitting", "core.plan", "project"},
    "core.knitting.before": {"core.knitting", "core.plan", "project"},
    "core": {"core", "project", "tables"},
    "questions": {"questions", "core.constructions", "core.necklines", "core.edgings", "core.fabric.patterns", "core.fabric.charting", "project", "units", "tables"},
    "planned": {"core", "questions", "project"},
    "visible": set(),
    "files": set(),
    "toml_text": set(),
    "migrations": {"toml_text"},
    "saves": {"migrations", "toml_text", "files", "visible", "core.constructions", "core.necklines", "core.edgings", "core.fabric.patterns", "project"},
    "printed": {"files", "saves", "toml_text"},
    "folder": {"saves", "toml_text", "questions", "project"},
    "sizes": {"planned", "core", "project", "tables"},
    "of_class": {"of_class", "folder", "planned", "progress", "saves", "core", "words", "project", "units", "visible"},
    "hand_outs": {"prints", "printed", "files", "folder", "lessons", "planned", "core", "saves", "project", "visible"},
    "typed_files": {"files", "units", "visible"},
    "merging": {"saves", "toml_text", "project"},
    "versions": {"files", "saves", "merging", "project"},
    "steps": {"project"},
    "progress": {"core", "questions", "project", "units"},
    "conversation": {"core", "words", "progress", "questions", "project"},
    "past": {"folder", "saves", "planned", "core"},
    "on_disk": {"folder", "files", "merging", "versions", "saves", "project", "visible"},
    "elsewhere": {"on_disk", "files", "merging", "versions", "saves", "questions", "project", "visible"},
    "session": {
        "on_disk", "elsewhere", "past", "folder", "files", "typed_files", "merging", "versions", "saves", "core", "planned", "progress", "questions",
        "project", "units", "visible",
    },
    "at_needles": {"core", "planned", "project", "units"},
    "telling": {"at_needles", "core", "planned", "words", "project", "units", "visible"},
    "settings": {"files", "visible"},
    "lessons": {"files", "visible", "project"},
    "words": {"words", "core", "project", "steps", "tables", "units"},
    "pictures": {"pictures", "core"},
    "prints": {
        "prints", "pictures", "words", "core", "of_class", "sizes", "progress", "questions", "project", "steps", "tables", "units", "visible",
    },
    "spoken": {"lessons", "words", "session", "questions", "tables", "units"},
    "ask_needles": {"at_needles", "telling", "spoken", "prints", "words", "core", "visible"},
    "ask": {"ask_needles", "spoken", "conversation", "prints", "words", "progress", "steps", "session", "elsewhere", "questions", "project", "units", "visible"},
    "app": {
        "app", "prints", "pictures", "words", "core", "of_class", "progress", "session", "elsewhere", "saves", "questions", "lessons", "project", "units",
        "settings", "steps", "conversation", "planned", "folder", "printed", "files", "visible", "at_needles", "telling", "sizes",
    },
    "usage": {"visible"},
    "commands": {
        "commands", "app", "ask", "lessons", "units", "prints", "words", "core", "of_class", "hand_outs", "sizes", "planned", "progress", "session", "versions", "folder", "printed", "files", "visible", "saves",
        "questions", "project", "tables", "at_needles",
    },
    "cli": {"commands", "lessons", "usage", "visible"},
    "__main__": {"cli"},
}  # fmt: skip
"""For each room of the house, the rooms that it may look into. The longest name that fits counts."""

OUTSIDE = {
    "textual": {"app"},
    "pint": {"units"},
    "rich": {"prints", "app"},
    "tomli_w": {"saves"},
}


def modules() -> list[tuple[str, Path]]:
    found = []
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(PACKAGE).with_suffix("").parts
        name = ".".join(p for p in parts if p != "__init__")
        found.append((name, path))
    return [(name, path) for name, path in found if name]


@cache
def parsed(path: Path) -> ast.Module:
    """A module, read once for all tests."""
    return ast.parse(path.read_text("utf-8"))


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    """All that stands in a module."""
    return tuple(ast.walk(parsed(path)))


def room(name: str) -> str:
    fitting = [r for r in ALLOWED if name == r or name.startswith(r + ".")]
    assert fitting, f"{name} stands in no room of the house"
    return max(fitting, key=len)


def imports(path: Path) -> set[str]:
    """Modules that a file imports anywhere, also inside functions."""
    names: set[str] = set()
    for node in nodes(path):
        if isinstance(node, ast.Import):
            names |= {a.name for a in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            names.add(node.module)
            names |= {
                f"{node.module}.{a.name}"
                for a in node.names
                if (PACKAGE.parent / node.module.replace(".", "/")).is_dir()
            }
    return names


@pytest.mark.parametrize(("name", "path"), modules(), ids=lambda x: x if isinstance(x, str) else "")
def test_arrows_run_one_way(name, path):
    allowed = ALLOWED[room(name)]
    for imported in imports(path):
        if not imported.startswith("workshop.") or imported in EVERYBODYS:
            continue
        target = imported.removeprefix("workshop.")
        if not any(target == r or target.startswith(r + ".") for r in ALLOWED):
            continue
        assert any(target == a or target.startswith(a + ".") for a in allowed), f"{name} looks into {target}"


@pytest.mark.parametrize(("name", "path"), modules(), ids=lambda x: x if isinstance(x, str) else "")
def test_outside_libraries_are_used_in_their_rooms_only(name, path):
    for imported in imports(path):
        library = imported.split(".")[0]
        if library in OUTSIDE:
            assert name.split(".")[0] in OUTSIDE[library], f"{name} imports {library}"


def loaded_after(code: str) -> set[str]:
    script = code + "\nimport sys; print(' '.join(sys.modules))"
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=ROOT)
    return set(run.stdout.split("\n")[-2].split())


def test_the_core_loads_neither_screen_nor_pint_nor_rich():
    loaded = loaded_after("from workshop.core.plan import plan; from workshop.project import Project; plan(Project())")

    assert not loaded & {"textual", "pint", "rich", "tomli_w"}


@pytest.mark.parametrize("command", ["summary", "check", "list"])
def test_a_project_in_inches_is_planned_and_shown_without_pint(tmp_path, command):
    file = tmp_path / "inches.toml"
    file.write_text(dumps(pullover(units="in", terms="us")), "utf-8")
    asked = [command, str(tmp_path if command == "list" else file)]
    loaded = loaded_after(f"from workshop.cli import main; main({asked!r})")

    assert "workshop.core.plan" in loaded
    assert "pint" not in loaded


@pytest.mark.parametrize("arguments", [["--version"], ["-h"], ["summary", "-h"]])
def test_help_and_version_load_nothing_heavy(arguments):
    code = f"from workshop.cli import main\ntry: main({arguments!r})\nexcept SystemExit: pass\nprint()"
    loaded = loaded_after(code)

    assert not loaded & {"textual", "pint", "rich", "tomli_w", "workshop.core.plan"}


@pytest.mark.parametrize(
    "arguments",
    [
        ["summary", "saves/demo/harbour-pullover.toml"],
        ["check", "saves/demo/harbour-pullover.toml"],
        ["list"],
        ["tables"],
    ],
)
def test_no_command_but_the_app_loads_textual(arguments):
    loaded = loaded_after(f"from workshop.cli import main\nmain({arguments!r})\nprint()")

    assert not loaded & {"textual", "pint"}


def test_the_app_starts_without_pint_and_markdown():
    loaded = loaded_after("import workshop.app.app\nprint()")

    assert "textual" in loaded
    assert not loaded & {"pint", "markdown_it", "tomli_w"}


def test_the_top_level_holds_what_the_design_says_and_nothing_else():
    tracked = subprocess.run(["git", "ls-files"], capture_output=True, text=True, check=False, cwd=ROOT).stdout.split()
    if not tracked:
        pytest.skip("not a git checkout")

    visible = {name.split("/")[0] for name in tracked if not name.startswith(".")}
    assert visible == {"README.md", "DEVELOPERS.md", "pyproject.toml", "workshop", "lessons", "tests", "saves"}


SIGNS = (" + ", "×", "÷", "−", "√(", "larger of (", "smaller of (")


def of_sources(tree: ast.AST) -> set[ast.AST]:
    """All that tells where a formula comes from: ``source=...`` of a call, and what is put into such a name."""
    found: set[ast.AST] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.keyword):
            names = [node.arg or ""]
        elif isinstance(node, ast.Assign | ast.AugAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            names = [n.id for target in targets for n in ast.walk(target) if isinstance(n, ast.Name)]
        else:
            continue
        if any(name.casefold().endswith("source") for name in names):
            found |= set(ast.walk(node.value))
    return found


def docstrings(tree: ast.AST) -> set[ast.AST]:
    return {
        node.value for node in ast.walk(tree) if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }


def called(tree: ast.AST) -> set[str]:
    return {node.func.id for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}


@pytest.mark.parametrize(
    ("name", "path"),
    [(n, p) for n, p in modules() if n.startswith("core.") and n != "core.sums"],
    ids=lambda x: x if isinstance(x, str) else "",
)
def test_no_formula_is_typed_as_text(name, path):
    """A formula is an expression (``core/sums.py``): its text, its figures and its value cannot drift apart."""
    tree = parsed(path)
    strings = {n for n in ast.walk(tree) if isinstance(n, ast.Constant) and isinstance(n.value, str)}
    typed = [n.value for n in strings - docstrings(tree) - of_sources(tree) if any(sign in n.value for sign in SIGNS)]

    assert typed == []
    assert "Sum" not in called(tree)
    assert "Working" not in called(tree) or name == "core.calculation"


class Name(str):
    """A name that may be shown, and that tells on whoever asks what it is."""

    __slots__ = ()

    def asked(self, *_):
        raise AssertionError(f"the name of a piece is for showing: {str.__str__(self)!r} was compared")

    def __eq__(self, other):
        return str.__eq__(self, other) if isinstance(other, Name) else self.asked()

    __ne__ = __contains__ = startswith = endswith = split = partition = removeprefix = removesuffix = asked

    __hash__ = str.__hash__


@pytest.mark.parametrize("worked", ["flat", "round"])
@pytest.mark.parametrize("front", ["closed", "open"])
@pytest.mark.parametrize("construction", tuple(CONSTRUCTIONS))
def test_nobody_asks_a_piece_for_its_name(monkeypatch, construction, front, worked):
    """What a piece is, which side, and what it grew out of, it says itself (``core/making/roles.py``)."""
    named = roles.Role.name
    monkeypatch.setattr(roles.Role, "name", lambda *parts: Name(named(*parts)))
    body = Body(source="table", table="women", size="M", chest_cm=104.0, high_bust_cm=95.0)
    wishes = {"construction": construction, "front": front, "worked": worked, "bust_darts": "yes"}
    for neckline in NECKLINES:
        for sleeve in ("long", "none"):
            now = plan(shaped(pullover(body=body), **wishes, neckline=neckline, sleeve=sleeve))
            summary_data(now)
            if now.made and now.made.pieces:
                markdown(plan_sheet(now))
                svg(now)


ASKING = {"startswith", "endswith", "split", "partition", "removeprefix", "removesuffix", "get"}


@pytest.mark.parametrize(
    ("name", "path"),
    [(n, p) for n, p in modules() if room(n) in ("core.making", "core.garments", "pictures")],
    ids=lambda x: x if isinstance(x, str) else "",
)
def test_no_name_of_a_piece_is_compared_with_text(name, path):
    for node in nodes(path):
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in ASKING:
            sides = [node.func.value, *node.args]
        else:
            continue
        texts = [
            n for side in sides for n in ast.walk(side) if isinstance(n, ast.Constant) and isinstance(n.value, str)
        ]
        names = [side for side in sides if isinstance(side, ast.Attribute) and side.attr == "name"]
        assert not (texts and names), f"{name}, line {node.lineno}"


def complexity(function: ast.AST) -> int:
    """Ways through a function, counted as radon does: one, and one more for each place where it may go another."""
    ways = 1
    for node in ast.walk(function):
        match node:
            case ast.If() | ast.IfExp() | ast.With() | ast.AsyncWith() | ast.Assert() | ast.ExceptHandler():
                ways += 1
            case ast.match_case() | ast.Lambda():
                ways += 1
            case ast.For() | ast.AsyncFor() | ast.While() | ast.Try():
                ways += bool(node.orelse) + (not isinstance(node, ast.Try))
            case ast.comprehension():
                ways += 1 + len(node.ifs)
            case ast.BoolOp():
                ways += len(node.values) - 1
    return ways


MOST_WAYS = 20
"""Ways through a function; with more of them radon gives it a D."""


@pytest.mark.parametrize(("name", "path"), modules(), ids=lambda x: x if isinstance(x, str) else "")
def test_no_function_goes_too_many_ways(name, path):
    functions = [n for n in nodes(path) if isinstance(n, ast.FunctionDef | ast.AsyncFunctionDef)]

    assert [(f.name, ways) for f in functions if (ways := complexity(f)) > MOST_WAYS] == []


MOST_ANY = 15
"""Mentions of ``Any`` in the whole package: what TOML holds, what a field of any question takes, and dataclasses."""


def test_records_are_made_by_one_maker():
    """``dataclass`` itself is for what changes, and takes three times as long."""
    frozen = [
        name
        for name, path in modules()
        if name != "records" and "@dataclass(frozen=True, slots=True" in path.read_text("utf-8")
    ]

    assert frozen == []


def test_any_is_said_only_where_no_type_can_be():
    said = [
        f"{name}, line {node.lineno}"
        for name, path in modules()
        for node in nodes(path)
        if (isinstance(node, ast.Name) and node.id == "Any")
        or (isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.endswith("[Any]"))
    ]

    assert len(said) <= MOST_ANY, said


def test_whoever_wants_a_plan_asks_where_only_what_is_asked_for_counts():
    """The core does not know which questions are asked; ``planned`` does. The outcome of a way on is planned from a
    plan's own project, which is as asked.
    """
    door = "workshop.core.plan"
    users = set()
    for name, path in modules():
        for node in nodes(path):
            if isinstance(node, ast.ImportFrom) and node.module == door and any(a.name == "plan" for a in node.names):
                users.add(name)

    assert users == {"planned", "core.knitting.outcomes"}


def test_what_ends_an_app_is_mended_and_not_caught():
    """A screen that is asked before it is composed, a window that is closed twice: causes, not accidents."""
    toolkits = {
        "NoMatches",
        "InvalidStateError",
        "ScreenStackError",
        "NoScreen",
        "DuplicateIds",
        "MountError",
        "KeyError",
        "Exception",
    }
    for path in (PACKAGE / "app").rglob("*.py"):
        for node in nodes(path):
            if isinstance(node, ast.ExceptHandler):
                assert node.type is not None, path
                caught = {n.id for n in ast.walk(node.type) if isinstance(n, ast.Name)}
                caught |= {n.attr for n in ast.walk(node.type) if isinstance(n, ast.Attribute)}
                assert not caught & toolkits, path
