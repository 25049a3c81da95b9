"""Widening lengthwise: what lies beside the cut moves by exactly the amount across the grain."""

from __future__ import annotations

import pytest

from clothwright.changes.widen import Widen, apply
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece, signed_area
from clothwright.units import Unit
from clothwright.words import say
from tests.specimens import bodice, edge, line


def panel() -> Pattern:
    """A panel 300 wide, 400 high on its left and 460 on its right; its grain goes straight up."""
    corners = [(0, 0), (300, 0), (300, 460), (0, 400)]
    names = ("hem", "side", "top", "centre")
    edges = tuple(
        edge(name, line(corners[i], corners[(i + 1) % 4])) for i, name in enumerate(names)
    )
    return Pattern(pieces=(Piece(name="panel", edges=edges),))


@pytest.mark.parametrize("by", [-40.0, 12.5, 60.0])
def test_the_area_grows_by_the_amount_times_the_mean_height(by: float) -> None:
    """A trapezium's area is its width times its mean height, 430 here. (Plane geometry.)"""
    new = apply(panel(), Widen(edge="panel.hem", by=by)).pattern.piece("panel")
    assert signed_area(new) == pytest.approx((300 + by) * 430, abs=1e-6)
    assert new.edge("hem").length == pytest.approx(300 + by, abs=1e-9)
    assert new.edge("side").length == pytest.approx(460, abs=1e-9)


def test_what_lies_on_the_side_of_the_fold_stays() -> None:
    """The side goes out by the amount; corners at the fold, and all heights, are as before."""
    before = bodice()
    after = apply(before, Widen(edge="front.shoulder", by=10.0)).pattern
    old, new = before.piece("front"), after.piece("front")
    assert old.fold is not None
    moved = {
        e.name: now.path.start - e.path.start for e, now in zip(old.edges, new.edges, strict=True)
    }
    assert {round(v.norm, 9) for v in moved.values()} == {0.0, 10.0}
    assert moved[old.fold.name] == Vec(0.0, 0.0)
    assert all(abs(v.dot(old.up)) < 1e-9 for v in moved.values())


def test_what_follows_is_said() -> None:
    """The shoulder is wider now than what it is sewn to: the sentence says by how much."""
    outcome = apply(bodice(), Widen(edge="back.shoulder", by=10.0))
    words = say(outcome.said, Unit.cm)
    assert words.startswith("Made back 1 cm wider, cut along the grain through back, shoulder ")
    assert "front, shoulder 1 cm longer" in words
