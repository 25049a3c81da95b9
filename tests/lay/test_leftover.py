"""What is left: rectangles truly empty, bias by whole rows."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from clothwright.lay.leftover import bias_yield, largest_rest
from clothwright.lay.problem import LayProblem, Region
from clothwright.lay.result import Lay, Placement

IN = 25.4


def lay_of(*rings, used=None, **region):
    problem = LayProblem(regions=(Region(name="c", **region),), shapes=())
    placements = tuple(
        Placement(shape=f"{k}", region="c", turn_deg=0.0, flipped=False, x=0.0, y=0.0, outline=r)
        for k, r in enumerate(rings)
    )
    return problem, Lay(placements=placements, used={"c": used or 0.0})


def square(x, y, a, b):
    return ((x, y), (x + a, y), (x + a, y + b), (x, y + b))


def test_the_end_of_the_cloth_is_left():
    """One piece over the whole width of the first metre of two: a metre is left."""
    problem, lay = lay_of(square(0, 0, 1000, 900), width=900.0, length=2000.0)
    rest = largest_rest(problem, lay, "c")
    assert (rest.along, rest.across) == (pytest.approx(1000, abs=5), 900)
    assert rest.x >= 1000


def test_margins_flaws_and_remnants_are_respected():
    """Selvedges, a hole in the middle and a slanted end are not counted as cloth."""
    hole = square(900, 400, 20, 20)
    outline = ((0, 0), (2000, 0), (1500, 900), (0, 900))
    problem, lay = lay_of(
        width=900.0,
        length=2000.0,
        margin_lower=10.0,
        margin_upper=10.0,
        keep_out=(hole,),
        outline=outline,
    )
    rest = largest_rest(problem, lay, "c")
    ring = box(rest.x, rest.y, rest.x + rest.along, rest.y + rest.across)
    assert Polygon(outline).buffer(1e-6).contains(ring)
    assert not ring.intersects(Polygon(hole).buffer(-1e-6))
    assert rest.y >= 10.0
    assert rest.y + rest.across <= 890.0


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.integers(0, 900), st.integers(0, 700), st.integers(20, 300), st.integers(20, 300)
        ),
        max_size=6,
    )
)
def test_a_rest_is_empty_and_no_smaller_than_the_free_end(boxes):
    """Whatever lies there: the rectangle touches nothing, and the free end is not overlooked."""
    rings = [square(*b) for b in boxes]
    far = max((b[0] + b[2] for b in boxes), default=0)
    problem, lay = lay_of(*rings, width=800.0, length=1600.0)
    rest = largest_rest(problem, lay, "c")
    ring = box(rest.x, rest.y, rest.x + rest.along, rest.y + rest.across)
    assert all(ring.intersection(Polygon(r)).area == 0 for r in rings)
    assert rest.area >= (1600 - far - 5) * 800 - 1e-6


@pytest.mark.parametrize(
    ("side", "strip", "seam", "rows", "length"),
    [
        (12, 2, 0.5, 3, 46.7),
        (13, 2, 0.5, 4, 67.9),
        (15, 2, 0.5, 4, 79.2),
        (12, 2, 0.25, 4, 65.1),
        (22, 2, 0.25, 7, 212.8),
        (30, 2, 0.25, 10, 417.2),
    ],
)
def test_whole_rows_of_a_continuous_strip(side, strip, seam, rows, length):
    """Table of squares cut into one tube, whole rows only (plane geometry; docs/sources.md)."""
    found = bias_yield(side * IN, side * IN, strip * IN, seam * IN)
    assert found.continuous / IN == pytest.approx(length, abs=0.05)
    assert found.continuous / (math.sqrt(2) * (side - 2 * seam) * IN) == pytest.approx(rows)


@settings(max_examples=60, deadline=None)
@given(a=st.floats(50, 2000), b=st.floats(50, 2000), w=st.floats(15, 80))
def test_no_more_strip_than_the_cloth_has_area(a, b, w):
    """Neither way gives more strip than area divided by width."""
    found = bias_yield(a, b, w)
    assert found.continuous <= a * b / w + 1e-6
    assert found.pieced <= a * b / w + 1e-6
