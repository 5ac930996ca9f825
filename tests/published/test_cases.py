"""Published worked examples, each through what the planner itself uses.

A case names its source (title and address) in ``worked.toml``; figures under ``out`` are the source's own, figures
under ``derived`` go on from them and are never called published. Of the project's 67 cases 59 prove the product:

    kind          cases  proofs  through
    stitches          5       5  stitches_for, the rounding rules, the seam stitches of a panel
    rows              1       1  rows_for
    width             3       3  width_of
    spacing_rows      5       5  over_rows: a sleeve in the round
    spacing_rs        1       1  gentlest_shaping: a sleeve worked flat
    two_rate          1       1  line_rows (raglan) and two_rates (cap, armhole)
    alternating       1       1  gentlest_shaping, and the ledger
    schedule          1       1  line_rows
    ledger            1       1  the ledger, row by row
    across            1       1  evenly, as the instructions count it, and the ledger
    across_plus1      1       0  skipped: the planner leaves half a gap at both edges of a row
    positions         1       1  evenly
    conserve          1       1  RaglanShape, line_rows, and the ledger
    topdown           1       1  RaglanShape, line_rows turned over, and the ledger
    cap_conserve      1       1  Cap, and the ledger
    eps_yoke          1       1  a whole plan; of the chain its end, as the planner's rounds keep other parts
    neck              1       1  crew_front, crew_back
    shortrow          1       1  sloped, read from the top
    pickup            1       1  the length of an edge in a band's stitches, and the rate of the instructions
    pickup_slope      1       1  the length of an edge in a band's stitches
    wash              2       2  the design gauge of a plan
    multi            22      16  one by one (sums.py); 6 skipped: sums that nothing in the planner does
    expr              3       2  one by one (sums.py); 1 skipped: yarn by area
    data             10      10  one by one (ranges.py): ranges and priors that a plan is held to

WORKED_CASES may name another file of the same form: there too a case that the planner has nothing for is skipped with
its reason, and a case that cannot be read fails.
"""

import os
import re
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from tests.published.kinds import prove
from tests.published.reading import NotThePlanners

OWN = Path(__file__).with_name("worked.toml")
FILE = Path(os.environ.get("WORKED_CASES") or OWN)
CASES: list[dict[str, Any]] = tomllib.loads(FILE.read_text(encoding="utf-8"))["case"]

each = pytest.mark.parametrize("case", [pytest.param(c, id=f"{c.get('kind')}-{c.get('id')}") for c in CASES])


@each
def test_a_published_case_goes_through_the_planner(case):
    try:
        prove(case)
    except NotThePlanners as reason:
        pytest.skip(str(reason))


@each
def test_a_case_says_what_it_is_and_keeps_derived_figures_apart(case):
    assert not {"id", "kind", "how", "in"} - set(case)
    assert case["how"] in ("read", "memory")
    assert case.get("out") or case.get("derived")
    assert not set(case.get("out", {})) & set(case.get("derived", {}))


def proves(case: dict[str, Any]) -> bool:
    try:
        prove(case)
    except NotThePlanners:
        return False
    return True


@pytest.mark.skipif(not FILE.samefile(OWN), reason="the head of this module counts the project's own cases")
def test_the_head_of_this_module_counts_the_cases():
    told = {
        kind: (int(cases), int(proofs)) for kind, cases, proofs in re.findall(r"\n    (\w+) +(\d+) +(\d+)", __doc__)
    }
    cases, proofs = Counter(c["kind"] for c in CASES), Counter(c["kind"] for c in CASES if proves(c))

    assert told == {kind: (count, proofs[kind]) for kind, count in cases.items()}
    assert f"project's {len(CASES)} cases {proofs.total()} prove" in __doc__
    assert len({c["id"] for c in CASES}) == len(CASES)


LENGTH = {
    "id": "x",
    "kind": "stitches",
    "in": {"gauge": [5, 1], "width": 40, "rounding": "nearest"},
    "out": {"raw": 200.0, "stitches": 200},
}


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"kind": "lace"}, "no proof is known for cases of kind 'lace'"),
        ({"kind": "across_plus1"}, "half a gap at both edges"),
        ({"kind": "multi", "in": {"items": [["7*3", "nearest"]]}, "out": {"values": [21]}}, "a sum of its own"),
        ({"kind": "data", "in": {}, "out": {"values": [4]}}, "a range"),
    ],
)
def test_what_the_planner_does_not_do_is_no_proof(change, says):
    prove(LENGTH)
    with pytest.raises(NotThePlanners, match=says):
        prove(LENGTH | change)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"in": {"gauge": [5, 1], "rounding": "nearest"}}, "x: in lacks 'width'"),
        ({"in": LENGTH["in"] | {"rounding": "somehow"}}, "no rounding is called 'somehow'"),
        ({"out": {"raw": 200.0}}, "x: out lacks 'stitches'"),
        ({"out": LENGTH["out"] | {"stitches": 201}}, "201"),
        ({"kind": "spacing_rows", "in": {"rows": 48, "events": 8}, "out": {"gap": 6}}, "no figure was looked at"),
    ],
)
def test_a_case_that_cannot_be_read_or_comes_out_otherwise_fails(change, says):
    with pytest.raises(AssertionError, match=says):
        prove(LENGTH | change)
