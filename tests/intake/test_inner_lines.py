"""Lines inside an outline: notch marks, darts, grain arrows, fold marks, levels; the rest stays."""

from __future__ import annotations

import pytest

from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnLine, DrawnText
from clothwright.intake.inner_lines import inner_read
from clothwright.pattern.piece import NotchKind

BASE = polyline([(0, 0), (300, 0), (300, 400), (0, 400), (0, 0)])


def line(*points, closed=False, label=""):
    return DrawnLine(path=polyline(points), closed=closed, label=label)


@pytest.mark.parametrize(
    ("lines", "shape"),
    [
        ([line((100, 0), (100, 8))], "tick"),
        ([line((100, -4), (100, 4))], "tick"),
        ([line((103, 8), (99.9, 0.3))], "tick"),
        ([line((97, 0), (100, 7), (103, 0))], "V"),
        ([line((97, 0), (100, 7), (103, 0), (97, 0), closed=True)], "V"),
        ([line((100, 0), (100, 8)), line((96, 8), (104, 8))], "T"),
    ],
)
def test_marks_drawn_on_an_edge(lines, shape):
    """A tick on or across an edge, a V with its mouth on it, a T: one notch, no line left over."""
    read = inner_read(BASE, lines)
    (notch,) = read.notches
    assert notch.shape == shape
    assert notch.at.is_near((100, 0), 1.0)
    assert read.rest == ()


def test_two_ticks_are_a_double_notch():
    """Ticks 3 mm apart (as this program itself draws them) are one double notch."""
    read = inner_read(BASE, [line((98.5, -4), (98.5, 4)), line((101.5, -4), (101.5, 4))])
    assert [n.kind for n in read.notches] == [NotchKind.DOUBLE]


@pytest.mark.parametrize(
    "other",
    [
        line((100, 30), (100, 38)),  # in the middle of the piece
        line((100, 0.2), (110, 0.2)),  # along the edge
        line((100, 0), (100, 60)),  # too long
        line((150, 200), (160, 210), (150, 220)),  # a small angle inside
    ],
)
def test_other_short_lines_stay_marks(other):
    """What does not stand on an edge is no notch."""
    read = inner_read(BASE, [other])
    assert read.notches == ()
    assert read.rest == (other,)


@pytest.mark.parametrize(
    "lines",
    [
        [line((140, 400), (150, 280), (160, 400))],
        [line((150, 280), (140, 400)), line((160, 400), (150, 280))],
    ],
)
def test_a_dart_of_two_legs(lines):
    """Two legs that meet in a point and begin at an edge, as one line or as two."""
    read = inner_read(BASE, lines)
    (dart,) = read.darts
    assert dart.point.is_near((150, 280), 1e-6)
    assert sorted((dart.a.x, dart.b.x)) == [140, 160]
    assert read.rest == ()


def test_legs_that_end_at_the_stitching_line_are_run_on():
    """Where the outline is the cutting line, the legs are run on over the allowance to it."""
    (dart,) = inner_read(BASE, [line((142, 385), (150, 280), (158, 385))]).darts
    assert dart.a.y == pytest.approx(400)
    assert dart.a.x == pytest.approx(150 - 8 * 120 / 105)


def test_an_angle_that_reaches_no_edge_is_no_dart():
    """A pocket flap's corner is only a line."""
    flap = line((100, 100), (150, 140), (200, 100))
    assert inner_read(BASE, [flap]).darts == ()


