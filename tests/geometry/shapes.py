"""Shapes and strategies for the tests of the geometry (invented curves of garment size, mm)."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import strategies as st
from shapely.geometry import LineString

from clothwright.geometry.fit import smooth_through
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.transform import Transform, reflection, rotation_deg, translation
from clothwright.geometry.vec import Vec

ARMHOLE = Path(
    (
        Cubic(Vec(0, 0), Vec(-3, -40), Vec(-12, -80), Vec(-10, -110)),
        Cubic(Vec(-10, -110), Vec(-8, -140), Vec(10, -180), Vec(40, -185)),
        Cubic(Vec(40, -185), Vec(58, -188), Vec(75, -190), Vec(90, -190)),
    )
)
"""Three cubics from the shoulder down to the side, turning about a quarter to the left; the
directions at the joints differ by a few degrees, as in a drawing made by hand."""

CAP = smooth_through(
    [(0, 0), (45, 40), (95, 105), (160, 140), (225, 105), (280, 35), (330, 0)],
    start_tangent=(1, 0.15),
    end_tangent=(1, -0.1),
)
"""A sleeve cap: hollow, round, hollow; it turns both ways."""

NECK = Path((Cubic(Vec(0, 0), Vec(35, 0), Vec(70, 30), Vec(75, 75)),))

coordinates = st.floats(-200, 200, allow_nan=False).map(lambda v: round(v, 2))
points = st.builds(Vec, coordinates, coordinates)
cubics = st.builds(Cubic, points, points, points, points)
lines = st.builds(Line, points, points)


def is_tame(path: Path) -> bool:
    """No part shorter than a millimetre: what a drawing of a garment can hold."""
    return all(s.length > 1 for s in path.segments)


cubic_paths = cubics.map(lambda c: Path((c,))).filter(is_tame)


def is_clear(curve: Cubic) -> bool:
    """Handles and chord at least 5 mm long, and not folded flat upon itself."""
    p = curve.controls()
    legs = [b - a for a, b in pairwise(p)]
    bends = [abs(u.cross(v)) for u, v in pairwise(legs)]
    return all(u.norm > 5 for u in (*legs, p[3] - p[0])) and min(bends) > 50


clear_paths = cubics.filter(is_clear).map(lambda c: Path((c,)))
"""Single cubics of any shape, loops too, without the degenerate ones."""


@st.composite
def bows(draw: st.DrawFn) -> Path:
    """Smooth chains of one to three cubics that go on to the right with gentle bends."""
    xs = [0.0]
    for _ in range(draw(st.integers(1, 3))):
        xs.append(xs[-1] + draw(st.floats(60, 160)))
    knots = [(round(x, 1), round(draw(st.floats(-25, 25)), 1)) for x in xs]
    return smooth_through(knots, (1, draw(st.floats(-0.5, 0.5))), (1, draw(st.floats(-0.5, 0.5))))


@st.composite
def moves(draw: st.DrawFn) -> Transform:
    """Turns, shifts and mirrors, one after the other; lengths stay."""
    move = rotation_deg(draw(st.floats(-180, 180)), draw(points))
    move = move.then(translation(draw(points)))
    return move.then(reflection((0, 0), (1, 2))) if draw(st.booleans()) else move


def fine(path: Path, sagitta: float = 1e-4) -> LineString:
    """The path as a polyline for shapely, chords within `sagitta` mm."""
    return LineString([tuple(p) for p in path.flatten(sagitta)])
