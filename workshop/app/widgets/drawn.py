"""Plans to draw from: of the project as it is, or with an answer of an open list that is only looked at."""

from workshop.core.plan import Plan
from workshop.core.usual import usual
from workshop.planned import plan
from workshop.project import Project
from workshop.questions import Field


class Drawn:
    """Each is worked out once, for as long as the project stays as it is."""

    def __init__(self) -> None:
        self._of: Plan | None = None
        self._found: dict[tuple[str, str], Plan] = {}

    def of(self, now: Plan, field: Field | None = None, value: object = None) -> Plan:
        """The plan to draw, with this answer to one question where one is given."""
        if field is None and now.made.pieces:
            return now
        if now is not self._of:
            self._of, self._found = now, {}
        name = (field.key, str(value)) if field is not None else ("", "")
        if name not in self._found:
            self._found[name] = _first_that_can_be(field.put(now.project, value) if field is not None else now.project)
        return self._found[name]


def _first_that_can_be(project: Project) -> Plan:
    """The first plan with something to draw; where there is none, her own, which says why."""
    first = None
    for one in usual(project):
        found = plan(one)
        if found.made.pieces:
            return found
        first = first or found
    assert first is not None
    return first
