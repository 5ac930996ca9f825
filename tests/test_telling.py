"""What a knitter types at the needles: sentences, in the plain mode too."""

import io
import re
from dataclasses import replace
from datetime import date
from typing import get_args

import pytest

from tests.factory import piece_of, pullover
from workshop import saves
from workshop.ask import run
from workshop.at_needles import NotKnitted, Said, taken_in
from workshop.core.knitting.facts import noted
from workshop.core.knitting.needles import at_the_needles
from workshop.core.plan_mark import plan_mark
from workshop.planned import plan
from workshop.project import LogEntry, PieceCount, WayOn
from workshop.session import opened
from workshop.telling import SAYINGS, example, going_on, heard, help_in, is_said_alone
from workshop.words.at_needles import piece_line, told
from workshop.words.instructions import instructions
from workshop.words.log import log_lines
from workshop.words.texts import texts
from workshop.words.yarn_left import yarn_lines

DEMO = saves.demo_folder() / "harbour-pullover.toml"
TODAY = date(2026, 3, 14)


@pytest.fixture(scope="module")
def demo():
    return saves.load(DEMO)


def after(project, *sentences):
    """The project after some sentences, and the last answer."""
    answer = ()
    for text in sentences:
        done = heard(plan(project), text, TODAY)
        project, answer = done.project, done.answer
    return project, answer


def rows(project):
    return {k.piece: k.rows for k in project.knitting}


def test_the_help_for_a_word_is_its_own_and_that_of_any_number_is_a_rows():
    """Also for a word that another one begins with, as "rows" with "row"."""
    for word, (said, does) in zip(SAYINGS, help_in("cm"), strict=True):
        assert said.startswith("62, or row" if word == "row" else word)
        assert example(word, "cm") == example(f"{word.upper()} 4", "cm") == f"{said}: {does}"
    for number in ("4", "62", "147"):
        assert example(number, "cm") == example("row", "cm")
    assert example("ro", "cm") == example("", "cm") == ""


def test_what_is_said_alone_is_taken_with_nothing_after_it(demo):
    """And nothing else is: no field says that Enter does what Enter would refuse."""
    counted = "count 27 over 12, 27.25 over 12, 27 over 12"
    taken, _ = after(demo, "42", counted, "take above-edging", "piece left sleeve", "both", "12")
    for word in SAYINGS:
        try:
            heard(plan(taken), word, TODAY)
        except NotKnitted:
            assert not is_said_alone(word), word
        else:
            assert is_said_alone(word), word
    assert is_said_alone("4")
    assert not any(map(is_said_alone, ("", "ro", "done ", "left 342")))


@pytest.mark.parametrize(("units", "over_cm"), [("cm", 12.0), ("in", 12.7)])
def test_the_measured_examples_of_the_help_are_understood_in_their_unit(demo, units, over_cm):
    said = {text.split()[0]: text for text, _ in help_in(units)}
    by_tape = next(does for text, does in help_in(units) if text.startswith("lost")).rpartition(": ")[2]
    project, answer = after(replace(demo, units=units), "62", said["count"], said["rows"], by_tape.rstrip("."))

    counted = project.knitting[0].count
    assert [count.along for count in counted] == ["stitches", "stitches", "rows", "rows"]
    assert [count.over_cm for count in counted] == pytest.approx([over_cm] * 4)
    assert "By the tape" in answer[0]
    assert after(project, said["finished"])[0].measured[0].cm == pytest.approx(104.5, abs=0.4)


def test_one_who_knits_in_inches_reads_of_inches(demo):
    assert not [line for line in help_in("in") for text in line if " cm" in text or "over 12" in text]
    assert example("count ", "in").startswith("count 22.5 over 5, 22 over 5: 22.5 stitches over 5 in")
    with pytest.raises(NotKnitted, match="over how many inches"):
        after(replace(demo, units="in"), "12", "count many")
    with pytest.raises(NotKnitted, match=r"79 over 4 in is .* Please count again"):
        after(replace(demo, units="in"), "62", "count 79")


