"""The plain mode: the questions line by line, for a screen reader or a slow line.

The same questions, the same session and the same answers as in the app; a project can change between the
two at any time. No cursor addressing, no colour.
"""

import shlex
import sys
from collections.abc import Callable
from typing import TextIO

from workshop.conversation import OTHER_FABRIC, asking, before_and_now, both_answered, offer_to, sizes
from workshop.elsewhere import Way
from workshop.progress import (
    cloth_changed,
    going_on,
    going_on_at,
    may_stay_blank,
    missing_answers,
    next_step,
    open_text,
    progress,
)
from workshop.project import STEPS, Project
from workshop.questions import Field
from workshop.questions.actions import actions, unswatched
from workshop.questions.kinds import CHOOSE, Choice, Whole
from workshop.questions.panels import could_have_panel
from workshop.questions.patterns import untold_swatches
from workshop.questions.steps import asked_as, fields, groups
from workshop.session import Session
from workshop.spoken import EXPLAINS, Back, Leave, Talk, explain, order, say_answers, unquoted, yes, yes_or_no
from workshop.steps import step
from workshop.units import NotUnderstood, show_needle, shown
from workshop.visible import shown_path
from workshop.words.phrase import counted, in_terms_of, say_check, worded
from workshop.words.titles import title_of, what_of

SCALE = 5
"""Whole numbers up to this are marks for how something is liked: their meaning is read out."""


def run(session: Session, source: TextIO | None = None, target: TextIO | None = None, command: str = "workshop") -> int:
    """Go through the steps from where the project is. ``command`` starts the workshop again. Gives the exit code."""
    talk = Talk(session, source or sys.stdin, target or sys.stdout, command)
    session.asks = True
    talk.help()
    try:
        name: str | None = _where(session)
        while name is not None:
            name = _step(talk, name)
    except (Leave, KeyboardInterrupt):
        talk.say()
    _farewell(talk)
    return 1 if session.fault else 0


def _where(session: Session) -> str:
    """The step to go on with: the first that needs an answer, else where the knitter was.

    Also of a finished plan: the summary is long to hear, and a step is one number away from it.
    """
    needing = (name for name in STEPS if missing_answers(name, session.plan))
    done = all(s.state == "done" for s in progress(session.plan))
    return next(needing, session.project.last_step if done and session.project.last_step else going_on_at(session.plan))


def _farewell(talk: Talk) -> None:
    session = talk.session
    session.look()
    if session.contest is not None:  # left without a choice: nothing is lost that way
        session.choose("both")
    if session.path is None and not session.fault:
        talk.say("Nothing was saved. A project is saved as soon as it has one answer.")
    if session.fault:
        talk.say(f"Not saved: {session.fault}")
    elif session.path:
        upcoming, terms = next_step(progress(session.plan)).name, session.project.terms
        talk.say(f"Next: {title_of(upcoming, terms)}. {what_of(upcoming, terms)}")
        talk.say(f"Saved in {shown_path(session.path)}")
        file = shlex.quote(shown_path(session.path))
        print(f"To continue: {talk.command} ask {file} (or in the app: {talk.command} open {file})", file=talk.target)


def _step(talk: Talk, name: str) -> str | None:
    """One step; gives the name of the next."""
    session = talk.session
    session.at(name)
    talk.step, terms = name, session.project.terms
    talk.say()
    talk.say(f"Step {step(name).number} of {len(STEPS)}: {title_of(name, terms)}. {what_of(name, terms)}")
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
        talk.say("  This is the very first question.")
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
        talk.say(f"Still needed here: {'; '.join(missing)}. Type back for the last question.")


def _confirm(talk: Talk, name: str) -> None:
    """The step agrees with the answers before it; where the fabric may be another one, only if the knitter says so."""
    changed = cloth_changed(name, talk.session.project)
    if changed:
        talk.say(f"Look again: changed since you counted the swatches: {', '.join(changed)}.")
        talk.say(f"{OTHER_FABRIC}.")
        if yes(talk, "Keep these counts?", offer=False):
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
            talk.say("Starting at the first unanswered question. Type back for the ones before it.")
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
        knit = bool(talk.session.plan.made.pieces)
        begin = "Type knit to knit from the plan, or a" if knit else "Type a"
        heard = talk.hear(f"{begin} step from 1 to {len(STEPS) - 1} to go back to it, or Enter to leave: ")
        if knit and heard.casefold() == "knit":
            from workshop.ask_needles import knit as at_the_needles

            at_the_needles(talk)
            continue
        said, _ = order(heard)
        if heard == "" or said in ("leave", "next", "skip"):
            return None
        if said == "back":
            return STEPS[-2]
        if heard.isascii() and heard.isdigit() and 1 <= int(heard) < len(STEPS):
            talk.resuming = True
            return STEPS[int(heard) - 1]
        talk.say(f"  '{shown(heard)}' isn't a step. Type a number from 1 to {len(STEPS) - 1}.")


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
    """Further places of a count whose first place was left blank: they are not asked for either."""
    table, place = asked.key.rpartition(".")[::2]
    if not table.startswith("reading.") or place != "1" or asked.shown(talk.session.project):
        return []
    others = [f for f in fields(name, talk.session.project) if f.key.rpartition(".")[0] == table and f.key != asked.key]
    return [f.key for f in others if not f.shown(talk.session.project)]


