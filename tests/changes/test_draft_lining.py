"""Linings: held against worked figures of the trade, plane geometry, and a lining drafted apart.

Lining + facing = garment edge along every line that they share; the cut edges overlap by two
allowances; a pleat of p adds p at the top and nothing where it runs out; hems add up; a cap keeps
its ease (trade manuals and a pattern house's figures, docs/sources.md).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.draft_facing import CHANGE as FACING
from clothwright.changes.draft_facing import DraftFacing
from clothwright.changes.draft_lining import CHANGE, DraftLining
from clothwright.checks import run_checks
from clothwright.demo.body import WEARER, CoatStyle, SkirtStyle
from clothwright.demo.coat_and_skirt import draft_outfit
from clothwright.errors import BadInput
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.transform import rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.companions import companions_of
from clothwright.pattern.measure import net_length
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Edge, Grain, Notch, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import walk_seam
from clothwright.pattern.whole import moved
from clothwright.units import Unit
from clothwright.words import say
from tests.checks.specimens import outfit as outfit_of_checks
from tests.checks.specimens import seam
from tests.garments.wardrobe import GARMENTS
from tests.specimens import INCH, bodice, skirt


def done(pattern, *pieces, **more):
    return CHANGE.apply(pattern, DraftLining(pieces=pieces, **more)).pattern


def faced(pattern, *edges, **more):
    return FACING.apply(pattern, DraftFacing(edges=edges, **more)).pattern


def outfit(*, without=("lining",)):
    """The demo's coat, without the pieces whose names hold one of some words."""
    whole = draft_outfit(WEARER, CoatStyle(), SkirtStyle())
    pieces = tuple(p for p in whole.pieces if not any(w in p.name for w in without))
    names = {p.name for p in pieces}
    seams = (s for s in whole.seams if all(r.piece in names for r in (*s.a, *s.b)))
    return Pattern(pieces=pieces, seams=tuple(seams))


COAT = ("coat front", "coat back", "coat sleeve")


def board():
    """A coat front as a board, 300 by 500, its front edge on the left."""
    straight = polyline(((0, 0), (300, 0), (300, 500), (0, 500), (0, 0)))
    edges = tuple(
        Edge(name=n, path=Path((s,)), allowance=15.0, role=Role.HEM if n == "hem" else Role.SEAM)
        for n, s in zip(("hem", "side", "top", "front"), straight.segments, strict=True)
    )
    return Pattern(pieces=(Piece(name="coat", edges=edges, cuts=(Cut(how="pair"),)),))


def test_the_cut_edges_overlap_by_two_allowances():
    """Facing to its inner cut edge 7.0 cm, a 1.5: the lining starts 4.0 cm from the cut edge."""
    pattern = done(faced(board(), "coat.front", width=40.0, allowance=15.0), "coat")
    front_cut = cutting_line(pattern.piece("coat")).outline.bounds()[0].x
    facing = cutting_line(pattern.piece("coat front facing")).outline.bounds()
    lining = cutting_line(pattern.piece("coat lining")).outline.bounds()
    assert facing[1].x - front_cut == pytest.approx(70.0)
    assert lining[0].x - front_cut == pytest.approx(40.0)
    assert facing[1].x - lining[0].x == pytest.approx(30.0)


def test_lining_and_facing_add_up_along_every_edge_they_share():
    pattern = done(faced(bodice(), "front.neck", "back.neck", width=50.0), "front", "back")
    for name in ("front", "back"):
        shell, lining = pattern.piece(name), pattern.piece(f"{name} lining")
        facing = pattern.piece(f"{name} neck facing")
        for edge in ("shoulder", "fold"):
            both = facing.edge(edge).length + lining.edge(edge).length
            assert both == pytest.approx(shell.edge(edge).length, abs=1e-6)
        assert lining.edge("inner").length == pytest.approx(facing.edge("inner").length, abs=1e-6)


def test_the_lining_of_facings_drawn_by_hand_is_the_one_drafted_apart():
    """The demo drafts its lining from the coat's own frame, with another program text."""
    whole = draft_outfit(WEARER, CoatStyle(), SkirtStyle())
    made = done(outfit(), *COAT[:2], rise=8.0)
    for shell, own in (("coat front", "lining front"), ("coat back", "lining back")):
        mine, theirs = made.piece(f"{shell} lining"), whole.piece(own)
        for edge in ("inner", "shoulder"):
            a, b = mine.edge(edge).path, theirs.edge(edge).path
            assert a.length == pytest.approx(b.length, abs=0.05)
            for k in range(11):
                assert b.nearest(a.point_at(a.length * k / 10))[1] < 0.05
    kinds = {s.name: s.kind for s in made.seams}
    assert kinds["front facing lining"] == kinds["back neck facing lining"] == "lining"


