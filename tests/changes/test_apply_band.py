"""Bands: held against plane geometry, as a table of worked examples and on pieces drawn here.

Cut width b + 2a; the piece shorter by just b; on a curve outer minus inner = b·θ, n chords leave it
by r(1 − cos(θ/2n)); a mitre at A is b / sin(A/2) long, the outer edge 2b·cot(A/2) longer.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from clothwright.changes.apply_band import CHANGE, ApplyBand
from clothwright.checks import run_checks
from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print
from clothwright.errors import CannotDo
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.lay.judge import judge
from clothwright.lay.solve import solve
from clothwright.pattern.band import chord_gap, corners_agree, gained, parts_for
from clothwright.pattern.measure import net_length
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Edge, Grain, Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.rules.compile import compile_lay
from clothwright.rules.following import followed
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.chevron import Chevron
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.plan import Plan
from clothwright.rules.stating import stated
from clothwright.units import Unit
from clothwright.words import say
from tests.lay.panels import panel, skirt


def done(pattern, *edges, depth, allowance=10.0):
    return CHANGE.apply(pattern, ApplyBand(edges=edges, depth=depth, allowance=allowance))


def size(piece):
    low, high = cutting_line(piece).outline.bounds()
    return high.x - low.x, high.y - low.y


@pytest.mark.parametrize(("theta", "longer"), [(360.0, 62.83), (90.0, 15.71)])
def test_a_band_of_10_on_a_circle_and_a_quarter(theta, longer):
    assert gained(theta, 10.0) == pytest.approx(longer, abs=0.005)


@pytest.mark.parametrize(("parts", "gap"), [(4, 1.537), (6, 0.684), (8, 0.385)])
def test_chords_of_a_quarter_of_radius_80(parts, gap):
    assert chord_gap(80.0, 90.0, parts) == pytest.approx(gap, abs=0.0005)


@pytest.mark.parametrize(("radius", "theta"), [(800.0, 90.0), (2500.0, 14.0), (300.0, 180.0)])
def test_no_fewer_parts_would_do(radius, theta):
    parts = parts_for(radius, theta)
    assert chord_gap(radius, theta, parts) <= 3.0
    assert parts == 1 or chord_gap(radius, theta, parts - 1) > 3.0


@pytest.mark.parametrize(
    ("sides", "other", "agree"),
    [((120, 80), False, True), ((110, 80), False, False), ((100, 80), True, True)],
)
def test_one_figure_at_every_corner(sides, other, agree):
    """In cm, repeat 20: 20 = one repeat agrees; 15 does not; 10 = half of one with other lines."""
    assert corners_agree(*sides, 20, other_line=other) is agree


def test_a_straight_hem_gives_a_band_of_b_and_twice_the_allowance():
    """200 by 500 on the fold: 80 deep, the band 200 by 80 on the fold; cut 210 by 100."""
    new = done(skirt(), "front.hem", depth=80.0).pattern
    body, band = new.piece("front"), new.piece("front hem band")
    low, high = body.outline.bounds()
    assert (low.y, high.y) == pytest.approx((80.0, 500.0))
    assert body.edge("hem seam").role is Role.SEAM
    assert size(band) == pytest.approx((210.0, 100.0))
    assert band.fold is not None
    assert [c.how for c in band.cuts] == ["fold"]
    assert band.up.dot(Vec(0.0, 1.0)) == pytest.approx(1.0)
    assert body.edge("right").notches[0].at == pytest.approx(20.0)


def test_bands_beside_each_other_are_joined_and_every_seam_walks():
    """Front and back: the bands' ends are sewn where the side seam is; both sides are as long."""
    outcome = done(skirt(), "front.hem", "back.hem", depth=80.0)
    new = outcome.pattern
    names = [s.name for s in new.seams]
    assert names == ["side", "front hem band seam", "back hem band seam", "side band"]
    for seam in new.seams:
        one, two = (
            sum(net_length(new.piece(r.piece), r.edge) for r in refs) for refs in (seam.a, seam.b)
        )
        assert one == pytest.approx(two)
    codes = {f.code for f in run_checks(new)} - {f.code for f in run_checks(skirt())}
    assert not [c for c in codes if "length" in c]
    said = say(outcome.said, Unit.cm)
    assert said.startswith("Put a band 8 cm deep on front, hem and back, hem; front hem band is")
    assert "front hem band is cut 21 cm on the fold by 10 cm" in said
    assert "back hem band is cut 24 cm by 10 cm" in said


