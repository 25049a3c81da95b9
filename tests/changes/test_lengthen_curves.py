"""A curve over the cut: it gains what slash and spread gives, or it is said why not; no wave."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.changes.lengthen import Lengthen, apply
from clothwright.errors import CannotDo, MissedBy
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Grain, Level, Piece
from clothwright.pattern.whole import moved
from clothwright.units import Unit
from clothwright.words import say
from tests.curvature import curvature
from tests.specimens import edge, line, sleeve


def panel(name: str, side: Path, level: float) -> Pattern:
    """A panel with a straight left side and this curve up its right side, a level across."""
    low, high = side.start, side.end
    edges = (
        edge("hem", line((-200.0, low.y), low)),
        edge(name, side),
        edge("top", line(high, (-200.0, high.y))),
        edge("centre", line((-200.0, high.y), (-200.0, low.y))),
    )
    cut = Level(name="cut", at=Vec(-200.0, level))
    grain = Grain(start=Vec(-150.0, 0.0), end=Vec(-150.0, 100.0))
    return Pattern(pieces=(Piece(name="panel", edges=edges, levels=(cut,), grain=grain),))


def gain(pattern: Pattern, name: str, by: float, **how: str) -> tuple[float, str, list[float]]:
    """What the edge gains; the sentence; the shortfalls that it tells."""
    done = apply(pattern, Lengthen(pieces=("panel",), level="cut", by=by, **how))
    old, new = (p.piece("panel").edge(name).length for p in (pattern, done.pattern))
    told = [x for x in done.said if isinstance(x, MissedBy)]
    return new - old, say(done.said, Unit.cm), told


ARMHOLE = Path((Cubic(Vec(115, 0), Vec(60, 4), Vec(6, 60), Vec(0, 130)),))
CROTCH = Path(
    (Cubic(Vec(70, 0), Vec(50, 5), Vec(2, 40), Vec(0, 90)), Line(Vec(0, 90), Vec(8, 270)))
)


@pytest.mark.parametrize("by", [10.0, -10.0])
@pytest.mark.parametrize(("curve", "level"), [(ARMHOLE, 100.0), (CROTCH, 100.0)])
def test_a_panel_s_armhole_and_a_crotch_gain_what_they_are_spread(
    curve: Path, level: float, by: float
) -> None:
    """+10 gives +10, -10 gives -10, within half a millimetre. (Slash and spread: geometry.)"""
    assert gain(panel("seam", curve, level), "seam", by)[0] == pytest.approx(by, abs=0.5)


def test_where_it_cannot_it_is_said_with_how_much_and_what_would() -> None:
    """Low on an armhole, the curve runs at a slant: the sentence tells the difference to spread."""
    pattern = panel("armhole", ARMHOLE, 30.0)
    gained, words, (missed,) = gain(pattern, "armhole", 10.0)
    assert missed == pytest.approx(10.0 - gained, abs=1e-6)
    assert missed > 1.0
    assert (
        "Panel, armhole runs at a slant there and gains 0.3 cm less; left as it is spread" in words
    )
    spread = gain(pattern, "armhole", 10.0, curves="spread")
    assert spread[0] == pytest.approx(10.0, abs=1e-3)
    assert spread[2] == []


def test_a_line_along_the_cut_is_refused_with_spread_offered() -> None:
    """Where a crotch runs level no curve can be fair and longer: refused, and spread does it."""
    flat = Path((Cubic(Vec(190, 0), Vec(130, 0), Vec(70, 12), Vec(-40, 14)),))
    pattern = panel("crotch", flat, 7.0)
    with pytest.raises(CannotDo, match=r"crotch.*wave.*spread"):
        gain(pattern, "crotch", 45.0)
    assert gain(pattern, "crotch", 45.0, curves="spread")[0] == pytest.approx(45.0, abs=1e-3)


offsets = st.floats(-60.0, 60.0)


@settings(max_examples=60, deadline=None)
@given(
    a=offsets,
    b=offsets,
    c=offsets,
    by=st.sampled_from([-30.0, -10.0, 5.0, 10.0, 40.0]),
    share=st.floats(0.2, 0.8),
    turn=st.sampled_from([0.0, 33.0]),
)
def test_any_curve_gains_its_due_and_stays_fair(
    a: float, b: float, c: float, by: float, share: float, turn: float
) -> None:
    """Gain within 0.5 mm of the spread, or told; ends exact; no corner; turns to and fro no more.

    Turning is summed here from fifty points of each segment.
    """
    curve = Path((Cubic(Vec(0, 0), Vec(a, 130), Vec(b, 260), Vec(c, 400)),))
    upright = panel("side", curve, 400.0 * share)
    pattern = Pattern(pieces=(moved(upright.pieces[0], rotation_deg(turn)),))
    try:
        done = apply(pattern, Lengthen(pieces=("panel",), level="cut", by=by))
    except CannotDo as refused:
        assert refused.nearest  # noqa: PT017
        return
    old = pattern.piece("panel").edge("side").path
    new = done.pattern.piece("panel").edge("side").path
    told = [x for x in done.said if isinstance(x, MissedBy)]
    heights = [p.y - 400.0 * share for p in curve.flatten(0.001)]
    times = sum((u < 0.0) != (v < 0.0) for u, v in pairwise(heights))
    missed = times * abs(by) - abs(new.length - old.length)
    assert missed > -1e-6
    assert told == (pytest.approx([missed]) if missed > 0.5 else [])
    assert new.end.is_near(old.end, 1e-9) or new.start.is_near(old.start, 1e-9)
    for first, second in pairwise(new.segments):
        assert abs(first.tangent(1.0).cross(second.tangent(0.0))) < 1e-3
    assert least_turn(new) <= least_turn(old) + 10.5


def least_turn(path: Path) -> float:
    """The lesser of all turns to the left and all to the right, degrees."""
    points = [s.point(k / 50) for s in path.segments for k in range(50)]
    ways = [q - p for p, q in pairwise(points)]
    turns = [math.degrees(math.atan2(u.cross(v), u.dot(v))) for u, v in pairwise(ways)]
    return min(sum(t for t in turns if t > 0), sum(-t for t in turns if t < 0))


def test_a_cap_that_is_cut_on_both_sides_gains_on_both() -> None:
    """A sleeve spread across its cap: the cap gains twice the amount, the crown stays."""
    pattern = sleeve()
    piece = pattern.piece("sleeve")
    done = apply(pattern, Lengthen(pieces=("sleeve",), level="biceps", by=12.0, above=70.0))
    new = done.pattern.piece("sleeve")
    old_cap, cap = piece.edge("cap").path, new.edge("cap").path
    (missed,) = (x for x in done.said if isinstance(x, MissedBy))
    assert cap.length - old_cap.length == pytest.approx(24.0 - missed, abs=1e-6)
    assert cap.point_at(cap.nearest(Vec(0.0, 560.0))[0]).is_near((0.0, 560.0), 0.1)
    assert new.point("underarm front").is_near(piece.point("underarm front") - Vec(0, 12), 1e-9)
    assert new.point("cap notch shoulder").is_near(piece.point("cap notch shoulder"), 3.0)
    back = apply(done.pattern, Lengthen(pieces=("sleeve",), level="biceps", by=-12.0, above=82.0))
    again = back.pattern.piece("sleeve").edge("cap").path
    assert max(old_cap.nearest(p)[1] for p in again.flatten(0.5)) < 2.0


@pytest.mark.parametrize("by", [25.0, 10.0, -10.0])
def test_a_curve_keeps_its_own_bends(by: float) -> None:
    """An armhole bends nowhere more than half as much again as it did (radius 88 mm: 58 at least).

    Curvature by the formula of the text-books, at 50 places of each curve.
    """
    pattern = panel("armhole", ARMHOLE, 60.0)
    done = apply(pattern, Lengthen(pieces=("panel",), level="cut", by=by)).pattern
    new = done.piece("panel").edge("armhole").path
    tight = [
        max(abs(curvature(s, k / 49)) for s in path.segments for k in range(50))
        for path in (ARMHOLE, new)
    ]
    assert 1 / tight[0] == pytest.approx(88.0, abs=1.0)
    assert tight[1] < 1.55 * tight[0]
