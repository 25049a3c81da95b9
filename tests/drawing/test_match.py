"""The picture of a seam shows the very difference that the report states."""

from __future__ import annotations

import pytest

from clothwright.drawing.match import match_picture
from clothwright.lay.match import match_seams
from clothwright.picture.picture import DrawnRole, Stroke, Text
from clothwright.units import Unit
from tests.lay.test_match import laid


@pytest.mark.parametrize("off", [0.0, 3.0, -7.5])
def test_the_step_at_the_line_is_the_difference(off):
    """Lines of the repeat on the left and on the right of the seam are `off` mm apart.

    The side seam runs up the body, the panels lie along the grain: the repeat along is crossed
    every 50 mm on either side.
    """
    pattern, compiled, lay = laid([(300.0, 300.0), (900.0 + off, 610.0), (1500.0, 990.0)])
    match = match_seams(pattern, compiled, lay)[0]
    picture = match_picture(pattern, compiled, lay, match, Unit.cm)
    heights = {-1: [], 1: []}
    for item in picture.items:
        if isinstance(item, Stroke) and item.role is DrawnRole.LEVEL:
            side = 1 if item.path.end.x > 0 else -1
            heights[side].append(item.path.start.y)
    assert len(heights[-1]) >= 9
    near = [min((r - lft for r in heights[1]), key=abs) for lft in heights[-1][1:-1]]
    assert near == pytest.approx([-off] * len(near), abs=1e-6)
    words = [i.words for i in picture.items if isinstance(i, Text)]
    told = {3.0: "0.3 cm", -7.5: "0.8 cm"}
    said = f"apart by at most {told[off]} vertically" if off else "meets"
    assert f"side: {said}" in words
    assert {"front", "back 1"} <= set(words)
