"""A wedge across a piece: one edge gains by the amount, the other by nothing (plane geometry)."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.changes.wedge import LetInWedge, apply
from clothwright.errors import CannotDo
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Grain, Level, Notch, Piece, Role
from clothwright.units import Unit
from clothwright.words import say
from tests.specimens import bodice, edge, line


def panel(role: Role = Role.SEAM) -> Pattern:
    """A panel 200 wide and 400 high, its grain in its lower half; what the left edge is, said."""
    corners = [(0, 0), (200, 0), (200, 400), (0, 400)]
    names = ("hem", "side", "top", "inside")
    edges = [edge(name, line(corners[i], corners[(i + 1) % 4])) for i, name in enumerate(names)]
    edges[1] = replace(edges[1], notches=(Notch(at=100.0), Notch(at=300.0)))
    edges[3] = replace(edges[3], role=role)
    piece = Piece(
        name="panel",
        edges=tuple(edges),
        grain=Grain(start=Vec(100, 20), end=Vec(100, 150)),
        levels=(Level(name="knee", at=Vec(100, 200)),),
    )
    return Pattern(pieces=(piece,))


def made(pattern: Pattern, **params: object) -> Piece:
    wedge = LetInWedge(edge="panel.side", **params)  # type: ignore[arg-type]
    return apply(pattern, wedge).pattern.piece("panel")


@pytest.mark.parametrize("by", [-12.0, 10.0, 20.0])
def test_one_edge_gains_and_the_other_does_not(by: float) -> None:
    """Opened by x at the distance r, the other part turns by 2 atan(x / 2r).

    Drawn fair, a corner of 3 degrees takes some hundredths of a millimetre: x is by as much more.
    """
    new = made(panel(), by=by)
    assert new.edge("side").length == pytest.approx(400 + by, abs=0.02)
    assert new.edge("inside").length == pytest.approx(400, abs=0.15)
    top = new.edge("top").path
    turn = 2 * math.degrees(math.atan(by / 400))
    assert turn_between_deg(Vec(-1, 0), (top.end - top.start)) == pytest.approx(turn, abs=0.05)
    assert top.length == pytest.approx(200, abs=1e-9)
    assert new.edge("hem").path == panel().piece("panel").edge("hem").path
    notches = [n.at for n in new.edge("side").notches]
    assert notches == pytest.approx([100, 300 + by], abs=0.15)


@pytest.mark.parametrize("by", [-12.0, 10.0])
def test_a_fold_stays_straight(by: float) -> None:
    """To nothing at a fold: the upper part is slid up along it, each place by its share."""
    new = made(panel(Role.FOLD), by=by)
    fold = new.edge("inside").path
    assert fold.is_straight
    assert [p.x for p in fold.ends] == pytest.approx([0, 0], abs=1e-9)
    assert fold.length == pytest.approx(400, abs=1e-9)
    assert new.edge("side").length == pytest.approx(400 + by, abs=1e-6)
    top = new.edge("top").path
    assert top.point_at(top.length / 2).y - 400 == pytest.approx(by / 2, abs=1e-6)


def test_it_runs_where_it_is_told_to() -> None:
    """Slanting from 300 up the side to 200 up the other edge: that side gains as much, too.

    The wedge lies at arctan(100 / 200) to square across, and opens by as much more.
    """
    new = made(panel(), by=15.0, at=300.0, to="panel.inside", ends=200.0)
    assert new.edge("side").length == pytest.approx(415, abs=0.02)
    assert new.edge("inside").length == pytest.approx(400, abs=0.2)
    arm = math.hypot(200, 100)
    turn = 2 * math.degrees(math.atan(15.0 * arm / 200 / (2 * arm)))
    top = new.edge("top").path
    assert turn_between_deg(Vec(-1, 0), (top.end - top.start)) == pytest.approx(turn, abs=0.3)


def test_let_in_and_folded_out_it_comes_back() -> None:
    pattern = panel()
    there = apply(pattern, LetInWedge(edge="panel.side", by=10.0, at=200.0)).pattern
    back = made(there, by=-10.0, at=205.0, to="panel.inside", ends=200.0)
    for old, new in zip(pattern.piece("panel").edges, back.edges, strict=True):
        assert new.path.start.is_near(old.path.start, 0.3), old.name


def test_a_marked_line_meets_the_other_edge_where_it_did() -> None:
    new = made(panel(), by=10.0, at=100.0)
    assert new.level("knee").at.y == pytest.approx(200, abs=0.3)


def test_what_follows_is_said() -> None:
    outcome = apply(bodice(), LetInWedge(edge="back.side", by=10.0))
    words = say(outcome.said, Unit.cm)
    assert words.startswith("Let a wedge into back, side ")
    assert ": side is 1 cm longer." in words
    assert "front, side 1 cm longer" in words


def test_a_wedge_through_a_dart_is_refused() -> None:
    """The bodice's front has darts: a wedge runs beside them, or they are moved first."""
    front = bodice().piece("front")
    dart = front.darts[0]
    height = front.edge(dart.edge).path.point_at((dart.a + dart.b) / 2).lerp(dart.point, 0.5)
    fold = front.fold
    assert fold is not None
    at = fold.path.nearest(height)[0]
    with pytest.raises(CannotDo):
        apply(bodice(), LetInWedge(edge=f"front.{fold.name}", by=8.0, at=at))
