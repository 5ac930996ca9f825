"""The way into the core: whoever wants a plan of a project asks here, and only what is asked for counts."""

from workshop.core.plan import Plan
from workshop.core.plan import plan as worked_out
from workshop.project import Project
from workshop.questions.steps import as_asked


def plan(project: Project) -> Plan:
    """The plan of the answers that count. ``Plan.project`` is the project as it was planned, without the others."""
    return worked_out(as_asked(project))
