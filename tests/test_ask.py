"""The plain mode: the same questions line by line."""

import io
import re
from dataclasses import replace

import pytest

from tests.factory import pullover, shaped, swatch
from workshop import ask, saves
from workshop.progress import cloth_changed
from workshop.project import Body, Design, FibrePart, Fit, GarmentChoices, Panel, Project, StitchPattern, Yarn
from workshop.questions.steps import fields
from workshop.session import Session, opened
from workshop.spoken import ORDERS, order

FROM_NOTHING = """Kettle pullover



+
?
Saltmarsh
medium
80 superwash wool, 20
80 superwash wool, 20 nylon
100 g
200 m
5
+
>
"""


def talk(session: Session, typed: str) -> str:
    out = io.StringIO()
    ask.run(session, io.StringIO(typed), out)
    return out.getvalue()


def test_questions_are_asked_explained_and_refused_in_plain_lines(tmp_path):
    session = Session(Project(), tmp_path)
    said = talk(session, FROM_NOTHING)

    assert "Step 1 of 7: Fiber" in said
    assert "A name helps you tell your yarns apart" in said  # the ? before the yarn's name
    assert "That didn't work: '20' isn't a percentage and a name" in said
    assert session.project.yarn[0].balls == 5
    assert "Taken as machine wash cool, dry flat" in said or session.project.yarn[0].care
    assert "\x1b" not in said
    kept = saves.load(session.path)
    assert kept.tension == "average"
    assert [p.fibre for p in kept.yarn[0].fibres] == ["superwash wool", "nylon"]


def test_the_end_of_input_leaves_everything_saved(tmp_path):
    session = Session(Project(), tmp_path)
    said = talk(session, "Half a jumper\n")

    assert saves.load(session.path).title == "Half a jumper"
    assert "Next: Fiber. Your yarn" in said
    assert f"To continue: workshop ask {session.path} (or in the app: workshop open {session.path})" in said


def test_the_whole_way_to_the_summary(tmp_path):
    fibre = ["Kettle pullover", "", "", "", "+", "Saltmarsh", "medium", "wool", "100", "200", "", "+", ">"]
    swatches = ["y", ">"]
    counts = ["18", "18¼", "18", "", "25", "25½", "25", "", "30", "44", "16.5", ">"]
    washed = ["17,75", "18", "17¾", "", "24", "24½", "24", "", "A", "washed"]
    body = ["2", "women", "M", *[""] * 13, "standard", ">"]
    shape = ["+"] * 11
    session = Session(Project(), tmp_path)
    said = talk(session, "\n".join([*fibre, *swatches, *counts]) + "\n.\n")
    assert "Cast on 36 stitches" in said
    assert [s.needle_mm for s in session.project.swatch] == [4.5, 5.0, 5.5]
    assert len(session.project.swatch[0].reading) == 6

    session = opened(session.path)  # three weeks later
    said = talk(session, "\n".join([*washed, *body, *shape, ">"]) + "\n")
    assert session.project.last_step == "summary"
    assert "All steps are done: this is the plan to knit from." in said
    assert "Sleeves (make two alike)" in said


def test_a_complete_project_is_summed_up(tmp_path):
    session = Session(pullover(last_step="summary"), tmp_path, tmp_path / "x.toml")
    said = talk(session, "")

    assert "Cast on 102 stitches" in said
    assert "####" not in said  # a drawing is nothing to read out
    assert "────" not in said
    assert "Cast on 102 stitches" in said


def test_signs_go_back_clear_and_show_the_answers(tmp_path):
    session = Session(pullover(last_step="shape"), tmp_path, tmp_path / "x.toml")
    said = talk(session, "\n<\n\n=\n\n\n\n\n\n\n\n\n2\n-\n9\n3\n.\n")

    assert "Finished size (likely range)" in said
    assert said.count("Construction [") >= 2


def test_a_check_can_be_answered_with_yes(tmp_path):
    odd = pullover(body=replace(pullover().body, cross_back_cm=50.0), last_step="measure")
    session = Session(odd, tmp_path, tmp_path / "x.toml")
    talk(session, ">\ny\ny\n.\n")

    assert any(name.startswith("cross-back-over-half-chest") for name in session.project.agreed)


