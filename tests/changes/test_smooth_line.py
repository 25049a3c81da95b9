"""Smoothing a line, with darts folded out: fair as it is sewn."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwright.changes.smooth_line import SmoothLine, apply
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.measure import dart_legs, net_length
from clothwright.pattern.piece import Piece
from clothwright.units import Unit
from clothwright.words import say
from tests.contract.changes_table import bent_side
from tests.specimens import bodice, skirt


def bend_at_dart(piece: Piece) -> float:
    """By how many degrees the seam bends where the dart is sewn: both sides' directions, closed."""
    dart = piece.dart("bust")
    path = piece.edge(dart.edge).path
    a, b = (path.point_at(at) - dart.point for at in (dart.a, dart.b))
    closing = rotation_deg(turn_between_deg(b, a))
    after = closing.apply(path.tangent_at(dart.b + 0.01))
    return abs(turn_between_deg(path.tangent_at(dart.a - 0.01), after))


def test_a_seam_runs_fair_over_a_closed_dart() -> None:
    """Closed, the dart bent the side; afterwards it does not, and its legs are equal."""
    assert bend_at_dart(bent_side().piece("front")) > 3.0
    params = SmoothLine(edge="front.side", reach=40.0)
    after = apply(bent_side(), params).pattern.piece("front")
    assert bend_at_dart(after) < 0.1
    legs = dart_legs(after, after.dart("bust"))
    assert legs[0] == pytest.approx(legs[1], abs=1e-6)
    before = bent_side().piece("front")
    for name in ("hem", "armhole"):
        assert after.edge(name) == before.edge(name)
    assert net_length(after, "side") == pytest.approx(net_length(before, "side"), abs=3.0)


@given(turn=st.floats(3.0, 40.0), reach=st.floats(10.0, 90.0))
def test_a_corner_is_cut_as_by_an_arc(turn: float, reach: float) -> None:
    """Two tangents of r joined by an arc: shorter by 2 r - r t / tan(t / 2), within 3 %.

    Source: the arc that touches both sides of a corner (plane geometry).
    """
    pattern = skirt()
    piece = pattern.piece("skirt front")
    rad = math.radians(turn)
    bend = Vec(150.0, 0.0) + Vec(math.cos(rad), math.sin(rad)) * 150.0
    hem = piece.edge("hem")
    path = polyline(((0.0, 0.0), (150.0, 0.0), bend))
    side = Path((replace(piece.edge("side").path.segments[0], p0=bend),))
    side = Path((*side.segments, *piece.edge("side").path.segments[1:]))
    edges = tuple(
        replace(e, path=path if e.name == "hem" else side) if e.name in ("hem", "side") else e
        for e in piece.edges
    )
    bent = pattern.with_piece(replace(piece, edges=edges))
    after = apply(bent, SmoothLine(edge="skirt front.hem", reach=reach)).pattern
    new = after.piece("skirt front").edge("hem").path
    lost = 2 * reach - reach * rad / math.tan(rad / 2)
    assert path.length - new.length == pytest.approx(lost, rel=0.03, abs=0.01)
    assert hem.role is after.piece("skirt front").edge("hem").role
    turns = [
        turn_between_deg(s.tangent(1.0), t.tangent(0.0))
        for s, t in zip(new.segments, new.segments[1:], strict=False)
    ]
    assert max(abs(t) for t in turns) < 0.01


def test_a_fair_line_is_left_alone() -> None:
    """Nothing to smooth: the very same pattern, and it says so."""
    pattern = bodice()
    outcome = apply(pattern, SmoothLine(edge="back.armhole"))
    assert outcome.pattern is pattern
    assert say(outcome.said, Unit.cm) == "Left back, armhole as it was: it runs fair."