def test_a_number_on_its_own_is_a_count_over_10_cm_as_on_a_swatch(demo):
    """Or over 4 inches: the Gauge step says so."""
    for units, over_cm in (("cm", 10.0), ("in", 10.16)):
        project, _ = after(replace(demo, units=units), "62", "count 22, 22.5")
        assert [(c.count, c.over_cm) for c in project.knitting[0].count] == [(22.0, over_cm), (22.5, over_cm)]


@pytest.mark.parametrize(
    "typed", ["18 1/4 over 4", "18¼ over 4 in", "18.25 sts to 4", "18,25 over 10.16 cm", "18.25/4"]
)
def test_a_count_on_the_piece_is_typed_as_one_of_a_swatch_is(demo, typed):
    """Tapes in inches have quarters, and so have counts."""
    project, _ = after(replace(demo, units="in"), "62", f"count {typed}")
    count = project.knitting[0].count[-1]
    assert (count.count, count.over_cm) == (18.25, 10.16)


def test_a_word_that_stands_in_the_field_may_be_typed_once_more(demo):
    project, _ = after(demo, "62", "COUNT Count 27.5 over 12")
    assert project.knitting[0].count[-1].count == 27.5
    written, _ = after(demo, "note Note to self: cuffs in blue")
    assert written.log[-1].text == "Note to self: cuffs in blue"  # nobody's own words are shortened
    assert going_on("count ", "cm").startswith("27.5 over 12, 27 over 12: 27.5 stitches")
    assert going_on("row ", "cm") == "62, or row 62: Row 62 is the last one you've knitted."


def test_what_comes_next_is_also_another_needle_and_a_marker(demo):
    """As a beginner reads it: from the rib there are no plain rows to the neck."""
    for knitted, next_thing in ((5, "row 17: Change to 4 mm needles."), (40, "row 95: Underarm: hang a marker")):
        now = plan(after(demo, str(knitted))[0])
        assert any(next_thing in text for text in told(at_the_needles(now, TODAY), now).then)


def test_rows_a_slip_and_what_puts_it_right(demo):
    project, _ = after(demo, "row 40", "done 2", "back", "stitches 107")
    assert rows(project) == {"back": 41}
    now = plan(project).made.pieces[0]
    assert [(e.do, e.stitches) for e in now.rows[41].events] + [(e.do, e.stitches) for e in now.rows[42].events] == [
        ("increase", 1)
    ]
    right, answer = after(project, "stitches 108")
    assert right.knitting[0].stitches is None
    assert "what the plan says" in answer[0]


def test_a_lost_row_by_what_can_be_seen_and_by_the_tape(demo):
    _, told = after(demo, "piece left sleeve", "lost 52 3")
    assert len(told) == 2
    assert "52 stitches, 3 plain rows above the last increase" in told[0]
    _, told = after(demo, "lost 30 cm")
    assert told[0].startswith("By the tape, from the cast-on, you're at about row ")
    with pytest.raises(
        NotKnitted, match=r"^say the stitches .* as in 'lost 84 12'\. Or say a length, as in 'lost 12 in'$"
    ):
        after(replace(demo, units="in"), "lost")
    _, told = after(demo, "lost 106")
    assert re.fullmatch(
        r"\d+ rows leave 106 stitches, between rows 1 and \d+\. Count the plain rows since the last shaping too, "
        r"or measure, as in 'lost 30 cm'\.",
        told[0],
    )
    with pytest.raises(NotKnitted, match=r"^300 cm: the back is \d+.* cm long in all$"):
        after(demo, "lost 300 cm")


