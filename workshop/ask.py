"""The plain mode: the questions line by line, for a screen reader or a slow line.

The same questions, the same session and the same answers as in the app; a project can change between the
two at any time. No cursor addressing, no colour.
"""

import shlex
import sys
from collections.abc import Callable
from typing import TextIO

from workshop.progress import cloth_changed, going_on, missing_answers, next_step, offer_text, open_text, progress
from workshop.project import STEPS
from workshop.questions import Field, fibre, swatch
from workshop.questions.kinds import Choice, Whole
from workshop.questions.steps import asked_as, fields, groups, step
from workshop.session import Session
from workshop.tables.fibres import by_name
from workshop.tables.glossary import look_up
from workshop.units import NotUnderstood, show_needle, shown
from workshop.words.answers import answers
from workshop.words.by_step import item_workings, step_workings
from workshop.words.lines import wrapped
from workshop.words.phrase import counted, in_terms, say_check, worded

HELP = (
    "Type an answer and Enter. Enter alone keeps what is there. + takes the offered answer. - clears an answer. "
    "? says why it is asked; ? and a word what the word means, as in ? gauge. = shows what the answers mean, "
    "# how the numbers at hand were worked out, ## those of the whole step. < goes back one question. > goes on to "
    "the next step. . leaves; everything is saved."
)


COLUMNS = 78
"""Lines are broken here."""

SCALE = 5
"""Whole numbers up to this are marks for how something is liked: what they stand for is read out."""


class Leave(Exception):
    """The knitter has had enough for now."""


class Back(Exception):
    """The knitter wants the question before, from one of yes or no."""


class Talk:
    """Asks and says, over two text streams."""

    def __init__(self, session: Session, source: TextIO, target: TextIO, command: str) -> None:
        self.session, self.source, self.target, self.command = session, source, target, command
        self.backwards = False
        """Gone back over the beginning of a step: the one before goes on at its last question."""
        self.resuming = session.project.last_step is not None
        """Come back to a project: its step goes on at the first question that is open."""
        self.asked: set[str] = set()
        """Checks that were asked about while their answer was in mind."""
        self.told: tuple[str, ...] = ()
        """What was shown last of what the answers mean: it is not said twice."""

    def say(self, text: str = "") -> None:
        """Print text, wrapped at 78 columns."""
        for line in text.split("\n"):
            indent = len(line) - len(line.lstrip())
            print("\n".join(wrapped(line, COLUMNS, hang=indent)) if line else "", file=self.target)

    def hear(self, prompt: str) -> str:
        """One typed line. Raises Leave at the end of input."""
        *before, last = wrapped(prompt.rstrip(), COLUMNS) or [""]
        for line in before:
            print(line, file=self.target)
        print(f"{last} ", end="", file=self.target, flush=True)
        line = self.source.readline()
        if not line:
            raise Leave
        return line.rstrip("\n").strip()


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
    """The step to go on with: where the knitter was, or one before it that needs an answer."""
    last = session.project.last_step
    if last is None:
        return next_step(progress(session.plan)).name
    before = STEPS[: STEPS.index(last)]
    return next((name for name in before if missing_answers(name, session.plan)), last)


def _farewell(talk: Talk) -> None:
    session = talk.session
    if session.fault:
        talk.say(f"Not saved: {session.fault}")
    elif session.path:
        upcoming = step(next_step(progress(session.plan)).name)
        talk.say(f"Next: {upcoming.title}. {in_terms(upcoming.what, session.project.terms)}")
        talk.say(f"Saved in {session.path}")
        file = shlex.quote(str(session.path))
        print(f"Go on with: {talk.command} ask {file} (or in the app: {talk.command} open {file})", file=talk.target)


def _step(talk: Talk, name: str) -> str | None:
    """One step; gives the name of the next."""
    session = talk.session
    session.at(name)
    about = step(name)
    talk.say()
    what = in_terms(about.what, session.project.terms)
    talk.say(f"Step {about.number} of {len(STEPS)}: {about.title}. {what}")
    if name == "summary":
        _summary(talk)
        return _another_step(talk)
    done: list[str] = []
    try:
        if name in BEFORE:
            BEFORE[name](talk)
        done = _done_before(talk, name)
        while not _through(talk, name, done):
            done.pop()
    except Back:
        if name != STEPS[0]:
            talk.backwards = True
            return STEPS[STEPS.index(name) - 1]
        talk.say("  This is the first question of all.")
        return name
    return STEPS[STEPS.index(name) + 1]