def _heading(talk: Talk, name: str, asked: Field, last: str) -> str:
    title = next((g.title for g in groups(name, talk.session.project) if any(f.key == asked.key for f in g.fields)), "")
    if title != last:
        talk.say()
        talk.say(f"{in_terms_of(title, talk.session.project)}:")
    return title


WAYS = {"back": "back", "next": "next step", "skip": "on"}
"""Words that leave a question unanswered, and how it then ends."""


def _question(talk: Talk, name: str, asked: Field) -> str:
    """One question until it is answered or passed over."""
    session = talk.session
    _read_choices(talk, asked)
    refused = session.project.drafts.get(asked.key)
    if refused is not None:
        talk.say(f"  You typed '{shown(refused)}' before, which wasn't understood.")
    reminded = False
    while True:
        _meanwhile(talk)
        now, offered = asked.shown(session.project), offer_to(asked, session.plan)
        typed = talk.hear(_prompt(talk, asked, now, offered))
        said, about = order(typed)
        if typed == "" and not now and asked.needed and not reminded:
            reminded = True
            take = f" Type take for {offered}." if offered else ""
            talk.say(f"  You'll need an answer later.{take} Enter skips it for now.")
        elif typed == "":
            session.forget_draft(asked)
            return "on"
        elif said in WAYS:
            return WAYS[said]
        elif said == "leave":
            raise Leave
        elif said in EXPLAINS:
            explain(talk, name, asked, said, about)
        elif said == "take" and not offered:
            if_blank = open_text(asked, session.plan)
            more = f" If you leave the answer blank, the plan uses {if_blank}." if if_blank and not now else ""
            talk.say(f"  There's no suggestion here. Type an answer, or press Enter to go on.{more}")
        elif _taken(talk, asked, _answer(said, typed, asked, offered)) and _asked_back(talk, asked.key):
            return "on"


def _answer(said: str, typed: str, asked: Field, offered: str) -> str:
    """The text of an answer: what is offered, none where it is cleared, else what was typed."""
    if said == "take":
        return offered
    if said == "clear":  # an answer that is needed cannot be cleared: it is refused as it is typed
        return "-" if asked.needed else ""
    return unquoted(typed)


def _taken(talk: Talk, asked: Field, typed: str) -> bool:
    """Take an answer and say what was taken, or why it was not."""
    session, now, planned = talk.session, asked.shown(talk.session.project), talk.session.plan
    try:
        session.answer(asked, typed)
    except NotUnderstood as error:
        why = str(error)
        if isinstance(asked.question.kind, Choice):
            why = f"{why.partition(f'. {CHOOSE}')[0]}. Type why to hear the choices"
        talk.say(
            f"  That didn't work: {why}{'' if why.endswith('?') else '.'}"
            + (f" Your answer stays {now}." if now else "")
        )
        return False
    if session.contest is not None:
        _choose(talk)
    taken = asked.shown(session.project)
    if session.fault:
        talk.say(f"  Not saved: {session.fault}")
    else:
        talk.say(f"  Your answer: {taken}." if taken else "  Cleared.")
    changed = before_and_now(planned, session.plan)
    if changed is not None:
        talk.say(f"  {changed.text}")
    if session.news:
        talk.say(f"  {session.news}")
        session.news = ""
    return True


def _meanwhile(talk: Talk) -> None:
    """What another window has answered since the last question."""
    if talk.session.look():
        talk.say("  Another window has changed this project. You're continuing from the project as it is now.")
    if talk.session.news:
        talk.say(f"  {talk.session.news}")
        talk.session.news = ""
    if talk.session.contest is not None:
        _choose(talk)


COUNTS: dict[str, Way] = {"t": "theirs", "y": "mine", "b": "both", "": "both"}
"""Whose answers count, by what is typed."""


def _choose(talk: Talk) -> None:
    """Which answers count, where this window and another one answered otherwise. Raises Leave."""
    session, contest = talk.session, talk.session.contest
    assert contest is not None
    if contest.theirs is None:  # nothing that could be chosen
        session.choose("both")
        return
    if contest.older:
        talk.say("  The file went back to an older version. An editor or another program may have saved an old copy:")
    else:
        talk.say("  This project was changed in another window. Both windows answered these:")
    lines = both_answered(contest.keys, session.project, contest.theirs)
    for line in lines or ("It doesn't have all the rows you've knitted.",):
        talk.say(f"    {line}")
    talk.say(
        "  The one you don't choose stays among the earlier versions. Enter keeps both answers, yours in a separate "
        "file."
    )
    while True:
        heard = talk.hear("  t takes theirs, y takes yours, b or Enter keeps both: ").casefold()
        if heard == ".":
            raise Leave
        if heard in COUNTS:
            session.choose(COUNTS[heard])
            return
        talk.say(f"  '{shown(heard)}' isn't t, y or b.")


