"""Three ways to be rid of an elbow dart; plane geometry, common practice where it says so."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest

from clothwright.changes import elbow_to_ease, elbow_to_hem, straighten_sleeve
from clothwright.changes.darts import with_path_between
from clothwright.checks import run_checks
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec, turn_between_deg, unit_at
from clothwright.pattern.measure import dart_angle_deg, dart_intake, net_length, side
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Grain, Piece, Role
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.dart_specimens import arm
from tests.specimens import INCH, sleeve


def drafted(reach: float) -> Pattern:
    """A plain tube with a dart 1 1/4 in wide and 3 in long, its point `reach` above the wrist.

    The published anchors of a one-piece sleeve draft; demo data otherwise.
    """
    half = math.degrees(math.asin(0.625 / 3))
    point = Vec(0.0, reach)
    a, b = point + unit_at(-half) * (3 * INCH), point + unit_at(half) * (3 * INCH)
    bottom, top = Vec(a.x, 0.0), Vec(a.x, 2 * reach)
    edges = (
        Edge(name="wrist", path=polyline(((-120.0, 0.0), bottom)), role=Role.HEM),
        Edge(name="back", path=polyline((bottom, a, b, top))),
        Edge(name="cap", path=polyline((top, (-120.0, 2 * reach)))),
        Edge(name="front", path=polyline(((-120.0, 2 * reach), (-120.0, 0.0)))),
    )
    dart = Dart(
        name="elbow",
        edge="back",
        a=bottom.distance(a),
        b=bottom.distance(a) + a.distance(b),
        point=point,
    )
    piece = Piece(
        name="sleeve",
        edges=edges,
        darts=(dart,),
        grain=Grain(start=Vec(-60, 20), end=Vec(-60, 300)),
    )
    return Pattern(pieces=(piece,))


@pytest.mark.parametrize(("reach", "wider"), [(8, 3.33), (9, 3.75), (9.5, 3.96), (10, 4.17)])
def test_the_wrist_grows_by_the_darts_angle(reach, wider):
    """24.05 degrees opened at the wrist straight below the point, inches (plane geometry)."""
    pattern = drafted(reach * INCH)
    piece = pattern.piece("sleeve")
    assert dart_angle_deg(piece, piece.dart("elbow")) == pytest.approx(24.05, abs=0.005)
    kept = elbow_to_hem.apply(
        pattern, elbow_to_hem.ElbowToHem(dart="sleeve.elbow", at=120.0, keep="dart")
    ).pattern.piece("sleeve")
    assert dart_intake(kept, kept.dart("elbow")) / INCH == pytest.approx(wider, abs=0.005)
    assert dart_angle_deg(kept, kept.dart("elbow")) == pytest.approx(24.05, abs=0.005)
    wide = elbow_to_hem.apply(
        pattern, elbow_to_hem.ElbowToHem(dart="sleeve.elbow", at=120.0, line="straight")
    ).pattern.piece("sleeve")
    before = piece.edge("wrist").length
    assert (wide.edge("wrist").length - before) / INCH == pytest.approx(wider, abs=0.005)
    assert wide.darts == ()


@pytest.mark.parametrize("keep", ["width", "dart"])
def test_into_the_hem_both_seams_are_sewn_at_one_length(keep):
    """The darted seam is as long as it was sewn, and as its plain partner."""
    pattern = sleeve()
    after = elbow_to_hem.apply(
        pattern, elbow_to_hem.ElbowToHem(dart="sleeve.elbow", keep=keep)
    ).pattern.piece("sleeve")
    before = pattern.piece("sleeve")
    assert net_length(after, "back underarm") == pytest.approx(
        net_length(before, "back underarm"), abs=1e-6
    )
    assert net_length(after, "back underarm") == pytest.approx(
        net_length(after, "front underarm"), abs=1e-6
    )


def test_into_ease_the_seam_walks_clean():
    """The seam's ease is the dart's width; from notch to notch the checks find nothing new."""
    pattern = sleeve()
    intake = dart_intake(pattern.piece("sleeve"), pattern.piece("sleeve").dart("elbow"))
    out = elbow_to_ease.apply(pattern, elbow_to_ease.ElbowToEase(dart="sleeve.elbow"))
    seam = out.pattern.seam("underarm")
    assert seam.ease == pytest.approx(intake)
    assert (seam.ease_from, seam.ease_to) == ("elbow 1", "elbow 2")
    new = {f.code for f in run_checks(out.pattern)} - {f.code for f in run_checks(pattern)}
    assert new == set()
    assert "wool" in say(out.said, Unit.inch)


def test_ease_beyond_what_wool_takes_is_warned_of():
    """A dart 32 mm wide: more than an inch of ease (common practice)."""
    pattern = drafted(9 * INCH)
    from clothwright.pattern.pattern import Seam
    from clothwright.pattern.refs import EdgeRef

    seam = Seam(
        name="underarm", a=(EdgeRef("sleeve", "front"),), b=(EdgeRef("sleeve", "back", True),)
    )
    pattern = replace(pattern, seams=(seam,))
    said = elbow_to_ease.apply(pattern, elbow_to_ease.ElbowToEase(dart="sleeve.elbow")).said
    assert "more than even wool takes" in say(said, Unit.inch)


def test_straightened_keeps_the_biceps_squares_the_hem_and_evens_the_seams():
    """Common practice: plain underarm seam mirrored about the centre line."""
    pattern = sleeve()
    before = pattern.piece("sleeve")
    after = straighten_sleeve.apply(
        pattern, straighten_sleeve.StraightenSleeve(dart="sleeve.elbow", along="biceps")
    ).pattern.piece("sleeve")

    def biceps(piece):
        return piece.edge("cap").path.start.distance(piece.edge("cap").path.end)

    assert biceps(after) == pytest.approx(biceps(before), abs=1e-6)
    hem = after.edge("hem").path
    assert hem.is_straight
    assert (hem.end - hem.start).unit.dot(after.up) == pytest.approx(0.0, abs=1e-9)
    assert after.edge("back underarm").length == pytest.approx(
        after.edge("front underarm").length, abs=1e-6
    )
    assert after.darts == ()
    assert with_path_between(after, "hem", 0.0, hem.length, hem) == after


def two_darts() -> Pattern:
    """A sleeve with two elbow darts in its back underarm seam, the lower 12 mm wide."""
    pattern = arm()
    piece = pattern.piece("sleeve")
    at = piece.dart("elbow").b + 90.0
    path = piece.edge("back underarm").path
    middle = path.point_at(at + 6.0)
    point = middle + path.tangent_at(at + 6.0).perp * 60.0
    low = Dart(name="low", edge="back underarm", a=at, b=at + 12.0, point=point, pressed="end")
    return pattern.with_piece(replace(piece, darts=(*piece.darts, low)))


@pytest.mark.parametrize("dart", ["elbow", "low"])
def test_partner_notches_meet_beside_another_dart(dart):
    """Outside the eased stretch partner notches lie alike, the other dart folded out."""
    out = elbow_to_ease.apply(
        two_darts(), elbow_to_ease.ElbowToEase(dart=f"sleeve.{dart}", reach=40.0)
    ).pattern
    seam = out.seam("underarm")
    plain, eased = ({s.name: s.at for s in side(out, refs).stations} for refs in (seam.a, seam.b))
    assert eased["elbow 1"] == pytest.approx(plain["elbow 1"], abs=1e-3)
    assert eased["elbow 2"] - plain["elbow 2"] == pytest.approx(seam.ease, abs=1e-3)


def test_two_darts_into_ease_make_one_eased_stretch():
    """The second dart's notches get names of their own; the ease lies between the outermost."""
    once = elbow_to_ease.apply(
        two_darts(), elbow_to_ease.ElbowToEase(dart="sleeve.elbow", reach=40.0)
    ).pattern
    twice = elbow_to_ease.apply(
        once, elbow_to_ease.ElbowToEase(dart="sleeve.low", reach=40.0)
    ).pattern
    names = [n.name for n in twice.piece("sleeve").edge("back underarm").notches]
    assert names == ["under", "elbow 1", "elbow 2", "elbow 3", "elbow 4"]
    seam = twice.seam("underarm")
    assert (seam.ease_from, seam.ease_to) == ("elbow 1", "elbow 4")
    plain, eased = ({x.name: x.at for x in side(twice, refs).stations} for refs in (seam.a, seam.b))
    assert eased["elbow 1"] == pytest.approx(plain["elbow 1"], abs=1e-3)
    between = eased["elbow 4"] - plain["elbow 4"]
    assert between == pytest.approx(seam.ease, abs=1e-3)
    assert eased["elbow 3"] - plain["elbow 3"] == pytest.approx(
        once.seam("underarm").ease, abs=1e-3
    )


def test_a_smooth_hem_has_no_corner_at_the_opening():
    """Redrawn smooth, the hem keeps its direction at both sides of the opening; ends stay."""
    pattern = arm()
    rough, smooth = (
        elbow_to_hem.apply(
            pattern, elbow_to_hem.ElbowToHem(dart="sleeve.elbow", line=line)
        ).pattern.piece("sleeve")
        for line in ("straight", "smooth")
    )

    def worst_turn_deg(piece: Piece) -> float:
        parts = piece.edge("wrist").path.segments
        return max(
            abs(turn_between_deg(p.tangent(1.0), q.tangent(0.0)))
            for p, q in itertools.pairwise(parts)
        )

    assert worst_turn_deg(rough) > 5.0
    assert worst_turn_deg(smooth) < 1e-6
    assert smooth.edge("wrist").path.start == rough.edge("wrist").path.start
    assert smooth.edge("back underarm") == rough.edge("back underarm")
