"""A stitch pattern kept through every piece: rows that go on, columns that stay, the same row where sleeve and body meet."""

from dataclasses import replace

from hypothesis import assume, given
from hypothesis import strategies as st

from tests.core.test_garments import projects
from workshop.core.edgings import STOCKING
from workshop.core.fabric.keeping import first_stitch, landmark, meeting_row
from workshop.core.fabric.patterns import BUILT_IN, Pattern
from workshop.core.making import roles
from workshop.core.plan import plan
from workshop.project import StitchPattern

patterns = st.one_of(
    st.sampled_from(sorted(BUILT_IN)),
    st.builds(
        lambda m, p, q: StitchPattern("own", "own motif", m, p, q),
        st.integers(1, 24),
        st.integers(0, 12),
        st.integers(1, 30),
    ),
)


@st.composite
def patterned(draw):
    """A garment in a pattern all over."""
    project, pattern = draw(projects()), draw(patterns)
    own = (pattern,) if isinstance(pattern, StitchPattern) else ()
    name = pattern.id if isinstance(pattern, StitchPattern) else pattern
    centre = draw(st.sampled_from([None, "motif", "between"]))
    garment = replace(project.garment, fabric=name, fabric_centre=centre)
    return replace(project, stitch_pattern=own, garment=garment)


def set_pieces(project):
    found = plan(project)
    assume(found.made.pieces)
    return [p for p in found.made.pieces if p.pattern is not None]


@given(patterned())
def test_the_rows_of_the_pattern_go_on_by_one_and_edgings_have_none(project):
    for piece in set_pieces(project):
        told = piece.pattern
        numbers = [where.row for _, where in told.rows]
        before = piece.parent.pattern if piece.parent else None
        expected = before.rows[-1][1].row if before else told.first_row - 1
        for number in numbers:
            expected = expected % told.repeat_rows + 1
            assert number == expected
        fabrics = {row.row: row.fabric for row in piece.rows}
        assert all(fabrics[row] == STOCKING for row, _ in told.rows)
        assert all(1 <= where.first_stitch <= told.pattern.multiple for _, where in told.rows)
        if next(piece.lineage()).worked == "flat" and piece.worked == "flat" and told.repeat_rows % 2 == 0:
            sides = {row.row: row.side for row in piece.rows}
            assert all((sides[row] == "RS") == (where.row % 2 == 1) for row, where in told.rows)


def columns(piece, row, where):
    """Stitch of the repeat under each stitch before a row, from the wearer's left to her right; None at plain edges."""
    pattern, edge = piece.pattern.pattern, 0 if piece.pattern.pattern.edge_in_pattern else piece.edge_stitches
    edges = {name: edge if name in piece.outer else 0 for name in roles.BOTH_EDGES}
    inside = row.before - sum(edges.values())
    run = [(where.first_stitch - 1 + n) % pattern.multiple for n in range(inside)]
    if piece.begins == "right":
        run.reverse()
    return [None] * edges["left"] + run + [None] * edges["right"]


def knit(stitches, row, piece):
    """Stitches after a row, as it takes them away and adds them at the wearer's edges."""
    left, right = [], []
    for event in row.events:
        at = {"neck-left": "right", "neck-right": "left"}.get(event.where, event.where)  # the inner end of a half
        for edge, gone in (("left", left), ("right", right)):
            if at in (edge, "both"):
                gone.append(event.change // (2 if at == "both" else 1))
    out = list(stitches)
    for change in left:
        out = ["new"] * change + out if change > 0 else out[-change:]
    for change in right:
        out = out + ["new"] * change if change > 0 else out[: len(out) + change]
    return out


@given(patterned())
def test_the_columns_stay_where_they_are_through_all_shaping_at_edges(project):
    """Replayed stitch by stitch, in the wearer's left and right."""
    for piece in set_pieces(project):
        if piece.worked == "round" or piece.role in roles.YOKES:
            continue
        at = dict(piece.pattern.rows)
        for row, following in zip(piece.rows, piece.rows[1:], strict=False):
            simple = all(e.where not in ("across", "centre", "underarm") and not e.line for e in row.events)
            if row.row not in at or following.row not in at or not simple or (len(piece.outer) == 2 and _necked(row)):
                continue
            before, after = columns(piece, row, at[row.row]), columns(piece, following, at[following.row])
            kept = knit(before, row, piece)
            assert len(kept) == len(after)
            for was, now in zip(kept, after, strict=True):
                assert "new" in (was, now) or None in (was, now) or was == now


def _necked(row):
    return any(e.where.startswith("neck-") for e in row.events)


@given(st.integers(1, 40), st.integers(0, 20), st.integers(1, 400), st.sampled_from(["motif", "between"]))
def test_a_centred_row_reads_the_same_from_both_ends(multiple, plus, stitches, centre):
    """A symmetrical repeat (the row of m × k + plus is a palindrome): so is every row that is centred in it."""
    pattern = Pattern("x", "x", multiple, plus, 2)
    first, exact = first_stitch(pattern, stitches, centre)
    run = [(first - 1 + n) % multiple for n in range(stitches)]
    mirrored = [(plus - 1 - column) % multiple for column in run]

    assert 1 <= first <= multiple
    assert (mirrored[::-1] == run) is exact or multiple == 1
    assert exact or (multiple % 2 == 0 and (plus - stitches) % 2)


@given(patterned())
def test_sleeves_meet_the_body_on_the_same_row(project):
    """Where rows of the sleeve go on in those of the body, and both have whole pairs of rows."""
    name = project.garment.construction
    pieces = set_pieces(project)
    body = next((p for p in pieces if p.role in (roles.BODY, roles.BACK) and landmark(p)), None)
    if name in ("drop-shoulder", "square-armhole", "raglan-from-neck") or body is None:
        return
    meets = meeting_row(body.pattern, landmark(body))
    for sleeve in (p for p in pieces if p.role is roles.SLEEVE and p.parent is None and landmark(p)):
        if sleeve.worked == "flat" and sleeve.pattern.repeat_rows % 2:
            continue
        if sleeve.worked == body.worked:
            assert meeting_row(sleeve.pattern, landmark(sleeve)) == meets
