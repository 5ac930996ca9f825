"""What people type, and what is printed. Referee for conversions: pint itself, with its full registry."""

import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import get_application_registry

from workshop.units import (
    NotUnderstood,
    convert,
    eighths,
    plain_number,
    read_count,
    read_length,
    read_mass,
    read_needle,
    read_number,
    show_exactly,
    show_gauge,
    show_length,
    show_mass,
    show_needle,
    show_range,
    show_small,
    show_typed,
    show_yarn_length,
)

PINT = get_application_registry()
ROOT = Path(__file__).resolve().parent.parent


@pytest.mark.parametrize(
    ("typed", "cm"),
    [
        ("97", 97.0),
        (" 97 ", 97.0),
        ("97cm", 97.0),
        ("97 CM", 97.0),
        ("970 mm", 97.0),
        ("0.97 m", 97.0),
        ("0,97 m", 97.0),
        (",97 m", 97.0),
        ("38 in", 96.52),
        ('38"', 96.52),
        ("38″", 96.52),
        ("38 inches", 96.52),
        ("38 1/4 in", 97.155),
        ("38¼ in", 97.155),
        ("38-1/4 in", 97.155),
        ("½ in", 1.27),
        ("3 1/2", 3.5),
        ("3½", 3.5),
        ("5 ft 3 in", 160.02),
        ("5'3\"", 160.02),
        ("5'3", 160.02),
        ("5 ft", 152.4),
        ("1 yd", 91.44),
        ("−4", -4.0),
        ("-4 cm", -4.0),
    ],
)
def test_lengths(typed, cm):
    assert read_length(typed, "cm").value == pytest.approx(cm)


def test_a_bare_number_is_in_the_unit_in_use_and_says_that_no_unit_was_named():
    assert read_length("38", "in").value == pytest.approx(96.52)
    assert not read_length("38", "in").named
    assert read_length("38 cm", "in").named


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "nothing was typed"),
        ("   ", "nothing was typed"),
        ("wide", "'wide' doesn't start with a number"),
        ("nan", "doesn't start with a number"),
        ("inf", "doesn't start with a number"),
        ("1.2.3", "isn't a single number"),
        ("1/0", "divides by zero"),
        ("9**9**9", "'**' isn't a unit"),
        ("97 furlongs", "'furlongs' isn't a unit"),
        ("1e400", "'e' isn't a unit"),
        ("38 in 2", "isn't a single length"),
        ("97 98", "isn't a single length"),
        ("9" * 25, "too long for a number"),
        ("9" * 5000, "too long for a number"),
        ("97 cm; rm -rf", "isn't a unit"),
        ("[K2] y", "doesn't start with a number"),
    ],
)
def test_what_is_no_length_is_told_in_one_line(typed, says):
    with pytest.raises(NotUnderstood) as told:
        read_length(typed, "cm")

    assert says in str(told.value)
    assert "\n" not in str(told.value)


@given(st.text(max_size=80))
def test_no_text_whatever_raises_anything_else(text):
    for read in (
        lambda: read_length(text, "cm"),
        lambda: read_mass(text),
        lambda: read_number(text),
        lambda: read_needle(text, "us"),
    ):
        try:
            read()
        except NotUnderstood as told:
            assert "\n" not in str(told)


@given(st.floats(0.01, 500), st.sampled_from(["cm", "in"]))
def test_a_length_shown_exactly_is_read_back(cm, unit):
    typed = f"{convert(cm, 'cm', unit):.6f} {unit}"

    assert read_length(typed, "cm").value == pytest.approx(cm, abs=1e-4)


@pytest.mark.parametrize("unit", ["mm", "m", "in", "ft", "yd"])
def test_length_units_against_pint(unit):
    full = {"in": "inch", "ft": "foot", "yd": "yard"}.get(unit, unit)

    assert convert(1.0, unit, "cm") == pytest.approx(PINT.Quantity(1.0, full).to("cm").magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("given", "wanted"), [("cm", "in"), ("in", "cm"), ("yd", "m"), ("m", "yd"), ("oz", "g"), ("g", "oz")]
)
def test_factors_kept_for_speed_against_pint(given, wanted):
    full = {"in": "inch", "yd": "yard"}
    exact = PINT.Quantity(1.0, full.get(given, given)).to(full.get(wanted, wanted)).magnitude

    assert convert(1.0, given, wanted) == pytest.approx(exact, rel=1e-15)


@pytest.mark.parametrize("unit", ["kg", "oz", "lb"])
def test_mass_units_against_pint(unit):
    assert convert(1.0, unit, "g") == pytest.approx(PINT.Quantity(1.0, unit).to("g").magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("typed", "grams"), [("50", 50), ("50 g", 50), ("1.75 oz", 49.61), ("1 lb 2 oz", 510.29), ("0,1 kg", 100)]
)
def test_masses(typed, grams):
    assert read_mass(typed).value == pytest.approx(grams, abs=0.01)


