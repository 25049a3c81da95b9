"""A piece before and after: one old line, below the new lines, to the same frame."""

from __future__ import annotations

from clothwright.drawing.before_after import before_after
from clothwright.pattern.outline import cutting_line
from clothwright.picture.picture import DrawnRole, Fill, Stroke
from clothwright.units import Unit
from tests.web.change_demo import cropped


def test_the_old_line_lies_above_the_inside_and_below_the_new_lines() -> None:
    """The old cutting line is drawn once, after the fill and before every other line."""
    old, new = cropped()
    items = before_after(old, new, Unit.cm).items
    assert isinstance(items[0], Fill)
    line = items[1]
    assert isinstance(line, Stroke)
    assert line.role is DrawnRole.LEFTOVER
    assert line.path == cutting_line(old).outline
    assert [i.role for i in items].count(DrawnRole.LEFTOVER) == 1


def test_both_states_are_within_the_picture() -> None:
    """What was cropped off is still seen: the picture reaches down to the old hem."""
    old, new = cropped()
    low = before_after(old, new, Unit.cm).bounds()[0]
    assert low.y <= cutting_line(old).outline.bounds()[0].y + 0.01
    assert cutting_line(new).outline.bounds()[0].y > low.y + 10


def test_a_piece_that_is_gone_is_its_old_line_alone() -> None:
    """Without an after there is the old line and nothing else; a new piece has no old line."""
    old, new = cropped()
    assert [i.role for i in before_after(old, None, Unit.cm).items] == [DrawnRole.LEFTOVER]
    assert DrawnRole.LEFTOVER not in [i.role for i in before_after(None, new, Unit.cm).items]
