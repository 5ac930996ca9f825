"""Sums: what is printed is what is worked out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.formula import work_out
from workshop.core.sums import (
    GAUGE_CM,
    Sum,
    added,
    constant,
    figure,
    in_cm,
    in_inches,
    larger_of,
    root_of,
    smaller_of,
)

A, B, C, D = (figure(name, value, "cm") for name, value in (("a", 7.0), ("b", 3.0), ("the c", 2.0), ("d", 0.5)))


@pytest.mark.parametrize(
    ("written", "text", "value"),
    [
        (A * B / 10, "a × b ÷ 10", 2.1),
        ((A - B) / (C - D) * 2, "(a − b) ÷ (the c − d) × 2", 4 / 1.5 * 2),
        (A / (B * C), "a ÷ (b × the c)", 7 / 6),
        (A / (B / C), "a ÷ (b ÷ the c)", 7 / 1.5),
        (A * (B / C), "a × b ÷ the c", 10.5),
        (A - (B + C), "a − b − the c", 2.0),
        (A - (B - (C + D)), "a − b + the c + d", 6.5),
        (A + (B - C), "a + b − the c", 8.0),
        (100 * (A / B - 1), "100 × (a ÷ b − 1)", 100 * (7 / 3 - 1)),
        (1 - A, "1 − a", -6.0),
        (1.96 / A + 2, "1.96 ÷ a + 2", 1.96 / 7 + 2),
        ((A / B) ** 2 * C**2, "(a ÷ b) × (a ÷ b) × the c × the c", 49 / 9 * 4),
        (root_of(A**2 + B**2) / C, "√(a × a + b × b) ÷ the c", 58**0.5 / 2),
        (larger_of(0.0, A - B) * smaller_of(C, 1.0), "larger of (0, a − b) × smaller of (the c, 1)", 4.0),
        (added([A * B]) / C, "(a × b) ÷ the c", 10.5),
    ],
)
def test_brackets_stand_where_a_reader_needs_them(written, text, value):
    assert written.text == text
    assert written.value == pytest.approx(value)


def joined(one: Sum, other: Sum, how: str) -> Sum:
    return {
        "+": lambda: one + other,
        "-": lambda: one - other,
        "*": lambda: one * other,
        "/": lambda: one / other if abs(other.value) > 0.1 else one,
        "larger": lambda: larger_of(one, other),
        "smaller": lambda: smaller_of(one, other),
    }[how]()


LEAVES = st.one_of(st.sampled_from([A, B, C, D]), st.integers(1, 12).map(constant))
SUMS = st.recursive(
    LEAVES,
    lambda inner: st.builds(joined, inner, inner, st.sampled_from(["+", "-", "*", "/", "larger", "smaller"])),
    max_leaves=6,
)


@given(SUMS)
def test_any_sum_read_as_printed_gives_its_value(written):
    figures = {f.name: f.value for f in written.figures}

    assert work_out(written.text, figures) == pytest.approx(written.value, rel=1e-6, abs=1e-3)


def test_figures_come_once_in_the_order_of_the_text_or_as_listed():
    assert [f.name for f in (C * A + A * B).figures] == ["the c", "a", "b"]
    assert [f.name for f in (C * A + A * B).listing(B, A).figures] == ["b", "a", "the c"]


def test_one_name_cannot_stand_for_two_values():
    with pytest.raises(ValueError, match="'a'"):
        A + figure("a", 8.0, "cm")


def test_constants_of_cm_are_others_in_inches():
    """20 stitches in 10 cm are 5.08 in an inch: over 10 cm, or over 4 in (by definition 2.54 cm)."""
    written = figure("width", 50.8, "cm") / constant(2.54, inches=1) * figure("stitches", 20.0) / GAUGE_CM

    assert in_cm(written.text) == "width ÷ 2.54 × stitches ÷ 10"
    assert in_inches(written.text) == "width × stitches ÷ 4"
