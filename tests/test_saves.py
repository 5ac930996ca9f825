"""Saves: durable, versioned, and damage told by file, line and key."""

import os
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.core.test_garments import projects
from tests.factory import pullover
from workshop import migrations, saves
from workshop.core.knitting.facts import noted
from workshop.core.plan import plan
from workshop.progress import changed_since
from workshop.project import FORMAT, STEPS, Body, Project, Reading, ReferenceGarment, StitchPattern, Swatch, Yarn
from workshop.questions.fibre import TITLE
from workshop.questions.places import at_top
from workshop.saves import BadSave, WrongKey
from workshop.session import opened
from workshop.toml_text import line_of

CONTRACT = """
format = 3
title = "Harbour pullover"
units = "cm"
terms = "us"
needle_names = "mm"
tension = "average"
notes = ""

[[yarn]]
id = "a"
name = "Saltmarsh worsted"
weight = "medium"
fibres = [{ fibre = "superwash wool", percent = 100 }]
ball_g = 100.0
ball_m = 200.0
care = "machine wash, dry flat"

[[swatch]]
id = "A"
yarn = "a"
needle_mm = 4.0
needle_material = "wood"
worked = "flat"
edge_stitches = 0
cast_on = 30
grams = 9.5
fabric_rating = 4
knitting_rating = 3
notes = ""

[[swatch.reading]]
state = "off needles"
along = "stitches"
count = 27.5
over_cm = 15.0

[design]
swatch = "A"
state = "washed"

[body]
table = "women"
size = "M"
chest_cm = 92.0

[fit]
ease = "standard"
chest_ease_cm = 8.0

[garment]
construction = "drop-shoulder"
worked = "flat"
front = "closed"
neckline = "crew"
sleeve = "long"
waist = "straight"
length_cm = 60.0
hem = "rib-2x2"
hem_cm = 6.0
cuff_cm = 6.0
"""


def written(tmp_path: Path, text: str | bytes) -> Path:
    path = tmp_path / "project.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def test_the_file_format_of_the_contract_is_read(tmp_path):
    project = saves.load(written(tmp_path, CONTRACT))

    assert project.swatch[0].reading == (Reading("off needles", "stitches", 27.5, 15.0),)
    assert project.garment.hem == "rib-2x2"
    assert project.fit.chest_ease_cm == 8.0


@given(projects())
def test_every_project_survives_its_file(project):
    assert saves.from_data(tomllib.loads(saves.dumps(project))) == project


@given(title=st.text(st.characters(exclude_categories=("Cc", "Cs")), max_size=60))
def test_every_title_survives(title):
    assert saves.from_data(tomllib.loads(saves.dumps(Project(title=title)))).title == title


def test_unknown_keys_are_kept_in_their_tables_and_written_back(tmp_path):
    text = CONTRACT.replace('title = "Harbour', 'mood = "calm"\ntitle = "Harbour').replace(
        "ball_g = 100.0", 'ball_g = 100.0\nlot = "7"'
    )
    text += "\n[later]\nx = [1, 2]\n"
    path = written(tmp_path, text)
    saves.save(saves.load(path), path)
    again = tomllib.loads(path.read_text())

    assert again["mood"] == "calm"
    assert again["yarn"][0]["lot"] == "7"
    assert again["later"] == {"x": [1, 2]}


