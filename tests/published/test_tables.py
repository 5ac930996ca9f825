"""The tables against published figures and against one another. Every entry says how it is known."""

from collections.abc import Mapping

import pytest
from pint import get_application_registry

from workshop import tables
from workshop.tables import bodies, needles
from workshop.tables.fibres import all_fibres
from workshop.tables.trade_rules import ease_band, k_value
from workshop.tables.yarn_weights import all_weights, weight

UNITS = get_application_registry()
HOWS = {"read", "memory", "derived", "practice"}


def entries(value):
    """All entries of a table that carry a source."""
    if isinstance(value, Mapping):
        if "source" in value:
            yield value
        for inner in value.values():
            yield from entries(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from entries(inner)


@pytest.mark.parametrize("name", tables.names())
def test_every_entry_names_sources_that_the_table_lists_and_how_it_is_known(name):
    table = tables.read(name)
    found = list(entries({k: v for k, v in table.items() if k != "sources"}))

    assert table["title"]
    assert table["about"]
    assert found or name == "terms"
    for entry in found:
        assert set(entry["source"]) <= set(table["sources"]), entry
        hows = {v for k, v in entry.items() if k.startswith("how") and k not in ("how_to",)}
        assert hows
        assert hows <= HOWS, entry


# CYC Standard Yarn Weight System as reproduced by a yarn retailer's guide and a 2019 blog (read)
CYC_WEIGHTS = {
    "lace": (33, 40, 1.5, 2.25),
    "super-fine": (27, 32, 2.25, 3.25),
    "fine": (23, 26, 3.25, 3.75),
    "light": (21, 24, 3.75, 4.5),
    "medium": (16, 20, 4.5, 5.5),
    "bulky": (12, 15, 5.5, 8.0),
    "super-bulky": (7, 11, 8.0, 12.75),
}


@pytest.mark.parametrize(("name", "row"), CYC_WEIGHTS.items())
def test_yarn_weights_as_published(name, row):
    found = weight(name)

    assert (found.stitches_low, found.stitches_high, found.needle_mm_low, found.needle_mm_high) == row
    assert found.how == "read"


def test_start_needles_lie_in_the_published_range_of_their_weight():
    for found in all_weights():
        assert found.needle_mm_low <= found.start_needle_mm <= (found.needle_mm_high or 40)


def test_jumbo_has_six_stitches_and_fewer():
    assert weight("jumbo").stitches_high == 6
    with pytest.raises(KeyError):
        weight("cobweb")  # type: ignore[arg-type]


# needle conversion tables a, b, c (read): mm, US, old UK
CONVERSIONS = [
    (2.0, "0", "14"), (2.75, "2", "12"), (3.25, "3", "10"), (3.5, "4", ""), (3.75, "5", "9"), (4.0, "6", "8"),
    (4.5, "7", "7"), (5.0, "8", "6"), (5.5, "9", "5"), (6.0, "10", "4"), (6.5, "10.5", "3"), (7.0, "", "2"),
    (8.0, "11", "0"), (9.0, "13", "00"), (10.0, "15", "000"), (15.0, "19", ""),
]  # fmt: skip


@pytest.mark.parametrize(("mm", "us", "uk"), CONVERSIONS)
def test_needle_conversions_as_published(mm, us, uk):
    size = needles.find(mm)

    assert (size.us, size.uk) == (us, uk)


def test_us_numbers_rise_and_uk_numbers_fall_with_the_diameter():
    us = [float(s.us) for s in needles.sizes() if s.us and s.mm >= 2]
    uk = [int(s.uk) for s in needles.sizes() if s.uk and not s.uk.startswith("00")]

    assert us == sorted(us)
    assert uk == sorted(uk, reverse=True)


def test_steps_along_the_needle_sizes_stay_inside_the_table():
    assert needles.steps_from(5.0, -3) == 3.75
    assert needles.steps_from(5.0, 99) == needles.ladder()[-1]
    assert needles.steps_between(5.0, 3.75) == -3
    assert needles.find(4.2) is None
    assert needles.nearest(4.2).mm == 4.0


# chest of women, to-fit, as printed in pattern leaflets and a designer's page that follow the CYC (read)
@pytest.mark.parametrize(("size", "inches"), [("M", (36, 38)), ("L", (40, 42)), ("1X", (44, 46)), ("5X", (60, 62))])
def test_womens_chest_as_published(size, inches):
    cell = tables.read("body_women")["measure"]["chest"][size]

    assert tuple(cell["inches"]) == inches
    assert cell["how_inches"] == "read"


@pytest.mark.parametrize("table", ["women", "men", "youth", "children", "babies"])
def test_centimetres_and_inches_of_the_body_tables_agree_with_pint_within_printed_rounding(table):
    for measure, cells in tables.read(f"body_{table}")["measure"].items():
        for size, cell in cells.items():
            for cm, inch in zip(cell["cm"], cell["inches"], strict=True):
                assert UNITS.Quantity(inch, "inch").to("cm").magnitude == pytest.approx(cm, abs=1.6), (measure, size)


@pytest.mark.parametrize("table", ["women", "men", "youth", "children", "babies"])
def test_sizes_grow(table):
    for measure in bodies.MEASURES:
        middles = [c.middle_cm for c in bodies.cells(table, measure).values()]
        assert middles == sorted(middles), measure


def test_children_read_in_a_page_that_starts_from_the_published_table():
    """crochetkitten.com, measurements for designers (read): armhole depth of size 6 is 5 in."""
    cell = tables.read("body_children")["measure"]["armhole_depth"]["6"]

    assert (cell["inches"], cell["how_inches"]) == ([5.0, 5.0], "read")


def test_chest_ease_bands_as_published():
    """Fit table of a yarn company, 2011 blog (read): close 1-2 in, standard 2-4, loose 4-6, oversized 6 and more."""
    assert ease_band("very-close") == (None, 0.0)
    assert ease_band("close") == (2.5, 5.0)
    assert ease_band("standard") == (5.0, 10.0)
    assert ease_band("loose") == (10.0, 15.0)
    assert ease_band("oversized") == (15.0, None)
    assert ease_band("close", "newer") == (0.0, 0.0)  # the same word, another figure


def test_stitch_constants_against_a_published_exam_answer():
    """GATE 2015 textile question 54 (read): kc 5.5, kw 4.2, loop 0.5 cm gives 92.4 loops per cm²."""
    assert k_value("kc") * k_value("kw") / 0.5**2 == pytest.approx(92.4)


def test_fibre_densities_as_published():
    """Morton and Hearle, table 5.1, at 65 % humidity (read)."""
    published = {
        "wool": 1.31,
        "cotton": 1.52,
        "silk": 1.34,
        "nylon": 1.14,
        "polyester": 1.39,
        "acrylic": 1.19,
        "viscose": 1.49,
    }
    found = {f.id: f.density_g_cm3 for f in all_fibres()}

    assert {name: found[name] for name in published} == published


def test_head_sizes_as_published():
    """theoldhooker.blogspot.com (read): women 21.5-22.5 in, men 23-24 in."""
    (_, women), (_, men) = bodies.heads("women")[0], bodies.heads("men")[0]

    assert (women.low_cm, women.high_cm) == pytest.approx((21.5 * 2.54, 22.5 * 2.54))
    assert (men.low_cm, men.high_cm) == pytest.approx((23 * 2.54, 24 * 2.54))


def test_every_other_length_in_inches_agrees_with_pint_within_printed_rounding():
    """Ease bands, heads and hem levels: whatever a table gives both ways."""
    seen = 0
    for name in ("ease", "heads", "body_women", "body_men", "body_youth", "body_children", "body_babies"):
        for cm, inch in _both_ways(tables.read(name)):
            assert UNITS.Quantity(inch, "inch").to("cm").magnitude == pytest.approx(cm, abs=1.6), name
            seen += 1
    assert seen > 20


def _both_ways(table):
    """Pairs of the same figure in cm and in inches, wherever a table has both side by side."""
    if isinstance(table, Mapping):
        for key, value in table.items():
            twin = key.replace("cm", "inches") if "cm" in key else None
            if twin in table and isinstance(value, int | float):
                yield value, table[twin]
            elif twin in table and isinstance(value, list):
                yield from zip(value, table[twin], strict=True)
            yield from _both_ways(value)
    elif isinstance(table, list | tuple):
        for value in table:
            yield from _both_ways(value)
