"""The three ways on the demo's coat sleeve, as a maker would try them; two darts; eased seams."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from clothwright.changes import elbow_to_ease, elbow_to_hem, rotate_dart, straighten_sleeve
from clothwright.changes.change import Outcome
from clothwright.checks import run_checks
from clothwright.demo import coat_and_skirt
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec, turn_between_deg, unit_at
from clothwright.pattern.finding import Severity
from clothwright.pattern.measure import dart_angle_deg, dart_intake, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Grain, Piece, Role
from clothwright.pattern.walk import walk_seam
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.figures import told_anew
from tests.garments.wardrobe import GARMENTS
from tests.specimens import INCH, sleeve

COAT = coat_and_skirt().bought
DART = "coat sleeve.elbow dart"


def to_hem(pattern: Pattern, **params: str) -> Outcome:
    return elbow_to_hem.apply(pattern, elbow_to_hem.ElbowToHem(dart=DART, **params))


def to_ease(pattern: Pattern) -> Outcome:
    return elbow_to_ease.apply(pattern, elbow_to_ease.ElbowToEase(dart=DART))


def straightened(pattern: Pattern) -> Outcome:
    return straighten_sleeve.apply(pattern, straighten_sleeve.StraightenSleeve(dart=DART))


WAYS: dict[str, Callable[[Pattern], Outcome]] = {
    "hem": to_hem,
    "hem straight": lambda pattern: to_hem(pattern, line="straight"),
    "hem dart": lambda pattern: to_hem(pattern, keep="dart"),
    "ease": to_ease,
    "straightened": straightened,
}


@pytest.mark.parametrize("way", WAYS.values(), ids=WAYS)
def test_the_demo_coat_walks_clean_after_each_way(way: Callable[[Pattern], Outcome]) -> None:
    """The coat as drafted has no findings; after, at most some on its wider sleeve hem."""
    assert run_checks(COAT) == ()
    found = run_checks(way(COAT).pattern)
    bent = {"line-bent"} if way is WAYS["hem straight"] else set()
    assert {f.code for f in found} <= {*bent, "hem-too-full"}
    assert {(f.severity, f.where.piece, f.where.edge) for f in found} <= {
        (Severity.NOTICE, "coat sleeve", "hem")
    }


@pytest.mark.parametrize("name", ["princess", "lined coat"])
def test_the_hem_runs_fair_where_the_dart_opened_into_it(name: str) -> None:
    """Left to itself no garment's hem has a corner afterwards; its garment had none before."""
    pattern = GARMENTS[name]()
    sleeve_of = next(p for p in pattern.pieces if any(d.name == "elbow dart" for d in p.darts))
    asked = elbow_to_hem.ElbowToHem(dart=f"{sleeve_of.name}.elbow dart")
    found = run_checks(elbow_to_hem.apply(pattern, asked).pattern)
    assert [f.where.piece for f in found if f.code.startswith("line-bent")] == []


@pytest.mark.parametrize("way", ["hem", "ease", "straightened"])
def test_a_lining_that_has_to_follow_is_named(way: str) -> None:
    """The coat's sleeve alone is changed: the lining lies along the same seams and hem."""
    words = say(WAYS[way](GARMENTS["lined coat"]()).said, Unit.cm)
    assert "Change lining sleeve in the same way, to go with coat sleeve." in words


def test_a_fault_in_the_demo_sleeve_would_be_found() -> None:
    """The dart dropped without its ease being meant is told: clean above means looked at."""
    eased = to_ease(COAT).pattern
    seam = eased.seam("coat sleeve seam")
    wrong = run_checks(eased.with_seam(replace(seam, ease=0.0)))
    assert {f.where.seam for f in wrong} == {"coat sleeve seam"}
    assert "seam-length" in {f.code for f in wrong}


def test_what_each_way_does_to_the_demo_sleeve() -> None:
    """Wrist: wider by 2 L sin(angle / 2), as it was, or the front mirrored; cap and front stay."""
    before = COAT.piece("coat sleeve")
    dart = before.dart("elbow dart")
    for name, way in WAYS.items():
        after = way(COAT).pattern.piece("coat sleeve")
        assert after.edge("cap").path == before.edge("cap").path, name
        assert after.edge("front seam").path == before.edge("front seam").path, name
        longer = net_length(after, "back seam") - net_length(before, "back seam")
        assert longer == pytest.approx(dart_intake(before, dart) if name == "ease" else 0, abs=0.01)
    opened = to_hem(COAT, line="straight").pattern.piece("coat sleeve").edge("hem").length
    hem = before.edge("hem").path
    place = hem.point_at(hem.length * 0.75)
    chord = (
        2 * place.distance(dart.point) * math.sin(math.radians(dart_angle_deg(before, dart) / 2))
    )
    assert opened - hem.length == pytest.approx(chord, abs=0.01)


