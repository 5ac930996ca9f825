"""The plain mode: the questions line by line, for a screen reader or a slow line.

The same questions, the same session and the same answers as in the app; a project can change between the
two at any time. No cursor addressing, no colour.
"""

import shlex
import sys
from collections.abc import Callable
from typing import TextIO

from workshop.conversation import OTHER_CLOTH, asking, offer_to, sizes
from workshop.progress import (
    cloth_changed,
    going_on,
    going_on_at,
    missing_answers,
    next_step,
    open_text,
    progress,
)
from workshop.project import STEPS, Project
from workshop.questions import Field
from workshop.questions.actions import actions, unswatched
from workshop.questions.patterns import UNTOLD
from workshop.questions.kinds import Choice, Whole
from workshop.questions.steps import asked_as, fields, groups
from workshop.session import Session
from workshop.spoken import Back, Leave, Talk, explain, say_answers, word_of_the_trade, yes, yes_or_no
from workshop.steps import step
from workshop.units import NotUnderstood, show_needle, shown
from workshop.words.phrase import counted, in_terms, in_terms_of, say_check, worded

HELP = (
    "Type an answer and Enter. In brackets stands the answer there is, what is offered, or the figure used while a "
    "question is left open. Enter alone goes on. + takes the offered answer. - clears an answer. ? says why it is "
    "asked and lists its answers; ? and a word what the word means, as in ? gauge; ?? reads the lesson of the step. "
    "= shows what the answers mean, "
    "# how the numbers at hand were worked out, ## those of the whole step. < goes back one question. > goes on to "
    "the next step. . leaves; everything is saved."
)


SCALE = 5
"""Whole numbers up to this are marks for how something is liked: what they stand for is read out."""


def run(session: Session, source: TextIO | None = None, target: TextIO | None = None, command: str = "workshop") -> int:
    """Go through the steps from where the project is. ``command`` starts the workshop again. Gives the exit code."""
    talk = Talk(session, source or sys.stdin, target or sys.stdout, command)
    talk.say(HELP)
    try:
        name: str | None = _where(session)
        while name is not None:
            name = _step(talk, name)
    except (Leave, KeyboardInterrupt):
        talk.say()
    _farewell(talk)
    return 1 if session.fault else 0


def _where(session: Session) -> str:
    """The step to go on with: the first that needs an answer, else where the knitter was."""
    needing = (name for name in STEPS if missing_answers(name, session.plan))
    return next(needing, going_on_at(session.plan))


def _farewell(talk: Talk) -> None:
    session = talk.session
    if session.path is None and not session.fault:
        talk.say("Nothing was saved: a project is kept from its first answer on.")
    if session.fault:
        talk.say(f"Not saved: {session.fault}")
    elif session.path:
        upcoming = step(next_step(progress(session.plan)).name)
        talk.say(in_terms(f"Next: {upcoming.title}. {upcoming.what}", session.project.terms))
        talk.say(f"Saved in {session.path}")
        file = shlex.quote(str(session.path))
        print(f"Go on with: {talk.command} ask {file} (or in the app: {talk.command} open {file})", file=talk.target)


def _step(talk: Talk, name: str) -> str | None:
    """One step; gives the name of the next."""
    session = talk.session
    session.at(name)
    about = step(name)
    talk.step = name
    talk.say()
    what = in_terms(about.what, session.project.terms)
    title = in_terms(about.title, session.project.terms)
    talk.say(f"Step {about.number} of {len(STEPS)}: {title}. {what}")
    if name == "summary":
        _summary(talk)
        return _another_step(talk)
    done: list[str] = []
    try:
        while True:
            offered = name in BEFORE and BEFORE[name](talk)
            try:
                done = _done_before(talk, name)
                while not _through(talk, name, done):
                    done.pop()
                break
            except Back:
                if not offered:
                    raise
    except Back:
        if name != STEPS[0]:
            talk.backwards = True
            return _step_before(talk, name)
        talk.say("  This is the first question of all.")
        return name
    return STEPS[STEPS.index(name) + 1]