def test_what_is_knitted_from_the_neck_is_measured_from_the_underarm(demo):
    """The tape of the print, of the screen and of a lost row begin at one place."""
    garment = replace(demo.garment, construction="raglan-from-neck", worked="round")
    project, _ = after(replace(demo, garment=garment), "12", "58", "piece left sleeve", "98")
    now = plan(project)
    said = next(t for t in told(at_the_needles(now, TODAY), now).then if t.startswith("On the tape"))
    tape_cm = float(re.search(r"now: ([\d.]+) cm from the underarm", said)[1])
    assert tape_cm == pytest.approx(40 / now.gauge.unwashed_rows.per_10cm * 10, abs=0.2)

    _, answer = after(project, f"lost {tape_cm} cm")
    assert "from the underarm, you're at about row 98," in answer[0]
    sleeve = next(p for p in now.made.pieces if p.name == "left sleeve")
    there = sleeve.rows[39].after
    assert "what the plan says" in after(project, f"stitches {there}")[1][0]
    assert "Noted" in after(project, f"stitches {there - 1}")[1][0]

    few, _ = after(project, f"stitches {there - 3}")  # the next decrease is left out, and nothing is put into the cuff
    mine = next(p for p in plan(few).made.pieces if p.name == "left sleeve")
    more = [(e.do, e.stitches) for r in mine.rows[40:] for e in r.events if e.do == "increase"]
    assert more == [("increase", 1)]
    assert mine.bound_off == sleeve.bound_off
    assert len([r for r in mine.rows[40:] if r.events]) == len([r for r in sleeve.rows[40:] if r.events])


def test_two_sleeves_go_together_and_apart(demo):
    project, _ = after(demo, "piece left sleeve", "both", "12", "back 2")
    assert rows(project) == {"left sleeve": 10, "right sleeve": 10}
    project, _ = after(project, "both", "done")
    assert rows(project) == {"left sleeve": 11, "right sleeve": 10}


def test_sleeves_as_much_shorter_as_it_says_make_up_for_the_yarn_that_is_missing(demo):
    project, _ = after(demo, "147", "piece front", "60", "left 385, pieces 315")
    short = at_the_needles(plan(project), TODAY).yarn.short_g[1]
    said = next(line for line in yarn_lines(at_the_needles(plan(project), TODAY), plan(project)) if "Sleeves" in line)
    shorter_cm = float(re.search(r"Sleeves ([\d.]+) cm shorter would save enough yarn", said)[1])
    sleeve_cm = plan(project).made.finished_cm["sleeve"] - shorter_cm

    now = plan(replace(project, garment=replace(project.garment, sleeve_cm=sleeve_cm)))
    assert short > 20
    assert at_the_needles(now, TODAY).yarn.short_g[1] < 0.25 * short


def test_sleeves_to_the_elbow_are_a_way_with_what_they_save(demo):
    """As many grams as the stitches that the plan has then fewer; not where a cuff for the wrist is knitted."""
    project, _ = after(demo, "147", "piece front", "60", "left 385, pieces 315")
    now = plan(project)
    said = next(line for line in yarn_lines(at_the_needles(now, TODAY), now) if "elbow" in line)
    grams = float(re.search(r"save about (\d+) g", said)[1])

    elbow = plan(replace(project, garment=replace(project.garment, sleeve="elbow", sleeve_cm=None)))
    need, less = (at_the_needles(p, TODAY).yarn.need.value for p in (now, elbow))
    assert need - less == pytest.approx(grams, rel=0.1)
    assert at_the_needles(elbow, TODAY).yarn.short_g[1] == 0 or "which is enough" not in said

    begun, _ = after(project, "piece left sleeve", "20", "left 370, pieces 330")
    assert not any("elbow" in line for line in yarn_lines(at_the_needles(plan(begun), TODAY), plan(begun)))


def test_a_slip_of_one_of_two_sleeves_is_its_own_and_each_is_told_its_row(demo):
    """What one of them has to put right would spoil the other."""
    project, _ = after(demo, "piece left sleeve", "both", "20")
    together = told(at_the_needles(plan(project), TODAY), plan(project)).lines
    there = at_the_needles(plan(project), TODAY).at_hand.stitches
    slipped, answer = after(project, f"stitches {there - 1}")
    now = told(at_the_needles(plan(slipped), TODAY), plan(slipped)).lines
    left = [line for line in now if line.startswith("Left sleeve")]
    right = [line for line in now if line.startswith("Right sleeve")]

    assert "for the left sleeve" in answer[0]
    assert left[0] == f"Left sleeve: 20 of 124 rows, {there - 1} stitches."
    assert right[0] == f"Right sleeve: 20 of 124 rows, {there} stitches."
    assert left[1].startswith("Left sleeve, row 21, right side: Knit; increase 1 stitch")
    assert right[1] == "Right sleeve, row 21, right side: Knit every stitch."
    assert not any("sleeve and" in line for line in now)
    put_right, _ = after(slipped, "done")
    once_more, _ = after(project, "done")
    assert (
        told(at_the_needles(plan(put_right), TODAY), plan(put_right)).lines[:5]
        == (told(at_the_needles(plan(once_more), TODAY), plan(once_more)).lines[:5])
    )
    assert together[0].startswith("Left sleeve and right sleeve: 20 of 124 rows")
    other, answer = after(project, "piece right sleeve", f"stitches {there + 1}")
    now = told(at_the_needles(plan(other), TODAY), plan(other)).lines
    assert "for the right sleeve" in answer[0]
    assert now[0] == f"Right sleeve: 20 of 124 rows, {there + 1} stitches."
    assert "Left sleeve, row 21, right side: Knit every stitch." in now


