"""Truing a seam's end."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.changes.move_edge import MoveEdge
from clothwright.changes.move_edge import apply as move_edge
from clothwright.changes.true_seam import TrueSeam, apply
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.measure import corner_angle_deg, side
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece, Role
from clothwright.units import Unit
from clothwright.words import say
from tests.contract.changes_table import long_front
from tests.specimens import bodice, edge, line, seam, sleeve


def bend(pattern: Pattern, corners: tuple[tuple[str, str], ...]) -> float:
    """How far from straight the line across runs: the sum of the inside angles less 180."""
    total = 0.0
    for name, corner in corners:
        piece = pattern.piece(name)
        i = [e.corner for e in piece.edges].index(corner)
        total += corner_angle_deg(piece, i)
    return total - 180.0


NECK = (("front", "neck point"), ("back", "neck point"))
ARMHOLE = (("front", "shoulder tip"), ("back", "shoulder tip"))


@pytest.mark.parametrize(("at", "corners"), [("start", NECK), ("end", ARMHOLE)])
def test_the_line_across_runs_straight_on(at: str, corners: tuple[tuple[str, str], ...]) -> None:
    """Across the shoulder seam the neck (and the armhole) runs fair: 180°. (Common practice.)

    The specimen's shoulder seam starts at the neck: side a is the front's, reversed.
    """
    pattern = bodice()
    assert abs(bend(pattern, corners)) > 1.0
    new = apply(pattern, TrueSeam(seam="shoulder seam", at=at, reach=40.0)).pattern
    assert bend(new, corners) == pytest.approx(0.0, abs=1e-6)


def test_both_sides_are_equally_long_afterwards() -> None:
    """Half of the difference goes to each side; the end that is not trued does not move."""
    pattern = long_front()
    done = apply(pattern, TrueSeam(seam="side seam", at="end", reach=80.0))
    new, (off, _, dropped) = done.pattern, [x for x in done.said if isinstance(x, float)]
    seam = new.seam("side seam")
    a, b = side(new, seam.a).length, side(new, seam.b).length
    assert a == pytest.approx(b, abs=1e-3)
    old = [side(pattern, run).length for run in (seam.a, seam.b)]
    assert abs(old[0] - old[1]) == pytest.approx(off)
    assert a == pytest.approx(sum(old) / 2 + dropped, abs=1e-3)
    for name in ("front", "back"):
        assert new.piece(name).point("underarm") == pattern.piece(name).point("underarm")


def test_nothing_changes_beyond_the_reach() -> None:
    """The neck keeps its shape farther than `reach` from the seam, and its other end."""
    old = bodice().piece("front").edge("neck").path
    new = (
        apply(bodice(), TrueSeam(seam="shoulder seam", at="start", reach=30.0))
        .pattern.piece("front")
        .edge("neck")
        .path
    )
    assert new.end == old.end
    for back in (5.0, 40.0, old.length - 31.0):
        assert new.point_at(new.length - back).is_near(old.point_at(old.length - back), 1e-3)


def test_the_new_line_has_no_corner() -> None:
    """Where the redrawn part meets the rest, the line goes on in the same direction."""
    for at in ("start", "end"):
        new = apply(bodice(), TrueSeam(seam="shoulder seam", at=at, reach=40.0)).pattern
        for name in ("front", "back"):
            for across in (new.piece(name).edge("neck"), new.piece(name).edge("armhole")):
                segments = across.path.segments
                for first, second in pairwise(segments):
                    turn = turn_between_deg(first.tangent(1.0), second.tangent(0.0))
                    assert abs(turn) < 0.01


def test_a_sleeve_closes_on_itself() -> None:
    """Both underarm edges of one sleeve: the cap runs fair over the seam, as does the hem."""
    new = apply(sleeve(), TrueSeam(seam="underarm", at="end", reach=40.0)).pattern
    ends = (("sleeve", "hem front"), ("sleeve", "hem back"))
    assert bend(new, ends) == pytest.approx(0.0, abs=1e-6)


def test_ease_is_left_between_the_sides() -> None:
    """Side b stays longer by the ease that is meant."""
    pattern = bodice()
    pattern = pattern.with_seam(replace(pattern.seam("shoulder seam"), ease=8.0))
    new = apply(pattern, TrueSeam(seam="shoulder seam", at="end", reach=40.0)).pattern
    seam = new.seam("shoulder seam")
    assert side(new, seam.b).length - side(new, seam.a).length == pytest.approx(8.0, abs=1e-3)


def test_a_true_end_is_left_alone() -> None:
    """Truing twice changes nothing the second time, and says so."""
    how = TrueSeam(seam="shoulder seam", at="start", reach=40.0)
    once = apply(bodice(), how).pattern
    twice = apply(once, how)
    assert twice.pattern is once
    assert say(twice.said, Unit.inch).startswith("Left shoulder seam")


def test_a_corner_is_not_an_untrue_line() -> None:
    """Where the lines across meet at a real corner, truing is refused with the angle."""
    pattern = bodice()
    for name in ("front", "back"):
        pattern = move_edge(
            pattern, MoveEdge(corner=f"{name}.underarm", by=70.0, direction="down")
        ).pattern
        pattern = move_edge(
            pattern, MoveEdge(corner=f"{name}.hem side", by=150.0, direction="down")
        ).pattern
    with pytest.raises(CannotDo, match="corner"):
        apply(pattern, TrueSeam(seam="side seam", at="end"))


def test_two_copies_of_one_piece_are_trued_alike() -> None:
    """Two copies of a piece sewn to each other (a centre back): each gives half, once."""
    pattern = Pattern(
        pieces=(sleeve().piece("sleeve"),),
        seams=(seam("middle", "sleeve.front underarm", "sleeve.front underarm"),),
    )
    piece = pattern.piece("sleeve")
    before = 2 * corner_angle_deg(piece, piece.index("hem"))
    assert abs(before - 180.0) > 5.0
    new = apply(pattern, TrueSeam(seam="middle", at="end", reach=40.0)).pattern.piece("sleeve")
    assert 2 * corner_angle_deg(new, new.index("hem")) == pytest.approx(180.0, abs=1e-6)


def flared(front: float, back: float) -> Pattern:
    """Two panels with straight hems whose side seams slant outward by so many degrees."""
    pieces = []
    for name, slant in (("front", front), ("back", back)):
        out = 400.0 * math.sin(math.radians(slant))
        up = 400.0 * math.cos(math.radians(slant))
        corners = [(0, 0), (300 + out, 0), (300, up), (0, up)]
        edges = tuple(
            edge(n, line(corners[k], corners[(k + 1) % 4]), role=r)
            for k, (n, r) in enumerate(
                (("hem", Role.HEM), ("side", Role.SEAM), ("top", Role.SEAM), ("fold", Role.FOLD))
            )
        )
        pieces.append(Piece(name=name, edges=edges))
    sides = seam("side", "front.side reversed", "back.side reversed")
    return Pattern(pieces=tuple(pieces), seams=(sides,))


@pytest.mark.parametrize("slant", [5.0, 8.0, 15.0, -6.0])
def test_the_corner_of_a_flared_hem_is_lifted(slant: float) -> None:
    """The hem becomes one arc from `reach` to the seam: its end is lifted by reach x tan(slant/2).

    A hem on a piece that tapers is dropped. (Two tangents of a circle; common practice: the corner
    of a flare is lifted and the hem blended.)
    """
    reach = 80.0
    done = apply(flared(slant, slant), TrueSeam(seam="side", at="end", reach=reach))
    lift = reach * math.tan(math.radians(slant / 2))
    assert done.said[-3] == pytest.approx(abs(lift), abs=1e-6)
    assert ("lifted" if slant > 0 else "dropped") in say(done.said, Unit.cm)
    for piece in done.pattern.pieces:
        assert piece.edge("side").length == pytest.approx(400.0 - lift, abs=1e-6)
        assert one_way(piece.edge("hem").path)
        angle = 180.0 - turn_between_deg(
            piece.edge("hem").path.end_tangent, piece.edge("side").path.start_tangent
        )
        assert angle == pytest.approx(90.0, abs=1e-6)


@settings(max_examples=20, deadline=None)
@given(front=st.floats(0.5, 14.0), back=st.floats(0.5, 14.0), reach=st.floats(40.0, 130.0))
def test_no_hem_waves_though_front_and_back_flare_differently(
    front: float, back: float, reach: float
) -> None:
    """Both sides stay equal, together 180 degrees, and no hem turns back by more than a degree."""
    new = apply(flared(front, back), TrueSeam(seam="side", at="end", reach=reach)).pattern
    assert bend_of(new) == pytest.approx(0.0, abs=1e-6)
    lengths = [p.edge("side").length for p in new.pieces]
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-6)
    for piece in new.pieces:
        assert one_way(piece.edge("hem").path, most_deg=1.5 + abs(front - back) / 2)


def bend_of(pattern: Pattern) -> float:
    """How far from straight the hem runs over the side seam, degrees."""
    return sum(corner_angle_deg(p, p.index("side")) for p in pattern.pieces) - 180.0


def one_way(path: Path, most_deg: float = 0.05) -> bool:
    """Whether a path bends to one side only, but for so many degrees."""
    points = [s.point(k / 40) for s in path.segments for k in range(40)] + [path.end]
    ways = [q - p for p, q in pairwise(points)]
    turns = [turn_between_deg(u, v) for u, v in pairwise(ways)]
    return min(sum(t for t in turns if t > 0), -sum(t for t in turns if t < 0)) <= most_deg