def test_common_practice_on_the_demo_sleeve() -> None:
    """Common practice: width at the biceps kept, hem square to the centre line, seams equal."""
    before = COAT.piece("coat sleeve")
    after = straightened(COAT).pattern.piece("coat sleeve")
    corners = [
        [piece.point(name) for name in ("front underarm", "back underarm")]
        for piece in (before, after)
    ]
    assert corners[1][0].distance(corners[1][1]) == pytest.approx(
        corners[0][0].distance(corners[0][1]), abs=1e-9
    )
    hem = after.edge("hem").path
    middles = hem.point_at(hem.length / 2), corners[1][0].lerp(corners[1][1], 0.5)
    centre_line = middles[1] - middles[0]
    assert abs(turn_between_deg(hem.end - hem.start, centre_line)) == pytest.approx(90.0, abs=1e-6)
    assert after.edge("front seam").length == pytest.approx(
        after.edge("back seam").length, abs=1e-6
    )


# --- two darts ----------------------------------------------------------------------------------


def two_small_darts() -> Pattern:
    """A tube with two elbow darts of 5/8 in by 3 in, both points 9 in or more above the wrist."""
    half = math.degrees(math.asin(0.3125 / 3))
    points = Vec(0.0, 9 * INCH), Vec(0.0, 11 * INCH)
    mouths = [[p + unit_at(turn) * (3 * INCH) for turn in (-half, half)] for p in points]
    right = mouths[0][0].x
    bottom, top = Vec(right, 0.0), Vec(right, 18 * INCH)
    back = polyline((bottom, *mouths[0], *mouths[1], top))
    edges = (
        Edge(name="wrist", path=polyline(((-150.0, 0.0), bottom)), role=Role.HEM),
        Edge(name="back", path=back),
        Edge(name="cap", path=polyline((top, (-150.0, top.y)))),
        Edge(name="front", path=polyline(((-150.0, top.y), (-150.0, 0.0)))),
    )
    darts = tuple(
        Dart(name=name, edge="back", a=a.y, b=b.y, point=p)
        for name, p, (a, b) in zip(("low", "high"), points, mouths, strict=True)
    )
    grain = Grain(start=Vec(-100, 20), end=Vec(-100, 300))
    return Pattern(pieces=(Piece(name="sleeve", edges=edges, darts=darts, grain=grain),))


def kept_angle_deg(before: Path, after: Path) -> float:
    """By how much the wrist's two ends have turned against each other."""
    return turn_between_deg(before.start_tangent, after.start_tangent) - turn_between_deg(
        before.end_tangent, after.end_tangent
    )


def test_two_darts_rotated_one_at_a_time_add_their_angles() -> None:
    """Two darts of 5/8 in by 3 in hold 11.96 degrees each; moved to the wrist, 23.92 in all.

    Source: plane geometry, 2 asin(width / 2 L); a draft of three elbow darts is published too.
    """
    pattern = two_small_darts()
    piece = pattern.piece("sleeve")
    angles = [dart_angle_deg(piece, d) for d in piece.darts]
    assert angles == pytest.approx([11.96, 11.96], abs=0.005)
    once = elbow_to_hem.apply(pattern, elbow_to_hem.ElbowToHem(dart="sleeve.low", at=150.0))
    twice = elbow_to_hem.apply(
        once.pattern, elbow_to_hem.ElbowToHem(dart="sleeve.high", at=60.0)
    ).pattern.piece("sleeve")
    assert twice.darts == ()
    turned = kept_angle_deg(piece.edge("wrist").path, twice.edge("wrist").path)
    assert abs(turned) == pytest.approx(23.92, abs=0.005)
    assert net_length(twice, "back") == pytest.approx(net_length(piece, "back"), abs=1e-6)