def test_nothing_answered_leaves_nothing_behind():
    assert saves.to_data(Project()) == {"format": 3, "title": "", "units": "cm", "terms": "us", "needle_names": "mm"}


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm(tmp_path):
    path = written(tmp_path, b"\xef\xbb\xbf" + CONTRACT.replace("\n", "\r\n").encode())

    assert saves.load(path).title == "Harbour pullover"


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("format = 3\n", "", "format: is missing"),
        ("format = 3", "format = 4", "line 2: format: is 4, from a newer workshop. This one reads up to 3"),
        ("format = 3", 'format = "1"', "format: is '1'"),
        ("format = 3", "format = true", "format: is True"),
        ("format = 3", "format = 0", "format: is 0"),
        ('units = "cm"', 'units = "km"', "line 4: units: is 'km'. It should be one of cm, in"),
        ("needle_mm = 4.0", 'needle_mm = "four"', "line 22: swatch.A.needle_mm: is 'four'. It should be a number"),
        ("needle_mm = 4.0", "needle_mm = true", "swatch.A.needle_mm: is True"),
        ("needle_mm = 4.0", "needle_mm = nan", "a number that can be measured"),
        ("cast_on = 30", "cast_on = 30.5", "line 26: swatch.A.cast_on: is 30.5. It should be a whole number"),
        ("chest_cm = 92.0", "chest_cm = inf", "body.chest_cm: is inf"),
        ("count = 27.5", "count = 0", "swatch.A.reading: a count and its over_cm should be above zero"),
        ("count = 27.5\n", "", "is missing"),
        ("count = 27.5\n", "coutn = 27.5\n", "Did you write it as 'coutn'?"),
        ('hem = "rib-2x2"', 'hem = "rib-2x3"', "garment.hem: is 'rib-2x3'"),
        ("percent = 100 }", "percent = 100, dyed = true }", "yarn.a.fibres[1].dyed: isn't a key here"),
        ('id = "A"', 'id = ""', "swatch.id"),
        ('title = "Harbour', 'title = "\\u001b[31mHarbour', "control character (U+001B)"),
    ],
)
def test_a_wrong_key_is_told_with_file_and_key(tmp_path, old, new, says):
    assert old in CONTRACT
    path = written(tmp_path, CONTRACT.replace(old, new, 1))

    with pytest.raises(BadSave) as told:
        saves.load(path)
    assert says in str(told.value)
    assert str(told.value).startswith(str(path))
    assert "\n" not in str(told.value)


def test_two_yarns_of_one_name_are_refused(tmp_path):
    path = written(tmp_path, 'format = 1\n[[yarn]]\nid = "a"\n[[yarn]]\nid = "a"\n')

    with pytest.raises(BadSave, match="is used twice"):
        saves.load(path)


def test_lists_where_tables_should_be_and_the_other_way_round(tmp_path):
    for text in (
        "format = 1\nyarn = 3\n",
        'format = 1\ndesign = "A"\n',
        "format = 1\nagreed = [3]\n",
        "format = 1\nsteps = [1]\n",
        "format = 1\n[steps]\nfibre = 2\n",
    ):
        with pytest.raises(BadSave):
            saves.load(written(tmp_path, text))


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"format = \n", "line 1: isn't valid TOML"),
        (b"\xff\xfe", "isn't UTF-8 text"),
        (b"x = " + b"[" * 3000, "nested too deeply"),
        (b" " * 5_000_001, "far too large"),
    ],
)
def test_a_damaged_file_is_told_in_one_line(tmp_path, content, says):
    with pytest.raises(BadSave) as told:
        saves.load(written(tmp_path, content))
    assert says in str(told.value)
    assert "\n" not in str(told.value)


@given(st.binary(max_size=300))
def test_no_bytes_whatever_raise_anything_else(tmp_path_factory, content):
    path = tmp_path_factory.mktemp("any") / "x.toml"
    path.write_bytes(content)
    try:
        saves.load(path)
    except BadSave as told:
        assert "\n" not in str(told)


def test_a_missing_file_and_a_folder_are_told(tmp_path):
    with pytest.raises(BadSave, match="there's no such file"):
        saves.load(tmp_path / "none.toml")
    with pytest.raises(BadSave, match="is a folder"):
        saves.load(tmp_path)


# ── writing ──────────────────────────────────────────────────────────────────────────────────────────


def test_saving_replaces_the_file_whole_and_leaves_nothing_else(tmp_path):
    path = tmp_path / "deep" / "er" / "project.toml"
    saves.save(pullover(), path)
    saves.save(pullover(title="Second"), path)

    assert saves.load(path).title == "Second"
    assert [p.name for p in path.parent.iterdir()] == ["project.toml"]


def test_a_save_that_fails_half_way_leaves_the_old_file_and_no_rubbish(tmp_path, monkeypatch):
    path = tmp_path / "project.toml"
    saves.save(pullover(), path)
    monkeypatch.setattr(os, "fsync", lambda _fd: (_ for _ in ()).throw(OSError(28, "No space left on device")))

    with pytest.raises(saves.CannotSave, match="No space left on device"):
        saves.save(pullover(title="Lost"), path)
    assert saves.load(path).title == "Test pullover"
    assert [p.name for p in tmp_path.iterdir()] == ["project.toml"]