@pytest.mark.parametrize("worked", ["flat", "round"])
@pytest.mark.parametrize("off", [1, -1])
def test_no_marker_is_named_where_a_slip_is_put_right_evenly_across(demo, worked, off):
    """Where a piece has markers, what is done across it is not done at them."""
    project = replace(demo, garment=replace(demo.garment, worked=worked))
    first = plan(project).made.pieces[0].name
    project, _ = after(project, f"piece {first}", "30")
    there = at_the_needles(plan(project), TODAY).at_hand.stitches
    project, _ = after(project, f"stitches {there + off}")
    now = told(at_the_needles(plan(project), TODAY), plan(project)).now

    assert f"{'decrease' if off > 0 else 'increase'} 1 stitch evenly across" in now
    assert "marker" not in now


def test_the_finished_garment_stands_beside_the_ranges_of_the_plan(demo):
    project, told = after(demo, "finished chest 104.5", "finished chest 103", "finished neck width 30")
    assert [(m.what, m.cm) for m in project.measured] == [("chest", 103.0), ("neck width", 30.0)]
    assert "outside that range" in told[0]
    _, told = after(demo, "finished chest 103")
    assert "The plan said 103.7 cm, likely 101.4 to 105.9 cm, so it's inside that range." in told[0]


def test_a_way_taken_by_mistake_gives_its_rows_back(demo):
    counted, _ = after(
        demo, "42", "count 27 over 12, 27.25 over 12, 27 over 12", "rows 34.5 over 12, 34.25 over 12, 34.5 over 12"
    )
    taken, _ = after(counted, "take above-edging")
    assert rows(taken) == {"back": 16}
    first = plan(taken).made.pieces[0].rows[16]  # the increases above the edging, and those of the way, in one go
    assert [(e.do, e.where) for e in first.events] == [("increase", "across")]
    assert first.after - first.before == first.events[0].stitches > 2
    again, _ = after(taken, "undo")
    assert again.knitting == counted.knitting
    assert plan(again).made == plan(counted).made


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("blub", "isn't understood"),
        ("", "isn't understood"),
        ("9" * 400, "should be a whole number"),
        ("done x", "should be a whole number"),
        ("stitches 60", "may be a different row"),
        ("lost 107", "The nearest counts are 106 and 108"),
        ("lost 108 500", "but not 500"),
        ("lost in thought", "as in 'lost 30 cm'"),
        ("left lots", "isn't a weight"),
        ("both", "has no pair"),
        ("undo", "no choice to take back"),
        ("note", "1 to 400 letters"),
        ("finished tail 30", "isn't one of the finished measurements"),
        ("finished chest 40", "the plan has 104 cm"),
        ("finished chest", "say what was measured"),
        ("piece pocket", "isn't a piece"),
        ("count", "isn't a count"),
    ],
)
def test_what_cannot_be_is_told_in_one_line(demo, text, says):
    project, _ = after(demo, "20")
    with pytest.raises(NotKnitted, match=says) as told:
        heard(plan(project), text, TODAY)
    assert "\n" not in str(told.value)
    assert len(str(told.value)) < 250