def _still_open(talk: Talk, name: str) -> None:
    """What the plan needs of this step and has not got."""
    project = talk.session.project
    missing = [in_terms(asked_as(key, project), project.terms) for key in missing_answers(name, talk.session.plan)]
    if missing:
        talk.say(f"Still open here, and needed: {'; '.join(missing)}. < goes back to the last question.")


def _confirm(talk: Talk, name: str) -> None:
    """The step agrees with the answers before it; where the cloth may be another one, only if the knitter says so."""
    changed = cloth_changed(name, talk.session.project)
    if changed:
        talk.say(f"Look again: changed since the swatches were counted: {', '.join(changed)}.")
        talk.say("Another yarn or needle makes another cloth: knit, wash and count it anew.")
        if not _yes(talk, "Do these counts hold all the same?"):
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
        if first:
            talk.say("Going on where questions are open; < goes back to those before.")
        return [f.key for f in asked[:first]]
    return []


def _through(talk: Talk, name: str, done: list[str]) -> bool:
    """The questions of a step, what it can add, and what it asks back; whether it was not gone back from at its end.

    Raises Back where the knitter goes back over the first question.
    """
    go = _questions(talk, name, done)
    try:
        while go == "all asked" and name in MORE and MORE[name](talk):
            go = _questions(talk, name, done)
        talk.say()
        _answers(talk, name, asking=False)  # what is asked follows, each with its question
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
            done.pop()
        elif go == "next step":
            return go
        else:
            done.append(asked.key)


def _heading(talk: Talk, name: str, asked: Field, last: str) -> str:
    title = next((g.title for g in groups(name, talk.session.project) if any(f.key == asked.key for f in g.fields)), "")
    if title != last:
        talk.say()
        talk.say(f"{title}:")
    return title


def _question(talk: Talk, name: str, asked: Field) -> str:
    """One question until it is answered or passed over."""
    session = talk.session
    while True:
        project = session.project
        now = asked.shown(project)
        offered = "" if now else offer_text(asked, session.plan)
        open_at = open_text(asked, session.plan)
        label = in_terms(asked.label, project.terms)
        kind = asked.question.kind
        if isinstance(kind, Choice):
            talk.say(f"{label}: " + "; ".join(kind.listed(project)))
        elif isinstance(kind, Whole) and kind.high <= SCALE:
            talk.say(f"{label}: {worded(asked.question.hint, project)}")
        stands = now or (f"offered: {offered}" if offered else f"left open: {open_at}" if open_at else "")
        stands = stands or ("one more, or Enter" if asked.spare else "")
        prompt = f"{label} [{stands}]: " if stands else f"{label}: "
        typed = talk.hear(prompt)
        if typed == "":
            if not now and asked.needed:
                talk.say("  Left open; it is needed later." + (f" + takes {offered}." if offered else ""))
            return "on"
        if typed in ("<", ">", "."):
            if typed == ".":
                raise Leave
            return "back" if typed == "<" else "next step"
        if typed.startswith("?") and typed != "?":
            _word(talk, typed.removeprefix("?"))
            continue
        if typed in ("?", "=", "#", "##"):
            _explain(talk, name, asked, typed)
            continue
        if typed == "+" and not offered:
            talk.say("  Nothing is offered here: type an answer, or Enter to go on.")
            continue
        if typed == "+":
            typed = offered
        try:
            session.answer(asked, "" if typed == "-" and not asked.needed else typed)
        except NotUnderstood as error:
            why = str(error).split("; choose ")[0] if isinstance(kind, Choice) else str(error)  # the answers follow
            talk.say(f"  Not taken: {why}." + (f" It stays {now}." if now else ""))
            continue
        if session.fault:
            talk.say(f"  Not saved: {session.fault}")
        taken = asked.shown(session.project)
        talk.say(f"  Taken: {taken}." if taken else "  Cleared.")
        if _asked_back(talk, asked.key):
            return "on"


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
        heard = _yes_or_no(talk, "  Is it right as it is? y says so, n gives it again, Enter leaves it open: ")
        if heard in ("n", "<"):
            talk.asked.discard(check.name)
            return False
        if heard == "y":
            talk.session.agree(check.name)
    return True


def _explain(talk: Talk, name: str, asked: Field, sign: str) -> None:
    """Why it is asked, what the answers mean, or how the numbers were worked out."""
    project = talk.session.project
    if sign == "?":
        talk.say(worded(f"  {asked.question.why} How: {asked.question.hint}.", project))
    elif sign == "=":
        _answers(talk, name)
    else:
        near = item_workings(asked.key, talk.session.plan) if sign == "#" else ()
        for line in near or step_workings(name, talk.session.plan) or ("  No number has been worked out here yet.",):
            talk.say(line)


