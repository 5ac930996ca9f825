"""Which screen fills the window: projects opened, steps gone through, and keys that come before one is furnished."""

from functools import partial
from pathlib import Path

from textual import events, on

from workshop import saves
from workshop.app.filed import Filed
from workshop.app.screens.room import Room
from workshop.app.screens.step import StepScreen
from workshop.app.widgets.body import Body
from workshop.project import STEPS, Project
from workshop.session import Session
from workshop.visible import in_one_line, shown_path


class Opening(Filed):
    """An app that goes from screen to screen, and loses no key on the way."""

    _held: list[events.Event] | None
    """Keys that were typed before there was something to type into; None while there is."""

    async def on_event(self, event: events.Event) -> None:
        """Keys that come before a screen is furnished are kept in their order."""
        if self._held is not None and isinstance(event, events.Key | events.Paste) and not event.is_forwarded:
            self._held.append(event)
            return
        if isinstance(event, events.Key) and not event.is_forwarded and self._held is None:
            self.room.look(at_key=True)  # what another window has answered is seen at the next key
        await super().on_event(event)
        if self._held is None and self.session.contest is not None:
            await self.ask_which()

    @on(Room.Stands)
    async def take_held_keys(self) -> None:
        """The screen is furnished: what was typed meanwhile goes where it was meant."""
        held, self._held = self._held or [], None
        while held and self._held is None:
            await self.on_event(held.pop(0))
        if self._held is not None:
            self._held += held

    # ── what stands ──────────────────────────────────────────────────────────────────────────────────────

    @property
    def room(self) -> Room:
        """The screen that fills the window, also where a small window lies over it."""
        return next(s for s in reversed(self.screen_stack) if isinstance(s, Room))

    @property
    def body(self) -> Body | None:
        """What stands in the middle of it."""
        return self.room.body

    @property
    def current_step(self) -> str | None:
        """The step on the screen; None on the list of projects, and in a small window."""
        return self.screen.step if isinstance(self.screen, Room) else None

    def tell(self, text: str) -> None:
        """Say something on the line for that at the foot of the screen; it covers nothing."""
        self.room.tell(text)

    async def before_asking(self) -> None:
        """Every key that was pressed before this one has its effect, and what stands in a field is taken."""
        if self.body is not None:
            await self.after_keys()
        self._commit()

    async def after_keys(self) -> None:
        """Every key that was pressed before this one has its effect."""
        if self.focused is not None:
            from workshop.app.widgets.in_order import settled

            await settled(self.focused)

    def _commit(self) -> None:
        if self.body is not None:
            self.body.commit()

    @on(Room.Contested)
    async def another_window(self) -> None:
        """Another window has answered otherwise."""
        await self.ask_which()

    # ── projects ─────────────────────────────────────────────────────────────────────────────────────────

    def _enter(self, room: Room) -> None:
        """Go over to another screen; what is typed until it is furnished is kept."""
        self._held = []
        if len(self.screen_stack) > 1:
            self.switch_screen(room)  # not awaited: a click on the old screen would wait for its own end
        else:  # the first screen cannot be taken away
            self.push_screen(room)

    def _needles(self) -> Room:
        from workshop.app.screens.needles import NeedlesScreen

        return NeedlesScreen(self.desk)

    def _list_of_projects(self) -> Room:
        from workshop.app.screens.start import StartScreen

        return StartScreen(self.desk)

    def open_list(self) -> None:
        """The list of projects, without a look at what is being typed."""
        self._enter(self._list_of_projects())

    async def action_projects(self) -> None:
        """Back to the list of projects."""
        if self.room.step is None:
            return
        await self.before_asking()
        if self.session.fault:
            self.session.save()
        if self.session.fault:  # another project opened from there would take the place of these answers
            self.tell(in_one_line(f"Not saved: {self.session.fault}. Ctrl+Q lets you save in another place."))
        else:
            self.open_list()

    async def open_new(self) -> None:
        """A new project, from the first step; its file is made with the first answer."""
        from workshop.questions.fibre import add_yarn

        self.take_up(Session(add_yarn(Project()), self.desk.folder))
        self.desk.back_again = False
        self._enter(StepScreen(self.desk, STEPS[0]))

    async def open_project(self, path: Path | None) -> None:
        """A saved project; without a path a new one."""
        await (self.open_new() if path is None else self.open_file(path))

    async def open_file(self, path: Path) -> None:
        """A saved project, where it was left off; of one that cannot be opened an earlier version."""
        session = await self._read(path)
        if session is not None:
            self._go_on_with(session)

    async def knit_file(self, path: Path) -> None:
        """A saved project, at the needles."""
        session = await self._read(path)
        if session is None:
            return
        if session.plan.made.pieces:
            self._go_on_with(session, self._needles())
        else:
            self.tell("There's no plan to knit from yet. Enter opens the project where you left off.")

    async def earlier_of(self, path: Path) -> None:
        """Earlier versions of a saved project; the one that is brought back opens."""
        session = await self._read(path)
        if session is not None:
            await self.ask_earlier(session, partial(self._brought_back, session))

    async def _read(self, path: Path) -> Session | None:
        """A saved project; where it cannot be opened, it is told why, and earlier versions are shown."""
        from workshop.session import opened, recovered

        try:
            return opened(path)
        except saves.BadSave as error:
            known = recovered(path)
            if known is None:
                self.tell(str(error))
            else:
                lost, _ = known
                why = f"{shown_path(path.name)} can't be opened: {saves.without_file(str(error), path)}."
                await self.ask_earlier(lost, partial(self._brought_back, lost), why)
            return None

    def _brought_back(self, session: Session, done: str) -> None:
        if session.fault:
            self.tell(done)
        else:
            session.news = f"{done} {session.news}".strip()
            self._go_on_with(session)

    def _go_on_with(self, session: Session, room: Room | None = None) -> None:
        """A project is opened, where it was left off."""
        self.take_up(session)
        self.desk.back_again = True
        self._enter(room or StepScreen(self.desk))

    # ── from the project at hand ─────────────────────────────────────────────────────────────────────────

    async def action_knit(self) -> None:
        """From the plan to the needles."""
        if not self.session.plan.made.pieces:
            self.tell("There's no plan to knit from yet.")
            return
        await self.before_asking()
        self._enter(self._needles())

    async def action_sizes(self) -> None:
        """The design in all its sizes."""
        from workshop.app.screens.sizes import SizesScreen

        if not self.session.plan.made.pieces:
            self.tell("There's no plan yet, so there are no other sizes to show.")
            return
        await self.before_asking()
        self._enter(SizesScreen(self.desk))

    async def action_class_room(self) -> None:
        """A teacher's list of everyone in this folder; none of them is changed from there."""
        from workshop.app.screens.class_list import ClassScreen

        await self.before_asking()
        self._enter(ClassScreen(self.desk))

    async def read_over(self, room: Room) -> None:
        """Something to read over the screen, which is still there when that is closed."""
        self._held = []
        await self.push_screen(room)

    # ── steps ────────────────────────────────────────────────────────────────────────────────────────────

    async def open_step(self, name: str, at: str | None = None) -> None:
        """A step, at one of its questions."""
        await self.room.stands.wait()
        await self.before_asking()
        room = self.room
        await room.stands.wait()  # it may have come just now
        if isinstance(room, StepScreen):
            self.desk.back_again = False  # the greeting has been read
            await room.open(name, at)
        else:
            self._enter(StepScreen(self.desk, name, at))

    async def action_onward(self) -> None:
        """The step has been gone through; the next one."""
        name = self.current_step
        if name is None or name == STEPS[-1]:
            return
        from workshop.progress import cloth_changed

        await self.before_asking()
        if not cloth_changed(name, self.session.project):
            self.session.confirm(name)
        await self.open_step(STEPS[STEPS.index(name) + 1])

    async def action_back(self) -> None:
        """The step before; from what was opened from the plan, the plan."""
        name = self.screen.step_before if isinstance(self.screen, Room) else None
        if name:
            await self.open_step(name)

    async def action_steps(self) -> None:
        """Choose a step."""
        from workshop.app.screens.dialogs import StepDialog
        from workshop.progress import progress

        name = self.current_step
        if name is None:
            return
        await self.before_asking()
        await self.ask(StepDialog(progress(self.session.plan), name, self.session.project.terms), self._open_chosen)

    async def _open_chosen(self, name: str | None) -> None:
        if name:
            await self.open_step(name)
