"""What is sewn together on both sides of the body, and how a piece comes to lie on the cloth."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cloth.prints import Print
from clothwright.lay.meeting.seams import between_cloths, meetings
from clothwright.lay.meeting.values import MeetingKind
from clothwright.lay.order import laying_list
from clothwright.lay.result import Lay, Placement
from clothwright.lay.sewn import placement_move, seam_places
from clothwright.rules.compile import compile_lay
from clothwright.rules.plan import Plan
from tests.lay.panels import bordered, skirt


def laid(at, *, cloth=None, turn=0.0, pattern=None):
    """A lay of front, back 1, back 2 with the given centres, all at one turn."""
    pattern = pattern or skirt()
    compiled = compile_lay(pattern, (cloth or bordered(),), Plan(name="p"))
    placements = tuple(
        Placement(shape=s.id, region="c", turn_deg=t, flipped=s.flips[0], x=x, y=y, outline=())
        for s, (x, y, t) in zip(
            compiled.problem.shapes, [(*p, turn) if len(p) == 2 else p for p in at], strict=True
        )
    )
    return pattern, compiled, Lay(placements=placements)


def met(*args, **more):
    pattern, compiled, lay = laid(*args, **more)
    return [m for m in meetings(pattern, compiled, lay) if m.seam == "side"]


@pytest.mark.parametrize(("off", "told"), [(3.0, 3.0), (-7.5, 7.5), (24.0, 24.0), (26.0, 24.0)])
def test_a_shift_along_shows_as_exactly_that_on_its_own_side(off, told):
    """A back moved by `off` mm: every place differs by it, to the nearer repeat of 50 mm.

    The other side of the body, where the back is turned over, meets as before.
    """
    found = met([(300.0, 300.0), (900.0 + off, 610.0), (1500.0, 990.0)])
    assert [(m.seam, m.half, m.shapes) for m in found] == [
        ("side", 0, ("front", "back 1")),
        ("side", 1, ("front", "back 2")),
    ]
    assert (found[0].level, found[0].worst, found[0].mean) == pytest.approx((told, told, told))
    assert found[1].level == pytest.approx(0.0, abs=1e-6)


def test_one_panel_turned_half_round_is_turned_on_its_own_side_only():
    """A design that mirrors nowhere: the turned back cannot meet, the other one does."""
    cloth = bordered()
    cloth = replace(cloth, print=replace(cloth.print, axes_along=(), axes_across=(), borders=()))
    found = met([(300.0, 300.0), (900.0, 610.0, 180.0), (1500.0, 990.0)], cloth=cloth)
    assert [m.kind is MeetingKind.TURNED for m in found] == [True, False]
    assert found[0].turned_deg == pytest.approx(180.0)


@pytest.mark.parametrize(("off", "told"), [(0.0, 0.0), (6.0, 6.0), (-27.0, 23.0)])
def test_left_and_right_meet_where_the_garment_opens(off, told):
    """One back moved by `off` mm: bars every 50 mm are as far apart on the whole centre line."""
    pattern, compiled, lay = laid([(300.0, 300.0), (900.0, 610.0), (1500.0 + off, 990.0)])
    first = meetings(pattern, compiled, lay)[0]
    assert (first.seam, first.shapes) == ("centre back", ("back 1", "back 2"))
    assert (first.level, first.worst) == pytest.approx((told, told), abs=1e-6)
    assert first.length == pytest.approx(500.0)
    assert [m.name for m in first.marks] == ["the hem", "the top"]


def test_a_seam_between_two_printed_cloths_is_named_and_not_compared():
    """The backs on another cloth with a print: the side is named; on a plain one it is not."""
    pattern, compiled, lay = laid([(300.0, 300.0), (900.0, 610.0), (1500.0, 990.0)])
    other = replace(compiled.cloths[0], name="d")
    placements = tuple(p if p.shape == "front" else replace(p, region="d") for p in lay.placements)
    lay, plain = Lay(placements=placements), replace(other, print=Print())
    two, one = (replace(compiled, cloths=(*compiled.cloths, c)) for c in (other, plain))
    assert between_cloths(pattern, two, lay) == {"side": ("front", "back 1", "back 2")}
    assert between_cloths(pattern, one, lay) == {}
    assert [m.seam for m in meetings(pattern, two, lay)] == ["centre back"]


def test_height_and_side_are_those_of_the_body():
    """Moved 5 mm up the body, along the cloth or, turned, across it: 5 mm in height both times."""
    cloth = bordered()
    cloth = replace(cloth, print=replace(cloth.print, borders=()))
    along = met([(300.0, 300.0), (905.0, 610.0), (1500.0, 990.0)], cloth=cloth)[0]
    across = met([(300.0, 300.0), (610.0, 305.0), (1500.0, 300.0)], turn=90.0, cloth=cloth)[0]
    assert (along.level, across.level) == pytest.approx((5.0, 5.0))


def test_what_is_sewn_together_is_walked_on_both_sides_of_the_body():
    """Eleven places of either side seam: they begin at the hem, and both sides lie as placed."""
    pattern, compiled, lay = laid([(300.0, 300.0), (900.0, 610.0), (1500.0, 990.0)])
    placed = {p.shape: p for p in lay.placements}
    rows = seam_places(pattern, compiled, placed, pattern.seams[0], places=10)
    assert [len(row) for row in rows] == [11, 11]
    a, at_a, b, at_b = rows[0][0]
    assert (a, b) == ("front", "back 1")
    assert (at_a.x, at_b.x) == pytest.approx((300.0 - 250.0, 900.0 - 250.0))


def test_laying_order_and_measures():
    """From the cut end on; the grain line's ends are measured from cut end and lower selvedge."""
    _, compiled, lay = laid([(900.0, 300.0), (300.0, 610.0), (300.0, 250.0)])
    lay = replace(
        lay,
        placements=tuple(
            replace(
                p,
                outline=tuple(
                    (p.x + x, p.y + y)
                    for x, y in next(s for s in compiled.problem.shapes if s.id == p.shape).outline
                ),
            )
            for p in lay.placements
        ),
    )
    steps = laying_list(compiled, lay)
    assert [s.shape for s in steps] == ["back 2", "back 1", "front"]
    front = steps[-1]
    assert front.tail.x == pytest.approx(900.0 - 150.0)
    assert front.head.x == pytest.approx(900.0 + 150.0)
    assert front.tail.y == front.head.y


def test_the_move_agrees_with_the_shapes_points():
    """Piece to cloth by `placement_move` is shape's point, mirrored, turned and moved."""
    _, compiled, lay = laid([(300.0, 300.0), (900.0, 610.0), (1500.0, 990.0)], turn=90.0)
    for placement in lay.placements:
        copy = compiled.copy(placement.shape)
        shape = next(s for s in compiled.problem.shapes if s.id == placement.shape)
        move = placement_move(copy, placement)
        x, y = shape.points["lower right"]
        y = -y if placement.flipped else y
        expected = (placement.x - y, placement.y + x)
        assert move.apply(copy.piece.point("lower right")).is_near(expected, 1e-9)