@pytest.mark.parametrize("typed", ["3.5 oz", "1.75 oz", "2 oz", "1 oz", "100 g", "50 g", "99.22 g", "8.5 g", "17 g"])
def test_a_mass_is_shown_in_the_unit_in_which_it_was_typed_where_inches_are_used(typed):
    """A ball is sold by ounces where inches are used; grams stay grams, and metric knitters have no ounces."""
    grams = round(read_mass(typed).value, 4)

    assert show_mass(grams, "in") == typed
    assert show_mass(grams, "cm").endswith(" g")


@pytest.mark.parametrize(
    ("typed", "names", "mm"),
    [
        ("4", "mm", 4.0), ("4 mm", "us", 4.0), ("4,5mm", "mm", 4.5), ("US 6", "mm", 4.0), ("us6", "mm", 4.0),
        ("6", "us", 4.0), ("6 us", "mm", 4.0), ("UK 8", "mm", 4.0), ("8", "uk", 4.0), ("10 1/2", "us", 6.5),
        ("10½ US", "mm", 6.5), ("000", "us", 1.5), ("000", "uk", 10.0), ("3 1/2", "mm", 3.5),
    ],
)  # fmt: skip
def test_needles(typed, names, mm):
    assert read_needle(typed, names) == mm


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "Type a needle size"),
        ("big", "isn't a needle size"),
        ("4.2", "The nearest is 4 mm"),
        ("0", "0 mm isn't a needle size"),
        ("400", "isn't a needle size"),
        ("US 99", "there's no US 99"),
        ("UK 99", "UK sizes are"),
        ("-4", "isn't a needle size"),
    ],
)
def test_what_is_no_needle_is_told_with_what_there_is(typed, says):
    with pytest.raises(NotUnderstood, match=says):
        read_needle(typed, "mm")


def test_printing():
    assert show_length(97.5, "cm") == "97.5 cm"
    assert show_length(101.6, "in") == "40 in"
    assert show_length(102.0, "in") == "40⅛ in"
    assert show_length(-1.27, "in") == "-½ in"
    assert show_range(97.2, 103.0, "cm") == "97.2 to 103 cm"
    assert show_range(97.2, 103.0, "in", unit=False) == "38¼ to 40½"
    assert show_exactly(73.66, "cm") == "73.7 cm"  # 29 in, as a tape of centimetres has it
    assert show_exactly(12.25, "cm") == "12.25 cm"
    assert show_exactly(73.66, "in") == "29 in"
    assert show_small(0.2134, "cm") == "0.21 cm"
    assert show_small(0.254, "in") == "0.1 in"
    assert show_gauge(20.0, "cm", "stitches") == "20 stitches per 10 cm"
    assert show_gauge(20.0, "in") == "20.32 per 4 in"  # 10 cm is not 4 in
    assert show_yarn_length(100.0, "in") == "109 yd"
    assert show_yarn_length(100.4, "cm") == "100 m"
    assert show_needle(4.0, "us") == "US 6 (4 mm)"
    assert show_needle(7.0, "us") == "7 mm"  # there is no such US size
    assert plain_number(-0.001) == "0"
    assert plain_number(float("nan")) == "?"
    assert eighths(0.01) == "0"


def test_a_project_in_centimetres_never_imports_pint():
    code = (
        "import sys; from workshop.units import *; "
        "read_length('97 cm', 'cm'); read_mass('50'); show_length(97.5, 'cm'); read_needle('US 6', 'mm'); "
        "sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False, cwd=ROOT).returncode == 0


@pytest.mark.parametrize(
    ("cm", "units", "shown"),
    [
        (10.0, "in", "10 cm"),
        (10.0, "cm", "10 cm"),
        (10.16, "cm", "4 in"),
        (10.16, "in", "4 in"),
        (14.3, "in", "5.63 in"),
    ],
)
def test_the_distance_of_a_count_is_shown_in_the_unit_in_which_it_is_round(cm, units, shown):
    assert show_typed(cm, units) == shown


@pytest.mark.parametrize(
    ("typed", "count"), [("27/12", 27.0), ("27 / 12", 27.0), ("27.5/12", 27.5), ("27,5/12 cm", 27.5)]
)
def test_a_stroke_after_a_whole_count_is_no_fraction(typed, count):
    """Knitters write 27/12 for 27 stitches over 12 cm: read as 27 twelfths it would be 2¼."""
    assert read_count(typed, "cm") == (count, 12.0)
    assert read_count("4 1/2 over 2 cm", "cm") == (4.5, 2.0)
    assert read_count("22 1/2", "cm") == (22.5, None)
