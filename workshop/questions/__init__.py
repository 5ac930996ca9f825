"""Every question that the workshop asks, declared once.

A :class:`Question` gives the wording, the kind of answer with its limits, the hint, why it is asked and
when. The forms, the plain line-by-line mode, the work sheets, the error texts and the documentation test
are all made from it. :func:`groups` lays the questions of one step out for one project: a field for every
yarn, swatch and reading there is, and one more reading than there are.
"""

from collections.abc import Callable

from workshop.project import Project
from workshop.questions.kinds import Kind
from workshop.records import record
from workshop.tables.trade_rules import for_child


def always(_project: Project) -> bool:
    """A question that is asked in any case."""
    return True


@record
class Question:
    """One question. ``key`` is its place in the save file, without the id of the yarn or swatch."""

    key: str
    step: str
    asks: str
    kind: Kind
    hint: str
    why: str
    needed: bool = False
    when: Callable[[Project], bool] = always
    child_hint: str = ""
    """The hint where the garment is for one who is not grown up and other figures are usual."""
    open_hint: str = ""
    """The hint where the front is open."""
    standard: str = ""
    """What a published standard calls it, for those who ask for help."""
    called: str = ""
    """What a sentence calls it where ``asks`` is a whole question."""
    always_answered: bool = False
    """It has an answer from the start: another can be given, and none taken back."""
    from_file: bool = False
    """The name of a text file that holds the answer can be typed too."""

    def told(self, project: Project) -> str:
        """How it is answered, for the one who will wear this garment."""
        if self.open_hint and project.garment.front == "open":
            return self.open_hint
        return self.child_hint if self.child_hint and for_child(project.body) else self.hint


@record
class Field:
    """A question put to one place of one project. ``key`` names that place: ``yarn.a.weight``."""

    question: Question
    key: str
    label: str
    get: Callable[[Project], object]
    put: Callable[[Project, object], Project]
    needed: bool = False
    spare: bool = False
    """One more of a kind than is asked for: Enter passes it while it is empty, the arrows reach it."""

    def shown(self, project: Project) -> str:
        """The answer as it would be typed; empty where there is none."""
        value = self.get(project)
        return "" if value in (None, "", ()) else self.question.kind.show(value, project)

    def answered(self, project: Project, text: str) -> Project:
        """The project with this answer typed. Empty text clears an answer that is not needed.

        Raises NotUnderstood.
        """
        if not text.strip() and not self.needed:
            return self.put(project, None)
        return self.put(project, self.question.kind.read(text, project))


@record
class Group:
    """Fields that belong together under one heading: a yarn, a swatch, the body."""

    title: str
    fields: tuple[Field, ...]
    name: str = ""
