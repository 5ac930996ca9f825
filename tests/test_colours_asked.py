"""Colours, stripes and bands as they are typed."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.factory import pullover, shaped
from workshop.project import Band, Colour, StitchPattern, Stripe
from workshop.questions.steps import fields
from workshop.units import NotUnderstood

PROJECT = shaped(
    pullover(stitch_pattern=(StitchPattern("pattern-1", "waves"), StitchPattern("pattern-2", "waves / big"))),
    construction="round-yoke",
    colour=(Colour("a", "chalk white"), Colour("b", "sea blue")),
)


def answered(key, text, project=PROJECT):
    field = next(f for f in fields("shape", project) if f.key == key)
    return field.get(field.answered(project, text))


@pytest.mark.parametrize(
    ("text", "colours"),
    [
        ("a chalk white, b sea blue", {"a": "chalk white", "b": "sea blue"}),
        ("chalk white, sea blue", {"a": "chalk white", "b": "sea blue"}),
        ("W chalk; r rust / k", {"w": "chalk", "r": "rust", "k": ""}),
        ("", {}),
    ],
)
def test_colours_are_typed_with_their_letters_or_get_the_first_ones(text, colours):
    assert {c.id: c.name for c in answered("garment.colour", text)} == colours


@pytest.mark.parametrize("text", ["4 a, 2 b", "4 rows a; 2 of b", "4 chalk white / 2 Sea Blue", "4a, 2b"])
def test_stripes_are_typed_by_letter_or_name(text):
    assert answered("garment.stripe", text) == (Stripe(4, "a"), Stripe(2, "b"))


@pytest.mark.parametrize("text", ["waves / seed stitch", "pattern-1 / seed", "Waves; moss stitch"])
def test_bands_are_typed_as_the_list_of_fabrics_has_them(text):
    project = replace(PROJECT, terms="uk") if "moss" in text else PROJECT
    project = replace(project, stitch_pattern=project.stitch_pattern[:1])
    assert answered("garment.band", text, project) == (Band("pattern-1"), Band("seed"))


@pytest.mark.parametrize(
    ("key", "text", "says"),
    [
        ("garment.colour", "a white, a blue", "the letter a is used twice"),
        ("garment.colour", "a white, sea blue", "'sea blue' has no letter before it"),
        ("garment.colour", ",".join("abcdefghijklm"), "that's 13 colors"),
        ("garment.stripe", "blue", "'blue' isn't a number of rows and a color"),
        ("garment.stripe", "0 a", "0 rows looks wrong"),
        ("garment.stripe", "4 rust", "no color is called 'rust'. Your colors are a chalk white; b sea blue"),
        ("garment.band", "wave / xyz", "'xyz' isn't one of the choices"),
        ("garment.band", "/", "nothing was typed"),
    ],
)
def test_what_is_no_answer_is_told_in_a_line(key, text, says):
    with pytest.raises(NotUnderstood, match=says):
        answered(key, text, replace(PROJECT, stitch_pattern=PROJECT.stitch_pattern[:1]))


@given(
    st.lists(
        st.tuples(st.sampled_from("abcdefk"), st.text("xyz éß-", max_size=12)),
        min_size=1,
        max_size=7,
        unique_by=lambda c: c[0],
    ),
    st.lists(st.tuples(st.integers(1, 200), st.sampled_from("abz")), min_size=1, max_size=24),
    st.lists(st.sampled_from(["pattern-1", "pattern-2", "seed", "k2-p2-rib"]), min_size=1, max_size=6),
)
def test_what_is_shown_is_taken_back(colours, stripes, bands):
    project = shaped(
        PROJECT,
        colour=tuple(Colour(letter, " ".join(name.split())) for letter, name in colours),
        stripe=tuple(Stripe(*s) for s in stripes),
        band=tuple(Band(b) for b in bands),
    )
    for key in ("garment.colour", "garment.stripe", "garment.band"):
        field = next(f for f in fields("shape", project) if f.key == key)
        assert field.get(field.answered(project, field.shown(project))) == field.get(project)
