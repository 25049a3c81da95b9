"""The neutral picture: moving it, choosing from it, its box."""

from __future__ import annotations

import pytest

from clothwright.geometry.path import polyline
from clothwright.geometry.transform import reflection, rotation_deg, scaling, translation
from clothwright.geometry.vec import Vec
from clothwright.picture import DrawnRole, Fill, Picture, Stroke, Text

SQUARE = polyline(((0, 0), (100, 0), (100, 50), (0, 50), (0, 0)))
PICTURE = Picture(
    title="Front",
    items=(
        Fill(path=SQUARE, role=DrawnRole.PIECE, holes=(polyline(((10, 10), (20, 10), (20, 20))),)),
        Stroke(path=SQUARE, role=DrawnRole.CUT, closed=True, group="front"),
        Text(words="front", at=Vec(20, 25), size=5.0),
    ),
)


def test_the_box_holds_everything() -> None:
    """Lower left and upper right of lines, areas and, roughly, words."""
    assert PICTURE.bounds() == (Vec(0, 0), Vec(100, 50))
    words = Picture(items=(Text(words="x" * 10, at=Vec(0, 0), size=10.0, anchor="end"),))
    low, high = words.bounds()
    assert low.x < -40
    assert high.x == pytest.approx(0.0)
    with pytest.raises(ValueError, match="empty"):
        Picture().bounds()


def test_moving_takes_everything_along() -> None:
    """Areas with their holes, lines and words move together; role, group and title stay."""
    moved = PICTURE.transformed(translation((5, 7)))
    fill, stroke, text = moved.items
    assert isinstance(fill, Fill)
    assert isinstance(stroke, Stroke)
    assert isinstance(text, Text)
    assert fill.holes[0].start == Vec(15, 17)
    assert stroke.path.start == Vec(5, 7)
    assert text.at == Vec(25, 32)
    assert (stroke.role, stroke.group, moved.title) == (DrawnRole.CUT, "front", "Front")


def test_turning_and_scaling_words() -> None:
    """Words turn with the picture and are as much larger."""
    (text,) = PICTURE.only((DrawnRole.LABEL,)).transformed(rotation_deg(30)).items
    assert isinstance(text, Text)
    assert text.angle_deg == pytest.approx(30.0)
    (text,) = PICTURE.only((DrawnRole.LABEL,)).transformed(scaling(2.0)).items
    assert isinstance(text, Text)
    assert text.size == pytest.approx(10.0)


def test_mirrored_words_stay_legible() -> None:
    """Turned over about an upright line, words still read left to right, over the same place."""
    mirror = reflection((0, 0), (0, 1))
    (text,) = PICTURE.only((DrawnRole.LABEL,)).transformed(mirror).items
    assert isinstance(text, Text)
    assert text.at.is_near((-20, 25), 1e-9)
    assert text.angle_deg % 360 == pytest.approx(0.0)
    assert text.anchor == "end"


def test_choosing_roles_keeps_order() -> None:
    """Only what is asked for, in the order it was drawn."""
    kept = PICTURE.only((DrawnRole.LABEL, DrawnRole.PIECE))
    assert [item.role for item in kept.items] == [DrawnRole.PIECE, DrawnRole.LABEL]


def test_drawing_over() -> None:
    """What is added lies over what was there; the first title stays."""
    both = PICTURE.plus(PICTURE.transformed(translation((1, 1))), Picture(title="Other"))
    assert len(both.items) == 6
    assert both.items[:3] == PICTURE.items
    assert both.title == "Front"
