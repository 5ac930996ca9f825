"""A designer's own bodies: by command, held to the questions of Measure, from the file too."""

from dataclasses import replace

import pytest

from workshop import saves
from workshop.cli import main
from workshop.folder import read
from workshop.project import Grading, GradingBody
from workshop.questions.bodies import fields_of, said_of_body, without_body
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
        ("Nell: chest 960", "960 looks wrong: expected 30 cm to 220 cm"),
        ("Nell: ankle 20", "'ankle 20' doesn't begin with a measurement. There are chest,"),
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


def test_two_of_one_name_are_two_sizes(file):
    """A file may say so; in the app and by command each name is there once."""
    twice = (GradingBody(name="Ann", chest_cm=88.0), GradingBody(name="Ann", chest_cm=112.0))
    project = replace(read(file), grading=Grading(body=twice))

    assert [one.plan.wearer.cm("chest") for one in sizes_of(project).sizes] == [88.0, 112.0]
    with pytest.raises(NotUnderstood, match="already"):
        fields_of(project, 2)[0].answered(project, "ANN")


def test_lengths_typed_for_a_body_go_by_its_name_and_with_it(file):
    project = said_of_body(read(file), "Nell: chest 96")
    ruled = replace(project, grading=replace(project.grading, rule={"length_cm.Nell": "60", "sleeve_cm": "the same"}))
    named = fields_of(ruled, 1)[0].answered(ruled, "Eleanor")

    assert dict(named.grading.rule) == {"length_cm.Eleanor": "60", "sleeve_cm": "the same"}
    assert dict(without_body(named, 1).grading.rule) == {"sleeve_cm": "the same"}