def _step_before(talk: Talk, name: str) -> str:
    """The nearest step before one that asks anything: a step without questions would only lead back again."""
    before = reversed(STEPS[: STEPS.index(name)])
    return next((s for s in before if s in MORE or fields(s, talk.session.project)), STEPS[0])


def _still_open(talk: Talk, name: str) -> None:
    """What the plan needs of this step and has not got."""
    project = talk.session.project
    missing = [in_terms_of(asked_as(key, project), project) for key in missing_answers(name, talk.session.plan)]
    if missing:
        talk.say(f"Still open here, and needed: {'; '.join(missing)}. < goes back to the last question.")


def _confirm(talk: Talk, name: str) -> None:
    """The step agrees with the answers before it; where the cloth may be another one, only if the knitter says so."""
    changed = cloth_changed(name, talk.session.project)
    if changed:
        talk.say(f"Look again: changed since the swatches were counted: {', '.join(changed)}.")
        talk.say(OTHER_CLOTH)
        if yes(talk, "Do these counts hold all the same?", offer=False):
            talk.session.counts_hold()
        return
    talk.session.confirm(name)


def _done_before(talk: Talk, name: str) -> list[str]:
    """Questions that a step need not ask again: all but the last for one who went back, those answered weeks ago."""
    asked = fields(name, talk.session.project)
    backwards, resuming = talk.backwards, talk.resuming
    talk.backwards = talk.resuming = False
    if backwards:
        return [f.key for f in asked][:-1]
    if resuming:
        at = going_on(name, talk.session.plan)
        first = next((i for i, f in enumerate(asked) if f.key == at), 0)
        later = [f.key for f in asked[first:] if f.shown(talk.session.project)] if at else []
        if first or later:
            talk.say("Going on where questions are open; < goes back to those before.")
        return [*later, *(f.key for f in asked[:first])]
    return []


def _through(talk: Talk, name: str, done: list[str]) -> bool:
    """The questions of a step, what it can add, and what it asks back; whether it was not gone back from at its end.

    Raises Back where the knitter goes back over the first question.
    """
    go = _questions(talk, name, done)
    try:
        while go == "all asked" and name in MORE and _one_more(talk, name):
            go = _questions(talk, name, done)
        talk.say()
        say_answers(talk, name, asking=False)  # what is asked follows, each with its question
        _agreements(talk, name)
        _still_open(talk, name)
        _confirm(talk, name)
    except Back:
        if not done:
            raise
        return False
    return True


def _another_step(talk: Talk) -> str | None:
    """After the summary: back to a step by its number, or none."""
    while True:
        heard = talk.hear(f"A step to go back to, 1 to {len(STEPS) - 1}, or Enter to leave: ")
        if heard in ("", ".", ">"):
            return None
        if heard == "<":
            return STEPS[-2]
        if heard.isascii() and heard.isdigit() and 1 <= int(heard) < len(STEPS):
            talk.resuming = True
            return STEPS[int(heard) - 1]
        talk.say(f"  '{shown(heard)}' is no step; it should be a number from 1 to {len(STEPS) - 1}.")


def _questions(talk: Talk, name: str, done: list[str]) -> str:
    """All questions of a step that are not done; what is asked may change with every answer. Says how it ended.

    Raises Back before the first of them.
    """
    heading = ""
    while True:
        asked = next((f for f in fields(name, talk.session.project) if f.key not in done), None)
        if asked is None:
            return "all asked"
        heading = _heading(talk, name, asked, heading)
        go = _question(talk, name, asked)
        if go == "back" and not done:
            raise Back
        if go == "back":
            _back_over(talk, name, done)
        elif go == "next step":
            return go
        else:
            done += [key for key in _passed_with(talk, name, asked) if key not in done]
            done.append(asked.key)


def _back_over(talk: Talk, name: str, done: list[str]) -> None:
    """The question before is asked again; places that are passed over with their first are no questions."""
    asked = fields(name, talk.session.project)
    with_first = {f.key: _passed_with(talk, name, f) for f in asked}
    passed = {key for keys in with_first.values() for key in keys}
    again = done.pop()
    while done and again in passed:
        again = done.pop()
    done[:] = [key for key in done if key not in with_first.get(again, ())]


