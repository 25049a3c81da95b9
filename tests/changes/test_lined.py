"""Alterations of a lined, faced garment: garment, facing and lining get their share in one step.

What is held to is plane geometry on the wardrobe's lined coat: pieces that are sewn, or lie along
each other, agree as they did before.
"""

from __future__ import annotations

import pytest

from clothwright.changes.alike import asked_alike
from clothwright.changes.forward_shoulder import CHANGE as FORWARD
from clothwright.changes.forward_shoulder import ForwardShoulder
from clothwright.changes.full_bust import CHANGE as BUST
from clothwright.changes.full_bust import FullBust
from clothwright.changes.shoulder_slope import CHANGE as SLOPE
from clothwright.changes.shoulder_slope import ShoulderSlope
from clothwright.checks.companions_follow import is_sewn
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.together import left_behind
from clothwright.pattern.walk import walk_seam
from clothwright.units import Unit
from clothwright.words import say
from tests.garments.wardrobe import GARMENTS

AGREE_MM = 1.5
"""mm: what a pencil line and a half leaves open (as the walk has it)."""


def coat() -> Pattern:
    return GARMENTS["lined coat"]()


def done_alike(pattern: Pattern, params: FullBust) -> Pattern:
    """The change, and the same for all that goes with its piece."""
    now = BUST.apply(pattern, params).pattern
    for other in asked_alike(BUST, pattern, params):
        now = BUST.apply(now, other).pattern
    return now


def gained(before: Pattern, after: Pattern, piece: str, edge: str) -> float:
    return net_length(after.piece(piece), edge) - net_length(before.piece(piece), edge)


def height(piece: Piece, edge: str, level: str) -> float:
    """How far down an edge from its upper end a marked line crosses it, mm."""
    path = piece.edge(edge).path
    (found,) = line_crossings(path, piece.level(level).at, piece.up.perp)
    rising = piece.up.dot(path.end - path.start) > 0
    return path.length - found.at_a if rising else found.at_a


@pytest.mark.parametrize("by", [12.7, 20.0, -10.0])
def test_a_full_bust_goes_through_facing_and_lining(by: float) -> None:
    """The facing is as much longer as the front edge, the lining as much wider as the front.

    Every seam is as far off as before, and nothing is left behind.
    """
    before, after = coat(), done_alike(coat(), FullBust(piece="coat front", by=by))
    longer = gained(before, after, "coat front", "front edge")
    assert longer * by > 0.0
    for piece, edge in (("front facing", "front edge"), ("front facing", "inner"),
                        ("lining front", "inner")):  # fmt: skip
        assert gained(before, after, piece, edge) == pytest.approx(longer, abs=0.1)
    for piece, more in (("coat front", by), ("lining front", by), ("front facing", 0.0)):
        assert gained(before, after, piece, "hem") == pytest.approx(more, abs=0.01)
    for old, new in zip(before.seams, after.seams, strict=True):
        off = walk_seam(after, new).off - walk_seam(before, old).off
        assert off == pytest.approx(0.0, abs=0.5), new.name
    behind = left_behind(after, AGREE_MM, before)
    assert [(b.companion.piece, b.edge) for b in behind if not is_sewn(after, b)] == []


def test_the_bust_line_goes_down_alike_on_what_lies_side_by_side() -> None:
    """Along the front edge and the facing's inner edge it meets itself, and notches do too."""
    after = done_alike(coat(), FullBust(piece="coat front", by=15.0))
    front, facing, lining = (after.piece(n) for n in ("coat front", "front facing", "lining front"))
    for level in ("bust", "waist"):
        along = height(facing, "front edge", level)
        assert along == pytest.approx(height(front, "front edge", level), abs=0.1)
        along = height(lining, "inner", level)
        assert along == pytest.approx(height(facing, "inner", level), abs=0.5)


def test_a_lining_is_as_much_wider_about_a_point_that_drops_as_far() -> None:
    """An arm (o, u) that turns to (o + by, u - drop) keeps its length; its dart opens as wide."""
    asked = asked_alike(BUST, coat(), FullBust(piece="coat front", by=12.7))
    (lining,) = (p for p in asked if p.piece == "lining front")
    after = BUST.apply(coat(), lining).pattern.piece("lining front")
    assert lining.longer is not None
    assert after.level("bust").at.y - coat().piece("lining front").level("bust").at.y == (
        pytest.approx(-lining.longer, abs=1e-6)
    )
    shell = BUST.apply(coat(), FullBust(piece="coat front", by=12.7)).pattern
    wide = [p.edge("side").length for p in (shell.piece("coat front"), after)]
    own = [coat().piece(n).edge("side").length for n in ("coat front", "lining front")]
    assert wide[1] - own[1] == pytest.approx(wide[0] - own[0], abs=1.0)


def test_more_and_then_as_much_less_gives_facing_and_lining_back() -> None:
    """Taking it away again undoes it, for each of the three."""
    asked = asked_alike(BUST, coat(), FullBust(piece="coat front", by=12.7))
    for params in asked:
        assert params.longer is not None
        there = BUST.apply(coat(), params).pattern
        less = FullBust(piece=params.piece, by=-params.by, longer=-params.longer)
        back = BUST.apply(there, less).pattern.piece(params.piece)
        for edge in coat().piece(params.piece).edges:
            assert back.edge(edge.name).length == pytest.approx(edge.length, abs=0.3)


