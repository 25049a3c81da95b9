"""A seam walked: the difference to scale, ease allowed for, darts folded out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.drawing.walked import lies_at_start, walked_picture
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.walk import walk_seam
from clothwright.picture.picture import DrawnRole, Fill, Picture, Stroke, Text
from clothwright.units import Unit
from clothwright.workbook import replay
from tests.listed import switched

TO_SCALE_MM = 0.05


def changed() -> Pattern:
    """The coat and skirt as changed: everything agrees."""
    return replay(DEMOS[0].make()).pattern


def uneven() -> Pattern:
    """The coat's front side not made to match: 3/8 in too long, at the hem."""
    return replay(switched(DEMOS[0].make(), 3, on=False)).pattern


def wide(picture: Picture, role: DrawnRole, group: str = "") -> list[float]:
    """Lengths along the seam of all areas of a role."""
    found = [i for i in picture.items if isinstance(i, Fill) and i.role is role]
    found = [i for i in found if not group or i.group == group]
    return [i.path.bounds()[1].x - i.path.bounds()[0].x for i in found]


@pytest.mark.parametrize("from_end", [True, False, None])
@pytest.mark.parametrize("close", [True, False])
def test_the_difference_is_to_scale(from_end: bool | None, close: bool) -> None:
    """What is over is drawn as long as it is, at either end, near or far."""
    pattern = uneven()
    seam = pattern.seam("coat side")
    off = abs(walk_seam(pattern, seam).off)
    assert off > 5.0
    picture = walked_picture(pattern, seam, Unit.inch, from_end=from_end, close=close)
    assert wide(picture, DrawnRole.FAULT) == pytest.approx([off], abs=TO_SCALE_MM)
    words = [i.words for i in picture.items if isinstance(i, Text) and i.group == "difference"]
    assert words == ["3/8 in"]


def test_both_sides_are_to_scale() -> None:
    """Each strip is as long as its stitching line, darts folded out, in every seam of the demo."""
    pattern = uneven()
    for seam in pattern.seams:
        walk = walk_seam(pattern, seam)
        picture = walked_picture(pattern, seam, Unit("cm"))
        for which, side in (("a", walk.a), ("b", walk.b)):
            assert wide(picture, DrawnRole.PIECE, which) == pytest.approx(
                [side.length], abs=TO_SCALE_MM
            )


def test_seams_that_agree_show_no_fault() -> None:
    """Nothing is marked where nothing differs, ease allowed for."""
    pattern = changed()
    for seam in pattern.seams:
        picture = walked_picture(pattern, seam, Unit("cm"))
        roles = {i.role for i in picture.items if isinstance(i, Fill)}
        assert DrawnRole.FAULT not in roles, seam.name


def test_ease_that_is_meant_is_no_fault() -> None:
    """The ease has an area of its own; what is missing of it is the difference."""
    pattern = changed()
    seam = next(s for s in pattern.seams if s.ease > 3.0 and s.eased_max == 0.0)
    picture = walked_picture(pattern, seam, Unit("mm"))
    assert wide(picture, DrawnRole.LEFTOVER) == pytest.approx([seam.ease], abs=1.6)
    greedy = replace(seam, ease=seam.ease + 7.0)
    off = walk_seam(pattern, greedy).off
    missing = walked_picture(pattern, greedy, Unit("mm"))
    assert wide(missing, DrawnRole.FAULT) == pytest.approx([abs(off)], abs=TO_SCALE_MM)


def test_it_is_laid_together_where_it_agrees() -> None:
    """The notches say that the hem end differs (the start here): the other ends lie together."""
    pattern = uneven()
    seam = pattern.seam("coat side")
    assert lies_at_start(walk_seam(pattern, seam), 1.5)
    picture = walked_picture(pattern, seam, Unit("mm"))
    strips = [i for i in picture.items if isinstance(i, Fill) and i.role is DrawnRole.PIECE]
    ends = [i.path.bounds()[1].x for i in strips]
    assert ends[0] == pytest.approx(ends[1], abs=1e-9)
    meets = [i for i in picture.items if isinstance(i, Stroke) and i.group == "meets"]
    assert meets
    assert all(i.role is not DrawnRole.FAULT for i in meets)


def test_laid_at_the_wrong_end_the_marks_lie_apart() -> None:
    """Laid together at the hem, every pair of notches is off by the difference, and marked."""
    pattern = uneven()
    picture = walked_picture(pattern, pattern.seam("coat side"), Unit("mm"), from_end=False)
    meets = [i for i in picture.items if isinstance(i, Stroke) and i.group == "meets"]
    assert meets
    assert all(i.role is DrawnRole.FAULT for i in meets)


def test_darts_are_folded_out_and_marked() -> None:
    """A dart takes no length; a line stands where it was."""
    pattern = changed()
    for seam in pattern.seams:
        refs = (*seam.a, *seam.b)
        darts = [d for r in refs for d in pattern.piece(r.piece).darts_on(r.edge)]
        picture = walked_picture(pattern, seam, Unit("mm"))
        lines = [i for i in picture.items if i.role is DrawnRole.DART]
        assert len(lines) == len(darts), seam.name


def test_a_difference_too_small_for_her_unit_is_never_nothing() -> None:
    """The skirt in three sizes differs by 0.5 mm at its side: "less than 1/16 in", not "0 in"."""
    pattern = replay(next(d for d in DEMOS if d.name == "three-sizes").make()).pattern
    seam = pattern.seam("skirt side")
    assert 0.05 < abs(walk_seam(pattern, seam).off) < 0.79
    picture = walked_picture(pattern, seam, Unit.inch)
    words = [i.words for i in picture.items if isinstance(i, Text) and i.group == "difference"]
    assert words == ["less than 1/16 in"]
