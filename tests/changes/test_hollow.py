"""A curve drawn deeper or flatter: its middle goes by the amount, its ends stay as they are."""

from __future__ import annotations

import pytest

from clothwright.changes.hollow import Hollow, apply
from clothwright.geometry.path import Path
from clothwright.geometry.shift import bowed
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.units import Unit
from clothwright.words import say
from tests.specimens import bodice, line


@pytest.mark.parametrize("by", [-12.0, 6.0, 30.0])
def test_the_share_is_that_of_the_quartic_on_a_straight_line(by: float) -> None:
    """A straight line of 200: at t it lies 16t²(1 - t)² of `by` off. (Plane geometry.)"""
    new = bowed(line((0.0, 0.0), (200.0, 0.0)), Vec(0.0, by))
    assert isinstance(new, Path)
    for x, share in ((50.0, 0.5625), (100.0, 1.0), (150.0, 0.5625)):
        there = min(new.flatten(0.01), key=lambda p: abs(p.x - x))
        assert there.y == pytest.approx(by * share, abs=0.05)


def test_ends_and_corners_stay() -> None:
    """The armhole's middle goes 8 mm into the piece; all else of the front is as it was."""
    before = bodice()
    after = apply(before, Hollow(edge="front.armhole", by=8.0)).pattern
    old, new = (p.piece("front").edge("armhole").path for p in (before, after))
    assert (old.start, old.end) == (new.start, new.end)
    assert abs(turn_between_deg(old.start_tangent, new.start_tangent)) < 0.01
    assert abs(turn_between_deg(old.end_tangent, new.end_tangent)) < 0.01
    assert max(old.nearest(p)[1] for p in new.flatten()) == pytest.approx(8.0, abs=1.0)
    rest = [e for e in before.piece("front").edges if e.name != "armhole"]
    assert [after.piece("front").edge(e.name) for e in rest] == rest


def test_the_way_back_is_said_too() -> None:
    words = say(apply(bodice(), Hollow(edge="front.armhole", by=-8.0)).said, Unit.cm)
    assert words.startswith("Filled out front, armhole by 0.8 cm at its middle")
