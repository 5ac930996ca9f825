"""What an answer changes of a finished plan: the core's own figures of both plans."""

from dataclasses import replace

from tests.factory import pullover
from workshop.core.key_figures import key_figures, moved
from workshop.core.plan import plan


def test_key_figures_that_moved_are_those_of_the_two_plans():
    narrow, wide = (plan(pullover(body=replace(pullover().body, chest_cm=cm))) for cm in (92.0, 100.0))
    told = {m.what: (m.before.value, m.now.value) for m in moved(narrow, wide)}

    assert told["finished chest"] == (narrow.made.finished_cm["chest"], wide.made.finished_cm["chest"])
    assert told["cast-on of the back"] == (narrow.made.pieces[0].cast_on, wide.made.pieces[0].cast_on)
    assert narrow.yarn.balls is not None
    assert "balls to buy" in key_figures(narrow)
    assert "cast-on of the neckband" not in key_figures(narrow)


def test_nothing_moved_where_nothing_changed_or_a_plan_is_not_finished():
    done, begun = plan(pullover()), plan(pullover(fit=replace(pullover().fit, ease=None)))

    assert moved(done, plan(pullover(title="Another name"))) == ()
    assert moved(begun, done) == moved(done, begun) == ()