def test_a_new_file_has_the_usual_permissions_and_an_old_one_keeps_its_own(tmp_path):
    path = tmp_path / "project.toml"
    saves.save(pullover(), path)
    mask = os.umask(0)
    os.umask(mask)
    assert path.stat().st_mode & 0o777 == 0o666 & ~mask

    path.chmod(0o640)
    saves.save(pullover(title="x"), path)
    assert path.stat().st_mode & 0o777 == 0o640


def test_a_link_is_written_through(tmp_path):
    real, link = tmp_path / "real.toml", tmp_path / "link.toml"
    saves.save(pullover(), real)
    link.symlink_to(real)
    saves.save(pullover(title="Through"), link)

    assert link.is_symlink()
    assert saves.load(real).title == "Through"


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Harbour pullover", "harbour-pullover"),
        ("", "jumper"),
        ("../../etc/passwd", "etc-passwd"),
        ("日本", "jumper"),
        ("CON", "con-jumper"),
    ],
)
def test_file_names_come_from_the_title_and_stay_in_the_folder(tmp_path, title, name):
    path = saves.new_path(tmp_path, title)

    assert path == tmp_path / f"{name}.toml"
    path.touch()
    assert saves.new_path(tmp_path, title).name == f"{name}-2.toml"


def test_listing_shows_the_last_changed_first_and_names_the_damaged(tmp_path):
    for i, name in enumerate(("old", "new")):
        saves.save(pullover(title=name), tmp_path / f"{name}.toml")
        os.utime(tmp_path / f"{name}.toml", (i, i))
    (tmp_path / "bad.toml").write_text("format = 9")
    os.utime(tmp_path / "bad.toml", (9, 9))
    (tmp_path / "notes.txt").write_text("x")

    found = saves.list_saves(tmp_path)
    assert [s.path.stem for s in found] == ["bad", "new", "old"]
    assert "from a newer workshop" in found[0].fault
    assert saves.list_saves(tmp_path / "nowhere") == ()


