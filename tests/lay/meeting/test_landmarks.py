"""What a maker finds a place of a seam by."""

from __future__ import annotations

import pytest

from clothwright.lay.meeting.landmarks import landmarks_of
from clothwright.lay.sewn import Marks
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import parse_edge
from tests.lay.meeting.sewn_pieces import piece, slanting


@pytest.mark.parametrize("on_a", [True, False])
def test_a_joint_that_one_side_has_alone_is_a_mark_of_the_seam(on_a: bool) -> None:
    """A side of 400 sewn to pieces of 150 and 250: they are joined 150 above its hem."""
    whole = piece("whole", slanting(400.0, 0.0), left=False)
    parts = [
        piece(name, slanting(long, 0.0), left=True)
        for name, long in (("low", 150.0), ("top", 250.0))
    ]
    mine = (parse_edge("whole.side"),)
    others = tuple(parse_edge(f"{p.name}.side reversed") for p in parts)
    seam = Seam(name="side", a=others if on_a else mine, b=mine if on_a else others)
    pattern = Pattern(pieces=(whole, *parts), seams=(seam,))
    found = landmarks_of(pattern, seam, Marks.of(pattern, seam))
    assert [(m.at, m.name) for m in found] == [
        (0.0, "the hem"),
        (pytest.approx(150.0), "the joint"),
        (pytest.approx(400.0), "the underarm"),
    ]
