"""What things are shown in: units, names of needles, US or UK words, and colours. Figures stay as they are stored."""

from typing import TYPE_CHECKING

from workshop.app.themes import NAMES
from workshop.questions.fibre import SHOWN
from workshop.questions.kinds import Choice
from workshop.questions.places import at_top
from workshop.settings import THEMES, save_theme

if TYPE_CHECKING:
    from workshop.app.app import WorkshopApp


def ways_to_show(app: "WorkshopApp") -> list[tuple[str, str, bool]]:
    """What can be switched, as (id, words, whether it is so now)."""
    found, project = [], app.session.project
    for question in SHOWN if app.room.step is not None else ():
        kind, now = question.kind, getattr(project, question.key)
        assert isinstance(kind, Choice)
        for option in kind.options(project):
            said = f"{question.asks}: {option.label}"
            found.append((f"{question.key}={option.value}", said, option.value == now))
    for theme in THEMES:
        found.append((f"theme={theme}", app.in_terms(f"Colors: {theme}"), NAMES[theme] == app.theme))
    return found


def show_so(app: "WorkshopApp", chosen: str) -> None:
    """Switch one of them, by its id."""
    key, _, value = chosen.partition("=")
    if key != "theme":
        question = next(q for q in SHOWN if q.key == key)
        app.session.answer(at_top(question, key), value)
        return
    app.theme = NAMES[value]
    fault = save_theme(value)
    if fault:
        app.tell(fault)
