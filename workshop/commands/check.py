"""``workshop check``: what is missing or does not agree in projects, and what is wrong with lessons."""

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from workshop.commands.shared import FAULT, FINE, Faulty, file_meant, is_folder, session_on
from workshop.visible import in_one_line, shown_path

if TYPE_CHECKING:
    from workshop.core.plan import Plan


def run(options: argparse.Namespace) -> int:
    """Tell what is missing or does not agree. Gives FAULT where there is anything."""
    from workshop.core.plan_mark import plan_mark

    worst = FINE
    for path in options.file:
        if is_folder(path):
            worst = max(worst, _check_lessons(path))
            continue
        try:
            plan = session_on(path).plan
        except Faulty as fault:
            print(f"workshop: {fault}", file=sys.stderr)
            worst = FAULT
            continue
        wrong, mark, shown = list(_wrong(plan)), plan_mark(plan), shown_path(file_meant(path))
        worst = FAULT if wrong else worst
        told = [*(wrong or ["complete, nothing to fix"]), *([f"plan mark {mark}"] if mark else [])]
        print("\n".join(f"{shown}: {line}" for line in told))
    return worst


def _wrong(plan: "Plan") -> Iterator[str]:
    """A line for each answer that is missing or is to be looked at again, and for each check."""
    from workshop.progress import changed_since, progress, refused_answers
    from workshop.questions.steps import asked_as
    from workshop.saves import strange_keys
    from workshop.words.phrase import in_terms_of, say_check
    from workshop.words.titles import title_of

    project = plan.project
    yield from strange_keys(project)
    for state in progress(plan):
        title = title_of(state.name, project.terms)
        if state.missing:
            names = "; ".join(in_terms_of(asked_as(key, project), project) for key in state.missing)
            yield f"{title}: not answered yet: {names}"
        if changed := changed_since(state.name, project):
            yield f"{title}: look again: changed since: {', '.join(changed)}"
        if refused := refused_answers(state.name, project):
            yield f"{title}: look again: not understood: {', '.join(refused)}"
    for check in plan.checks:
        if check.level != "note":
            about = in_terms_of(asked_as(check.question, project), project)
            level = "stop" if check.level == "stop" else "look again"
            title = title_of(check.step, project.terms)
            yield f"{title}: {level} [{check.code}]: {about}: {say_check(check, project)}"


def _check_lessons(folder: Path) -> int:
    """A folder of lessons: each file that is wrong, or that no step would ever show."""
    from workshop import lessons
    from workshop.project import STEPS

    lines = lessons.faults_in(folder)
    there = [s for s in STEPS if (folder / f"{s}.md").is_file()]
    if not there and not lines:
        lines = (f"{folder}: there are no lessons here. Lessons are called {', '.join(f'{s}.md' for s in STEPS)}",)
    print(
        "\n".join(map(in_one_line, lines))
        if lines
        else f"{shown_path(folder)}: nothing to fix. Lessons: {', '.join(there)}"
    )
    return FAULT if lines else FINE