def _passed_with(talk: Talk, name: str, asked: Field) -> list[str]:
    """Further places of a count whose first place was left open: they are not asked for either."""
    table, place = asked.key.rpartition(".")[::2]
    if not table.startswith("reading.") or place != "1" or asked.shown(talk.session.project):
        return []
    others = [f for f in fields(name, talk.session.project) if f.key.rpartition(".")[0] == table and f.key != asked.key]
    return [f.key for f in others if not f.shown(talk.session.project)]


def _heading(talk: Talk, name: str, asked: Field, last: str) -> str:
    title = next((g.title for g in groups(name, talk.session.project) if any(f.key == asked.key for f in g.fields)), "")
    if title != last:
        talk.say()
        talk.say(f"{title}:")
    return title


WAYS = {"<": "back", ">": "next step"}
"""Signs that leave a question unanswered, and how it then ends."""


def _question(talk: Talk, name: str, asked: Field) -> str:
    """One question until it is answered or passed over."""
    session = talk.session
    _read_choices(talk, asked)
    refused = session.project.drafts.get(asked.key)
    if refused is not None:
        talk.say(f"  Typed before and not understood: '{shown(refused)}'.")
    reminded = False
    while True:
        now, offered = asked.shown(session.project), offer_to(asked, session.plan)
        typed = talk.hear(_prompt(talk, asked, now, offered))
        if typed == "" and not now and asked.needed and not reminded:
            reminded = True
            talk.say("  It is needed later." + (f" + takes {offered}." if offered else "") + " Enter leaves it open.")
        elif typed == "":
            session.forget_draft(asked)
            return "on"
        elif typed in WAYS:
            return WAYS[typed]
        elif typed == ".":
            raise Leave
        elif typed[0] in "?=#" and _explained(talk, name, asked, typed):
            continue
        elif typed == "+" and not offered:
            always_answered = open_text(asked, session.plan)
            more = f" While it is open, the plan goes by {always_answered}." if always_answered and not now else ""
            talk.say(f"  Nothing is offered here: type an answer, or Enter to go on.{more}")
        elif _taken(talk, asked, offered if typed == "+" else typed) and _asked_back(talk, asked.key):
            return "on"


def _explained(talk: Talk, name: str, asked: Field, typed: str) -> bool:
    """Whether a sign asked for an explanation, which is then read out."""
    if typed in ("?", "??", "=", "#", "##"):
        explain(talk, name, asked, typed)
    elif typed.startswith("?"):
        word_of_the_trade(talk, typed.removeprefix("?"))
    else:
        return False
    return True


def _taken(talk: Talk, asked: Field, typed: str) -> bool:
    """Take an answer and say what was taken, or why it was not."""
    session, now = talk.session, asked.shown(talk.session.project)
    try:
        session.answer(asked, "" if typed == "-" and not asked.needed else typed)
    except NotUnderstood as error:
        listed = isinstance(asked.question.kind, Choice)  # ? lists the answers again
        why = str(error).split("; choose ")[0] + ("; ? lists the answers" if listed else "")
        talk.say(f"  Not taken: {why}." + (f" It stays {now}." if now else ""))
        return False
    taken = asked.shown(session.project)
    if session.fault:
        talk.say(f"  Not saved: {session.fault}")
    else:
        talk.say(f"  Taken: {taken}." if taken else "  Cleared.")
    if session.news:
        talk.say(f"  {session.news}")
        session.news = ""
    return True


def _read_choices(talk: Talk, asked: Field) -> None:
    """What can be answered, where it is one of a list or a mark."""
    project, kind = talk.session.project, asked.question.kind
    label = in_terms_of(asked.label, project)
    if isinstance(kind, Choice):
        talk.say(f"{label}: " + "; ".join(kind.listed(project)))
    elif isinstance(kind, Whole) and kind.high <= SCALE:
        talk.say(f"{label}: {worded(asked.question.told(project), project)}")


