"""A designer's own bodies: by command, held to the questions of Measure, from the file too."""

from dataclasses import replace

import pytest

from workshop import saves
from workshop.cli import main
from workshop.folder import read
from workshop.project import Grading, GradingBody
from workshop.questions.bodies import fields_of, number_of, said_of_body, without_body
from workshop.sizes import sizes_of
from workshop.units import NotUnderstood


@pytest.fixture
def file(tmp_path):
    """A design of one's own to add bodies to."""
    path = tmp_path / "harbour.toml"
    path.write_bytes((saves.demo_folder() / "harbour-pullover.toml").read_bytes())
    return path


def test_bodies_are_entered_changed_and_removed_by_command(file, capsys):
    assert (
        main(["sizes", str(file), "--body", "Nell: chest 96, upper arm 31,5; wrist 16 cm, sleeve length 45, table men"])
        == 0
    )
    nell = read(file).grading.body[0]
    assert (nell.name, nell.chest_cm, nell.upper_arm_cm, nell.wrist_cm) == ("Nell", 96.0, 31.5, 16.0)
    assert (nell.sleeve_underarm_cm, nell.table) == (45.0, "men")
    assert "From your own list of bodies" in capsys.readouterr().out

    assert main(["sizes", str(file), "--body", "Jo: chest 40 in", "--body", "nell: wrist -, hip 100"]) == 0
    nell, jo = read(file).grading.body
    assert (nell.chest_cm, nell.wrist_cm, nell.hip_cm, jo.chest_cm) == (96.0, None, 100.0, 101.6)

    assert main(["sizes", str(file), "--remove-body", "Nell", "--remove-body", "jo"]) == 0
    assert read(file).grading.body == ()
    assert "From the women's table" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("Nell: chest 960", "960 looks wrong: it should be 30 cm to 220 cm"),
        ("Nell: ankle 20", "'ankle 20' doesn't begin with the name of a measurement. Begin with one of these: chest,"),
        (": chest 96", "this body needs a name"),
        ("Nell: chest", "'chest' needs a measurement"),
    ],
)
def test_what_cannot_be_a_measurement_is_one_line_and_the_file_stays(file, capsys, said, why):
    before = file.read_bytes()

    assert main(["sizes", str(file), "--body", said]) == 1
    assert why in capsys.readouterr().err
    assert main(["sizes", str(file), "--remove-body", "Nobody"]) == 1
    assert "there's no body 'Nobody'" in capsys.readouterr().err
    assert file.read_bytes() == before


def test_a_body_in_the_file_is_held_to_the_questions_of_measure(file):
    file.write_text(file.read_text("utf-8") + '\n[[grading.body]]\nname = "Nell"\nchest_cm = 9600.0\n', "utf-8")

    with pytest.raises(saves.BadSave, match=r"grading\.body\.1\.chest_cm.*looks wrong"):
        read(file)


@pytest.mark.parametrize(("first", "second"), [('name = "Ann"', 'name = "ANN"'), ('name = "body 2"', "")])
def test_each_name_is_there_once_from_the_file_too(file, first, second):
    """A body without a name is called by its place in the list."""
    added = f"\n[[grading.body]]\n{first}\nchest_cm = 88.0\n\n[[grading.body]]\n{second}\nchest_cm = 112.0\n"
    file.write_text(file.read_text("utf-8") + added, "utf-8")

    why = r"there's already a body called '(Ann|body 2)'\. Each body needs its own name"
    with pytest.raises(saves.BadSave, match=why):
        read(file)


def test_a_name_with_signs_that_nobody_sees_is_still_that_body(file):
    project = said_of_body(read(file), "Ne\u200bll: chest 96")
    project = said_of_body(project, "Ne\u200bll: wrist 16")

    (body,) = project.grading.body
    assert (body.name, body.chest_cm, body.wrist_cm) == ("Ne ll", 96.0, 16.0)
    assert number_of(project, "NE\u200b ll") == 1


def test_lengths_typed_for_a_body_without_a_name_go_by_its_place_and_stay_its_own(file):
    own = (GradingBody(name="Ann", chest_cm=88.0), GradingBody(chest_cm=112.0))
    project = replace(read(file), grading=Grading(body=own, rule={"length_cm.body 2": "60"}))
    assert sizes_of(project, wanted=["body 2"]).sizes[0].project.garment.length_cm == 60.0

    for one in (without_body(project, 1), said_of_body(without_body(project, 1), "body 1: chest 96")):
        assert sizes_of(one, wanted=["body 2"]).sizes[0].project.garment.length_cm == 60.0
    assert dict(fields_of(project, 2)[0].answered(project, "Nell").grading.rule) == {"length_cm.Nell": "60"}
    assert not without_body(project, 2).grading.rule
    with pytest.raises(NotUnderstood, match="already a body called 'body 2'"):
        fields_of(project, 1)[0].answered(project, "body 2")


def test_lengths_typed_for_a_body_go_by_its_name_and_with_it(file):
    project = said_of_body(read(file), "Nell: chest 96")
    ruled = replace(project, grading=replace(project.grading, rule={"length_cm.Nell": "60", "sleeve_cm": "the same"}))
    named = fields_of(ruled, 1)[0].answered(ruled, "Eleanor")

    assert dict(named.grading.rule) == {"length_cm.Eleanor": "60", "sleeve_cm": "the same"}
    assert dict(without_body(named, 1).grading.rule) == {"sleeve_cm": "the same"}
