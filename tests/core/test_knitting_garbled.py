"""Rows of a file that nobody can have knitted: a check says so, nothing is planned from them, and nothing raises."""

import json
from dataclasses import replace

import pytest

from tests.factory import pullover, shaped
from workshop.core.knitting.facts import noted
from workshop.planned import plan
from workshop.prints import machine, paper
from workshop.prints.plan_sheet import plan_sheet
from workshop.project import WorkedEvent


def knitted(name, rows, **more):
    project = shaped(pullover(), **more)
    piece = next(p for p in plan(project).made.pieces if p.name == name)
    return replace(project, knitting=(noted(piece, rows),))


BACK = knitted("back", 40)
FRONT = knitted("right front", 40, front="open")
BODY = knitted("body", 70, construction="raglan-from-hem", worked="round")
TOP = knitted("yoke, top", 12, construction="raglan-from-neck")

HELD = (WorkedEvent("hold", "underarm", 20), WorkedEvent("join", "left", 40), WorkedEvent("join", "right", 40))


def garbled(project, events=(), **more):
    """The project with other events in its first rows."""
    known = project.knitting[0]
    first = replace(known.worked[0], event=events, **more)
    return replace(project, knitting=(replace(known, stitches=None, worked=(first, *known.worked[1:])),))


@pytest.mark.parametrize(
    ("project", "events"),
    [
        (BACK, (WorkedEvent("decrease", "left", 2, "no line"),)),
        (BACK, (WorkedEvent("increase", "across", 8, "all lines"),)),
        (BACK, (WorkedEvent("bind-off", "across", 2),)),
        (BACK, (WorkedEvent("bind-off", "across", 2, gaps=(-1, 90)),)),
        (BACK, (WorkedEvent("hold", "left", 5),)),
        (FRONT, HELD),
        (FRONT, (WorkedEvent("increase", "neck-right", 2),)),
        (BODY, (WorkedEvent("join", "centre", 1),)),
        (BODY, (WorkedEvent("increase", "across", 0),)),
        (BODY, (WorkedEvent("bind-off", "right", 1, "raised back"),)),
        (TOP, (WorkedEvent("increase", "right", 2),)),
        (TOP, HELD),
    ],
)
def test_what_nobody_does_in_such_a_piece_is_told_and_left_out(project, events):
    now, anew = plan(garbled(project, events)), plan(replace(project, knitting=()))

    assert "knitting-garbled" in [c.code for c in now.checks]
    assert now.made == anew.made


@pytest.mark.parametrize("project", [BACK, FRONT, BODY, TOP])
@pytest.mark.parametrize("mark", ["no mark", "join", "raise", "markers", "top"])
def test_a_landmark_that_the_piece_does_not_have_is_none(project, mark):
    now = plan(garbled(project, project.knitting[0].worked[0].event, mark=mark, parts=(-1, 3)))

    assert paper.html(plan_sheet(now), now)
    assert machine.dumps(now)


def test_an_edge_that_is_not_there_is_told_in_the_json_too():
    """A back that divides before its armholes are begun has no shoulders."""
    known, divided = BACK.knitting[0], (WorkedEvent("hold", "left", 1), WorkedEvent("hold", "right", 1))
    worked = (*known.worked[:-1], replace(known.worked[-1], event=divided, mark="top"))
    now = plan(replace(BACK, knitting=(replace(known, worked=worked, finished=True),)))
    assert "knitting-garbled" not in [c.code for c in now.checks]
    assert isinstance(json.loads(machine.dumps(now))["seams"], list)
