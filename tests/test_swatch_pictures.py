"""Pictures of swatch, ruler, size range and wash: plain numbers in, lines of characters out."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.factory import pullover, readings, swatch
from workshop.core.plan import plan
from workshop.pictures.blocks import ascii_only
from workshop.pictures.ranges import SizeRange, range_text
from workshop.pictures.swatch_picture import SwatchToKnit, Window, swatch_text, window_text
from workshop.pictures.wash import Washed, wash_text
from workshop.prints.drawings import step_drawing
from workshop.project import Design


def in_cm(cm: float) -> str:
    return f"{cm:.1f} cm"


def in_eighths(cm: float) -> str:
    return f"{cm / 2.54:.0f}⅞ in"


swatches = st.builds(
    SwatchToKnit,
    name=st.sampled_from("ABC"),
    stitches=st.integers(8, 120),
    rows=st.integers(12, 160),
    border_stitches=st.integers(0, 4),
    border_rows=st.integers(0, 6),
    marks=st.integers(0, 6),
    mark=st.sampled_from(["purl bumps", "eyelets"]),
)
columns = st.sampled_from([40, 56, 60])


def test_a_swatch_reads_as_a_picture():
    lines = swatch_text(SwatchToKnit("B", 30, 40, 3, 4, 2), rows=8)

    assert "\n".join(lines) == (
        "Swatch B\n"
        "▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒  │ 4 rows garter\n"
        "▒▒vvvvvvvvvvvv▒▒  ┬\n"
        "▒▒vvvvvvvvvvvv▒▒  │\n"
        "▒▒vvvvvvvvvvvv▒▒  │ 32 rows stockinette\n"
        "▒▒vvvvvvvvvvvv▒▒  │\n"
        "▒▒vvvvvvvvvvvv▒▒  │\n"
        "▒▒vv●v●vvvvvvv▒▒  ┴ 2 purl bumps to mark it\n"
        "▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒  │ 4 rows garter\n"
        "├ 30 stitches ─┤\n"
        "3 garter + 24 + 3 garter"
    )


@given(swatches, columns, st.booleans())
def test_a_swatch_fits_and_says_all_its_counts(swatch, columns, plain):
    lines = swatch_text(swatch, columns=columns, plain=plain)
    text = "\n".join(lines)

    assert max(map(len, lines)) <= columns
    assert text.isascii() or not plain
    assert f"{swatch.rows - 2 * swatch.border_rows} rows stockinette" in text
    assert text.count(f"{swatch.border_rows} rows garter") == (2 if swatch.border_rows else 0)
    if swatch.border_stitches:
        said = f"{swatch.border_stitches} garter + {swatch.plain_stitches} + {swatch.border_stitches} garter"
        assert said in lines[-1]
    else:
        assert lines[-1] == "no garter edge"


@given(st.integers(1, 4), st.sampled_from(["purl bumps", "eyelets"]), st.booleans())
def test_marks_stand_in_the_first_plain_row(marks, mark, plain):
    lines = swatch_text(SwatchToKnit("A", 36, 48, 3, 4, marks, mark), plain=plain)
    sign = {"purl bumps": "●-", "eyelets": "○o"}[mark][plain]
    garter = "=" if plain else "▒"
    cloth = [line.split("  ")[0] for line in lines[1:-2]]
    marked = [i for i, line in enumerate(cloth) if "v" in line and sign in line]

    assert len(marked) == 1
    assert cloth[marked[0]].count(sign) == marks
    assert all(set(line) == {garter} for line in cloth[marked[0] + 1 :])
    assert f"{marks} {mark if marks > 1 else mark[:-1]} to mark it" in "\n".join(lines)


def test_a_swatch_without_counts_has_no_picture():
    assert swatch_text(SwatchToKnit("A", 0, 0, 3, 4, 1)) == ()


windows = st.builds(
    Window,
    count=st.floats(2, 48),
    over=st.integers(1, 15),
    unit=st.sampled_from(["cm", "in"]),
    along=st.sampled_from(["stitches", "rows"]),
    starts_at=st.floats(0, 0.99),
)


@given(windows, columns, st.booleans(), st.booleans())
def test_a_ruler_fits_and_has_its_ticks(window, columns, plain, tell):
    lines = window_text(window, columns=columns, plain=plain, tell=tell)
    if not lines:  # fewer stitches than there are would be a lie
        assert window.count > columns - 4 - len(window.unit)
        return
    ruler = lines[4]
    tick = "+" if plain else "┬"

    assert max(map(len, lines)) <= columns
    assert "\n".join(lines).isascii() or not plain
    assert len(lines) == 6 + tell
    assert ruler[1] == ruler[-1] == tick
    assert ruler.count(tick) <= window.over + 1
    assert lines[5].rstrip().endswith(f"{window.over} {window.unit}")
    assert len(ruler) == len(lines[0])


@pytest.mark.parametrize("count", [12, 14.5, 18, 20, 22.5, 26])
def test_the_stitches_between_the_pins_are_as_many_as_said(count):
    lines = window_text(Window(count, 10))
    cloth = lines[0].strip(" │")

    assert cloth.count("\\") == pytest.approx(count, abs=0.5)
    assert (cloth.count("\\") + cloth.count("/")) / 2 == pytest.approx(count, abs=0.26)
    assert lines[-1].split()[0] == str(count).replace(".5", "½")


@pytest.mark.parametrize("rows", [20, 28, 36, 44])
def test_rows_are_counted_on_cloth_that_lies_on_its_side(rows):
    lines = window_text(Window(rows, 10, along="rows"))

    assert lines[0].count("<") == rows
    assert f"{rows} rows in 10 cm" in lines[-1]


def test_a_swatch_to_practise_on_does_not_tell_its_count():
    lines = window_text(Window(21.5, 10, starts_at=0.5), tell=False)

    assert not any("stitches" in line for line in lines)
    assert lines[0].strip()[1] == "/"  # the pin stands in the middle of a stitch


def test_no_cloth_no_ruler():
    assert window_text(Window(0, 10)) == ()


def test_a_size_range_reads_as_a_picture():
    lines = range_text(SizeRange("chest", 92.0, 97.2, 100.0, 103.0), in_cm)

    assert "\n".join(lines) == (
        "Chest\n"
        "body      ▲ 92.0 cm\n"
        "finished                     ├─────────◆─────────┤ 100.0 cm\n"
        "ease      ├────────────────────────────┤ 8.0 cm\n"
        "          ┴──────┴──────┴───────┴──────┴──────┴──────┴\n"
        "          92    94     96      98     100    102    104.0 cm\n"
        "Finished: likely 97.2 cm to 103.0 cm.\n"
        "Ease: likely 5.2 cm to 11.0 cm."
    )


sizes = st.builds(
    lambda what, body, ease, half, wanted: SizeRange(
        what, body, body + ease - half, body + ease, body + ease + half, None if wanted is None else body + wanted
    ),
    st.sampled_from(["chest", "upper arm"]),
    st.floats(20, 160),
    st.floats(-15, 40),
    st.floats(0.1, 12),
    st.none() | st.floats(-10, 30),
)


@given(sizes, columns, st.sampled_from([1.0, 2.54]), st.booleans())
def test_a_size_range_fits_and_keeps_its_order(size, columns, unit_cm, plain):
    show = in_eighths if unit_cm > 2 else in_cm
    lines = range_text(size, show, unit_cm=unit_cm, columns=columns, plain=plain)
    body = next(line for line in lines if line.startswith("body"))[10:]
    finished = next(line for line in lines if line.startswith("finished"))[10:]
    at_body, at_likely = body.index("^" if plain else "▲"), finished.index("+" if plain else "◆")

    assert max(map(len, lines)) <= columns
    assert "\n".join(lines).isascii() or not plain
    if abs(size.likely_cm - size.body_cm) > 5:
        assert (at_likely > at_body) == (size.likely_cm > size.body_cm)
    said = ascii_only(show(size.low_cm)) if plain else show(size.low_cm)
    assert f"Finished: likely {said} to" in " ".join(lines)


@given(sizes)
def test_the_scale_tells_where_the_body_is(size):
    lines = range_text(size, in_cm, plain=True)
    body = lines[1][10:]
    ticks, figures = next((a[10:], b[10:]) for a, b in pairwise(lines) if a.startswith(" " * 10 + "+-"))
    at = [i for i, c in enumerate(ticks) if c == "+"]
    first, last = float(figures.split()[0]), float(figures.split()[-2])
    read = first + (body.index("^") - at[0]) / (at[-1] - at[0]) * (last - first)

    assert read == pytest.approx(size.body_cm, abs=(last - first) / 40)


def test_a_wash_reads_as_a_picture():
    lines = wash_text(Washed(15, 15, 14, 13), in_cm, columns=60, rows=6)

    assert "\n".join(lines) == (
        "Before washing                After washing\n"
        "████████████ ┬                ▂▂▂▂▂▂▂▂▂▂▂·\n"
        "████████████ │                ███████████▎ ┬\n"
        "████████████ │                ███████████▎ │\n"
        "████████████ │                ███████████▎ │\n"
        "████████████ │                ███████████▎ │\n"
        "████████████ ┴                ███████████▎ ┴\n"
        "├ 15.0 cm ─┤                  ├ 14.0 cm ┤\n"
        "15.0 cm wide, 15.0 cm high    14.0 cm wide, 13.0 cm high\n"
        "··· where the fabric was before washing"
    )


sides = st.floats(5, 40)


@given(sides, sides, st.floats(0.75, 1.3), st.floats(0.75, 1.3), columns, st.booleans())
def test_both_cloths_of_a_wash_fit_and_are_to_one_scale(width, height, across, along, columns, plain):
    cloth = Washed(width, height, width * across, height * along)
    lines = wash_text(cloth, in_cm, columns=max(columns, 56), plain=plain)
    middle = lines[0].index("After")
    drawn = [line for line in lines[1:] if "#" in line or "█" in line]
    bottom = drawn[-1]
    wide = [
        bottom[:middle].count("#") + bottom[:middle].count("█"),
        bottom[middle:].count("#") + bottom[middle:].count("█"),
    ]

    assert max(map(len, lines)) <= max(columns, 56)
    assert "\n".join(lines).isascii() or not plain
    assert wide[1] / wide[0] == pytest.approx(across, abs=1.01 / wide[0] + 1.01 / wide[0] * across)
    assert in_cm(cloth.height_after) in "\n".join(lines)


def test_dots_stand_where_cloth_was_lost_only():
    shrunk = "\n".join(wash_text(Washed(15, 15, 12, 12), in_cm))
    grown = "\n".join(wash_text(Washed(12, 12, 15, 15), in_cm))

    assert "··· where the fabric was before washing" in shrunk
    assert "·" not in grown


def test_cloth_of_no_size_has_no_picture():
    assert wash_text(Washed(15, 15, 0, 10), in_cm) == ()


def test_cloth_that_was_hung_is_drawn_hanging_too():
    """28.1 rows before the wash are 25.6 while it hangs: 10 cm of it become 11 cm."""
    rows = readings("hung", "rows", 25.5, 25.75, 25.5)
    hung = plan(pullover(swatch=(replace(swatch(), reading=(*swatch().reading, *rows)),), design=Design("A", "hung")))

    text = "\n".join(step_drawing("wash", hung))
    assert "Hung for a day" in text.split("washed and hung")[1]
    assert "10 cm wide, 11 cm high" in text.split("washed and hung")[1]
    assert "Hung" not in "\n".join(step_drawing("wash", plan(pullover())))


def test_a_swatch_that_is_knitted_already_says_so_where_its_counts_are_not_the_planned_ones():
    to_knit = SwatchToKnit("A", 36, 44, 3, 4, 1)
    assert swatch_text(to_knit)[0] == "Swatch A"
    assert swatch_text(replace(to_knit, rows=48, knitted=True))[0] == "Swatch A, as you knitted it"
