"""Every label of the screens, once, in one text to read through: ``tests/screens/labels.txt``.

Made from the declarations and from the source, so that no screen is drawn for it. ``--snapshot-update`` rewrites it;
read the diff aloud.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from tests.test_questions import EVERYTHING
from workshop.app.keys import printed
from workshop.project import STEPS, Project, Yarn
from workshop.questions.actions import actions
from workshop.questions.kinds import Choice
from workshop.questions.steps import MODULES, groups
from workshop.steps import step
from workshop.words.phrase import in_terms

PACKAGE = Path(__file__).resolve().parent.parent / "workshop"
SPOKEN = (
    *sorted((PACKAGE / "app").rglob("*.py")),
    *sorted((PACKAGE / "commands").glob("*.py")),
    *(
        PACKAGE / f"{name}.py"
        for name in ("ask", "spoken", "conversation", "progress", "session", "on_disk", "elsewhere", "printed", "files")
    ),
    *(PACKAGE / f"{name}.py" for name in ("settings", "saves", "migrations", "toml_text", "units", "cli", "usage")),
    *(PACKAGE / "questions" / f"{name}.py" for name in ("kinds", "steps", "actions")),
)
"""Sources whose texts are read by a knitter."""

TWO_YARNS = replace(EVERYTHING, yarn=(*EVERYTHING.yarn, Yarn("b", name="Second yarn")))

UNSEEN = re.compile(r"\b(bold|underline|reverse|italic)\b|[$<>\[\]|\\]|^reading\.| = [\d.]+ \w+ = |-m workshop$")
"""Styles, patterns, keys of answers and definitions of units are no labels."""

KEY_CALLS = {"shown": (3, 4), "hidden": (3, 4), "Key": (2, 3)}
"""What declares a key, after its name and the key: where the word at the foot stands, and the line for the help."""

BANNED = re.compile(
    r"\bcloths?\b|\banew\b|\bmend(s|ed)?\b|\bfellows?\b|\bso (many|deep|long|wide)\b|\bhands? (that )?changes?\b"
    r"|\bthe doubt\b|\btruth\b|\bthat wait|\bwaited\b|\bone by one\b|\boff its\b|\bas (worn|knitted) lie|\bwants (a|the|to)\b"
    r"|\bmay stay open\b|\bleft open\b|\btak(e|en) (this|the) [\w ]*out\b|\btaken out\b|\d %|\bpage (down|up|keys)\b"
)
"""Words that no knitter says, and numbers as nobody writes them."""


def of_steps() -> Iterator[str]:
    yield from (f"{step(name).title}: {step(name).what}" for name in STEPS)


def of_questions() -> Iterator[str]:
    for module in MODULES.values():
        for question in module.QUESTIONS:
            yield f"{question.asks}"
            told = (question.hint, question.child_hint, question.open_hint, question.why, question.standard)
            yield from (f"  {text}" for text in told if text)
            if isinstance(question.kind, Choice):
                yield from (f"  - {option.label}" for option in question.kind.options(EVERYTHING))


def of_forms() -> Iterator[str]:
    """Headings and buttons, with what is asked before something is removed."""
    for project in (EVERYTHING, TWO_YARNS, Project()):
        for name in STEPS:
            yield from (group.title for group in groups(name, project))
            for action in actions(name, project, {"b": (4.0,)}):
                yield from (text for text in (action.label, action.asks_first) if text)


def of_source(path: Path) -> Iterator[str]:
    yield from (text for _, text in sorted(_texts(ast.parse(path.read_text(encoding="utf-8")))))


def _texts(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Texts of a source with their lines: those of several words, and of keys the word and the line for the help."""
    passed = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}  # docstrings
    for node in ast.walk(tree):
        if id(node) in passed:
            continue
        if isinstance(node, ast.Call) and (at := KEY_CALLS.get(getattr(node.func, "id", ""))):
            values = [a.value for a in node.args if isinstance(a, ast.Constant)]
            if len(values) > at[1]:
                keys = ", ".join(map(printed, values[1].split(",")))
                yield node.lineno, f"[{keys}] {values[at[0]]}: {values[at[1]]}"
                passed |= {id(a) for a in node.args}
            passed |= {id(part) for k in node.keywords for part in ast.walk(k)}
        elif isinstance(node, ast.Call):
            passed |= {id(k.value) for k in node.keywords if k.arg in ("classes", "id")}
        elif isinstance(node, ast.JoinedStr):
            passed |= {id(part) for part in ast.walk(node)}
            text = "".join(part.value if isinstance(part, ast.Constant) else "…" for part in node.values)
            yield from ((node.lineno, line) for line in [_label(text)] if line)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield from ((node.lineno, line) for line in [_label(node.value)] if line)


def _label(text: str) -> str:
    """A text as a line of the list; empty where it is none."""
    line = " ".join(text.split())
    return line if " " in line and re.search(r"[a-z]{3}", line) and not UNSEEN.search(line) else ""


@cache
def labels() -> str:
    """All labels under headings, each where it is met first; with its UK words where they differ."""
    told: set[str] = set()
    lines: list[str] = []
    parts = {"Steps": of_steps(), "Questions": of_questions(), "Headings and buttons": of_forms()}
    parts |= {path.relative_to(PACKAGE).as_posix(): of_source(path) for path in SPOKEN}
    for heading, found in parts.items():
        lines += ["", heading, "=" * len(heading)]
        for text in found:
            if text in told:
                continue
            told.add(text)
            lines.append(text)
            uk = in_terms(text, "uk")
            if uk != text and not text.lstrip(" -").startswith(("US (", "UK (")):
                lines.append(f"    UK: {uk.strip()}")
    return "\n".join(lines[1:]) + "\n"


def test_all_labels_are_kept_to_be_read(screens):
    assert labels() == screens(name="labels")


def test_no_label_has_words_that_nobody_says():
    assert [line for line in labels().splitlines() if BANNED.search(line)] == []


def test_labels_are_short_sentences():
    """Twelve words or so; figures and examples may make one longer."""
    sentences = [s for line in labels().splitlines() for s in re.split(r"(?<=[.?!]) ", line)]
    assert [s for s in sentences if len(s.split()) > 26] == []
