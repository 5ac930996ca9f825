"""What the plain mode says and hears: lines, explanations, yes or no. The way through the questions is in ``ask``."""

from typing import TextIO

from workshop.lessons import BadLesson, aloud, lesson_told
from workshop.questions import Field
from workshop.questions.kinds import Choice
from workshop.session import Session
from workshop.tables.fibres import by_name
from workshop.tables.glossary import look_up
from workshop.units import shown
from workshop.words.answers.of_steps import answers
from workshop.words.calculations.by_step import item_workings, step_workings
from workshop.words.lines import wrapped
from workshop.words.phrase import in_terms, worded

COLUMNS = 78
"""Lines are broken here."""


class Leave(Exception):
    """The knitter has had enough for now."""


class Back(Exception):
    """The knitter wants the question before, from one of yes or no."""


class Talk:
    """Asks and says, over two text streams."""

    def __init__(self, session: Session, source: TextIO, target: TextIO, command: str) -> None:
        self.session, self.source, self.target, self.command = session, source, target, command
        self.step = ""
        """The step that is being gone through."""
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


def explain(talk: Talk, name: str, asked: Field, sign: str) -> None:
    """Why it is asked, its answers, the lesson, what the answers mean, or how the numbers were worked out."""
    project, kind = talk.session.project, asked.question.kind
    if sign == "?":
        named = f" {asked.question.standard}" if asked.question.standard else ""
        talk.say(worded(f"  {asked.question.why} How: {asked.question.told(project)}.{named}", project))
        if isinstance(kind, Choice):
            talk.say("  Answers: " + "; ".join(kind.listed(project)))
    elif sign == "??":
        read_lesson(talk, name)
    elif sign == "=":
        say_answers(talk, name)
    else:
        near = item_workings(asked.key, talk.session.plan) if sign == "#" else ()
        if sign == "#" and not near and asked.key.partition(".")[0] in ("swatch", "reading", "yarn"):
            talk.say("  No number of it has been worked out yet; ## shows those of the whole step.")
            return
        for line in near or step_workings(name, talk.session.plan) or ("  No number has been worked out here yet.",):
            talk.say(line)


def read_lesson(talk: Talk, name: str) -> None:
    """The lesson of a step, without the signs of its Markdown."""
    try:
        told = lesson_told(name)
    except BadLesson as error:
        talk.say(f"  {error}")
        return
    if talk.session.project.units == "in":
        talk.say("  (Its example is in centimetres; # works out your own numbers in inches.)")
    talk.say(in_terms(f"Lesson: {told.title}\n\n{aloud(told.text)}", talk.session.project.terms))


def word_of_the_trade(talk: Talk, typed: str) -> None:
    """What a word of the trade means."""
    terms, word = talk.session.project.terms, look_up(typed)
    fibre_named = by_name().get(typed.strip().casefold())
    if word is None and fibre_named is not None:
        told = f"{fibre_named.wear}. In the wash: {fibre_named.wash}. Watch: {fibre_named.watch}"
        talk.say(in_terms(f"  {fibre_named.name}: {told}.", terms))
        return
    if word is None:
        talk.say(f"  '{shown(typed.strip())}' is not in the glossary; 'workshop tables glossary' lists its words.")
        return
    others = ", ".join(dict.fromkeys(n for n in (word.us, word.uk, word.short) if n and n != word.called(terms)))
    talk.say(f"  {word.called(terms)}{f' ({others})' if others else ''}: {in_terms(word.means, terms)}.")


def say_answers(talk: Talk, name: str, *, asking: bool = True) -> None:
    """What the answers of a step mean. ``asking``: they were asked for; else what was said last is not said again."""
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


def yes(talk: Talk, question: str, *, offer: bool = True) -> bool:
    """A question of yes or no. Raises Back where the question before is wanted."""
    heard = yes_or_no(talk, f"{question} y, or n or Enter for no: ", offer=offer)
    if heard == "<":
        raise Back
    return heard == "y"


def yes_or_no(talk: Talk, prompt: str, *, offer: bool = True) -> str:
    """One of y, n, < and nothing, asked until it is one of them. Raises Leave.

    + is a yes only to an offer: where something odd is asked about, a + typed ahead must not agree to it.
    """
    while True:
        heard = talk.hear(prompt).casefold()
        if heard == ".":
            raise Leave
        if heard in ("y", "yes", "n", "no", "<", "") or (heard == "+" and offer):
            return "y" if heard == "+" else heard[:1]
        if heard == ">":
            return ""
        if heard.startswith("?") and heard not in ("?", "??"):
            word_of_the_trade(talk, heard.removeprefix("?"))
        elif heard == "=":
            say_answers(talk, talk.step)
        elif heard == "??":
            read_lesson(talk, talk.step)
        elif heard in ("?", "#", "##", "-"):
            yes = "y or +" if offer else "y"
            talk.say(f"  {yes} says yes, n says no, < goes back, Enter goes on.")
        else:
            talk.say(f"  '{shown(heard)}' is neither y nor n.")
