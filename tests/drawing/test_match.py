"""The picture of a seam shows the very difference that the report states."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.drawing.match import match_picture
from clothwright.lay.meeting.seams import meetings
from clothwright.picture.picture import DrawnRole, Stroke, Text
from tests.lay.panels import bordered
from tests.lay.test_sewn import laid


@pytest.mark.parametrize("off", [0.0, 3.0, -7.5])
def test_the_step_at_the_line_is_the_difference(off):
    """Lines of the repeat on the left and on the right of the seam are `off` mm apart.

    The side seam runs up the body, the panels lie along the grain: the repeat along is crossed
    every 50 mm on either side.
    """
    pattern, compiled, lay = laid([(300.0, 300.0), (900.0 + off, 610.0), (1500.0, 990.0)])
    met = next(m for m in meetings(pattern, compiled, lay) if m.seam == "side")
    picture = match_picture(pattern, compiled, lay, met)
    heights = {-1: [], 1: []}
    for item in picture.items:
        if isinstance(item, Stroke) and item.role is DrawnRole.LEVEL:
            side = 1 if item.path.end.x > 0 else -1
            heights[side].append(item.path.start.y)
    assert len(heights[-1]) >= 9
    near = [min((r - lft for r in heights[1]), key=abs) for lft in heights[-1][1:-1]]
    assert near == pytest.approx([-off] * len(near), abs=1e-6)
    words = [i.words for i in picture.items if isinstance(i, Text)]
    assert f"side: meets along {0 if off else 100}%" in words
    assert {"front", "back 1", "the hem", "the n notch"} <= set(words)


MOVED = {
    "half-drop": lambda x, y: (x + 25.0, y + 40.0),
    "brick": lambda x, y: (x + 50.0, y + 20.0),
    "half turn": lambda x, y: (2 * (5.0 + 7.0) - x, 2 * 11.0 - y, 180.0),
}
"""Motions that bring a print of 50 by 40 mm onto itself (plane geometry), of a piece's place."""


@pytest.mark.parametrize("kind", MOVED)
def test_lines_come_again_as_the_print_does(kind):
    """A piece moved as the print comes again crosses the same lines of it at the same places."""
    more = {"half_turn": (7.0, 11.0)} if kind == "half turn" else {"drop": kind}
    plain = bordered()
    design = replace(plain.print, axes_along=(), axes_across=(), borders=(), **more)
    crossed = []
    for place in ((900.0, 610.0), MOVED[kind](900.0, 610.0)):
        pattern, compiled, lay = laid(
            [(300.0, 300.0), place, (1500.0, 990.0)], cloth=replace(plain, print=design)
        )
        met = next(m for m in meetings(pattern, compiled, lay) if "front" in m.shapes)
        items = match_picture(pattern, compiled, lay, met).items
        lines = [i for i in items if isinstance(i, Stroke) and i.role is DrawnRole.LEVEL]
        crossed.append(sorted(i.path.start.y for i in lines if i.path.end.x > 0))
    assert len(crossed[0]) >= 9
    assert crossed[1] == pytest.approx(crossed[0])