def test_the_hem_lies_5_8_in_below_the_hemline():
    """Its lower cut edge, jacket body and sleeve alike."""
    made = done(outfit(), *COAT)
    for name in COAT:
        hem = made.piece(f"{name} lining").edge("hem")
        assert hem.allowance == pytest.approx(5 / 8 * INCH)
        shell = made.piece(name).edge("hem").path
        assert shell.nearest(hem.path.middle)[1] < 2.0  # the sleeve's seams run on by the rise


def test_a_skirts_lining_hung_free_is_an_inch_shorter():
    made = done(skirt(), "skirt front", "skirt back", shorter=INCH, hem=INCH)
    for name in ("skirt front", "skirt back"):
        hem, own = (made.piece(n).edge("hem").path for n in (name, f"{name} lining"))
        away = [hem.nearest(own.point_at(own.length * k / 8))[1] for k in range(1, 8)]
        assert away == pytest.approx([INCH] * 7, abs=0.02)
    sides = [made.piece(f"{n} lining").edge("side").length for n in ("skirt front", "skirt back")]
    assert sides[0] == pytest.approx(sides[1], abs=0.05)


def test_a_cap_keeps_its_ease_and_rises_under_the_arm():
    """Both the armhole and the cap change; cap less armhole does not (D)."""
    made = done(outfit(), *COAT, rise=12.0)

    def ease(seam):
        return sum(net_length(made.piece(r.piece), r.edge) for r in seam.b) - sum(
            net_length(made.piece(r.piece), r.edge) for r in seam.a
        )

    own, lined = made.seam("coat armhole"), made.seam("coat armhole lining")
    assert ease(lined) == pytest.approx(ease(own), abs=1e-6)
    for name in COAT[:2]:
        shell, lining = made.piece(name), made.piece(f"{name} lining")
        assert net_length(lining, "side") == pytest.approx(net_length(shell, "side") + 12.0)
    sleeve, lining = made.piece("coat sleeve"), made.piece("coat sleeve lining")
    gained = [net_length(lining, e) - net_length(sleeve, e) for e in ("front seam", "back seam")]
    assert gained[0] == pytest.approx(gained[1], abs=0.05)
    assert 12.0 < gained[0] < 24.0  # a cap is flatter there than an armhole
    top = sleeve.edge("cap").path.point_at(sleeve.edge("cap").length / 2)
    assert lining.edge("cap").path.nearest(top)[1] < 0.01


def two_piece(p, right=70.0, left=-80.0):
    """The specimen outfit with its sleeve cut into an upper and an under sleeve, seams straight.

    The under sleeve is what lies beyond both cuts, laid together at the underarm.
    """
    sleeve, armhole = p.piece("sleeve"), p.seam("armhole")
    edge = sleeve.edge("cap")
    cap = edge.path
    cuts = [line_crossings(cap, Vec(x, 0.0), Vec(0.0, 1.0))[0].at_a for x in (right, left)]
    back, middle, front = cap.split_many(cuts)
    back = back.transformed(translation((-330.0, 0.0)))
    wrist = [Vec(x, -400.0) for x in (left, right)]
    notches = tuple(replace(n, at=n.at - cuts[0]) for n in edge.notches[1:])
    low = Vec(right - 330.0, -400.0)
    upper = ring(
        "upper",
        ("hem", polyline(wrist)),
        ("back seam", polyline((wrist[1], middle.start))),
        ("cap", middle, notches),
        ("front seam", polyline((middle.end, wrist[0]))),
    )
    under = ring(
        "under",
        ("hem", polyline((low, wrist[0]))),
        ("front seam", polyline((wrist[0], front.start))),
        ("cap front", front),
        ("cap back", back, edge.notches[:1]),
        ("back seam", polyline((back.end, low))),
    )
    runs = [("under", "cap front"), ("upper", "cap"), ("under", "cap back")]
    b = tuple(EdgeRef(*r, reversed=True) for r in runs)
    joined = (
        seam("front sleeve", "upper.front seam", "under.front seam reversed"),
        seam("back sleeve", "upper.back seam", "under.back seam reversed"),
    )
    kept = (s for s in p.seams if "sleeve" not in s.pieces)
    pieces = (*(q for q in p.pieces if q is not sleeve), upper, under)
    return replace(p, pieces=pieces, seams=(*kept, replace(armhole, b=b), *joined))