def test_the_plain_mode_knits_from_the_plan_and_every_sentence_is_on_disk(tmp_path):
    file = tmp_path / "jumper.toml"
    file.write_bytes(DEMO.read_bytes())
    seen = []

    class Typed(io.StringIO):
        def readline(self):
            seen.append(rows(saves.load(file)))
            return super().readline()

    said = io.StringIO()
    run(opened(file), Typed("knit\n?\ndone\n62\nback\nwhere\nblub\n\n\n"), said)

    assert seen[-5:] == [{"back": 62}, {"back": 61}, {"back": 61}, {"back": 61}, {"back": 61}]
    assert "Cast on 106 stitches" in said.getvalue()
    assert "That didn't work: 'blub' isn't understood" in " ".join(said.getvalue().split())


@pytest.fixture(scope="module")
def yoke(demo):
    """A round yoke in the round, whose body and sleeves have rows before it."""
    return replace(demo, garment=replace(demo.garment, construction="round-yoke", worked="round"))


def up_to(project, name, rows=0):
    """The project with every piece before one of them knitted, and so many rows of that."""
    for piece in plan(project).made.pieces:
        if piece.name == name:
            return taken_in(project, Said(piece=name, row=piece.rows[0].row - 1 + rows), TODAY)
        project = taken_in(project, Said(piece=piece.name, row=piece.last_row), TODAY)
    raise AssertionError(name)


def where(project):
    now = plan(project)
    return told(at_the_needles(now, TODAY), now)


def test_rows_of_a_yoke_go_by_the_numbers_that_are_printed(yoke):
    """A row counted from the first one of the yoke is refused, with the number that it has."""
    project = up_to(yoke, "yoke", 1)
    mine = at_the_needles(plan(project), TODAY).at_hand
    first, last = mine.first_row, mine.piece.last_row

    assert piece_line(mine) == f"yoke: rounds {first} to {last}, knitted up to {first}"
    assert f"(numbered {first} to {last})" in where(project).place
    assert piece_line(at_the_needles(plan(yoke), TODAY).piece("yoke")).endswith(f"{first} to {last}, none knitted")
    assert "numbered" not in where(yoke).place
    with pytest.raises(NotKnitted, match=f"rounds {first} to {last}. If you counted .* type {first + 55}$"):
        after(project, "56")
    with pytest.raises(NotKnitted, match=f"rounds {first} to {last}$"):
        after(project, str(last + 1))


def test_looking_at_a_piece_is_no_entry_of_the_log(yoke):
    project, _ = after(yoke, "12", "piece yoke", "piece left sleeve", "piece body")

    assert [line.partition("  ")[2] for line in log_lines(plan(project))] == ["body: row 12"]
    assert rows(project) == {"body": 12}


def test_the_log_names_a_way_by_what_it_is_and_after_the_counts_that_led_to_it():
    day = "2026-03-01"
    counts = tuple(PieceCount("stitches", 24.0, 12.0, row, day) for row in (40, 44))
    known = replace(noted(piece_of(plan(pullover()).made, "back"), 44), count=counts)
    told = ((40, ""), (None, "took it to the bus"), (None, "took the way above-edging"), (44, ""))
    log = tuple(LogEntry(day, "back", row, text) for row, text in told)
    lines = [line.partition(": ")[2] for line in log_lines(plan(replace(pullover(), knitting=(known,), log=log)))]

    assert [line.partition(": ")[0] for line in lines] == [
        "row 40", "took it to the bus", "counted stitches at row 40", "decided to rip back to the edging", "row 44",
        "counted stitches at row 44",
    ]  # fmt: skip
    assert "decided to rip back to the edging" in lines
    assert set(texts("ways_taken")) == set(get_args(WayOn))


def test_the_underarm_comes_before_what_is_left_of_a_sleeve(yoke):
    """As the instructions have it: "the other" stitches are those beside the underarm's."""
    sleeve = next(p for p in plan(yoke).made.pieces if p.name == "left sleeve")
    project = up_to(yoke, sleeve.name, len(sleeve.rows))
    text = " ".join(where(project).before)
    assert text.index("Underarm: ") < text.index("Leave the other")
    printed = " ".join(next(w for w in instructions(plan(yoke)) if w.title.startswith("Sleeve")).lines)
    assert printed.index("Underarm: ") < printed.index("Leave the other")


