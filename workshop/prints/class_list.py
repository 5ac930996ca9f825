"""A class as a list: as data for programs, and as lines for a terminal."""

import json
from collections.abc import Iterator, Sequence

from workshop.of_class import Pupil
from workshop.prints.machine import yarn_data
from workshop.steps import step
from workshop.units import show_length
from workshop.visible import in_one_line
from workshop.words.phrase import in_terms


def dumps(pupils: Sequence[Pupil]) -> str:
    """The class as JSON text."""
    return json.dumps({"pupils": [_pupil(p) for p in pupils]}, ensure_ascii=False, indent=1, allow_nan=False)


def _pupil(pupil: Pupil) -> dict[str, object]:
    plan = pupil.plan
    gauge = plan.gauge if plan else None
    return {
        "file": pupil.path.name,
        "title": pupil.title,
        "step": pupil.step or None,
        "next": pupil.next or None,
        "attention": list(pupil.attention) if plan else [],
        "gauge": {
            "stitches_per_10cm": round(gauge.stitches.per_10cm, 4),
            "stitches_u95_percent": round(gauge.stitches.u95_percent, 4),
            "rows_per_10cm": round(gauge.rows.per_10cm, 4),
            "rows_u95_percent": round(gauge.rows.u95_percent, 4),
        }
        if gauge
        else None,
        "chest_cm": round(plan.finished_cm["chest"], 4) if plan and "chest" in plan.finished_cm else None,
        "yarn": yarn_data(plan) if plan and plan.yarn else None,
        "fault": pupil.fault or None,
    }


def lines(pupils: Sequence[Pupil]) -> Iterator[str]:
    """One pupil a line, with what needs a look below."""
    for pupil in pupils:
        name = in_one_line(f"{pupil.title} ({pupil.path.name})")
        if pupil.plan is None:
            yield f"✗ {name}: {in_one_line(pupil.fault)}"
            continue
        project = pupil.plan.project
        told = [in_terms(step(pupil.step).title, project.terms)]
        if pupil.plan.gauge is not None:
            told.append(f"{pupil.plan.gauge.stitches.per_10cm:.1f} stitches to 10 cm")
        if "chest" in pupil.plan.finished_cm:
            told.append(f"chest {show_length(pupil.plan.finished_cm['chest'], project.units)}")
        yield f"{'!' if pupil.attention else '·'} {name}: {', '.join(told)}. {in_one_line(pupil.next)}"
        yield from (f"    {in_one_line(text)}" for text in pupil.attention)
