"""What can be done where the knitter stands: every command by its name, and the help with all keys."""

from collections.abc import Awaitable, Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING

from textual.app import SystemCommand
from textual.binding import Binding
from textual.dom import DOMNode
from textual.screen import Screen

from workshop.app.screens.room import OfWindow, Room
from workshop.app.ways_to_show import show_so, ways_to_show
from workshop.app.widgets.answers import lesson_text
from workshop.project import STEPS
from workshop.words.explained import entries, explained
from workshop.words.titles import title_of, what_of

if TYPE_CHECKING:
    from workshop.app.app import WorkshopApp

COMMANDS = ("app", "start", "summary", "sizes", "needles", "class", "panel", "form")
"""First words of the ids of bindings that are commands by name; the others move inside one field."""

OURS = (*COMMANDS, "field", "list", "ask")
"""First words of the ids of our own bindings: the help lists these and no others."""


def commands(app: "WorkshopApp", screen: Screen[object]) -> Iterator[SystemCommand]:
    """Every command by its name."""
    yield from _of_keys(app, screen)
    practice = app.in_terms("Practice counting")
    yield SystemCommand(practice, "Count a drawn swatch and see how close you were", app.action_practise)
    if app.current_step:
        yield SystemCommand(
            "Try it another way",
            "A copy of this project under a new name, for another neck or another yarn",
            app.action_try_another,
        )
        yield SystemCommand("All sizes", "This design in every size of a table, side by side", app.action_sizes)
        yield SystemCommand(
            "Class: everyone's projects in one list",
            "For teachers: who needs you first, one yarn order, all swatches. Nothing is changed",
            app.action_class_room,
        )
    for name, words, _ in ways_to_show(app):
        yield SystemCommand(words, "This only changes the display", partial(_switch, app, name))
    terms = app.session.project.terms
    for word in entries("", terms):  # found by their names; they aren't listed before something is typed
        asks = f"What does {word.named} mean?"
        yield SystemCommand(asks, word.means, partial(app.action_words, word.called), discover=False)
    for name in STEPS if app.current_step else ():
        yield SystemCommand(f"Go to {title_of(name, terms)}", what_of(name, terms), partial(app.open_step, name))


def _of_keys(app: "WorkshopApp", screen: Screen[object]) -> Iterator[SystemCommand]:
    """What has a key: those of the app, and those of what is on the screen."""
    on_a_step = isinstance(screen, Room) and screen.step is not None
    named = set()
    for binding in app.BINDINGS:  # on a step also those that have nothing to do just now: they say so
        if isinstance(binding, Binding):
            named.add(binding.id)
            if on_a_step or app.check_action(binding.action.partition("(")[0], ()):
                yield _command(app, binding, app)
    for active in screen.active_bindings.values():
        binding = active.binding
        if active.enabled and binding.id not in named and (binding.id or "").partition(".")[0] in COMMANDS:
            named.add(binding.id)
            yield _command(app, binding, active.node)


def _command(app: "WorkshopApp", binding: Binding, node: DOMNode) -> SystemCommand:
    return SystemCommand(binding.description, app.in_terms(binding.tooltip), _run(app, binding.action, node))


def _run(app: "WorkshopApp", action: str, node: DOMNode) -> Callable[[], Awaitable[None]]:
    async def run() -> None:
        if not await app.run_action(action, node):
            app.tell("You can't do that here right now.")

    return run


async def _switch(app: "WorkshopApp", name: str) -> None:
    """Switch what things are shown in."""
    await app.before_asking()
    show_so(app, name)
    app.show_again()


# ── help ─────────────────────────────────────────────────────────────────────────────────────────────


def help_text(app: "WorkshopApp") -> str:
    """Help for where the knitter stands, all keys, and the words of the trade."""
    text = app.screen.help_text() if isinstance(app.screen, OfWindow) else ""
    keys = "\n".join(f"  {key:<15} {does}" for key, does in keys_that_work(app))
    signs = "  · to do   … under way   ✓ done   ! look again"
    return f"{text}\n\nSteps\n{signs}\n\nKeys\n{keys}{_words_here(app, text)}"


def _words_here(app: "WorkshopApp", text: str) -> str:
    """Words of the trade in the help and in the lesson of the step, explained."""
    name, project = app.current_step, app.session.project
    read = lesson_text(name, project) if name is not None else ""
    found = explained(f"{text}\n{read}", project.terms)
    return "\n\nWords of the trade\n" + "\n".join(f"  {line}" for line in found) if found else ""


def keys_that_work(app: "WorkshopApp") -> list[tuple[str, str]]:
    """Keys of where the knitter stands, with what they do."""
    found: dict[str, list[str]] = {}
    told = app.body.tells_keys if app.body is not None else ""
    for active in app.screen.active_bindings.values():
        binding = active.binding
        whose, _, name = (binding.id or "").partition(".")
        if name and binding.tooltip and whose in OURS and whose != told:
            found.setdefault(binding.tooltip, []).append(app.get_key_display(binding))
    return [(", ".join(dict.fromkeys(keys)), app.in_terms(does)) for does, keys in found.items()]