def cornered(angle, length=400.0):
    """A piece whose hem of `length` meets both sides at this inner angle, degrees."""
    lean = 600.0 * math.cos(math.radians(180.0 - angle))
    tall = 600.0 * math.sin(math.radians(180.0 - angle))
    corners = [(0, 0), (length, 0), (length + lean, tall), (-lean, tall), (0, 0)]
    edges = tuple(
        Edge(
            name=name,
            path=polyline(corners[k : k + 2]),
            role=Role.HEM if name == "hem" else Role.SEAM,
        )
        for k, name in enumerate(("hem", "right", "top", "left"))
    )
    grain = Grain(start=Vec(length / 2, 50.0), end=Vec(length / 2, 150.0))
    return Pattern(pieces=(Piece(name="mat", edges=edges, grain=grain),))


@pytest.mark.parametrize(
    ("angle", "seam", "extra"),
    [(60, 2.0, 3.4641), (90, 1.4142, 2.0), (120, 1.1547, 1.1547), (135, 1.0824, 0.8284)],
)
def test_a_mitre(angle, seam, extra):
    """The table of A, seam / b and extra / b, on a piece with its corners at that angle."""
    depth = 40.0
    pattern = cornered(angle, 800.0)
    new = done(pattern, "mat.left", "mat.hem", "mat.right", depth=depth).pattern
    band = new.piece("mat hem band")
    mitres = [e.length for e in band.edges if e.name in ("left", "right")]
    assert mitres == pytest.approx([seam * depth] * 2, rel=1e-4)
    longer = band.edge("lower edge").length - band.edge("upper edge").length
    assert longer == pytest.approx(extra * depth, rel=1e-3)
    joins = [s for s in new.seams if "mitre" in s.name]
    assert len(joins) == 2
    for s in joins:
        ends = [new.edge(r) for r in (*s.a, *s.b)]
        assert ends[0].length == pytest.approx(ends[1].length)


def test_the_strip_for_a_side_between_two_corners():
    """Side 100, b 8, a 1: its long edge is 118.83 with the allowance of both mitres."""
    new = done(
        cornered(90, 116.0), "mat.left", "mat.hem", "mat.right", depth=8.0, allowance=1.0
    ).pattern
    band = new.piece("mat hem band")
    assert band.edge("upper edge").length == pytest.approx(100.0)
    ring = np.asarray(cutting_line(band).outline.flatten(0.01))
    a, b = ring, np.roll(ring, -1, axis=0)
    over = (a[:, 1] > 0.0) != (b[:, 1] > 0.0)
    at = a[over] + (b[over] - a[over]) * (a[over][:, 1] / (a[over][:, 1] - b[over][:, 1]))[:, None]
    assert np.ptp(at[:, 0]) == pytest.approx(118.83, abs=0.005)


def arc(radius, theta):
    """A piece whose hem is an arc of this angle about a centre above it."""
    ts = np.radians(np.linspace(-theta / 2, theta / 2, 721))
    hem = [(radius * math.sin(t), radius * (1 - math.cos(t))) for t in ts]
    (x, y) = hem[-1]
    top = radius * 0.45
    inner = top * math.tan(math.radians(theta / 2)) * 1.15
    corners = [(x, y), (inner, radius * 0.6), (-inner, radius * 0.6), hem[0]]
    names = ("hem", "right", "top", "left")
    paths = [polyline(hem), *(polyline(corners[k : k + 2]) for k in range(3))]
    edges = tuple(
        Edge(name=n, path=p, role=Role.HEM if n == "hem" else Role.SEAM)
        for n, p in zip(names, paths, strict=True)
    )
    grain = Grain(start=Vec(0.0, radius * 0.2), end=Vec(0.0, radius * 0.4))
    return Pattern(pieces=(Piece(name="skirt", edges=edges, grain=grain),))