def test_the_default_folder_is_named_by_the_environment_or_is_the_checkouts(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKSHOP_SAVES", str(tmp_path / "mine"))
    assert saves.default_folder() == tmp_path / "mine"

    monkeypatch.delenv("WORKSHOP_SAVES")
    assert saves.default_folder().name in ("saves", "jumper-workshop")


@pytest.mark.parametrize(
    ("module", "folder"),
    [
        ("knit/workshop/saves.py", "knit/saves"),
        ("knit/.run/workshop/saves.py", "knit/saves"),  # the install of the README, from whatever folder it is started
        ("env/lib/site-packages/workshop/saves.py", "home/jumper-workshop"),
        ("env/.run/workshop/saves.py", "home/jumper-workshop"),
    ],
)
def test_an_install_saves_where_its_checkout_does(monkeypatch, tmp_path, module, folder):
    (tmp_path / "knit" / "saves").mkdir(parents=True)
    (tmp_path / "knit" / "pyproject.toml").touch()
    (tmp_path / "knit" / "saves" / "README.md").touch()
    monkeypatch.delenv("WORKSHOP_SAVES")
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setattr(saves, "__file__", str(tmp_path / module))

    assert saves.default_folder() == (tmp_path / folder).resolve()


def test_lines_of_keys_are_found_in_the_right_table():
    text = 'title = "x"\n[body]\nchest_cm = 1\n[[swatch]]\nid = "A"\nnotes = ""\n[[swatch]]\nid = "B"\nnotes = ""\n'

    assert line_of(text, "title") == 1
    assert line_of(text, "body.chest_cm") == 3
    assert line_of(text, "swatch.B.notes") == 9
    assert line_of(text, "garment.hem") is None


def test_older_formats_are_brought_up_step_by_step(monkeypatch):
    monkeypatch.setattr(saves, "FORMAT", 3)
    monkeypatch.setattr(
        saves, "MIGRATIONS", {1: lambda d: {**d, "title": "one"}, 2: lambda d: {**d, "title": d["title"] + " two"}}
    )

    assert saves.from_data({"format": 1}).title == "one two"
    with pytest.raises(WrongKey):
        saves.from_data({"format": 4})


# ── format 1 ─────────────────────────────────────────────────────────────────────────────────────────


OLDER = Path(__file__).parent / "saves"


def of_format_1(name: str) -> Path:
    """A file that the workshop wrote when it wrote format 1."""
    return of_format(1, name)


def of_format(number: int, name: str) -> Path:
    return OLDER / f"format-{number}" / f"{name}.toml"


@pytest.mark.parametrize("old", range(1, FORMAT))
@pytest.mark.parametrize("name", ["harbour-pullover", "lemon-grove-top", "first-frost-jumper"])
def test_a_demo_of_an_older_format_is_the_demo_of_today(name, old):
    today = saves.load(saves.demo_folder() / f"{name}.toml")

    assert saves.load(of_format(old, name)) == replace(today, format=old)
    assert today.format == FORMAT


@pytest.mark.parametrize("name", ["half-a-cardigan", "lattice-and-rib"])
def test_a_project_means_the_same_in_format_1_and_2_and_keeps_what_a_hand_has_put_in(name):
    """One of format 2 has a line of its own that is called as a key is called since."""
    one, two = saves.load(of_format_1(name)), saves.load(OLDER / "format-2" / f"{name}.toml")
    own = {"own_log": "begun on a train"} if name == "half-a-cardigan" else {}

    assert two == replace(one, format=2, extra={**one.extra, **own})
    assert (two.log, two.knitting) == ((), ())


def test_a_project_of_format_1_keeps_its_ratings_its_garment_that_fits_and_what_was_refused():
    project = saves.load(of_format_1("half-a-cardigan"))
    one, two = project.swatch

    assert (one.fabric_rating, one.knitting_rating, one.grams) == (4, 2, 14.5)
    assert (two.fabric_rating, two.knitting_rating) == (None, 5)
    assert project.reference_garment == ReferenceGarment(chest_width_cm=52.0, armhole_depth_cm=22.5)
    assert project.drafts == {
        "reference_garment.length_cm": "to the hip", "swatch.A.fabric_rating": "9", "swatch.B.knitting_rating": "quite",
        "body.chest_cm": "9 2 cm", "garment.length_cm": "long",
    }  # fmt: skip
    assert project.extra == {"mood": "calm"}
    assert saves.strange_keys(project) == ("mood: isn't a key that the workshop reads. It's kept as it is.",)


def test_a_project_of_format_1_has_its_stitches_by_their_ids():
    project = saves.load(of_format_1("lattice-and-rib"))

    assert [s.stitch for s in project.swatch] == ["pattern-1", "k2-p2-rib", "k1-p1-rib", "garter", "stockinette"]
    assert project.stitch_pattern == (StitchPattern("pattern-1", "pattern 1", 6, 1),)


def test_a_project_of_format_2_has_the_repeat_of_a_swatch_as_a_stitch_pattern():
    project = saves.load(of_format(2, "lattice-with-a-draft"))

    assert [s.stitch for s in project.swatch] == ["pattern-1", "k2-p2-rib", "k1-p1-rib", "garter", "stockinette"]
    assert project.stitch_pattern == (StitchPattern("pattern-1", "pattern 1", 6, 1),)
    assert project.drafts["stitch_pattern.pattern-1.plus"] == "two"
    assert saves.strange_keys(project) == ()


@pytest.mark.parametrize("path", sorted(OLDER.glob("format-*/*.toml")), ids=lambda p: f"{p.parent.name}-{p.stem}")
def test_no_step_of_an_older_file_looks_changed(path):
    """The marks of the answers that a step was done with were made by the workshop of that time."""
    project = saves.load(path)

    assert {step: changed_since(step, project) for step in STEPS} == dict.fromkeys(STEPS, ())


def test_opening_an_older_file_changes_no_byte_and_the_first_answer_writes_the_newest_format(tmp_path):
    path = tmp_path / "half-a-cardigan.toml"
    path.write_bytes(before := of_format_1("half-a-cardigan").read_bytes())
    session = opened(path)
    for step in STEPS:
        session.at(step)
    assert path.read_bytes() == before

    session.answer(at_top(TITLE, "title"), "Half a cardigan more")
    now = tomllib.loads(path.read_text(encoding="utf-8"))
    assert (now["format"], now["title"]) == (FORMAT, "Half a cardigan more")
    assert now["swatch"][0]["fabric_rating"] == 4
    assert now["reference_garment"] == {"chest_width_cm": 52.0, "armhole_depth_cm": 22.5}
    assert not {"fabric", "comfort"} & now["swatch"][0].keys() | {"fitting_garment"} & now.keys()
    assert saves.load(path) == session.project


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("fabric = 4", 'fabric = "good"', "line 50: swatch.A.fabric_rating: is 'good'. It should be a whole number"),
        ("chest_width_cm = 52.0", "chest_width_cm = true", "line 88: reference_garment.chest_width_cm: is True"),
    ],
)
def test_the_line_of_a_wrong_key_is_found_in_an_older_file_too(tmp_path, old, new, says):
    text = of_format_1("half-a-cardigan").read_text(encoding="utf-8")
    with pytest.raises(BadSave) as told:
        saves.load(written(tmp_path, text.replace(old, new, 1)))
    assert says in str(told.value)