def test_ten_centimetres_by_four_hold_23_07_degrees() -> None:
    """A dart 10 cm long and 4 cm wide holds 23.07 degrees wherever it goes (plane geometry)."""
    half = math.degrees(math.asin(0.2))
    a, b = unit_at(-half) * 100.0, unit_at(half) * 100.0
    edges = (
        Edge(name="right", path=polyline(((a.x, -150), a, b, (a.x, 150)))),
        Edge(name="top", path=polyline(((a.x, 150), (-60, 150)))),
        Edge(name="left", path=polyline(((-60, 150), (-60, -150)))),
        Edge(name="bottom", path=polyline(((-60, -150), (a.x, -150)))),
    )
    dart = Dart(name="d", edge="right", a=150 + a.y, b=150 + b.y, point=Vec(0.0, 0.0))
    pattern = Pattern(pieces=(Piece(name="p", edges=edges, darts=(dart,)),))
    assert dart_angle_deg(pattern.piece("p"), dart) == pytest.approx(23.07, abs=0.005)
    moved = rotate_dart.apply(pattern, rotate_dart.RotateDart(dart="p.d", to="p.top", at=80.0))
    after = moved.pattern.piece("p")
    assert dart_angle_deg(after, after.dart("d")) == pytest.approx(23.07, abs=0.005)


# --- seams that are eased already ---------------------------------------------------------------


def eased_everywhere(**more: float) -> Pattern:
    pattern = sleeve()
    seam = pattern.seam("underarm")
    return pattern.with_seam(replace(seam, **more))


def test_ease_that_was_meant_before_is_kept() -> None:
    """Meant and at most both grow by the dart's width; an unbounded ease stays unbounded."""
    pattern = eased_everywhere(ease=4.0, eased_max=9.0)
    piece = pattern.piece("sleeve")
    width = dart_intake(piece, piece.dart("elbow"))
    after = elbow_to_ease.apply(pattern, elbow_to_ease.ElbowToEase(dart="sleeve.elbow")).pattern
    seam = after.seam("underarm")
    assert (seam.ease, seam.eased_max) == pytest.approx((4.0 + width, 9.0 + width))
    assert (seam.ease_from, seam.ease_to) == ("", "")


@pytest.mark.parametrize("most", [0.0, 9.0])
def test_the_darted_side_may_be_listed_first(most: float) -> None:
    """Listed as side a, the sides are exchanged, and what was meant longer counts the other way."""
    pattern = eased_everywhere(ease=4.0, eased_max=most)
    seam = pattern.seam("underarm")
    turned = pattern.with_seam(
        replace(seam, a=seam.b, b=seam.a, ease=-seam.ease, eased_max=-seam.eased_max)
    )
    params = elbow_to_ease.ElbowToEase(dart="sleeve.elbow")
    one, other = (elbow_to_ease.apply(p, params).pattern for p in (pattern, turned))
    assert one.seam("underarm") == other.seam("underarm")
    assert one.piece("sleeve") == other.piece("sleeve")


def test_what_is_eased_lies_evenly_about_a_notch_that_was_beside_the_dart() -> None:
    """Ease is shared out evenly in its zone (trade facts, ease): as much per mm on either side."""
    p = GARMENTS["lined coat"]()
    params = elbow_to_ease.ElbowToEase(dart="coat sleeve.elbow dart", reach=80.0)
    after = elbow_to_ease.apply(p, params).pattern
    seam = after.seam("coat sleeve seam")
    inside = [s for s in walk_seam(after, seam).sections if s.meant.least or s.meant.most]
    assert len(inside) > 1
    shares = [(s.b - s.a) / s.a for s in inside]
    assert shares == pytest.approx([sum(shares) / len(shares)] * len(shares), rel=0.05)


@pytest.mark.parametrize(
    ("garment", "dart"), [("lined coat", DART), ("princess", "sleeve.elbow dart")]
)
@pytest.mark.parametrize("reach", [30.0, 120.0])
def test_the_elbow_line_lies_where_it_lay_when_the_dart_was_sewn(
    garment: str, dart: str, reach: float
) -> None:
    """A line that ran into a dart may lie off by what it took, sewn as a dart or eased in.

    It lay a few mm beside the dart: the sleeve is no more twisted with the ease than with the dart.
    """
    before = GARMENTS[garment]()
    params = elbow_to_ease.ElbowToEase(dart=dart, reach=reach)
    after = elbow_to_ease.apply(before, params).pattern
    assert [t for t in told_anew(before, after, garment) if "twisted" in t] == []
