"""A record does what ``dataclass(frozen=True, slots=True)`` does: the standard library is the referee."""

import subprocess
import sys
from dataclasses import dataclass, field, fields, replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.records import record

ROOT = Path(__file__).resolve().parent.parent


def both(decorate):
    @decorate
    class Stitch:
        """One stitch."""

        name: str
        rows: tuple[int, ...] = ()
        marks: dict[str, int] = field(default_factory=dict, compare=False)
        look: object = field(default=None, repr=False)

    @decorate
    class Cable(Stitch):
        """One that grows from another."""

        over: int = 2

    @decorate
    class Bare:
        """One without fields."""

    return Stitch, Cable, Bare


(Made, MadeMore, MadeBare), (Wanted, WantedMore, WantedBare) = both(record), both(dataclass(frozen=True, slots=True))
VALUES = st.tuples(st.sampled_from("ab"), st.sampled_from([(), (1,)]), st.sampled_from([{}, {"a": 1}]), st.booleans())


@given(VALUES, VALUES)
def test_records_are_compared_hashed_shown_and_replaced_as_dataclasses_are(one, other):
    assert (Made(*one) == Made(*other)) == (Wanted(*one) == Wanted(*other))
    assert (hash(Made(*one)) == hash(Made(*other))) == (hash(Wanted(*one)) == hash(Wanted(*other)))
    assert repr(Made(*one)) == repr(Wanted(*one))
    assert repr(replace(Made(*one), name="c")) == repr(replace(Wanted(*one), name="c"))
    assert [(f.name, f.compare) for f in fields(Made)] == [(f.name, f.compare) for f in fields(Wanted)]
    assert Made(*one) != Wanted(*one)


@given(VALUES, VALUES, st.sampled_from([2, 3]), st.sampled_from([2, 3]))
def test_records_that_grow_from_others_and_those_without_fields_are_too(one, other, over, under):
    mine, wanted = (kind(*one, over) == kind(*other, under) for kind in (MadeMore, WantedMore))
    assert mine == wanted
    assert repr(MadeMore(*one, over)) == repr(WantedMore(*one, over))
    assert MadeMore(*one) != Made(*one)
    assert (MadeBare() == MadeBare(), hash(MadeBare()) == hash(MadeBare()), repr(MadeBare())) == (
        WantedBare() == WantedBare(),
        hash(WantedBare()) == hash(WantedBare()),
        repr(WantedBare()),
    )
    assert MadeBare() != MadeMore(*one)


def test_a_record_has_no_place_for_what_it_does_not_know():
    with pytest.raises((AttributeError, TypeError)):
        Made("a").other = 1


def test_the_type_checker_lets_nobody_write_to_a_record(tmp_path):
    written = tmp_path / "written.py"
    written.write_text('from workshop.project import Project\n\nProject().title = "another"\n')
    asked = [sys.executable, "-m", "mypy", "--strict", str(written)]  # by itself: it lets all go as deep as it likes
    said = subprocess.run(asked, capture_output=True, text=True, cwd=ROOT, check=False).stdout
    assert 'Property "title" defined in "Project" is read-only' in said, said