def _word(talk: Talk, typed: str) -> None:
    """What a word of the trade means."""
    terms, word = talk.session.project.terms, look_up(typed)
    fibre_named = by_name().get(typed.strip().casefold())
    if word is None and fibre_named is not None:
        told = f"{fibre_named.wear}. In the wash: {fibre_named.wash}. Watch: {fibre_named.watch}"
        talk.say(in_terms(f"  {fibre_named.name}: {told}.", terms))
        return
    if word is None:
        talk.say(f"  '{shown(typed.strip())}' is not in the glossary: the table glossary has all its words.")
        return
    others = ", ".join(dict.fromkeys(n for n in (word.us, word.uk, word.short) if n and n != word.called(terms)))
    talk.say(f"  {word.called(terms)}{f' ({others})' if others else ''}: {in_terms(word.means, terms)}.")


def _answers(talk: Talk, name: str, *, asking: bool = True) -> None:
    marks = {"look": "Look again: ", "stop": "Stop: ", "heading": ""}
    if asking and not answers(name, talk.session.plan):
        talk.say("  Nothing to show yet: the answers so far do not lead to a number.")
    shown_lines = [
        ("" if line.kind == "heading" else "  ") + marks.get(line.kind, "") + line.text
        for line in answers(name, talk.session.plan)
        if asking or line.kind != "look"
    ]
    if not asking and set(shown_lines) <= set(talk.told):
        return
    talk.told = tuple(shown_lines)
    for text in shown_lines:
        talk.say(text)


def _agreements(talk: Talk, name: str) -> None:
    """Ask about every check that wants another look."""
    for check in talk.session.plan.checks:
        if check.step == name and check.level == "look" and check.name not in talk.session.project.agreed:
            talk.say(f"Look again: {say_check(check, talk.session.project)}")
            if _yes(talk, "Is it right as it is?"):
                talk.session.agree(check.name)


def _summary(talk: Talk) -> None:
    from workshop.prints.document import summary
    from workshop.prints.terminal import console_for, print_document

    console = console_for(talk.target)
    print_document(summary(talk.session.plan, plain=True, columns=max(20, console.width - 4)), console)


# ── what a step can add ──────────────────────────────────────────────────────────────────────────────


def _first_yarn(talk: Talk) -> None:
    session = talk.session
    if not session.project.yarn:
        session.change_quietly(fibre.add_yarn(session.project))


def _another_yarn(talk: Talk) -> bool:
    session = talk.session
    if not _yes(talk, f"{counted(len(session.project.yarn), 'yarn')} so far. Add another to choose from?"):
        return False
    session.change(fibre.add_yarn(session.project))
    return True


def _three_swatches(talk: Talk) -> None:
    session = talk.session
    for view in session.plan.yarns:
        if view.swatch_mm and not any(s.yarn == view.yarn.id for s in session.project.swatch):
            sizes = ", ".join(show_needle(mm, session.project.needle_names) for mm in view.swatch_mm)
            named = view.yarn.name or "the yarn"
            if _yes(talk, f"Plan three swatches of {named}, on {sizes}?"):
                session.change(swatch.add_swatches(session.project, view.yarn.id, view.swatch_mm))


def _another_swatch(talk: Talk) -> bool:
    session = talk.session
    if not _yes(talk, f"{counted(len(session.project.swatch), 'swatch', 'swatches')} so far. Add one more?"):
        return False
    session.change(swatch.add_swatch(session.project))
    return True


def _yes(talk: Talk, question: str) -> bool:
    """A question of yes or no. Raises Back where the question before is wanted."""
    heard = _yes_or_no(talk, f"{question} y, or n or Enter for no: ")
    if heard == "<":
        raise Back
    return heard == "y"


def _yes_or_no(talk: Talk, prompt: str) -> str:
    """One of y, n, < and nothing, asked until it is one of them. Raises Leave."""
    while True:
        heard = talk.hear(prompt).casefold()
        if heard == ".":
            raise Leave
        if heard in ("y", "yes", "n", "no", "<", ""):
            return heard[:1]
        if heard == ">":
            return ""
        if heard.startswith("?") and heard != "?":
            _word(talk, heard.removeprefix("?"))
        elif heard in ("?", "=", "#", "##", "+", "-"):
            talk.say("  y says yes, n says no, < goes back, Enter goes on.")
        else:
            talk.say(f"  '{shown(heard)}' is neither y nor n.")


BEFORE: dict[str, Callable[[Talk], None]] = {"fibre": _first_yarn, "swatch": _three_swatches}
"""What a step offers before its questions."""

MORE: dict[str, Callable[[Talk], bool]] = {"fibre": _another_yarn, "swatch": _another_swatch}
"""What a step can add after its questions; says whether there is more to ask."""
