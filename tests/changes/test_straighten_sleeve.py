"""Straightening a sleeve: width at the biceps kept, hem square, underarm seams alike."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.straighten_sleeve import CHANGE, StraightenSleeve
from clothwright.demo.workbooks import DEMOS
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.transform import Transform, rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.measure import corner_angle_deg, net_length, side
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece, Role
from clothwright.pattern.whole import levels_at, moved
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import replay
from tests.changes.dart_specimens import (
    MOVES,
    arm,
    assert_same_shape,
    assert_sound,
    moved_pattern,
)


def run(pattern: Pattern, **params: str) -> Pattern:
    return CHANGE.apply(pattern, StraightenSleeve(dart="sleeve.elbow", **params)).pattern


def off_square_deg(piece: Piece, hem: str) -> float:
    path = piece.edge(hem).path
    assert path.is_straight
    return abs(abs(turn_between_deg(path.end - path.start, piece.up)) - 90.0)


def test_common_practice_values() -> None:
    """Width at the biceps kept, hem square to the centre line, underarm seams of equal length.

    Common practice: an elbow dart removed by mirroring the plain underarm seam.
    """
    before = arm()
    out = run(before)
    sleeve = out.piece("sleeve")
    widths = []
    for piece in (before.piece("sleeve"), sleeve):
        line = levels_at(piece, piece.level("biceps"))
        assert line is not None
        widths.append(line.length)
    # 1 mm below the underarm corners the two seams may already slant differently.
    assert widths[1] == pytest.approx(widths[0], abs=0.2)
    corners = sleeve.edge("cap").path.start, sleeve.edge("cap").path.end
    assert corners[0].distance(corners[1]) == pytest.approx(330.0, abs=1e-9)
    assert off_square_deg(sleeve, "wrist") < 1e-6
    lengths = [sleeve.edge(e).length for e in ("front underarm", "back underarm")]
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-6)
    assert sleeve.darts == ()


def test_what_stays() -> None:
    """Cap, plain underarm, grain, levels, names and the other pieces stay."""
    before = arm()
    out = run(before)
    old, new = before.piece("sleeve"), out.piece("sleeve")
    assert new.edge("cap") == old.edge("cap")
    assert new.edge("front underarm") == old.edge("front underarm")
    assert (new.grain, new.levels, new.cuts) == (old.grain, old.levels, old.cuts)
    assert [e.name for e in new.edges] == [e.name for e in old.edges]
    assert out.piece("other") is before.piece("other")
    assert_sound(out)


def test_the_two_halves_are_mirror_images() -> None:
    """Every place of one underarm seam has its twin as far beyond the centre line."""
    sleeve = run(arm()).piece("sleeve")
    front, back = sleeve.edge("front underarm").path, sleeve.edge("back underarm").path
    for k in range(11):
        p = front.point_at(front.length * k / 10)
        assert back.nearest(Vec(-p.x, p.y))[1] < 1e-3
    angles = [corner_angle_deg(sleeve, sleeve.index(n)) for n in ("wrist", "front underarm")]
    assert angles[0] == pytest.approx(angles[1], abs=1e-6)


def test_notches_of_the_underarm_still_meet() -> None:
    """Seen from the underarm, partner notches lie at the same distance as before."""
    out = run(arm())
    seam = out.seam("underarm")
    a, b = side(out, seam.a), side(out, seam.b)
    assert [s.at for s in a.stations] == pytest.approx([s.at for s in b.stations], abs=1e-3)
    assert a.length == pytest.approx(b.length, abs=1e-6)


def test_elbow_ease_is_taken_off_the_seam() -> None:
    """A seam that was eased at the elbow has nothing to ease any more."""
    pattern = arm()
    eased = pattern.with_seam(replace(pattern.seam("underarm"), ease=6.0, eased_max=10.0))
    seam = run(eased).seam("underarm")
    assert (seam.ease, seam.eased_max) == (0.0, 0.0)


def test_two_elbow_darts_both_go() -> None:
    """A sleeve with two darts in its underarm seam loses both."""
    pattern = arm()
    sleeve = pattern.piece("sleeve")
    second = Dart(name="low", edge="back underarm", a=330.0, b=340.0, point=Vec(-40, -330))
    two = pattern.with_piece(replace(sleeve, darts=(*sleeve.darts, second)))
    assert run(two).piece("sleeve").darts == ()


@pytest.mark.parametrize("move", MOVES.values(), ids=MOVES.keys())
def test_turned_moved_mirrored(move: Transform) -> None:
    """A sleeve drawn elsewhere, turned or mirrored gives the same sleeve there."""
    one = run(moved_pattern(arm(), move)).piece("sleeve")
    assert_same_shape(one, moved_pattern(run(arm()), move).piece("sleeve"))
    assert off_square_deg(one, "wrist") < 1e-6


def test_plain_edge_may_be_named() -> None:
    """Without a seam the plain underarm edge is asked for; named, it serves as well."""
    lone = Pattern(pieces=arm().pieces)
    with pytest.raises(BadInput, match="not sewn to another edge"):
        run(lone)
    named = run(lone, plain="sleeve.front underarm")
    assert_same_shape(named.piece("sleeve"), run(arm()).piece("sleeve"), within=1e-9)


def test_what_is_said() -> None:
    """The record tells what went, both lengths, both hem widths, and what is lost."""
    out = CHANGE.apply(arm(), StraightenSleeve(dart="sleeve.elbow"))
    words = say(out.said, Unit.inch)
    assert "elbow dart removed (1 1/4 in wide)" in words
    assert "1/4 in from the shoulder notch" in words
    assert "square to the centre line and 11 in wide (it was 8 11/16 in)" in words
    assert "room at the elbow is lost" in words


def test_refusals() -> None:
    """Corners out of level, no hem, a wrong plain edge: refused with the reason."""
    tilted = arm().with_piece(
        replace(moved(arm().piece("sleeve"), rotation_deg(3.0)), grain=arm().piece("sleeve").grain)
    )
    with pytest.raises(CannotDo, match=r"17\.3 mm out of level"):
        run(tilted)
    sleeve = arm().piece("sleeve")
    plain = replace(sleeve, edges=tuple(replace(e, role=Role.SEAM) for e in sleeve.edges))
    with pytest.raises(CannotDo, match="role hem"):
        run(arm().with_piece(plain))
    with pytest.raises(BadInput, match="another edge"):
        run(arm(), plain="sleeve.back underarm")
    with pytest.raises(BadInput, match="not a point"):
        run(arm(), centre="other.c")
    assert net_length(sleeve, "back underarm") < sleeve.edge("back underarm").length


def test_what_reads_as_the_same_is_not_told_twice() -> None:
    """The coat's sleeve: a seam that was as long before is not said to have been as long."""
    words = [say(t.said, Unit.inch) for t in replay(DEMOS[0].make()).told]
    sleeve = next(w for w in words if w.startswith("Straightened coat sleeve"))
    assert "both 17 7/16 in long. Cap" in sleeve
    assert "The hem is square" in sleeve
