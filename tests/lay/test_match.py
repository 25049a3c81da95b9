"""How the print meets along a seam, against differences reckoned by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cloth.prints import Print
from clothwright.lay.match import match_seams, placement_move
from clothwright.lay.order import laying_list
from clothwright.lay.result import Lay, Placement
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


def matches(*args, **more):
    pattern, compiled, lay = laid(*args, **more)
    return match_seams(pattern, compiled, lay)


def test_the_same_height_in_the_repeat_is_a_perfect_match():
    """Backs laid whole repeats away from the front along: level differs by nothing.

    Across, front side at y = +200 from its middle and back side at -110 (mirrored: +110): the
    difference is reckoned modulo 40.
    """
    found = matches([(300.0, 300.0), (900.0, 610.0), (1500.0, 990.0)])
    assert [(m.seam, m.half, m.alike) for m in found] == [("side", 0, True), ("side", 1, True)]
    assert [abs(s.along) for s in found[0].spots] == pytest.approx(
        [0.0] * len(found[0].spots), abs=1e-6
    )


@pytest.mark.parametrize("off", [3.0, -7.5, 24.0])
def test_a_shift_along_shows_as_exactly_that(off):
    """A back moved by `off` mm: every place along the seam differs by `off`."""
    found = matches([(300.0, 300.0), (900.0 + off, 610.0), (1500.0, 990.0)])
    assert {round(s.along, 6) for s in found[0].spots} == {off}
    assert {round(s.along, 6) for s in found[1].spots} == {0.0}


def test_a_shift_is_counted_to_the_nearer_repeat():
    """26 mm of a 50 mm repeat is 24 the other way."""
    found = matches([(300.0, 300.0), (926.0, 610.0), (1500.0, 990.0)])
    assert {round(s.along, 6) for s in found[0].spots} == {-24.0}


def test_pieces_in_different_directions_cannot_match():
    """One panel turned half round: the design stops at the seam, and no figure is made up."""
    found = matches([(300.0, 300.0), (900.0, 610.0, 180.0), (1500.0, 990.0)])
    assert [m.alike for m in found] == [False, True]
    assert found[0].spots == ()


def test_a_flared_seam_meets_at_one_height_only():
    """Straight back against a front flared by 100 mm over 500: the drift along the seam.

    Front side runs from (300, 0) up to (200, 500): its length is 509.9. At the hem both meet; at
    the top the slanted side is at height 500 and the straight one, walked as long in proportion,
    too; across, the difference runs from 0 to 100 mm, wrapped to the repeat of 40.
    """
    pattern = skirt(flare=100.0)
    cloth = bordered()
    plain = replace(cloth, print=Print(repeat_across=1e6))
    _, compiled, _ = laid(
        [(300.0, 300.0), (900.0, 610.0), (1500.0, 990.0)], cloth=plain, pattern=pattern
    )
    found = matches([(300.0, 300.0), (900.0, 610.0), (1500.0, 990.0)], cloth=plain, pattern=pattern)
    across = [s.across for s in found[0].spots]
    assert abs(across[-1] - across[0]) == pytest.approx(100.0, abs=1e-6)
    assert compiled.copies[0].fold is not None


def test_border_counts_only_inside_its_band():
    """Hem on the border (turn 90): heights inside the band are compared, above it nothing."""
    cloth = bordered()
    cloth = replace(cloth, print=replace(cloth.print, repeat_along=None, repeat_across=None))
    found = matches([(300.0, 290.0), (900.0, 295.0), (1500.0, 290.0)], turn=90.0, cloth=cloth)
    border = [s.border for s in found[0].spots]
    inside = [b for b in border if b is not None]
    assert inside
    assert None in border
    assert {round(b, 6) for b in inside} == {5.0}


def test_notches_are_named():
    """A notch both sides name is one of the places compared."""
    found = matches([(300.0, 300.0), (900.0, 610.0), (1500.0, 990.0)])
    assert [(s.notch, s.at) for s in found[0].spots if s.notch] == [("n", 100.0)]


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


def test_height_and_side_are_told_apart():
    """Shifted 3 mm along and 4 across, lying along the grain: 3 in height, 4 sideways."""
    found = matches([(300.0, 300.0), (903.0, 610.0), (1500.0, 990.0)])[0]
    assert found.level == pytest.approx(3.0)
    sideways = {round(s.across, 6) for s in found.spots}
    assert {found.upright} == {abs(v) for v in sideways}
    crosswise = matches([(300.0, 300.0), (610.0, 305.0), (1500.0, 300.0)], turn=90.0)[0]
    assert crosswise.crosswise
    assert crosswise.level == pytest.approx(5.0)


def test_a_border_on_one_side_only_differs_by_its_own_height():
    """One panel's hem on the band, the other's 400 mm away from it: 100 mm, not 400."""
    cloth = bordered()
    cloth = replace(cloth, print=replace(cloth.print, repeat_along=None, repeat_across=None))
    found = matches([(300.0, 290.0), (900.0, 690.0), (1500.0, 290.0)], turn=90.0, cloth=cloth)
    assert {abs(s.border) for s in found[0].spots if s.border is not None} == {100.0}