def test_a_curved_hem_keeps_its_distance_and_says_what_the_strip_lacks():
    """A sixth of a circle of 800: 100 deep, the free edge lacks 104.7 less a chord."""
    pattern = arc(800.0, 60.0)
    outcome = done(pattern, "skirt.hem", depth=100.0)
    new = outcome.pattern.piece("skirt").edge("hem seam").path
    centre = np.array([0.0, 800.0])
    away = [np.hypot(*(np.asarray(p) - centre)) for p in new.flatten(0.01)]
    assert max(abs(r - 700.0) for r in away) <= 0.2  # the specimen is drawn in 720 chords
    band = outcome.pattern.piece("skirt hem band")
    assert band.edge("upper edge").length == pytest.approx(new.length, abs=0.01)
    words = say(outcome.said, Unit.mm)
    assert "its free edge is 104.6 mm too short for the curve: cut it in 7 parts" in words
    assert chord_gap(800.0, 60.0, 7) <= 3.0 < chord_gap(800.0, 60.0, 6)


def test_a_slight_curve_is_eased():
    """1 degree of a circle of 8 m, 20 mm deep: 0.35 of 140 mm."""
    words = say(done(arc(8000.0, 1.0), "skirt.hem", depth=20.0).said, Unit.mm)
    assert "little enough to be eased" in words


def test_a_band_deeper_than_the_piece_is_refused():
    with pytest.raises(CannotDo):
        done(skirt(), "front.hem", depth=600.0)


def test_the_band_lies_on_the_border_it_is_cut_from():
    """Its free edge on the border's line, its length along the selvedge, and upright there."""
    pattern = done(skirt(), "front.hem", "back.hem", depth=80.0).pattern
    border = Border(name="vine", side="upper", base=30.0, height=80.0)
    cloth = Cloth(name="c", width=1300.0, length=4000.0, print=Print(borders=(border,)))
    bands = ("front hem band", "back hem band")
    rules = tuple(OnBorder(piece=p, edge="lower edge", border="vine") for p in bands)
    compiled = compile_lay(pattern, (cloth,), Plan(name="p", rules=rules))
    lay = solve(compiled.problem, seconds=1.0, rounds=1)
    assert judge(compiled.problem, lay) == ()
    for place in lay.placements:
        if "band" in place.shape:
            assert place.turn_deg == 270.0
            ys = [y for _, y in place.outline]
            assert max(ys) - min(ys) == pytest.approx(100.0)
            assert max(ys) == pytest.approx(1300.0 - 30.0 + 10.0)


def test_a_rule_on_the_hem_holds_for_the_band():
    """The border that the hem was to lie on is cut off and sewn on: the rule follows it there."""
    rules = (
        OnBorder(piece="front", edge="hem", border="vine"),
        AtPhase(piece="front", point="hem start", along=0.0),
    )
    new = done(skirt(), "front.hem", depth=80.0)
    now = replace(new.pattern, trail=new.trail)
    assert [r for rule in rules for r in followed(rule, now)] == [
        OnBorder(piece="front hem band", edge="lower edge", border="vine"),
        AtPhase(piece="front hem band", point="lower edge start", along=0.0),
    ]


