"""Pockets: held against worked figures of the trade.

Finished 14 by 16 cm, a 1, hem 2.5 and 0.5: cut 16 by 20. A bag is 2 in longer than its opening
(opening 13: 18.1 cm). After a change of length above it a pocket moves by as much. The print of a
patch is the print under it: it lies on its mark without any shift.
"""

from __future__ import annotations

import pytest

from clothwright.changes import draft_patch_pocket, draft_seam_pocket, lengthen
from clothwright.changes.draft_patch_pocket import DraftPatchPocket
from clothwright.changes.draft_seam_pocket import DraftSeamPocket
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.pattern.companions import companions_of
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.patches import patch_places
from clothwright.units import Unit
from clothwright.words import say
from tests.specimens import bodice, skirt


def patched(**more):
    asked = {"piece": "skirt front", "point": "waist side", "across": 110.0, "down": 150.0} | more
    return draft_patch_pocket.CHANGE.apply(skirt(), DraftPatchPocket(**asked)).pattern


def bagged(**more):
    asked = DraftSeamPocket(**({"edge": "skirt front.side"} | more))
    return draft_seam_pocket.CHANGE.apply(skirt(), asked).pattern


@pytest.mark.parametrize("shape", ["square", "round", "pointed"])
def test_the_worked_size(shape):
    pocket = patched(width=140.0, depth=160.0, allowance=10.0, hem=30.0, shape=shape)
    low, high = cutting_line(pocket.piece("skirt front pocket")).outline.bounds()
    assert high.x - low.x == pytest.approx(160.0, abs=0.01)
    assert high.y - low.y == pytest.approx(200.0, abs=0.5 if shape == "pointed" else 0.01)


@pytest.mark.parametrize("shape", ["square", "round", "pointed"])
def test_it_lies_on_its_mark_without_any_shift(shape):
    """So that both prints are in phase, in both directions."""
    (place,) = patch_places(patched(shape=shape))
    assert (place.piece, place.on) == ("skirt front pocket", "skirt front")
    assert place.move.norm == pytest.approx(0.0, abs=1e-9)


def test_the_middle_of_its_upper_edge_is_where_it_is_asked():
    pattern = patched()
    at = pattern.piece("skirt front").point("waist side")
    middle = pattern.piece("skirt front pocket").edge("upper edge").path.middle
    assert at.y - middle.y == pytest.approx(150.0)
    fold = pattern.piece("skirt front").fold.path.start.x
    assert abs(middle.x - fold) == pytest.approx(abs(at.x - fold) - 110.0)


def test_made_longer_above_it_the_pocket_moves_by_as_much():
    pattern = patched(down=260.0)
    asked = lengthen.Lengthen(pieces=("skirt front",), level="hip", by=25.0)
    longer = lengthen.CHANGE.apply(pattern, asked).pattern
    front = pattern.piece("skirt front"), longer.piece("skirt front")
    own = [next(m for m in p.marks if m.name == "pocket").path.start for p in front]
    waist = [p.point("waist side") for p in front]
    gone = [abs(w.y - o.y) for w, o in zip(waist, own, strict=True)]
    assert gone[1] - gone[0] == pytest.approx(25.0, abs=0.01)


def test_a_flap_covers_its_pocket():
    pattern = patched(flap=50.0, width=140.0)
    flap = pattern.piece("skirt front flap")
    assert flap.edge("lower edge").length == pytest.approx(146.0)
    assert flap.cuts[0].count == 2
    line = next(m for m in pattern.piece("skirt front").marks if m.name == "flap line")
    pocket = next(m for m in pattern.piece("skirt front").marks if m.name == "pocket")
    assert line.path.start.y - pocket.path.start.y == pytest.approx(12.7)
    assert {c.kind for c in companions_of(pattern, "skirt front")} == {"pocket", "flap"}


def test_a_pocket_does_not_run_over_the_edge():
    with pytest.raises(CannotDo, match="over the edge"):
        patched(across=20.0)


def test_the_record_tells_the_place():
    asked = DraftPatchPocket(piece="skirt front", point="waist side", across=110.0, down=150.0)
    said = say(draft_patch_pocket.CHANGE.apply(skirt(), asked).said, Unit.cm)
    assert "15 cm below waist side and 11 cm towards the centre" in said


def test_a_bag_is_two_inches_longer_than_its_opening():
    """Opening 13 cm: 18.1 cm are sewn to the seam (1921)."""
    bag = bagged(opening=130.0).piece("skirt front pocket bag")
    assert bag.edge("side").length == pytest.approx(181.0, abs=0.3)
    assert bag.cuts[0].how == "pair"
    assert bag.cuts[0].count == 2


def test_its_sewn_side_is_the_seams_own_line():
    pattern = bagged()
    side = pattern.piece("skirt front").edge("side").path
    own = pattern.piece("skirt front pocket bag").edge("side").path
    away = [side.nearest(own.point_at(own.length * k / 10))[1] for k in range(11)]
    assert max(away) < 1e-6


def test_the_opening_is_marked_equally_far_down_on_both_sides():
    pattern = bagged(top=90.0, opening=150.0)
    for name in ("skirt front", "skirt back"):
        piece = pattern.piece(name)
        edge = piece.edge("side")
        down = piece.up.dot(edge.path.end - edge.path.start) < 0.0
        marks = {n.name: n.at if down else edge.length - n.at for n in edge.notches}
        assert marks["pocket top"] == pytest.approx(90.0)
        assert marks["pocket end"] == pytest.approx(240.0)


def test_the_bag_stays_inside_the_piece():
    """Sacks must not reach the hem or the centre."""
    with pytest.raises(CannotDo, match="over another edge"):
        bagged(reach=400.0)


def test_a_dart_in_the_way_is_told():
    asked = DraftSeamPocket(edge="front.side", top=40.0, opening=120.0, reach=80.0, below=30.0)
    with pytest.raises(CannotDo, match='dart "bust" opens there'):
        draft_seam_pocket.CHANGE.apply(bodice(), asked)


@pytest.mark.parametrize("make", [patched, bagged])
def test_nothing_is_found_on_a_drafted_pocket(make):
    known = {(f.code, f.where) for f in run_checks(skirt())}
    assert [f.code for f in run_checks(make()) if (f.code, f.where) not in known] == []


def test_from_the_centre_line_it_lies_away_from_it():
    """A point on the fold lies on the centre: 80 across from it is 80 into the piece."""
    pattern = bodice()
    params = DraftPatchPocket(
        piece="front", point="fold middle", down=0.0, across=80.0, width=60.0, depth=60.0
    )
    out = draft_patch_pocket.apply(pattern, params)
    mark = out.pattern.piece("front").marks[-1]
    fold = pattern.piece("front").edge("fold").path
    off = [fold.nearest(p)[1] for p in mark.path.flatten(1.0)]
    assert (min(off), max(off)) == pytest.approx((50.0, 110.0), abs=0.01)
    assert "8 cm from the centre" in say(out.said, Unit.cm)