def test_a_short_row_is_a_row_with_its_own_side_and_verb(yoke):
    """Right-side rows are knitted and wrong-side rows purled, in the round too (common practice, no source)."""
    piece = next(p for p in plan(yoke).made.pieces if p.name == "yoke")
    short = [r for r in piece.rows if r.side != "round"]
    assert [r.side for r in short[:2]] == ["WS", "RS"]
    for row in short:
        now = where(up_to(yoke, "yoke", row.row - piece.rows[0].row))
        side, verb = ("right side", "Knit") if row.side == "RS" else ("wrong side", "Purl")
        assert now.now.startswith(f"Short row {row.row}, {side}: {verb}")
        assert "wrong side first" not in now.now
        assert "after this row." in now.then[0]
    assert where(up_to(yoke, "yoke", short[-1].row - piece.rows[0].row)).now.endswith(
        "Knit to the beginning of the round."
    )
    before = where(up_to(yoke, "yoke", short[0].row - piece.rows[0].row - 1))
    assert f"short row {short[0].row}: " in before.then[1]


def test_a_piece_that_comes_first_or_goes_along_is_told_by_its_printed_rows(demo):
    """The rows of what grows from another piece go on from that one's."""
    body = replace(demo, garment=replace(demo.garment, worked="round"))
    project = up_to(body, "back", 5)
    at = at_the_needles(plan(project), TODAY).piece("back")
    with pytest.raises(NotKnitted, match=f"the back comes first; it is at row {at.row} of {at.piece.last_row}$"):
        after(project, "piece back, left shoulder", str(at.piece.last_row + 1))

    neck = replace(demo, garment=replace(demo.garment, construction="raglan-from-neck", worked="round"))
    project = up_to(neck, "left sleeve", 5)
    at = at_the_needles(plan(project), TODAY).at_hand
    with pytest.raises(NotKnitted, match=f"right sleeve is at row {at.row - 5} and the left sleeve at {at.row}[.]"):
        after(project, "both")


def test_a_way_that_is_taken_says_what_it_changed_and_that_the_print_is_old(demo):
    """So does the one that takes it back."""
    project, _ = after(demo, "piece back", "42", "count 27.5 over 12, 27 over 12, 27.25 over 12")
    project, told = after(project, "take above-edging")
    assert told[0].startswith("Changed: finished chest 99.3 cm, now 104.9 cm; cast-on of the front")
    assert told[1] == "Print the plan again. An earlier print shows the old numbers."

    undone, told = after(project, "undo")
    assert told[1].startswith("Changed: finished chest 104.9 cm, now 99.3 cm")
    right = f"The instructions on a print with the plan mark {plan_mark(plan(undone))} are right again."
    assert told[2:] == (f"{right} Any other print shows different numbers.",)
    assert plan_mark(plan(undone)) == plan_mark(plan(demo))


def test_knitting_on_says_why_no_other_needle_is_wanted_or_that_a_third_place_is(demo):
    """The print names a difference from which to look again: what is less leaves the needles as they are."""
    small, _ = after(demo, "piece back", "62", "count 26.5 over 12, 26.25 over 12, 26.5 over 12")
    far, _ = after(demo, "piece back", "62", "count 28 over 12, 28 over 12")
    on = []
    for project in (small, far):
        now = plan(project)
        on.append(next(text for code, _, text in told(at_the_needles(now, TODAY), now).ways if code == "go-on"))
    assert "you planned for the chest, so keep your needles." in on[0]
    assert "Count the stitches in a third place before you change anything." in on[1]


def test_a_way_that_changes_no_number_on_paper_asks_for_no_new_print(demo):
    project, _ = after(demo, "piece back", "42", "count 27.5 over 12, 27 over 12, 27.25 over 12")
    _, told = after(project, "take other-needle")
    assert told == ()


