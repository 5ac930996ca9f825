"""The sizes of a design on the screen: planned one after the other, so that no key waits for all of them."""

import asyncio
from typing import get_args

from rich.cells import set_cell_size
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static
from textual.widgets.option_list import Option

from workshop.app.desk import Desk
from workshop.app.screens.safety import ChoiceDialog, TextField
from workshop.app.widgets.bodies import OwnBodies
from workshop.app.widgets.body import Body
from workshop.app.widgets.lists import Ended
from workshop.prints.sizes import SCREEN, lead, length_named, on_screen, reason, rule_lines, rule_told, sheet
from workshop.project import BodyTable, Project
from workshop.questions.steps import fields
from workshop.sizes import RULES_OF, Design, Rule, Sized, Sizes, design_of, taken_out, with_length, with_rule
from workshop.units import NotUnderstood, show_length
from workshop.visible import in_one_line, shown_path
from workshop.words.phrase import in_terms
from workshop.words.texts import texts

WIDTHS = (10, 7, 23, 7, 5)
"""Characters of each column: together they fit into the narrowest window."""

OWN_LIST = "your list"


class SizeList(Ended):
    """The list of sizes. Enter is the screen's, and takes its turn after the keys that have moved the mark."""

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """All but what a list does at Enter."""
        return action != "select"