def test_what_was_sewn_to_the_hem_is_sewn_to_the_band():
    """A facing on the hem: its seam names the band's free edge now, the same way round."""
    facing = panel("facing", 200.0, 60.0, "fold", fold="left")
    seam = Seam(
        name="f", a=(parse_edge("front.hem"),), b=(parse_edge("facing.hem"),), kind="facing"
    )
    pattern = skirt()
    pattern = replace(pattern, pieces=(*pattern.pieces, facing), seams=(*pattern.seams, seam))
    new = done(pattern, "front.hem", depth=80.0).pattern
    assert new.seam("f").a == (parse_edge("front hem band.lower edge"),)


def test_a_band_without_a_fold_is_cut_as_a_pair():
    """The left edge is the fold: a band on the right one does not touch it."""
    pattern = skirt()
    front = replace(panel("front", 200.0, 500.0, "fold", fold="left"))
    new = done(pattern.with_piece(front), "front.right", depth=30.0).pattern
    assert [c.how for c in new.piece("front right band").cuts] == ["pair"]


def mat(long, deep):
    """A rectangle with a band all round it: a pair of sides of each length, mitred."""
    corners = [(0, 0), (long, 0), (long, deep), (0, deep), (0, 0)]
    edges = tuple(
        Edge(name=n, path=polyline(corners[k : k + 2]), role=Role.HEM)
        for k, n in enumerate(("one", "two", "three", "four"))
    )
    grain = Grain(start=Vec(long / 2, 300.0), end=Vec(long / 2, 500.0))
    pattern = Pattern(pieces=(Piece(name="mat", edges=edges, grain=grain, cuts=(Cut(),)),))
    return done(pattern, *(f"mat.{e.name}" for e in edges), depth=60.0).pattern


def round_it():
    """Every band on the border, and at every corner its figures meet as in a mirror."""
    names = [f"mat {n} band" for n in ("one", "two", "three", "four")]
    rules = [OnBorder(piece=n, edge="lower edge", border="vine") for n in names]
    for a, b in zip(names, (*names[1:], names[0]), strict=True):
        ends = {"point_a": "lower edge end", "point_b": "lower edge start"}
        rules.append(Chevron(piece_a=a, piece_b=b, **ends))
    return Plan(name="p", rules=tuple(rules))


def vine(repeat=200.0):
    border = Border(name="vine", side="lower", base=30.0, height=80.0, repeat=repeat)
    design = Print(borders=(border,), origin_along=13.0, axes_along=(25.0,))
    return Cloth(name="c", width=1500.0, print=design)


def test_the_figures_of_a_border_meet_at_mitred_corners():
    """At each corner the two are as far from a mirror line of the vine, one on either side."""
    compiled = compile_lay(mat(1200.0, 800.0), (vine(),), round_it())
    lay = solve(compiled.problem, seconds=1.0, rounds=1)
    assert (judge(compiled.problem, lay), dict(lay.unplaced)) == ((), {})
    at = {}
    for place in lay.placements:
        shape = next(s for s in compiled.problem.shapes if s.id == place.shape)
        for end in ("start", "end"):
            x, y = shape.points.get(f"lower edge {end}", (0.0, 0.0))
            a = math.radians(place.turn_deg)
            at[shape.piece, end] = math.cos(a) * x - math.sin(a) * y + place.x
    names = [f"mat {n} band" for n in ("one", "two", "three", "four")]
    for a, b in zip(names, (*names[1:], names[0]), strict=True):
        both = at[a, "end"] + at[b, "start"] - 2 * (13.0 + 25.0)
        assert abs((both + 100.0) % 200.0 - 100.0) <= 0.2


@pytest.mark.parametrize(
    ("sides", "words"),
    [
        ((1200.0, 800.0), "all corners are alike"),
        ((1100.0, 800.0), "only when one of the two is 100 mm shorter or longer"),
    ],
)
def test_whether_all_corners_are_alike_is_said_before(sides, words):
    """In cm: repeat 20, sides 120 and 80: one repeat over; 110 and 80: three quarters of one."""
    seen = stated(mat(*sides), (vine(),), round_it()).foreseen
    told = [say(f.words, Unit.mm) for each in seen.values() for f in each]
    assert any(words in t for t in told)