def _prompt(talk: Talk, asked: Field, now: str, offered: str) -> str:
    """The question, and in brackets what stands."""
    label, open_at = in_terms_of(asked.label, talk.session.project), open_text(asked, talk.session.plan)
    always_answered = now or (f"offered: {offered}" if offered else f"left open: {open_at}" if open_at else "")
    always_answered = always_answered or ("one more, or Enter" if asked.spare else "")
    return f"{label} [{always_answered}]: " if always_answered else f"{label}: "


def _asked_back(talk: Talk, key: str) -> bool:
    """What the workshop asks about the answer just given, while it is in mind; false: it is to be asked again."""
    for check in talk.session.plan.checks:
        about = check.question == key or (key.startswith("reading.") and key.startswith(f"{check.question}."))
        if not about or check.level == "note" or check.name in talk.asked:
            continue
        talk.asked.add(check.name)
        talk.say(f"  {say_check(check, talk.session.project)}")
        if check.level == "stop":
            talk.say("  (< goes back and changes it.)")
            continue
        heard = yes_or_no(
            talk, "  Is it right as it is? y says so, n gives it again, Enter leaves it open: ", offer=False
        )
        if heard in ("n", "<"):
            talk.asked.discard(check.name)
            return False
        if heard == "y":
            talk.session.agree(check.name)
    return True


def _agreements(talk: Talk, name: str) -> None:
    """Ask about every check that wants another look."""
    for check in asking(name, talk.session.plan):
        if check.name not in talk.session.project.agreed:
            talk.say(f"Look again: {say_check(check, talk.session.project)}")
            if yes(talk, "Is it right as it is?", offer=False):
                talk.session.agree(check.name)


def _summary(talk: Talk) -> None:
    from workshop.prints.document import summary
    from workshop.prints.terminal import console_for, print_document

    console = console_for(talk.target)
    print_document(summary(talk.session.plan, plain=True), console, aloud=True)


# ── what a step can add ──────────────────────────────────────────────────────────────────────────────


def _first_yarn(talk: Talk) -> bool:
    if not talk.session.project.yarn:
        talk.session.change_quietly(_with(talk, "fibre", "add"))
    return False


def _three_swatches(talk: Talk) -> bool:
    """Whether three swatches were offered, and not taken."""
    session, asked, needles = talk.session, False, sizes(talk.session.plan)
    for yarn in unswatched(session.project, needles):
        on = ", ".join(show_needle(mm, session.project.needle_names) for mm in needles[yarn.id])
        if yes(talk, f"Plan three swatches of {yarn.name or 'the yarn'}, on {on}?"):
            session.change(_with(talk, "swatch", f"three {yarn.id}"))
            talk.say("  Planned. > leaves them so and goes on; Enter goes through their questions.")
        else:
            asked = True
    return asked


def _one_more(talk: Talk, name: str) -> bool:
    """Whether one more of what the step is about was added."""
    project = talk.session.project
    so_far, question = {
        "fibre": (counted(len(project.yarn), "yarn"), "Add another to choose from?"),
        "swatch": (counted(len(project.swatch), "swatch", "swatches"), "Add one more?"),
    }[name]
    untold = [s.id for s in project.swatch if s.stitch == UNTOLD]
    if name == "swatch" and untold and yes(talk, f"Describe the pattern of swatch {', '.join(untold)}?"):
        talk.session.change(_with(talk, name, "add pattern"))
        return True
    if not yes(talk, f"{so_far} so far. {question}"):
        return False
    talk.session.change(_with(talk, name, "add"))
    return True


def _with(talk: Talk, step_name: str, action: str) -> Project:
    """The project after an action of a step, which its buttons in the app do too."""
    project = talk.session.project
    return next(a for a in actions(step_name, project, sizes(talk.session.plan)) if a.name == action).do(project)


BEFORE: dict[str, Callable[[Talk], bool]] = {"fibre": _first_yarn, "swatch": _three_swatches}
"""What a step offers before its questions; says whether that can be gone back to."""

MORE = ("fibre", "swatch")
"""Steps that can add one more of what they are about, after their questions."""
