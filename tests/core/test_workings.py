"""Every number shows its working, and the working, read as printed, gives the number."""

from dataclasses import replace

import pytest
from hypothesis import given

from tests.core.test_garments import projects
from tests.factory import pullover
from tests.formula import work_out
from workshop.core.plan import plan
from workshop.project import FibrePart, ReferenceGarment, Yarn


def check_workings(project):
    now = plan(project)
    assert now.workings
    for working in now.workings:
        exact = work_out(working.formula, {f.name: f.value for f in working.figures})
        assert exact == pytest.approx(working.exact, rel=1e-9), working
        if working.rounding:
            assert working.rounding(exact) == working.value, working
        else:
            assert working.value == pytest.approx(exact), working
    keys = [w.key for w in now.workings]
    assert len(keys) == len(set(keys))
    return now


@given(projects())
def test_recomputing_every_working_of_a_plan_gives_its_number(project):
    check_workings(project)


def test_blends_garments_that_fit_and_unweighed_swatches_show_their_working_too():
    blend = Yarn("a", "x", "fine", (FibrePart("alpaca", 50.0), FibrePart("wool", 50.0)), 50.0, 150.0)
    garment = ReferenceGarment(
        chest_width_cm=50,
        upper_arm_width_cm=18,
        cuff_width_cm=10,
        armhole_depth_cm=22,
        centre_to_cuff_cm=75,
        length_cm=60,
    )
    base = pullover(yarn=(blend,), reference_garment=garment)
    now = check_workings(replace(base, swatch=(replace(base.swatch[0], grams=None),)))

    assert now.working("target.chest").formula == "flat width × 2"
    assert now.yarn.basis == "stitch geometry"
    assert now.working("yarns.a.sizes_moved").value == -1  # half a size of alpaca counts as one


def test_rounding_is_told_in_cm_of_cloth():
    now = plan(pullover())
    working = now.working("body.rows")

    assert working.difference_cm == pytest.approx((working.value - working.exact) / (now.gauge.rows.per_10cm / 10))