class AllSizes(Body):
    """A line for each size, and below them how lengths follow the size."""

    styles_in = "sizes.tcss"
    scrolled: VerticalScroll

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._table: BodyTable | None = None
        """The table that was chosen; None: the design's own."""
        self._design: Design | None = None
        self._found: list[Sized] = []
        self._shown: Project | None = None
        self._head = Static(Content(_columns(SCREEN)), id="sizes-head")
        self._list = SizeList(id="sizes-found", markup=False)
        self._told = Static("", id="sizes-told", markup=False)
        self.scrolled = VerticalScroll(self._told, id="sizes-rules", can_focus=False)

    def compose(self) -> ComposeResult:
        yield self._head
        yield self._list
        yield self.scrolled

    def show(self) -> None:
        """The sizes of the design as it is now; nothing is planned again where nothing has changed."""
        project = self.desk.session.plan.project
        if project == self._shown:
            return
        self._shown = project
        self._begin()

    def _begin(self) -> None:
        assert self._shown is not None
        self._design = design_of(self._shown, self._table)
        marked = self._list.highlighted
        self._found = []
        self._list.clear_options()
        self._told.update(Content(""))
        self.screen.set_focus(self._list)
        self.run_worker(self._plan_all(self._design, marked), exclusive=True)

    async def _plan_all(self, design: Design, marked: int | None) -> None:
        """One size after the other; keys are taken between them."""
        begin = design.names.index(design.base_size) if marked is None else marked
        for name in design.names:
            one = design.size(name)
            self._found.append(one)
            self._list.add_option(Option(_line(one, is_base=name == design.base_size)))
            if len(self._found) == begin + 1 and self._list.highlighted in (None, 0):
                self._list.highlighted = begin
            await asyncio.sleep(0)
        self._told.update(Content("\n".join(self._below())))

    @property
    def _all(self) -> Sizes | None:
        """All sizes; None until they are planned."""
        design = self._design
        if design is None or len(self._found) < len(design.names):
            return None
        return design.sizes(self._found)

    def _below(self) -> list[str]:
        """How lengths follow the size."""
        sizes = self._all
        assert sizes is not None
        assert self._shown is not None
        unit = "inches" if self._shown.units == "in" else "cm"
        head = f"In {unit}, after washing. {lead(sizes)}"
        return [in_terms(line, self._shown.terms) for line in (head, *rule_lines(self._shown, sizes))]

    def help_text(self) -> str:
        """What can be done here."""
        return (
            "Your design in every size of a table. Each line is planned for that body. Enter makes the marked size a "
            "project of its own. R changes how a length follows the size, or sets it for one size. T shows another "
            "table. B enters bodies of your own instead. P saves all sizes as one set of instructions to print."
        )

    @property
    def _marked(self) -> Sized | None:
        at = self._list.highlighted
        return self._found[at] if at is not None and at < len(self._found) else None

    def on_option_list_option_selected(self, event: Ended.OptionSelected) -> None:
        """A click takes a size out as Enter does."""
        event.stop()
        self.run_worker(self.take_out())

    # ── a size of its own ────────────────────────────────────────────────────────────────────────────

    async def take_out(self) -> None:
        """Ask for the name of the new project."""
        one = self._marked
        if one is None:
            return
        if why := reason(one):
            self.tell(f"Size {in_one_line(one.size)} can't become a project. {why}")
            return

        def copied(typed: str) -> str:
            return self._taken(one, typed)

        text = f"Size {one.size} becomes a project of its own, and opens here. This design stays as it is."
        await self.room.workshop.ask(TextField("What will you call the project?", text, copied), self._opened)

    def _taken(self, one: Sized, typed: str) -> str:
        """Make the project. Gives why not."""
        from workshop.questions.fibre import TITLE

        session = self.desk.session
        try:
            title = str(TITLE.kind.read(typed, session.project))
        except NotUnderstood as error:
            return str(error)
        if not title:
            return "The new project needs a name"
        copy = session.copy(title, taken_out(one))
        if copy.path is None:
            return copy.fault
        self.room.workshop.take_up(copy)
        return ""

    async def _opened(self, taken: bool | None) -> None:
        path = self.desk.session.path
        if taken and path is not None:
            workshop = self.room.workshop  # this screen has gone after that
            await workshop.open_step("summary")
            told = f"This is the new project, saved as {shown_path(path.name)}."
            self.app.call_later(workshop.tell, told)

    # ── rules ────────────────────────────────────────────────────────────────────────────────────────

    async def change_rule(self) -> None:
        """Which length is to follow the size otherwise?"""
        design, one = self._design, self._marked
        if design is None or one is None:
            return
        project = self.desk.session.project
        told = {rule.length: rule_told(rule) for rule in design.rules}
        asked = {f.key.removeprefix("garment.") for f in fields("shape", project)}
        lengths = [length for length in RULES_OF if length in told or length in asked]
        if not lengths:
            self.tell("No length of this design can follow the size yet.")
            return
        ways = [(n, f"{length_named(n, project)}: {told.get(n, texts('length_rules')['not typed'])}") for n in lengths]

        async def chosen(length: str | None) -> None:
            if length:
                await self._choose_rule(length, one)

        await self.room.workshop.ask(ChoiceDialog("Which length?", "", ways, "changes nothing"), chosen)

    async def _choose_rule(self, length: str, one: Sized) -> None:
        project = self.desk.session.project
        name = length_named(length, project)
        given = self._design is not None and any(r.length == length and r.others for r in self._design.rules)
        rules = RULES_OF[length] if given else ()
        ways = [(f"rule {rule}", f"In every size: the length {texts('length_rules')[rule]}") for rule in rules]
        ways.append(("size", f"Only in size {one.size}: type a length"))
        if f"{length}.{one.size}" in project.grading.rule:
            ways.append(("again", f"Size {one.size} follows the rule again"))

        async def chosen(way: str | None) -> None:
            if way == "size":
                await self._type_length(length, one)
            elif way == "again":
                self._changed(with_length(self.desk.session.project, length, one.size, None))
            elif way:
                self._changed(with_rule(self.desk.session.project, length, _rule(length, way)))

        asks = ChoiceDialog(name, "How does this length follow the size?", ways, "changes nothing")
        await self.room.workshop.ask(asks, chosen)

    async def _type_length(self, length: str, one: Sized) -> None:
        now = getattr(one.project.garment, length)
        given = f"The length is {show_length(now, one.project.units)} now." if now is not None else ""
        text = given or "You haven't typed this length yet."
        name = length_named(length, self.desk.session.project)

        def typed(said: str) -> str:
            return self._length_typed(length, one.size, said)

        await self.room.workshop.ask(TextField(f"{name} in size {one.size}?", text, typed))

    def _length_typed(self, length: str, size: str, typed: str) -> str:
        """Take a length for one size. Gives why not."""
        project = self.desk.session.project
        kind = next(f.question.kind for f in fields("shape", project) if f.key == f"garment.{length}")
        try:
            cm = kind.read(typed, project)
        except NotUnderstood as error:
            return str(error)
        if not isinstance(cm, float | int):
            return "Type a length"
        self._changed(with_length(project, length, size, float(cm)))
        return ""

    def _changed(self, project: Project) -> None:
        self.keep(project, "Saved with the project.")
        self.show()

    # ── bodies ───────────────────────────────────────────────────────────────────────────────────────

    async def change_bodies(self) -> None:
        """Bodies of one's own; once there are some they come before any table."""
        before = self.desk.session.project.grading.body

        def closed() -> None:
            if self.desk.session.project.grading.body != before:
                self._table = None
            self.show()

        await OwnBodies(self, closed).choose()

    # ── table and print ──────────────────────────────────────────────────────────────────────────────

    async def choose_table(self) -> None:
        """The sizes of another table, or of the list of bodies in the file."""
        own = bool(self.desk.session.project.grading.body)
        ways = [(OWN_LIST, "Your own list of bodies")] if own else []
        ways += [(table, table.capitalize()) for table in get_args(BodyTable)]
        now = self._design.table if self._design else None
        names = [name for name, _ in ways]

        def chosen(table: str | None) -> None:
            if table:
                self._table = next((t for t in get_args(BodyTable) if t == table), None)
                self._list.highlighted = None
                self._begin()

        begin = names.index(now) if now else 0
        await self.room.workshop.ask(ChoiceDialog("Which table of sizes?", "", ways, "changes nothing", begin), chosen)

    async def print_as(self, kind: str) -> None:
        """All sizes with one instruction, beside the save."""
        from workshop.prints import paper

        sizes, project = self._all, self._shown
        if sizes is None or project is None:
            self.tell("One moment: the sizes are still being planned.")
            return
        path = self.desk.session.path or self.desk.folder / "plan"
        page = sheet(project, sizes)
        text = paper.html(page, sizes.sizes[0].plan) if kind == "html" else paper.markdown(page)
        await self.room.workshop.write_print(path.with_name(f"{path.stem}-sizes.{kind}"), text)


def _rule(length: str, way: str) -> Rule:
    return next(rule for rule in RULES_OF[length] if way == f"rule {rule}")


def _columns(cells: tuple[str, ...]) -> str:
    return " ".join(set_cell_size(cell, width) for cell, width in zip(cells, WIDTHS, strict=False)).rstrip()


def _line(one: Sized, *, is_base: bool) -> Content:
    name, *cells = on_screen(one)
    name = in_one_line(name) + (" *" if is_base else "")
    if len(cells) == 1:  # why it can't be made
        return Content(f"{set_cell_size(name, WIDTHS[0])} {cells[0]}")
    return Content(_columns((name, *cells)))