def test_of_a_lining_the_facing_follows_that_goes_with_the_same_front() -> None:
    """Whichever of the three is named first, the others inside get the same."""
    asked = {p.piece: p for p in asked_alike(BUST, coat(), FullBust(piece="coat front", by=12.7))}
    for name, params in asked.items():
        others = asked_alike(BUST, coat(), params)
        assert {p.piece: p for p in others} == {n: p for n, p in asked.items() if n != name}


def test_a_facing_by_itself_asks_how_much_longer_it_is_to_be() -> None:
    """It has no armhole: what is missing is said, and what to say."""
    with pytest.raises(CannotDo, match="how much longer"):
        BUST.apply(coat(), FullBust(piece="front facing", by=10.0))


def test_a_hem_that_a_facing_and_a_lining_share_gains_once() -> None:
    """Both lie end to end along it: it gains below the bust, where the lining lies, once."""
    said = say(BUST.apply(coat(), FullBust(piece="coat front", by=12.7)).said, Unit.cm)
    assert "lining front, hem 1.3 cm longer" in said
    assert "facing, hem" not in said
    front = BUST.apply(coat(), FullBust(piece="coat front", by=12.7)).pattern
    behind = [b for b in left_behind(front, AGREE_MM, coat()) if b.edge == "hem"]
    assert [(b.companion.piece, round(b.expected - b.measured, 1)) for b in behind] == [
        ("lining front", 12.7)
    ]
    (lining,) = (p for p in asked_alike(BUST, coat(), FullBust(piece="coat front", by=12.7))
                 if p.piece == "lining front")  # fmt: skip
    both = BUST.apply(front, lining).pattern
    assert not [b for b in left_behind(both, AGREE_MM, coat()) if b.edge == "hem"]
    assert not [b for b in left_behind(both, AGREE_MM) if b.edge == "hem"]


# --- shoulders -----------------------------------------------------------------------------------

INSIDE = (("coat front", "front facing", "lining front"),
          ("coat back", "back neck facing", "lining back"))  # fmt: skip
"""A piece of the coat, and the facing and the lining whose shoulders are its shoulder together."""


def turned_deg(before: Pattern, after: Pattern, piece: str) -> float:
    """How far a shoulder turned."""
    ways = [p.piece(piece).edge("shoulder").path for p in (before, after)]
    return turn_between_deg(*(w.end - w.start for w in ways))


def moved(before: Pattern, after: Pattern, piece: str, point: str) -> Vec:
    return after.piece(piece).point(point) - before.piece(piece).point(point)


@pytest.mark.parametrize("by", [8.0, -8.0])
def test_a_lining_s_short_shoulder_turns_about_the_neck_point_of_the_garment(by: float) -> None:
    """The shoulders of facing and lining are one line, as long as the coat's: they turn as it does.

    The tips of coat and lining go the same way, and so do facing and lining where they meet.
    """
    asked = ShoulderSlope(pieces=("coat front", "coat back"), by=by)
    after = SLOPE.apply(coat(), asked).pattern
    (inside,) = asked_alike(SLOPE, coat(), asked)
    assert set(inside.pieces) == {n for _, *names in INSIDE for n in names}
    after = SLOPE.apply(after, inside).pattern
    for shell, facing, lining in INSIDE:
        turn = turned_deg(coat(), after, shell)
        assert abs(turn) > 3.0
        for name in (facing, lining):
            assert turned_deg(coat(), after, name) == pytest.approx(turn, abs=0.01)
        tips = [moved(coat(), after, n, "shoulder tip") for n in (shell, lining)]
        assert tips[0].is_near(tips[1], 0.01)
        met = [moved(coat(), after, n, "inner start") for n in (facing, lining)]
        met += [moved(coat(), after, n, "inner end") for n in (facing, lining)]
        assert met[0].is_near(met[3], 0.01) or met[1].is_near(met[2], 0.01)
    for old, new in zip(coat().seams, after.seams, strict=True):
        off = walk_seam(after, new).off - walk_seam(coat(), old).off
        assert abs(off) < AGREE_MM, new.name


@pytest.mark.parametrize("by", [10.0, -10.0])
def test_a_shoulder_seam_goes_forward_on_facing_and_lining(by: float) -> None:
    """At the tip by so much, at the neck not at all: by a share of it where the facing ends."""
    asked = ForwardShoulder(seam="coat shoulder", by=by)
    after = FORWARD.apply(coat(), asked).pattern
    for other in asked_alike(FORWARD, coat(), asked):
        after = FORWARD.apply(after, other).pattern
    for shell, facing, lining in INSIDE:
        for name in (facing, lining):
            turn = turned_deg(coat(), after, shell)
            assert turned_deg(coat(), after, name) == pytest.approx(turn, abs=0.05)
        way = moved(coat(), after, facing, "shoulder end" if shell == "coat back" else "inner end")
        assert way.norm == pytest.approx(abs(by) * 50.0 / 124.0, abs=0.3)
    for old, new in zip(coat().seams, after.seams, strict=True):
        off = walk_seam(after, new).off - walk_seam(coat(), old).off
        assert abs(off) < AGREE_MM, new.name