@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.text(),
        lambda x: (
            st.lists(x)
            | st.dictionaries(st.sampled_from(["swatch", "drafts", "agreed", "stitch", "fabric", "fitting_garment"]), x)
        ),
    )
)
def test_a_migration_takes_whatever_stands_in_a_file(anything):
    data = anything if isinstance(anything, dict) else {"swatch": anything}
    assert "fitting_garment" not in migrations.from_1_to_2(data)


def test_demo_projects_are_sound_and_of_three_kinds():
    demos = {s.path.stem: s.project for s in saves.list_saves(saves.demo_folder())}

    assert set(demos) == {"harbour-pullover", "lemon-grove-top", "first-frost-jumper"}
    assert demos["harbour-pullover"].yarn[0].fibres[0].fibre == "superwash wool"
    assert demos["lemon-grove-top"].yarn[0].fibres[0].fibre == "cotton"
    assert demos["first-frost-jumper"].yarn[0].weight == "super-fine"


def test_projects_are_not_shared_between_defaults():
    assert Project().body is not Project().body or Project().body == Body()
    assert Yarn("a").extra == Swatch("A").extra == ReferenceGarment().extra == {}
    assert replace(Project(), title="x") != Project()


def test_a_demo_that_is_opened_stays_as_it_is_and_is_copied_with_the_first_answer(clean_environment):
    demo = saves.demo_folder() / "lemon-grove-top.toml"
    before = demo.read_bytes()
    session = opened(demo)
    session.at(STEPS[0])
    session.confirm(STEPS[0])
    assert session.path is None
    session.answer(at_top(TITLE, "title"), "My top")

    assert session.path.parent == saves.default_folder()
    assert demo.read_bytes() == before


def test_a_misspelt_key_is_kept_and_told_with_the_one_that_was_meant(tmp_path):
    path = tmp_path / "x.toml"
    path.write_text('format = 1\ntitle = "x"\n[garment]\nlenght_cm = 60.0\nzzz = 1\n', encoding="utf-8")
    told = saves.strange_keys(saves.load(path))

    assert (
        told[0] == "garment.lenght_cm: isn't a key that the workshop reads. Did you mean length_cm? It's kept as it is."
    )
    assert told[1] == "garment.zzz: isn't a key that the workshop reads. It's kept as it is."
    assert saves.strange_keys(saves.load(saves.demo_folder() / "harbour-pullover.toml")) == ()


def test_rows_that_an_older_workshop_wrote_down_as_stocking_are_in_stockinette(tmp_path):
    """Both countries' names stood for one fabric; files with either are the same knitting."""
    now = plan(pullover())
    project = replace(now.project, knitting=(noted(now.made.pieces[0], 40),))
    new, old = tmp_path / "new.toml", tmp_path / "old.toml"
    saves.save(project, new)
    text = new.read_text(encoding="utf-8")
    assert 'fabric = "stockinette"' in text
    old.write_text(text.replace('fabric = "stockinette"', 'fabric = "stocking"'), encoding="utf-8")

    assert saves.load(old) == saves.load(new) == project
    assert plan(saves.load(old)).made == plan(project).made
    assert not [c for c in plan(saves.load(old)).checks if c.code == "out-of-bounds"]