def _read_choices(talk: Talk, asked: Field) -> None:
    """What can be answered, where it is one of a list or a mark."""
    project, kind = talk.session.project, asked.question.kind
    label = in_terms_of(asked.label, project)
    if isinstance(kind, Choice):
        talk.say(f"{label}{_colon(label)} " + "; ".join(kind.listed(project)))
    elif isinstance(kind, Whole) and kind.high <= SCALE:
        talk.say(f"{label}{_colon(label)} {worded(asked.question.told(project), project)}")


def _prompt(talk: Talk, asked: Field, now: str, offered: str) -> str:
    """The question, and in brackets the answer, what is offered, or what is used if it is left blank."""
    label, open_at = in_terms_of(asked.label, talk.session.project), open_text(asked, talk.session.plan)
    beside = now or (f"suggested: {offered}" if offered else f"{open_at} if blank" if open_at else "")
    beside = beside or ("optional, Enter goes on" if may_stay_blank(asked, talk.session.plan) else "")
    return f"{label} [{beside}]: " if beside else f"{label}{_colon(label)} "


def _colon(label: str) -> str:
    return "" if label.endswith("?") else ":"


def _asked_back(talk: Talk, key: str) -> bool:
    """What the workshop asks about the answer just given, while it is in mind; false: it is to be asked again."""
    for check in talk.session.plan.checks:
        about = check.question == key or (key.startswith("reading.") and key.startswith(f"{check.question}."))
        if not about or check.level == "note" or check.name in talk.asked:
            continue
        talk.asked.add(check.name)
        talk.say(f"  {say_check(check, talk.session.project)}")
        if check.level == "stop":
            talk.say("  Type back to change it.")
            continue
        heard = yes_or_no(talk, "  Keep this? y keeps it, n asks again, Enter decides later: ", offer=False)
        if heard in ("n", "back"):
            talk.asked.discard(check.name)
            return False
        if heard == "y":
            talk.session.agree(check.name)
    return True


def _agreements(talk: Talk, name: str) -> None:
    """Ask about every check that has a question."""
    for check in asking(name, talk.session.plan):
        if check.name not in talk.session.project.agreed:
            talk.say(f"Look again: {say_check(check, talk.session.project)}")
            if yes(talk, "Keep this?", offer=False):
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
        if not _can(talk, "swatch", f"three {yarn.id}"):
            continue
        on = ", ".join(show_needle(mm, session.project.needle_names) for mm in needles[yarn.id])
        if yes(talk, f"Plan three swatches of {yarn.name or 'the yarn'}, on {on}?"):
            session.change(_with(talk, "swatch", f"three {yarn.id}"))
            talk.say("  Planned. Type next to go on, or press Enter to go through the questions about each swatch.")
        else:
            asked = True
    return asked


def _one_more(talk: Talk, name: str) -> bool:
    """Whether one more of what the step is about was added."""
    project = talk.session.project
    if name == "shape":
        return _one_more_panel(talk)
    so_far, question = {
        "fibre": (counted(len(project.yarn), "yarn"), "Add another to compare?"),
        "swatch": (counted(len(project.swatch), "swatch", "swatches"), "Add one more?"),
    }[name]
    untold = untold_swatches(project)
    if (
        name == "swatch"
        and untold
        and _can(talk, name, "add pattern")
        and yes(talk, f"Describe the pattern of swatch {', '.join(untold)}?")
    ):
        talk.session.change(_with(talk, name, "add pattern"))
        return True
    if not _can(talk, name, "add") or not yes(talk, f"{so_far} so far. {question}"):
        return False
    talk.session.change(_with(talk, name, "add"))
    return True


def _one_more_panel(talk: Talk) -> bool:
    """Whether a panel was added; nobody is asked who has described or swatched no pattern for one."""
    project = talk.session.project
    many = len(project.garment.panel)
    so_far = f"{counted(many, 'panel')} so far. Add another?" if many else "Add a panel up the middle?"
    if not could_have_panel(project) or not _can(talk, "shape", "add panel") or not yes(talk, so_far, offer=False):
        return False
    talk.session.change(_with(talk, "shape", "add panel"))
    return True


def _can(talk: Talk, step_name: str, action: str) -> bool:
    """Whether a step has an action now: lists that are full have none."""
    return action in {a.name for a in actions(step_name, talk.session.project, sizes(talk.session.plan))}


def _with(talk: Talk, step_name: str, action: str) -> Project:
    """The project after an action of a step, which its buttons in the app do too."""
    project = talk.session.project
    return next(a for a in actions(step_name, project, sizes(talk.session.plan)) if a.name == action).do(project)


BEFORE: dict[str, Callable[[Talk], bool]] = {"fibre": _first_yarn, "swatch": _three_swatches}
"""What a step offers before its questions; says whether that can be gone back to."""

MORE = ("fibre", "swatch", "shape")
"""Steps that can add one more of what they are about, after their questions."""
