"""What the plain mode says and hears: lines, explanations, yes or no. The way through the questions is in ``ask``."""

from typing import TextIO

from workshop.lessons import BadLesson, aloud, example, in_units, lesson_told
from workshop.questions import Field
from workshop.questions.kinds import Choice
from workshop.session import Session
from workshop.tables.fibres import by_name
from workshop.tables.glossary import look_up
from workshop.units import shown
from workshop.words.answers.of_steps import answers
from workshop.words.calculations.by_step import item_workings, step_workings
from workshop.words.hints import hint_for
from workshop.words.lines import wrapped
from workshop.words.phrase import in_terms, worded

COLUMNS = 78
"""Lines are broken here."""


class Leave(Exception):
    """The knitter has had enough for now."""


class Back(Exception):
    """The knitter wants the question before, from one of yes or no."""


ORDERS = {
    "why": ("?", "why the question is asked, how to answer, and the choices"),
    "lesson": ("??", "the lesson of this step"),
    "results": ("=", "what your answers lead to so far"),
    "numbers": ("#", "how the numbers for this question were worked out"),
    "all numbers": ("##", "the same for the whole step"),
    "take": ("+", "take the suggested answer"),
    "clear": ("-", "remove your answer"),
    "skip": ("", "go on without an answer"),
    "back": ("<", "previous question"),
    "next": (">", "next step"),
    "leave": (".", "stop here. Everything is saved"),
    "help": ("", "hear this again"),
}
"""What can be said in place of an answer: a word, its sign for short, and what it does."""

MEANS = "means"
"""With a word of the trade after it: what that means. The sign for why does the same."""

EXPLAINS = ("why", "lesson", "results", "numbers", "all numbers", "help", MEANS)
"""Orders that are answered with an explanation; the question is asked again."""

MOST_WORDS = 4
"""A term of the trade has fewer words than this: "means a lot to me" is an answer."""


def order(typed: str) -> tuple[str, str]:
    """The order that was typed, as its word, and the term it is about; two empty texts for an answer."""
    text = " ".join(typed.casefold().split())
    for word, (sign, _) in ORDERS.items():
        if text == word or (sign and text == sign):
            return word, ""
    first, _, rest = text.partition(" ")
    if first == MEANS and len(rest.split()) < MOST_WORDS:
        return MEANS, rest
    if text.startswith("?") and text.strip("? "):
        return MEANS, text.lstrip("? ")
    return "", ""


def unquoted(typed: str) -> str:
    """An answer that is one of the words of orders is typed in quotes: without them."""
    inside = typed[1:-1] if len(typed) > 2 and typed[0] == typed[-1] and typed[0] in "\"'" else ""
    return inside if inside and order(inside)[0] else typed


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

    def help(self) -> None:
        """Say what can be typed: the words first, their signs after them."""
        terms = self.session.project.terms
        self.say("Type an answer and press Enter. Brackets show your answer or a suggested one. Enter alone goes on.")
        self.say("You can also type one of these words:")
        for word, (_, does) in ORDERS.items():
            self.say(f"  {word}: {does}")
            if word == "lesson":
                self.say(in_terms(f"  {MEANS} WORD: what a word means, such as {MEANS} gauge", terms))
        short = ", ".join(f"{word} {sign}" for word, (sign, _) in ORDERS.items() if sign)
        self.say(f"Short forms: {short}.")
        self.say("If your answer is one of these words, put it in quotes.")

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


def explain(talk: Talk, name: str, asked: Field, said: str, about: str = "") -> None:
    """Why it is asked, its choices, the lesson, what the answers mean, or how the numbers were worked out."""
    match said:
        case "why":
            _why(talk, asked)
        case "numbers" | "all numbers":
            _numbers(talk, name, asked, whole_step=said == "all numbers")
        case _:
            explain_anywhere(talk, name, said, about)


def explain_anywhere(talk: Talk, name: str, said: str, about: str) -> bool:
    """What can be explained without a question at hand; whether it was that."""
    match said:
        case "lesson":
            read_lesson(talk, name)
        case "results":
            say_answers(talk, name)
        case "help":
            talk.help()
        case "means":
            word_of_the_trade(talk, about)
        case _:
            return False
    return True


