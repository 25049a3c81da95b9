"""An edge drawn like the one it lies along, held to a copy of the piece moved by a known turn.

The other pieces are changed with scissors (`tests.faults.paper`), not by a change of the program.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.draw_like import DrawLike, apply
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import Transform, reflection, rotation_deg, translation
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.piece import Dart
from clothwright.pattern.whole import moved
from clothwright.units import Unit
from clothwright.words import say
from tests.faults.paper import cornered, hollowed
from tests.specimens import bodice

MOVES = {
    "shifted": translation((500.0, 80.0)),
    "turned": rotation_deg(24.0, (90.0, 10.0)),
    "turned over": reflection((0.0, 0.0), (20.0, 90.0)),
}


def lined(move: Transform) -> Pattern:
    """The bodice with a lining of its front: the front itself, drawn elsewhere."""
    pattern = bodice()
    lining = replace(moved(pattern.piece("front"), move), name="lining front")
    ties = tuple(Along(edge=e, piece="front", edge_of=e) for e in ("side", "armhole", "shoulder"))
    told = Companion(piece="lining front", kind="lining", of=ties)
    return replace(pattern, pieces=(*pattern.pieces, lining), companions=(told,))


def apart(one: Path, other: Path) -> float:
    """How far two lines lie from each other at the most, mm."""
    return max(other.nearest(p)[1] for p in one.flatten())


@pytest.mark.parametrize("move", MOVES.values(), ids=MOVES.keys())
def test_it_has_the_very_line_of_what_it_lies_along(move: Transform) -> None:
    """An armhole hollowed by 9 mm, and a shoulder's tip lowered: the lining's is the same line."""
    right = lined(move)
    for cut in (
        hollowed(right.piece("front"), "armhole", 9.0),
        cornered(right.piece("front"), "shoulder", -4.0, -11.0),
    ):
        wanted = moved(cut, move)
        spoilt = right.with_piece(cut)
        old, want = (p.edge("armhole").path for p in (right.piece("lining front"), wanted))
        assert apart(want, old) > 3.0
        new = apply(spoilt, DrawLike(edges=("lining front.armhole",))).pattern
        assert apart(new.piece("lining front").edge("armhole").path, want) < 1e-3
        shoulder = new.piece("lining front").edge("shoulder").path
        assert apart(shoulder, wanted.edge("shoulder").path) < 1e-3
        assert new.piece("front") is cut


@pytest.mark.parametrize("move", MOVES.values(), ids=MOVES.keys())
def test_a_dart_that_was_left_out_comes_along(move: Transform) -> None:
    """The lining's side was ruled without its bust dart: it has the front's again."""
    right = lined(move)
    lining = right.piece("lining front")
    bare = replace(lining, darts=())
    new = apply(right.with_piece(bare), DrawLike(edges=("lining front.side",))).pattern
    (was,), (now,) = lining.darts, new.piece("lining front").darts
    _same(was, now)


def _same(was: Dart, now: Dart) -> None:
    assert (now.name, now.edge, now.pressed) == (was.name, was.edge, was.pressed)
    assert (now.a, now.b) == pytest.approx((was.a, was.b), abs=1e-3)
    assert now.point.is_near(was.point, 1e-3)


def test_notches_go_to_those_of_their_names() -> None:
    """A notch "front" of the armhole goes along; one without a name keeps its distance."""
    right = lined(MOVES["turned"])
    front, lining = (right.piece(n) for n in ("front", "lining front"))
    for piece, at in ((front, 90.0), (lining, 70.0)):
        (notch,) = piece.edge("armhole").notches
        named = replace(notch, name="front", at=at)
        right = right.with_piece(piece.with_edge(replace(piece.edge("armhole"), notches=(named,))))
    new = apply(right, DrawLike(edges=("lining front.armhole",))).pattern
    (notch,) = new.piece("lining front").edge("armhole").notches
    assert notch.at == pytest.approx(90.0)


def test_a_short_facing_follows_the_neck_by_the_lines_beside_it() -> None:
    """A facing 5 cm wide, of which nothing but its neck is said: the neck lowered by 12 mm."""
    pattern = bodice()
    front = pattern.piece("front")
    neck, fold = front.edge("neck"), front.edge("fold")
    shoulder, low = front.edge("shoulder").path, 50.0
    ends = shoulder.point_at(shoulder.length - low), fold.path.point_at(low)
    inner = Path((Line(ends[1], ends[0]),))
    facing = replace(
        front,
        name="front facing",
        darts=(),
        marks=(),
        levels=(),
        edges=(
            replace(
                front.edge("shoulder"),
                path=shoulder.between(shoulder.length - low, shoulder.length),
            ),
            neck,
            replace(fold, path=fold.path.between(0.0, low)),
            replace(front.edge("hem"), name="inner", path=inner, corner=""),
        ),
    )
    move = MOVES["turned"]
    told = Companion(
        piece="front facing", kind="facing", of=(Along(edge="neck", piece="front", edge_of="neck"),)
    )
    cut = cornered(front, "fold", 0.0, -12.0)
    spoilt = replace(
        pattern.with_piece(cut),
        pieces=(cut, pattern.piece("back"), moved(facing, move)),
        companions=(told,),
    )
    out = apply(spoilt, DrawLike(edges=("front facing.neck",)))
    want = cut.edge("neck").path.transformed(move)
    assert apart(out.pattern.piece("front facing").edge("neck").path, want) < 1e-3
    assert say(out.said, Unit.cm).startswith(
        "Drew front facing, neck like front, neck: at the most 1.2 cm"
    )