def test_a_word_of_the_trade_is_explained_at_any_question(tmp_path):
    said = talk(Session(Project(terms="uk"), tmp_path), "? gauge\n?hydraulics\n.\n")

    assert "tension (gauge): how many stitches and rows there are in a length" in said
    assert "'hydraulics' isn't in the glossary" in said


def test_every_answer_is_confirmed_in_the_same_words(tmp_path):
    session = Session(Project(), tmp_path)
    said = talk(session, "Fog jumper\n\n\n\naverage\nMoss\nDK\n100 wool\n50\n")

    for taken in ("Fog jumper", "average, or not sure", "Moss", "light (3), 21-24 sts: DK, 8 ply", "100 wool", "50 g"):
        assert f"  Your answer: {taken}." in said


def test_going_back_at_the_first_question_leads_to_the_step_before(tmp_path):
    first = talk(Session(Project(), tmp_path), "<\n")
    later = talk(Session(pullover(last_step="gauge"), tmp_path, tmp_path / "x.toml"), "<\n")

    assert "This is the very first question." in first
    assert "Step 2 of 7: Swatch" in later


def test_a_yes_or_no_is_asked_again_until_it_is_one(tmp_path):
    session = Session(pullover(last_step="fibre"), tmp_path, tmp_path / "x.toml")
    said = talk(session, "\n" * 12 + "maybe\n? dye lot\nn\n.\n")

    assert "'maybe' isn't y or n." in said
    assert "dye lot: balls that were dyed together" in said
    assert said.count("Add another to compare?") == 3
    assert len(session.project.yarn) == 1


def test_another_yarn_is_asked_about_after_the_first_and_only_itself(tmp_path):
    session = Session(pullover(last_step="fibre"), tmp_path, tmp_path / "x.toml")
    said = talk(session, "\n" * 12 + "y\nSecond wool\nDK\n.\n")

    assert [y.name for y in session.project.yarn] == ["Test yarn", "Second wool"]
    assert said.count("Name of the project") == 1


def test_a_slip_is_asked_about_at_once(tmp_path):
    bare = pullover(last_step="measure", body=Body(source="own"))
    said = talk(Session(bare, tmp_path, tmp_path / "x.toml"), "38\n.\n")  # where it goes on

    told = "Your answer: 38 cm. A chest of 38 cm fits a baby or a small child. Did you measure in inches?"
    assert told in " ".join(said.split())


