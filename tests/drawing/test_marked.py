"""What is marked on a piece is what is said to be marked."""

from __future__ import annotations

from clothwright.drawing.marked import marked_picture
from clothwright.picture.picture import DrawnRole, Picture, Stroke
from tests.garments.wardrobe import GARMENTS


def red(picture: Picture) -> list[Stroke]:
    """The lines that are marked."""
    return [i for i in picture.items if isinstance(i, Stroke) and i.role is DrawnRole.FAULT]


def test_a_finding_of_the_grain_marks_the_grain_line() -> None:
    """Alone, as long as it is drawn on the piece; beside an edge where both matter."""
    pattern = GARMENTS["trousers"]()
    back = pattern.piece("back")
    assert back.grain is not None
    alone, words = marked_picture(pattern, [("back", "")], grain=True)
    (line,) = red(alone)
    assert line.path.length == back.grain.start.distance(back.grain.end)
    assert words == "back, grain line marked"
    both, words = marked_picture(pattern, [("back", "hem")], grain=True)
    assert len(red(both)) == 2
    assert words == "back, hem, with grain line marked"


def test_a_notch_is_ringed_on_the_edges_that_are_marked() -> None:
    """By its name, on both sides of the seam, and nowhere else."""
    pattern = GARMENTS["trousers"]()
    picture, words = marked_picture(pattern, [("front", "side"), ("back", "side")], "knee")
    rings = [line for line in red(picture) if line.closed]
    assert len(rings) == 2
    assert words.startswith("front (side) and back (side), with ")
    bare, words = marked_picture(pattern, [("front", "waist")], "no such notch")
    assert len(red(bare)) == 1
    assert words == "front, waist marked"
