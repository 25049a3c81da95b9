"""Squaring a hem to the grain."""

from __future__ import annotations

import pytest

from clothwright.changes.square_hem import SquareHem, apply
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.whole import moved
from clothwright.units import Unit
from clothwright.words import say
from tests.contract.changes_table import long_front, low_dart
from tests.garments.wardrobe import GARMENTS
from tests.specimens import bodice, skirt, sleeve


def test_a_curved_hem_becomes_straight_and_square() -> None:
    """The flared skirt's hem is one straight line square to the grain, through the fold."""
    piece = apply(skirt(), SquareHem(edge="skirt front.hem")).pattern.piece("skirt front")
    hem = piece.edge("hem").path
    assert len(hem.segments) == 1
    assert hem.start.is_near((0.0, 0.0), 1e-9)
    assert piece.up.dot(hem.end - hem.start) == pytest.approx(0.0, abs=1e-9)


def test_the_side_runs_on_in_its_own_direction() -> None:
    """The side seam keeps its direction to the new hem; the record tells the difference."""
    old = long_front().piece("front")
    outcome = apply(long_front(), SquareHem(edge="front.hem"))
    new = outcome.pattern.piece("front")
    turn = turn_between_deg(
        old.edge("side").path.start_tangent, new.edge("side").path.start_tangent
    )
    assert turn == pytest.approx(0.0, abs=1e-9)
    assert new.edge("side").length < old.edge("side").length
    assert "side is 3/8 in shorter" in say(outcome.said, Unit.inch)


def test_square_to_a_tilted_grain() -> None:
    """A piece lying at an angle is squared to its own grain line, not to the page."""
    pattern = long_front()
    tilted = moved(pattern.piece("front"), rotation_deg(30.0))
    new = apply(pattern.with_piece(tilted), SquareHem(edge="front.hem")).pattern.piece("front")
    hem = new.edge("hem").path
    assert new.up.dot((hem.end - hem.start).unit) == pytest.approx(0.0, abs=1e-9)


def test_through_a_named_point() -> None:
    """The hem goes through the point that is named."""
    how = SquareHem(edge="front.hem", through="front.hem side")
    new = apply(long_front(), how).pattern.piece("front")
    y = long_front().piece("front").point("hem side").y
    assert {round(p.y, 6) for p in new.edge("hem").path.flatten()} == {round(y, 6)}


def test_without_fold_or_centre_the_middle_counts() -> None:
    """A sleeve's hem is squared through its middle; a hem that is square already stays."""
    new = apply(sleeve(), SquareHem(edge="sleeve.hem")).pattern.piece("sleeve")
    assert new.point("hem front").is_near(sleeve().piece("sleeve").point("hem front"), 1e-9)


def test_a_dart_at_the_hem_stays_a_dart() -> None:
    """A dart that opens at the hem is closed while the hem is drawn: as sewn it is straight."""
    piece = apply(low_dart(), SquareHem(edge="front.hem")).pattern.piece("front")
    dart, path = piece.dart("waist"), piece.edge("hem").path
    a, b = path.point_at(dart.a), path.point_at(dart.b)
    angles = [
        abs(turn_between_deg(dart.point - p, q - p)) for p, q in ((a, path.start), (b, path.end))
    ]
    assert sum(angles) == pytest.approx(180.0, abs=1e-9)


def test_what_cannot_be_squared() -> None:
    """Through a point above the side's upper end, or on another piece: refused."""
    with pytest.raises(CannotDo, match="lower"):
        apply(bodice(), SquareHem(edge="front.hem", through="front.shoulder tip"))
    with pytest.raises(BadInput, match="same piece"):
        apply(bodice(), SquareHem(edge="front.hem", through="back.hem side"))


def test_what_the_side_is_sewn_to_is_named() -> None:
    """A shirt-tail hem of a front squared alone: the back's side has to follow, and by how much."""
    said = say(apply(GARMENTS["shirt"](), SquareHem(edge="front.hem")).said, Unit.cm)
    assert "side is 5.8 cm longer. Now make back, side 5.8 cm longer, to go with it." in said