@pytest.mark.parametrize(
    ("heads", "start", "end"),
    [
        ([line((145, 290), (150, 300), (155, 290))], (150, 100), (150, 300)),
        ([line((145, 110), (150, 100), (155, 110))], (150, 300), (150, 100)),
        (
            [
                line((145, 290), (150, 300), (155, 290), (145, 290), closed=True),
                line((145, 110), (150, 100), (155, 110), (145, 110), closed=True),
            ],
            (150, 100),
            (150, 300),
        ),
        ([line((145, 290), (150, 300)), line((155, 290), (150, 300))], (150, 100), (150, 300)),
    ],
)
def test_a_grain_arrow(heads, start, end):
    """A straight line with a head: it points where the head is; with two heads it points up."""
    read = inner_read(BASE, [line((150, 300), (150, 100)), *heads])
    assert read.grain.start.is_near(start, 1e-6)
    assert read.grain.end.is_near(end, 1e-6)
    assert read.rest == ()


@pytest.mark.parametrize("long", [15, 25, 39])
def test_a_short_arrow_is_the_grain_by_its_head(long):
    """An arrow under 40 mm is known by its heads; a plain line of that length is a mark."""
    stem = line((150, 100), (150, 100 + long))
    head = line((147, 95 + long), (150, 100 + long), (153, 95 + long))
    read = inner_read(BASE, [stem, head])
    assert read.grain.end.is_near((150, 100 + long), 1e-6)
    assert read.rest == ()
    assert inner_read(BASE, [stem]).grain is None


def test_the_longest_arrow_is_the_grain():
    """Beside a long arrow a short one stays a mark."""
    head = line((145, 290), (150, 300), (155, 290))
    small = [line((50, 100), (50, 120)), line((47, 115), (50, 120), (53, 115))]
    read = inner_read(BASE, [line((150, 100), (150, 300)), head, *small])
    assert read.grain.end.is_near((150, 300), 1e-6)
    assert len(read.rest) == 2


def test_a_grain_line_by_its_word():
    """A plain line is the grain when the word stands beside it, and only a mark when not."""
    plain = line((150, 100), (150, 300))
    assert inner_read(BASE, [plain]).grain is None
    assert inner_read(BASE, [plain], [Vec(155, 200)]).grain is not None


def test_a_fold_mark():
    """A bracket with arrows to an edge points at it; its heads are taken with it."""
    bracket = line((2, 100), (20, 100), (20, 300), (2, 300))
    head = line((8, 103), (2, 100), (8, 97))
    read = inner_read(BASE, [bracket, head])
    assert read.fold_at.is_near((0, 200), 1e-6)
    assert read.rest == ()


def test_a_level_by_its_word():
    """A line across with "hip" beside it is the hip level, even drawn forth and back."""
    across = line((150, 200), (5, 200), (295, 200))
    word = DrawnText(words="Hip", at=Vec(20, 204), height=4)
    read = inner_read(BASE, [across], levels=[word])
    assert [(x.name, x.at.y) for x in read.levels] == [("hip", 200)]
    assert inner_read(BASE, [across]).rest == (across,)


def test_the_middle_line_of_a_dart_belongs_to_it():
    """Legs, a middle line and a tick across the point: one dart, as wide as its legs."""
    lines = [
        line((150, 400), (150, 280)),
        line((140, 400), (150, 280)),
        line((160, 400), (150, 280)),
        line((147, 280), (153, 280)),
    ]
    read = inner_read(BASE, lines)
    (dart,) = read.darts
    assert dart.a.distance(dart.b) == pytest.approx(20)
    assert read.rest == ()


def test_marks_on_the_cutting_line_outside():
    """Where the stitching line is drawn, notches may stand on the cutting line too."""
    outer = polyline([(-16, -16), (316, -16), (316, 416), (-16, 416), (-16, -16)])
    tick = line((100, -16), (100, -10))
    assert inner_read(BASE, [tick]).notches == ()
    (notch,) = inner_read(BASE, [tick], outer=outer).notches
    assert notch.at.is_near((100, -16), 1e-6)


def test_a_cross_on_an_edge_is_a_point_not_a_notch():
    """Two short lines that cross in their middles mark a button or a point."""
    cross = [line((100, -4), (100, 4)), line((96, 0), (104, 0))]
    assert inner_read(BASE, cross).notches == ()