def ring(name, *sides):
    edges = tuple(
        Edge(name=n, path=path, notches=marks[0] if marks else (), allowance=15.0)
        for n, path, *marks in sides
    )
    return Piece(
        name=name,
        edges=edges,
        cuts=(Cut(how="pair"),),
        grain=Grain(start=Vec(-150, -300), end=Vec(-150, -100)),
    )


def test_an_under_sleeve_rises_at_its_one_corner_as_much_as_its_armhole_loses():
    """Under the arm of a two-piece sleeve both ends of the cap are one corner of the under sleeve.

    Raised like the armhole, it has the armhole's loss on either side of the arm, front and back:
    cap and armhole are sewn without ease up to the notches (docs/sources.md, cap ease).
    """
    p = two_piece(outfit_of_checks())
    lined = done(p, "front", "back", "upper", "under")
    holes = [
        (("front", "armhole"), ("under", "cap front")),
        (("back", "armhole"), ("under", "cap back")),
    ]
    for hole, cap in holes:
        losses = [
            net_length(p.piece(n), e) - net_length(lined.piece(f"{n} lining"), e)
            for n, e in (hole, cap)
        ]
        assert losses[0] > 2.0
        assert losses[1] == pytest.approx(losses[0], abs=1e-6)
    corner = [
        q.edge("cap back").path.start.y for q in (p.piece("under"), lined.piece("under lining"))
    ]
    assert 5.0 < corner[1] - corner[0] < 20.0
    assert lined.piece("upper lining").edge("cap") == p.piece("upper").edge("cap")


def test_a_lining_has_the_notches_of_its_facing():
    """Notches where the facing ends meet those of the lining, as far along (marks of one seam).

    They stand in order along the lining's edge, which runs against the facing's.
    """
    pattern = faced(board(), "coat.front", width=40.0, allowance=15.0)
    facing = pattern.piece("coat front facing")
    inner = facing.edge("inner")
    places = (("waist", 0.3), ("bust", 0.6))
    notches = tuple(Notch(at=share * inner.length, name=name) for name, share in places)
    marked = replace(inner, notches=notches)
    lined = done(pattern.with_piece(facing.with_edge(marked)), "coat")
    (seam_,) = (s for s in lined.seams if s.kind == "lining")
    pairs = walk_seam(lined, seam_).pairs
    assert sorted(pair.a.name for pair in pairs) == ["bust", "waist"]
    for pair in pairs:
        assert pair.a.name == pair.b.name
        assert pair.a.at == pytest.approx(pair.b.at, abs=1e-6)
    for ref in seam_.refs:
        at = [n.at for n in lined.edge(ref).notches]
        assert at == sorted(at)


def test_a_pleat_of_a_half_inch_on_each_half_takes_an_inch():
    """Trade manual of c. 1911: each half 1/2 in wider at centre back, beside the fold."""
    made = done(outfit(), *COAT[:2], centre="coat back.centre", pleat=INCH / 2)
    shell, lining = made.piece("coat back"), made.piece("coat back lining")
    out = lining.fold.path.start.x - shell.fold.path.start.x
    assert abs(out) == pytest.approx(INCH / 2)
    assert lining.edge("pleat").length == pytest.approx(INCH / 2)
    assert lining.edge("hem").length == pytest.approx(shell.edge("hem").length + INCH / 2)
    (line,) = [m for m in lining.marks if m.name == "pleat line"]
    assert all(abs(p.x - shell.fold.path.start.x) < 1e-9 for p in line.path.ends)


def test_a_pleat_runs_out_at_the_waist():
    """p at the neck, 0 at the waist; below it the centre is the coat's own."""
    made = done(outfit(), *COAT[:2], centre="coat back.centre", pleat=INCH / 2, level="waist")
    lining, shell = made.piece("coat back lining"), made.piece("coat back")
    centre = lining.edge("centre")
    assert centre.role is Role.CENTRE
    assert lining.fold is None
    assert lining.cuts[0].how == "pair"
    x, waist = shell.fold.path.start.x, shell.level("waist").at.y
    out = {p.y: abs(p.x - x) for p in (s.start for s in centre.path.segments)}
    out |= {centre.path.end.y: abs(centre.path.end.x - x)}
    low, at_waist, top = (out[y] for y in sorted(out))
    assert (low, at_waist) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert sorted(out)[1] == pytest.approx(waist)
    assert top == pytest.approx(INCH / 2)
    assert lining.edge("hem").length == pytest.approx(shell.edge("hem").length)
    seam = made.seam("coat back lining centre")
    assert seam.a == seam.b


