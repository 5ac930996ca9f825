"""Bodies of the designer's own, entered in small windows over the sizes: a name, and what Measure asks of a body."""

from collections.abc import Callable

from workshop.app.screens.dialogs import ConfirmDialog
from workshop.app.screens.safety import ChoiceDialog, TextField
from workshop.app.widgets.body import Body
from workshop.project import Project
from workshop.questions import Field
from workshop.questions.bodies import NAME, fields_of, with_body, without_body
from workshop.questions.kinds import Choice
from workshop.units import NotUnderstood
from workshop.visible import in_one_line
from workshop.words.phrase import capitalised, in_terms, worded

ADD, REMOVE, NOTHING = "add", "remove", "nothing"


class OwnBodies:
    """The windows, one after the other. ``closed`` is called after the last of them."""

    def __init__(self, over: Body, closed: Callable[[], None]) -> None:
        self._over, self._closed = over, closed

    async def choose(self) -> None:
        """Which body is to be changed, or one more?"""
        bodies = self._project.grading.body
        if not bodies:
            await self._add()
            return
        ways = [(str(n), self._called(n)) for n in range(1, len(bodies) + 1)]
        ways.append((ADD, "Add a body"))

        async def chosen(way: str | None) -> None:
            if way == ADD:
                await self._add()
            elif way:
                await self._show_body(int(way))
            else:
                self._closed()

        text = "Enter shows the measurements."
        await self._over.room.workshop.ask(ChoiceDialog("Your own bodies", text, ways, "goes back"), chosen)

    @property
    def _project(self) -> Project:
        return self._over.desk.session.project

    def _called(self, number: int) -> str:
        return in_one_line(self._project.grading.names[number - 1])

    def _changed(self, project: Project) -> None:
        self._over.keep(project, "Saved with the project.")

    async def _add(self) -> None:
        """One more body: its name, and then its measurements."""

        def named(typed: str) -> str:
            return self._tried(lambda: with_body(self._project, typed))

        async def then(taken: bool | None) -> None:
            if taken:
                await self._question(len(self._project.grading.body), 1)
            else:
                self._closed()

        text = f"Type a name. {NAME.hint.capitalize()}. Your own bodies replace the table of sizes."
        await self._over.room.workshop.ask(TextField("Who's it for?", text, named), then)

    def _tried(self, change: Callable[[], Project]) -> str:
        """Go on with a changed project. Gives why not."""
        try:
            project = change()
        except NotUnderstood as error:
            return capitalised(str(error))
        self._changed(project)
        return ""

    # ── one body ─────────────────────────────────────────────────────────────────────────────────────

    async def _show_body(self, number: int, begin: int = 1) -> None:
        """All that is asked of one body, with what there is."""
        asked = fields_of(self._project, number)
        ways = [(f.key, self._told(f)) for f in asked]
        ways.append((REMOVE, f"Remove {self._called(number)}"))
        keys = [key for key, _ in ways]

        async def chosen(way: str | None) -> None:
            if way == REMOVE:
                await self._remove(number)
            elif way:
                await self._question(number, keys.index(way))
            else:
                await self.choose()

        text = "Enter changes a line."
        window = ChoiceDialog(self._called(number), text, ways, "goes back", begin)
        await self._over.room.workshop.ask(window, chosen)

    def _told(self, field: Field) -> str:
        return f"{self._label(field)}: {in_one_line(field.shown(self._project)) or '–'}"

    def _label(self, field: Field) -> str:
        return in_terms(field.label, self._project.terms)

    async def _question(self, number: int, at: int) -> None:
        """One question of a body; after it comes the next, and Esc shows them all."""
        asked = fields_of(self._project, number)
        if at >= len(asked):
            await self._show_body(number, at)
            return
        field = asked[at]

        async def then(taken: bool | None) -> None:
            await (self._question(number, at + 1) if taken else self._show_body(number, at))

        if isinstance(field.question.kind, Choice):
            await self._choose_from(number, at, field)
            return

        def typed(text: str) -> str:
            return self._tried(lambda: field.answered(self._project, text))

        hint = worded(field.question.told(self._project), self._project)
        text = f"{capitalised(hint)}. Enter goes on to the next."
        title = f"{self._called(number)}: {self._label(field).lower()}"
        await self._over.room.workshop.ask(TextField(title, text, typed, field.shown(self._project)), then)

    async def _choose_from(self, number: int, at: int, field: Field) -> None:
        """A question with a list of answers."""
        kind = field.question.kind
        assert isinstance(kind, Choice)
        options = kind.options(self._project)
        ways = [(NOTHING, "none of them"), *((str(o.value), o.label) for o in options)]
        now = next((i for i, o in enumerate(options, 1) if o.value == field.get(self._project)), 0)

        async def chosen(way: str | None) -> None:
            if way:
                self._tried(lambda: field.answered(self._project, "" if way == NOTHING else way))
            await self._show_body(number, at)

        title = f"{self._called(number)}: {self._label(field).lower()}"
        why = in_terms(field.question.why, self._project.terms)
        await self._over.room.workshop.ask(ChoiceDialog(title, why, ways, "changes nothing", now), chosen)

    async def _remove(self, number: int) -> None:
        """Ask first: its measurements go with it."""

        async def then(taken: bool | None) -> None:
            if not taken:
                await self._show_body(number)
                return
            self._changed(without_body(self._project, number))
            if self._project.grading.body:
                await self.choose()
            else:
                self._closed()

        await self._over.room.workshop.ask(
            ConfirmDialog(f"Remove {self._called(number)} and these measurements?"), then
        )