def _why(talk: Talk, asked: Field) -> None:
    project, kind = talk.session.project, asked.question.kind
    named = f" {asked.question.standard}" if asked.question.standard else ""
    how = hint_for(asked.key, asked.question.told(project), talk.session.plan)
    talk.say(worded(f"  {asked.question.why} How: {how}.{named}", project))
    if isinstance(kind, Choice):
        talk.say("  Choices: " + "; ".join(kind.listed(project)))


def _numbers(talk: Talk, name: str, asked: Field, *, whole_step: bool) -> None:
    near = () if whole_step else item_workings(asked.key, talk.session.plan)
    if not near and not whole_step and asked.key.partition(".")[0] in ("swatch", "reading", "yarn"):
        talk.say("  Nothing has been worked out for this question yet. To hear the whole step, type all numbers.")
        return
    for line in near or step_workings(name, talk.session.plan) or ("  Nothing has been worked out here yet.",):
        talk.say(line)


def read_lesson(talk: Talk, name: str) -> None:
    """The lesson of a step, without the signs of its Markdown."""
    try:
        told = lesson_told(name)
    except BadLesson as error:
        talk.say(f"  {error}")
        return
    project = talk.session.project
    text = in_units(told.text, project.units)
    if " cm" in example(text) and project.units == "in":  # a teacher's own
        talk.say("  (The example is in cm. Type numbers to hear your own figures in inches.)")
    talk.say(in_terms(f"Lesson: {told.title}\n\n{aloud(text)}", project.terms))


def word_of_the_trade(talk: Talk, typed: str) -> None:
    """What a word of the trade means."""
    if not typed:
        talk.say(in_terms(f"  Type a word after {MEANS}, such as {MEANS} gauge.", talk.session.project.terms))
        return
    terms, word = talk.session.project.terms, look_up(typed)
    fibre_named = by_name().get(typed.strip().casefold())
    if word is None and fibre_named is not None:
        told = f"{fibre_named.wear}. In the wash: {fibre_named.wash}. Watch: {fibre_named.watch}"
        talk.say(in_terms(f"  {fibre_named.name}: {told}.", terms))
        return
    if word is None:
        talk.say(f"  '{shown(typed.strip())}' isn't in the glossary. 'workshop tables glossary' lists all its words.")
        return
    others = ", ".join(dict.fromkeys(n for n in (word.us, word.uk, word.short) if n and n != word.called(terms)))
    talk.say(f"  {word.called(terms)}{f' ({others})' if others else ''}: {in_terms(word.means, terms)}.")


def say_answers(talk: Talk, name: str, *, asking: bool = True) -> None:
    """What the answers of a step mean. ``asking``: they were asked for; else what was said last is not said again."""
    marks = {"look": "Look again: ", "stop": "Stop: ", "heading": ""}
    if asking and not answers(name, talk.session.plan):
        talk.say("  There's nothing to show until you've answered a few more questions.")
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
    heard = yes_or_no(talk, f"{question} y for yes, n or Enter for no: ", offer=offer)
    if heard == "back":
        raise Back
    return heard == "y"


def yes_or_no(talk: Talk, prompt: str, *, offer: bool = True) -> str:
    """One of y, n, back and nothing, asked until it is one of them. Raises Leave.

    "take" is a yes only to an offer: where something odd is asked about, one typed ahead must not agree to it.
    """
    while True:
        heard = talk.hear(prompt).casefold()
        said, about = order(heard)
        if said == "leave":
            raise Leave
        if heard in ("y", "yes", "n", "no", ""):
            return heard[:1]
        if said == "back" or (said == "take" and offer):
            return "back" if said == "back" else "y"
        if said in ("next", "skip"):
            return ""
        if explain_anywhere(talk, talk.step, said, about):
            continue
        if said and said != "take":
            talk.say("  Type y for yes, n for no, or back for the previous question. Enter goes on.")
        else:
            talk.say(f"  '{shown(heard)}' isn't y or n.")
