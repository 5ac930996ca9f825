"""Drawings. Referee for areas: shapely."""

import xml.etree.ElementTree as ElementTree
from itertools import pairwise

import pytest
from hypothesis import given
from shapely import Polygon

from tests.core.test_garments import projects
from tests.factory import pullover, shaped
from workshop.core.making.edges import Cloth
from workshop.core.plan import plan
from workshop.pictures.outline import Outline
from workshop.pictures.svg import schematic_svg
from workshop.pictures.text import inside, scale_for, silhouette
from workshop.prints.document import schematic_lines, shapes_of


@given(projects())
def test_outlines_are_simple_symmetric_and_as_large_as_their_stitches(project):
    now = plan(project)
    if not now.made.pieces:
        return
    cloth = Cloth(now.gauge.stitches.per_10cm, now.gauge.rows.per_10cm)
    for shape in shapes_of(now):
        polygon = Polygon(shape.points)
        assert polygon.is_valid
        pieces = [
            p for p in now.made.pieces if p.name == shape.name or (p.came_from == shape.name and "shoulder" in p.name)
        ]
        cells = sum(r.after for p in pieces for r in p.rows if "hold" not in {e.do for e in r.events})
        if pieces[0].worked == "flat" and pieces[0].came_from is None:
            edges = sum(
                2 * p.edge_stitches if "shoulder" not in p.name else p.edge_stitches for p in pieces for _ in p.rows
            )
            knitted = (cells - edges) * cloth.across_cm(1) * cloth.along_cm(1)
            assert polygon.area == pytest.approx(knitted, rel=0.06)
        left, _, right, _ = polygon.bounds
        assert left == pytest.approx(-right, abs=cloth.across_cm(0.01))


def test_the_front_neck_is_deeper_than_the_back_neck():
    back, front, sleeve = shapes_of(plan(pullover()))

    assert [s.name for s in (back, front, sleeve)] == ["back", "front", "left sleeve"]
    assert Polygon(front.points).area < Polygon(back.points).area
    assert back.height == pytest.approx(front.height)


def test_a_body_in_the_round_is_drawn_with_what_grew_out_of_it():
    flat = shapes_of(plan(pullover()))
    ring = shapes_of(plan(shaped(pullover(), worked="round")))

    assert [s.name for s in ring] == [s.name for s in flat]
    assert ring[0].height == pytest.approx(flat[0].height)
    assert ring[0].width == pytest.approx(flat[0].width)


def test_a_silhouette_fills_its_box_in_blocks_and_in_plain_characters():
    square = Outline("square", ((0, 0), (8, 0), (8, 8), (0, 8)))

    assert silhouette(square, 1.0) == ["████████"] * 4
    assert silhouette(square, 1.0, plain=True) == ["########"] * 4


def test_a_triangle_is_sloped():
    triangle = Outline("triangle", ((0, 0), (8, 0), (4, 8)))
    lines = silhouette(triangle, 1.0)
    filled = [sum(c != " " for c in line) for line in lines]

    assert all(a <= b for a, b in pairwise(filled))


def test_points_inside_and_outside():
    square = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))

    assert inside((1, 1), square)
    assert not inside((3, 1), square)


def test_shapes_fit_the_room_that_they_are_given():
    shapes = shapes_of(plan(pullover()))
    lines = schematic_lines(shapes, plan(pullover()).project, columns=60, rows=12)

    assert max(map(len, lines)) <= 66
    assert len(lines) <= 12 + 3 + 1
    assert scale_for(shapes, 60, 12) > 0
    assert schematic_lines((), plan(pullover()).project) == ()


def test_svg_is_sound_and_holds_user_text_as_text():
    drawn = schematic_svg(shapes_of(plan(pullover())), "<script> & [K2] 日本", lambda cm: f"{cm:.0f} cm")
    root = ElementTree.fromstring(drawn)

    assert root.find("{http://www.w3.org/2000/svg}title").text == "<script> & [K2] 日本"
    assert len(root.findall("{http://www.w3.org/2000/svg}polygon")) == 3
    assert ElementTree.fromstring(schematic_svg((), "x", str)) is not None