def test_the_hems_add_up_before_the_lining_is_joined():
    """Sum of lining and facing hems = sum of the shell's, at the same level."""
    made = done(outfit(), *COAT[:2], rise=0.0)
    shell = sum(made.piece(n).edge("hem").length for n in COAT[:2])
    inside = sum(made.piece(f"{n} lining").edge("hem").length for n in COAT[:2])
    assert inside + made.piece("front facing").edge("hem").length == pytest.approx(shell, abs=0.5)


def test_nothing_is_found_on_a_drafted_lining():
    pattern = faced(
        outfit(without=("lining", "facing")),
        *("coat front.front edge", "coat front.neck", "coat back.neck"),
    )
    known = {(f.code, f.where) for f in run_checks(pattern)}
    made = done(pattern, *COAT, centre="coat back.centre", shorter=10.0)
    assert [f.code for f in run_checks(made) if (f.code, f.where) not in known] == []


def test_it_goes_with_its_piece_from_birth():
    made = done(faced(bodice(), "front.neck", width=50.0), "front")
    lining = next(c for c in companions_of(made, "front") if c.kind == "lining")
    longer = {a.edge: a.longer for a in lining.of}
    assert lining.piece == "front lining"
    assert longer["shoulder"] == pytest.approx(
        -made.piece("front neck facing").edge("shoulder").length
    )
    assert longer["hem"] == pytest.approx(0.0)


def test_what_cannot_be_laid_on_is_told():
    """A waist facing has its darts closed: the lining goes up to the waist."""
    pattern = faced(skirt(), "skirt front.waist", width=50.0)
    outcome = CHANGE.apply(pattern, DraftLining(pieces=("skirt front",)))
    assert "up to the edge under skirt front waist facing" in say(outcome.said, Unit.inch)
    lining = outcome.pattern.piece("skirt front lining")
    assert lining.darts == pattern.piece("skirt front").darts


def test_a_piece_is_lined_once():
    made = done(bodice(), "front")
    with pytest.raises(BadInput, match="lined already"):
        done(made, "front")


def test_it_is_the_same_wherever_the_facing_was_moved_to():
    """A facing drawn elsewhere, turned, is laid on its piece by the edges that are sewn."""
    pattern = faced(bodice(), "front.neck", width=50.0)
    facing = moved(pattern.piece("front neck facing"), rotation_deg(50.0, (900.0, 30.0)))
    one, two = (
        done(p, "front").piece("front lining") for p in (pattern, pattern.with_piece(facing))
    )
    for a in one.edges:
        assert a.path.middle.is_near(two.edge(a.name).path.middle, 1e-6)


@pytest.mark.parametrize("first", range(4))
def test_a_facing_may_begin_at_any_edge(first):
    """Its inner line in two edges, whichever of all is its first: the lining is the same."""
    pattern = faced(bodice(), "front.neck", width=50.0)
    facing = pattern.piece("front neck facing")
    i = next(i for i, e in enumerate(facing.edges) if e.name == "inner")
    inner = facing.edges[i]
    half = inner.length / 2
    two = (
        replace(inner, name="inner one", path=inner.path.between(0.0, half), notches=(), corner=""),
        replace(inner, name="inner two", path=inner.path.between(half, inner.length), notches=()),
    )
    edges = (*facing.edges[:i], *two, *facing.edges[i + 1 :])
    k = first % len(edges)
    again = replace(facing, edges=(*edges[k:], *edges[:k]))
    lining = done(pattern.with_piece(again), "front").piece("front lining")
    one = done(pattern, "front").piece("front lining")
    assert lining.outline.length == pytest.approx(one.outline.length)


def test_where_only_the_front_is_faced_the_facing_is_sewn_to_the_backs_lining():
    """A coat drafted apart, with a front facing and none at the back."""
    pattern = GARMENTS["lined coat"]()
    known = {(f.code, f.where) for f in run_checks(pattern)}
    made = done(pattern, *COAT)
    shoulder = next(
        s
        for s in made.seams
        if "shoulder" in s.name and "coat front lining" in {r.piece for r in s.a}
    )
    assert {r.piece for r in shoulder.a} == {"coat front lining", "front facing"}
    assert [f.code for f in run_checks(made) if (f.code, f.where) not in known] == []


def test_a_skirts_lining_says_nothing_of_arms_and_where_its_hem_lies():
    said = say(
        CHANGE.apply(skirt(), DraftLining(pieces=("skirt front", "skirt back"))).said, Unit.cm
    )
    assert "under the arm" not in said
    assert "its hem line on that of the outside, with 1.6 cm beyond it" in said
    out = CHANGE.apply(GARMENTS["knit top"](), DraftLining(pieces=("front", "back", "sleeve")))
    assert "under the arm 1 cm higher" in say(out.said, Unit.cm)