@pytest.mark.parametrize(
    ("said", "left_g", "pieces_g"),
    [("left left 342, pieces 210", 342, 210), ("left 12 oz pieces 7 oz", 340.19, 198.45), ("left 342 g", 342, None)],
)
def test_yarn_left_is_taken_as_the_example_is_written_and_in_the_unit_of_the_scale(demo, said, left_g, pieces_g):
    """An ounce is 28.349523125 g (international avoirdupois pound of 1959, by definition)."""
    project, _ = after(demo, "60", said)
    weighed = project.weighing[-1]
    assert (weighed.left_g, weighed.pieces_g) == (pytest.approx(left_g, abs=0.01), pytest.approx(pieces_g, abs=0.01))


def test_a_slip_is_told_with_the_row_that_puts_it_right(demo):
    """One stitch too few, ten rows above the cuff of a sleeve that widens: the row told brings the plan's count back."""
    project, _ = after(demo, "piece left sleeve", "30")
    sleeve = next(p for p in plan(project).made.pieces if p.name == "left sleeve")
    slipped, answer = after(project, f"stitches {sleeve.rows[29].after - 1}")
    found = re.match(r"Noted\. Row (\d+) puts it right: .*increase", answer[0])
    assert found, answer
    now = next(p for p in plan(slipped).made.pieces if p.name == "left sleeve")
    row = int(found[1])
    assert now.rows[row - 2].after == sleeve.rows[row - 2].after - 1
    assert now.rows[row - 1].after == sleeve.rows[row - 1].after


def test_two_sleeves_on_one_needle_are_told_of_both(demo):
    project, _ = after(demo, "piece left sleeve", "both", "30")
    now = plan(project)
    assert re.search(r"^Left sleeve and right sleeve: 30 of \d+ rows, \d+ stitches each\.$", place(now))
    last = next(p for p in now.made.pieces if p.name == "left sleeve").last_row
    now = plan(after(project, str(last))[0])
    said = told(at_the_needles(now, TODAY), now).before[0]
    assert re.match(
        r"The (left|right) sleeve and the (left|right) sleeve are knitted\. Finish each like this\. (Bind|Cast) off all",
        said,
    )


def test_a_band_has_no_stitches_before_they_are_picked_up(demo):
    pieces = [p for p in plan(demo).made.pieces if not p.role.band]
    knitted = [s for p in pieces for s in (f"piece {p.name}", str(p.last_row))]
    now = plan(after(demo, *knitted)[0])
    assert re.fullmatch(r"Neckband: 0 of \d+ rounds\.", place(now))


def test_edges_that_are_picked_up_follow_in_the_same_breath(demo):
    pieces = [p for p in plan(demo).made.pieces if not p.role.band]
    knitted = [s for p in pieces for s in (f"piece {p.name}", str(p.last_row))]
    now = plan(after(demo, *knitted)[0])
    assert re.search(r"knit \d+ stitches, edge by edge: \d+ ", told(at_the_needles(now, TODAY), now).now)


def place(now):
    return told(at_the_needles(now, TODAY), now).place


def test_yarn_that_must_be_of_another_ball_is_weighed_again(demo):
    """20 g left of 400 knitted to the shoulders: nobody knits two sleeves of that."""
    pieces = [p for p in plan(demo).made.pieces if not p.role.band and "sleeve" not in p.name]
    knitted = [s for p in pieces for s in (f"piece {p.name}", str(p.last_row))]
    project, _ = after(demo, *knitted, "left 20, pieces 200")
    now = plan(project)
    assert "run short of yarn: 20 g left" in " ".join(told(at_the_needles(now, TODAY), now).yarn)
    later, _ = after(project, "piece left sleeve", "120")
    now = plan(later)
    assert told(at_the_needles(now, TODAY), now).yarn == (
        "You've knitted more since you weighed 20 g than those would do. Weigh all the yarn that's left to hear if it "
        "lasts.",
    )


def test_a_weighing_that_is_far_from_what_the_swatch_says_is_doubted(demo):
    """1 g less than 700 g after a third of the back: by the swatch 500 g and more are still to come."""
    project, _ = after(demo, "left 700")
    project, _ = after(project, "60")
    for left, doubted in ((699, True), (640, False)):
        now = plan(after(project, f"left {left}")[0])
        assert ("By your swatch it would be about" in " ".join(told(at_the_needles(now, TODAY), now).yarn)) is doubted