def test_a_full_disk_is_said(tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("x")
    said = talk(Session(Project(), blocked), "A jumper\n.\n")

    assert "Not saved:" in said


def test_after_the_summary_any_step_can_be_opened_again(tmp_path):
    session = Session(pullover(last_step="summary"), tmp_path, tmp_path / "x.toml")
    said = talk(session, "nine\n6\nset-in sleeve\n.\n")

    assert "'nine' isn't a step. Type a number from 1 to 6." in said
    assert "Step 6 of 7: Shape" in said
    assert session.project.garment.construction == "set-in"


def test_back_from_the_first_question_of_a_step_is_the_last_one_of_the_step_before(tmp_path):
    session = Session(pullover(last_step="swatch"), tmp_path, tmp_path / "x.toml")
    said = talk(session, "<\nwash cold\n.\n")

    assert "Step 1 of 7: Fiber" in said
    assert session.project.yarn[0].care == "wash cold"  # the last question of Fibre
    assert session.project.title == "Test pullover"


def test_yes_or_no_can_be_asked_about_and_gone_back_from(tmp_path):
    session = Session(Project(), tmp_path)
    typed = ["Fog", "", "", "", "+", "Moss", "medium", "wool", "50", "100", "", "+", "?", "<", "cool", "n", "n", "."]
    said = talk(session, "\n".join(typed) + "\n")

    assert "Type y for yes, n for no, or back for the previous question. Enter goes on." in said
    assert session.project.yarn[0].care == "cool"  # the last question of the step, gone back to from "Add another?"
    assert said.count("How will you wash the garment? [") == 2
    assert "Step 2 of 7" in said


def test_back_from_the_question_that_opens_a_step_is_the_step_before(tmp_path):
    session = Session(
        Project(title="Fog", tension="tight", yarn=pullover().yarn, last_step="swatch"), tmp_path, tmp_path / "x.toml"
    )
    said = talk(session, "<\n.\n")

    assert "Step 1 of 7: Fiber" in said.split("Plan three swatches")[1]


def test_a_plus_where_nothing_is_offered_is_no_answer(tmp_path):
    session = Session(Project(), tmp_path)
    said = talk(session, "+\n.\n")

    assert "There's no suggestion here" in said
    assert session.project.title == ""


def test_one_who_comes_back_goes_on_at_the_first_open_question_and_can_go_back(tmp_path):
    session = Session(Project(), tmp_path)
    talk(session, "Fog jumper\n\n\n\naverage\nMoss\n")
    session = opened(session.path)
    said = talk(session, "<\nMoss and stone\n.\n")

    assert "Starting at the first unanswered question" in said
    assert said.split("Starting at")[1].splitlines()[3].startswith("Weight of the yarn")
    assert session.project.yarn[0].name == "Moss and stone"


def test_what_the_answers_mean_is_not_said_twice(tmp_path):
    session = Session(pullover(last_step="swatch"), tmp_path, tmp_path / "x.toml")
    said = talk(session, "=\n>\n.\n")

    assert said.count("Cast on 30 stitches") == 1
    assert talk(Session(pullover(last_step="swatch"), tmp_path), ">\n.\n").count("Cast on 30 stitches") == 1


def test_the_numbers_at_hand_or_those_of_the_whole_step(tmp_path):
    two = pullover(swatch=(*pullover().swatch, replace(pullover().swatch[0], id="B")), last_step="swatch")
    near = talk(Session(two, tmp_path, tmp_path / "x.toml"), "#\n.\n")
    whole = talk(Session(two, tmp_path, tmp_path / "x.toml"), "##\n.\n")

    assert "Cast-on for swatch A" in near
    assert "Cast-on for swatch B" not in near
    assert "Cast-on for swatch B" in whole
    assert "Nothing has been worked out here yet" in talk(Session(Project(), tmp_path), "#\n.\n")


def test_what_stays_open_is_named_and_comes_first_the_next_time(tmp_path):
    open_fit = replace(pullover(last_step="measure"), fit=Fit())
    session = Session(open_fit, tmp_path, tmp_path / "x.toml")
    said = talk(session, ">\n>\n.\n")
    assert "Still needed here: Fit you want." in said

    session = opened(tmp_path / "x.toml")
    assert session.project.last_step == "summary"
    said = talk(session, "standard\n.\n")
    assert "Step 5 of 7: Measure" in said
    assert session.project.fit.ease == "standard"


def test_counts_of_another_yarn_are_not_confirmed_by_going_on(tmp_path):
    session = Session(pullover(), tmp_path, tmp_path / "x.toml")
    for name in ("gauge", "wash"):
        session.confirm(name)
    superwash = replace(session.project.yarn[0], fibres=(FibrePart("superwash wool", 100.0),))
    session.change(replace(session.project, yarn=(superwash,), last_step="gauge"))
    session.save()
    for answer, holds in (("n", False), ("y", True)):
        here = opened(tmp_path / "x.toml")
        here.at("gauge")
        said = talk(here, f">\n{answer}\n.\n")
        assert "changed since you counted the swatches: weight or blend of Test yarn" in " ".join(said.split())
        assert (cloth_changed("gauge", here.project) == ()) is holds
    assert cloth_changed("wash", here.project) == (), "said once of the cloth, it is not asked again in the next step"


def test_a_question_back_is_answered_at_once_or_the_count_is_given_again(tmp_path):
    inches = pullover(units="in", last_step="gauge", swatch=(replace(pullover().swatch[0], reading=()),))
    session = Session(inches, tmp_path, tmp_path / "x.toml")
    said = talk(session, "20 over 10\nn\n20 over 4\n20\n28\n\n.\n")

    asked = " ".join(said.split())
    assert "but the swatch was meant to be 5⅞ in wide. Did you mix up inches and centimeters?" in asked
    assert [r.count / r.over_cm * 10.16 for r in session.project.swatch[0].readings("off needles", "stitches")][:2] == [
        20,
        20,
    ]
    assert "than your other counts. Count there again" in asked  # rows that went in among the stitches
    assert session.project.agreed == ()


def test_one_who_says_that_it_is_right_is_not_asked_again(tmp_path):
    session = Session(pullover(last_step="measure", body=Body(source="own")), tmp_path, tmp_path / "x.toml")
    said = talk(session, "38\ny\n>\n.\n")

    assert said.count("Keep this?") == 1
    assert [a.split()[0] for a in session.project.agreed] == ["inches-as-cm"]


def test_a_plus_typed_ahead_agrees_to_nothing_odd(tmp_path):
    session = Session(pullover(last_step="measure", body=Body(source="own")), tmp_path, tmp_path / "x.toml")
    said = talk(session, "38\n+\n?\nn\n96\n.\n")

    assert "'+' isn't y or n." in said
    assert "  Type y for yes, n for no, or back for the previous question. Enter goes on." in said
    assert session.project.agreed == ()
    assert session.project.body.chest_cm == 96.0


def test_a_refused_choice_is_read_out_once(tmp_path):
    said = talk(Session(pullover(last_step="shape"), tmp_path, tmp_path / "x.toml"), "toga\n.\n")

    assert "That didn't work: 'toga' isn't one of the choices. Type why to hear the choices." in " ".join(said.split())
    assert said.count("6 round yoke") == 1  # with the question, and not with the refusal


def test_fibres_and_marks_are_explained(tmp_path):
    said = " ".join(talk(Session(Project(), tmp_path), "? nylon\n? hydraulics\n=\n.\n").split())
    liked = " ".join(
        talk(Session(pullover(last_step="gauge"), tmp_path, tmp_path / "x.toml"), "\n" * 12 + ".\n").split()
    )

    assert "nylon: " in said
    assert "In the wash: " in said
    assert "isn't in the glossary. 'workshop tables glossary' lists all its words." in said
    assert "How do you like the fabric? from 1, stiff as a board" in liked


def test_every_sign_has_a_word_that_does_the_same_and_the_words_are_told_first(tmp_path):
    """A screen reader may leave signs unspoken: nothing may depend on them."""
    typed = ["", "", "", "", "{take}", "", "", "", "80 wool, 20 nylon", "{clear}", "{why}", "{back}", "{results}"]
    typed += ["{numbers}", "{all numbers}", "{lesson}", "{means} gauge", "{next}", "{leave}"]
    told = {}
    for kind in ("words", "signs"):
        says = {word: sign if kind == "signs" and sign else word for word, (sign, _) in ORDERS.items()}
        says["means"] = "?" if kind == "signs" else "means"
        session = Session(Project(title="Fog", yarn=(Yarn("a", weight="medium"),)), tmp_path / kind)
        told[kind] = talk(session, "\n".join(typed).format_map(says) + "\n").partition("Saved in")[0]

    assert told["words"] == told["signs"]
    help_said = told["words"].partition("Step 1 of 7")[0]
    assert help_said.index("  back: previous question") < help_said.index("back <")
    assert all(f"\n  {word}: " in help_said for word in ORDERS)
    assert "such as means tension" in talk(Session(Project(terms="uk"), tmp_path), "leave\n")


def test_an_answer_that_is_a_word_for_something_else_is_typed_in_quotes(tmp_path):
    session = Session(Project(), tmp_path)
    said = talk(session, '"Next"\nleave\n')

    assert "Your answer: Next." in said
    assert [order(text)[0] for text in ("means a lot to me, this", "'t Hof", "MEANS dye lot", "?")] == [
        "",
        "",
        "means",
        "why",
    ]


def test_what_is_typed_at_a_question_back_and_is_no_answer_is_said(tmp_path):
    session = Session(pullover(last_step="measure", body=Body(source="own")), tmp_path, tmp_path / "x.toml")
    said = talk(session, "38\n95\n?\nn\n95\n.\n")

    assert "'95' isn't y or n." in said
    assert session.project.body.chest_cm == 95.0


def test_a_lesson_is_read_at_any_question_and_without_its_signs(tmp_path):
    said = talk(Session(pullover(last_step="gauge"), tmp_path, tmp_path / "x.toml"), "??\n.\n")

    assert "Lesson: Count before the wash" in said
    assert "Lay the swatch flat and let it rest" in " ".join(said.split())
    assert "(Drawing: counting stitches and rows between pins.)" in said
    assert not re.search(r"[#`*]", said.split("Lesson:")[1].split("[")[0].replace("##", ""))


def test_enter_at_what_is_needed_reminds_once_while_the_plus_still_means_that_question(tmp_path):
    session = Session(pullover(garment=GarmentChoices(), last_step="shape"), tmp_path, tmp_path / "x.toml")
    said = talk(session, "\n+\n\n\n.\n")

    assert "You'll need an answer later. Type take for drop shoulder. Enter skips it for now." in " ".join(said.split())
    assert session.project.garment.construction == "drop-shoulder"
    assert session.project.garment.worked is None  # left open by the second Enter


def test_a_first_place_left_open_passes_over_the_others(tmp_path):
    bare = pullover(swatch=(swatch(name="A"), swatch(name="B")), design=Design(), last_step="wash")
    without = [replace(s, reading=tuple(r for r in s.reading if r.state == "off needles")) for s in bare.swatch]
    session = Session(replace(bare, swatch=tuple(without)), tmp_path, tmp_path / "x.toml")
    said = talk(session, "\n\n\n\n.\n")

    assert said.count("Stitches, place 2") == 0
    assert "Swatch B, washed:" in said


def test_what_was_refused_is_told_and_forgotten_with_enter(tmp_path):
    session = Session(pullover(last_step="measure"), tmp_path, tmp_path / "x.toml")
    said = talk(session, "own\n\n\n\nsixteen\n\n.\n")

    assert "That didn't work" in said
    assert session.project.drafts == {}


def test_a_word_that_fits_several_answers_says_which(tmp_path):
    said = talk(Session(pullover(last_step="shape"), tmp_path, tmp_path / "x.toml"), "raglan\n.\n")

    assert "'raglan' could be any of these: raglan from the hem up; raglan from the neck down" in " ".join(said.split())


def test_back_from_one_more_swatch_is_the_offer_of_three(tmp_path):
    project = Project(title="Fog", tension="tight", yarn=pullover().yarn, last_step="swatch")
    said = talk(Session(project, tmp_path, tmp_path / "x.toml"), "n\n<\ny\n.\n")

    assert said.count("Plan three swatches of") == 2
    assert "Swatch A:" in said


def test_back_from_a_step_leads_over_steps_that_ask_nothing(tmp_path):
    """Without swatches there is nothing to ask in Gauge and Wash: back from Measure is the plan of the swatches."""
    project = Project(title="Fog", tension="tight", yarn=pullover().yarn, last_step="measure")
    session = Session(project, tmp_path, tmp_path / "x.toml")
    said = talk(session, "n\nn\n<\nn\ny\n.\n")

    assert said.split("Step 5 of 7: Measure")[1].count("Step 2 of 7: Swatch") == 1
    assert session.project.swatch


def test_going_back_passes_over_the_places_of_a_count_that_was_left_open(tmp_path):
    """A second place is never asked for before the first, in whichever direction one goes."""
    waiting = pullover(last_step="gauge", swatch=(replace(pullover().swatch[0], reading=()),))
    session = Session(waiting, tmp_path, tmp_path / "x.toml")
    said = talk(session, "\n\n\n<\n<\n28\n28.5\n.\n")

    assert not re.search("Stitches, place [23]:", said)
    assert [(r.along, r.count) for r in session.project.swatch[0].reading] == [("rows", 28.0), ("rows", 28.5)]


def test_no_number_of_a_swatch_that_was_not_counted_is_said_to_be_missing(tmp_path):
    waiting = pullover(last_step="gauge", swatch=(replace(pullover().swatch[0], reading=()),))
    said = talk(Session(waiting, tmp_path, tmp_path / "x.toml"), "#\n.\n")

    assert "Nothing has been worked out for this question yet. To hear the whole step, type all numbers." in " ".join(
        said.split()
    )


class Typist(io.StringIO):
    """Hands that pass every question but the waist; another window answers that one first."""

    def __init__(self, out: io.StringIO, path, way: str) -> None:
        super().__init__()
        self.out, self.path, self.way, self.answered = out, path, way, False

    def readline(self, size: int = -1) -> str:
        asked = self.out.getvalue()
        if re.search(r"Waist \[[^]]*\]: $", asked) and not self.answered:
            self.answered = True
            other = opened(self.path)
            waist = next(f for f in fields("measure", other.project) if f.key == "body.waist_cm")
            other.answer(waist, "80")
            return "76\n"
        if asked.endswith("keeps both: "):
            return f"{self.way}\n"
        return ".\n" if self.answered else "\n"


@pytest.mark.parametrize(
    ("way", "file", "mine"),
    [("t", 80.0, 80.0), ("y", 76.0, 76.0), ("b", 80.0, 76.0), ("", 80.0, 76.0), (".", 80.0, 76.0)],
)
def test_where_another_window_answered_otherwise_it_is_asked_in_words(tmp_path, way, file, mine):
    path = tmp_path / "jumper.toml"
    saves.save(pullover(last_step="measure"), path)
    session, out = opened(path), io.StringIO()
    ask.run(session, Typist(out, path, way), out)

    assert "Waist: yours 76 cm, theirs 80 cm" in out.getvalue()
    assert saves.load(path).body.waist_cm == file
    assert saves.load(session.path).body.waist_cm == mine
    assert (session.contest, session.fault) == (None, "")


class Stale(Typist):
    """Hands that answer the waist; then an editor writes the text from before over it, and another breaks the file."""

    def readline(self, size: int = -1) -> str:
        asked = self.out.getvalue()
        if re.search(r"Waist \[[^]]*\]: $", asked) and not self.answered:
            self.answered, self.before = True, self.path.read_text()
            return "76\n"
        if asked.endswith("keeps both: "):
            return f"{self.way}\n"
        if self.answered and self.before:
            self.path.write_text(self.before)
            self.before = ""
            return "\n"
        if self.answered:
            self.path.write_text("x = [")
        return ".\n" if self.answered else "\n"


def test_an_older_text_is_asked_about_in_words_and_a_broken_file_is_written_again(tmp_path):
    path = tmp_path / "jumper.toml"
    saves.save(pullover(last_step="measure"), path)
    session, out = opened(path), io.StringIO()
    ask.run(session, Stale(out, path, "y"), out)

    assert "The file went back to an older version" in out.getvalue()
    assert "Waist: yours 76 cm, theirs open" in out.getvalue()
    assert saves.load(path).body.waist_cm == 76.0
    assert session.fault == ""
    assert path.with_name("jumper.toml.broken").read_text() == "x = ["
    assert "jumper.toml.broken" in session.news


def test_a_late_answer_tells_the_plan_before_and_now_once(tmp_path):
    session = Session(pullover(last_step="measure"), tmp_path, tmp_path / "x.toml")
    before = session.plan.made.pieces[0].cast_on
    said = talk(session, "own\n\n101 cm\n\n.\n")
    now = session.plan.made.pieces[0].cast_on

    assert session.project.body.chest_cm == 101.0
    assert " ".join(said.split()).count(f"cast-on of the back {before}, now {now};") == 1


def test_the_plain_mode_names_nothing_that_it_has_not(tmp_path):
    said = talk(Session(pullover(swatch=(), last_step="swatch"), tmp_path, tmp_path / "x.toml"), "n\n=\n.\n")

    assert "No swatch yet. You can plan three swatches at once." in said
    assert "button" not in said


def test_a_panel_is_offered_where_a_pattern_for_one_is_described_and_asked_about_only_itself(tmp_path):
    cable = replace(pullover(), stitch_pattern=(StitchPattern("cable", "rope cable", 24, 0, 8),), last_step="shape")
    session = Session(cable, tmp_path)
    through = "\n" * len(fields("shape", cable))
    said = talk(session, f"{through}y\n\n2\nsleeves\n.\n")

    assert said.count("Add a panel up the middle?") == 1
    assert session.project.garment.panel == (Panel("cable", 2, "sleeves"),)
    assert "Add a panel" not in talk(Session(replace(cable, stitch_pattern=()), tmp_path), f"{through}.\n")


def test_a_row_at_the_needles_changes_no_answer_not_even_one_that_is_not_asked_for(tmp_path):
    """Bust darts are a woman's, and no neck depth is asked for of a boat neck: both stay in the file."""
    answers = shaped(pullover(last_step="summary"), neckline="boat", neck_depth_cm=9.0, bust_darts="yes")
    session = Session(answers, tmp_path, tmp_path / "x.toml")
    talk(session, "knit\n10\n\n")
    kept = saves.load(session.path)
    assert kept.knitted("back").rows == 10
    assert kept.garment == answers.garment
