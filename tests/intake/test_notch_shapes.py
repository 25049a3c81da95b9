"""Notches cut into an outline are known by their shape; everything else stays as it is."""

from __future__ import annotations

import math

import pytest

from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.vec import Vec
from clothwright.intake.notch_shapes import without_notches
from clothwright.pattern.piece import NotchKind


def outline(*bottom):
    """A panel of 300 x 400 mm whose lower edge takes the given detours (x, y) on its way."""
    points = [(0, 0), *bottom, (300, 0), (300, 400), (0, 400), (0, 0)]
    return polyline(points)


SHAPES = {
    "V": [(97, 0), (100, 6), (103, 0)],
    "slit": [(100, 0), (100, 7), (100, 0)],
    "box": [(97, 0), (97, 5), (103, 5), (103, 0)],
    "T": [(100, 0), (100, 6), (97, 6), (103, 6), (100, 6), (100, 0)],
}


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("outward", [False, True])
def test_a_notch_is_known_and_straightened(shape, outward):
    """V, slit, box and T, into the piece or out of it: found in place, the edge straight again."""
    bottom = [(x, -y if outward else y) for x, y in SHAPES[shape]]
    plain, found = without_notches(outline(*bottom))
    (notch,) = found
    assert notch.shape == shape
    assert notch.kind is NotchKind.SINGLE
    assert notch.at.is_near((100, 0), 1e-6)
    assert len(plain.segments) == 4
    assert plain.length == pytest.approx(1400)


def test_wherever_the_outline_begins():
    """A notch across the outline's own start is found too; nothing depends on where it begins."""
    whole = outline(*SHAPES["V"])
    n = len(whole.segments)
    for first in range(n):
        turned = Path(tuple(whole.segments[(first + k) % n] for k in range(n)))
        plain, found = without_notches(turned)
        assert [f.shape for f in found] == ["V"]
        assert plain.length == pytest.approx(1400)


def test_two_near_each_other_are_a_double_notch():
    """Two of one shape 10 mm apart are one double notch in the middle; 40 mm apart they are two."""
    near = [(95, 0), (95, 7), (95, 0), (105, 0), (105, 7), (105, 0)]
    (one,) = without_notches(outline(*near))[1]
    assert one.kind is NotchKind.DOUBLE
    assert one.at.is_near((100, 0), 1e-6)
    far = [(80, 0), (80, 7), (80, 0), (120, 0), (120, 7), (120, 0)]
    assert [f.kind for f in without_notches(outline(*far))[1]] == [NotchKind.SINGLE] * 2


@pytest.mark.parametrize(
    "bottom",
    [
        [],
        [(100, 0), (150, 40), (200, 0)],  # a wide wedge
        [(100, 0), (150, -60)],  # a point of the edge, as at a waistcoat's front
        [(140, 0), (140, 30), (300, 30)],  # a step, as at an underlap
        [(149, 0), (150, 90), (151, 0)],  # a dart that is cut out
    ],
)
def test_other_shapes_stay(bottom):
    """What is wider, deeper or does not come back is no notch and is left as it is drawn."""
    whole = outline(*bottom)
    assert without_notches(whole) == (whole, ())


def test_a_notch_on_a_curve_leaves_the_curve():
    """On an arc of radius 150 mm the edge runs on within 0.1 mm of the arc (its own equation)."""
    half, r = math.radians(1.2), 150.0
    k = 4 / 3 * math.tan(math.radians(45 - 1.2) / 4) * r

    def at(a):
        return Vec(r * math.sin(a), -r * math.cos(a))

    def arc(a, b):
        p, q = at(a), at(b)
        u, v = Vec(math.cos(a), math.sin(a)), Vec(math.cos(b), math.sin(b))
        return Cubic(p, p + u * k, q - v * k, q)

    tip = at(0) * ((r - 6) / r)
    quarter = math.radians(45)
    left, right = arc(-quarter, -half), arc(half, quarter)
    closing = polyline([right.end, (right.end.x, 200), (left.start.x, 200), left.start])
    path = Path((left, Line(left.end, tip), Line(tip, right.start), right, *closing.segments))
    plain, found = without_notches(path)
    assert [f.shape for f in found] == ["V"]
    near = [p for s in plain.segments[:3] for p in s.flatten(0.01)]
    off = max(abs(p.norm - r) for p in near if p.y < -r * math.cos(quarter) - 1e-6)
    assert off < 0.1
