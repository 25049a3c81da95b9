"""Piecing against plane geometry: areas add up, seams agree, cutting area grows by two strips."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.changes.piece_panel import PiecePanel, apply
from clothwright.checks import run_checks
from clothwright.checks.check import CheckSettings
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.area import polygon_area
from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Severity
from clothwright.pattern.measure import net_length, side
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Level, Mark, Role, signed_area
from clothwright.pattern.refs import parse_edge
from tests.lay.panels import panel
from tests.lay.panels import skirt as panels
from tests.specimens import bodice, skirt, sleeve


def cut_area(piece):
    return abs(polygon_area(cutting_line(piece).outline.flatten(0.01)))


def area(piece):
    return polygon_area(piece.outline.flatten(0.001))


def board(how="once", **more):
    """A panel of 300 by 500 with a level 200 above its hem; 10 mm allowance all round."""
    one = panel("board", 300.0, 500.0, how, **more)
    return Pattern(pieces=(replace(one, levels=(Level(name="mid", at=Vec(0.0, 200.0)),)),))


CASES = {
    "skirt at the hip": (skirt, PiecePanel(piece="skirt front", line="hip")),
    "back at the chest": (bodice, PiecePanel(piece="back", line="chest")),
    "back, shoulder to hem": (
        bodice,
        PiecePanel(piece="back", start="shoulder middle", end="hem middle"),
    ),
    "sleeve at the biceps": (sleeve, PiecePanel(piece="sleeve", line="biceps")),
    "front above the dart": (bodice, PiecePanel(piece="front", line="chest", above=5.0)),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_areas_add_up(case):
    """Stitching areas of both parts make the area of the whole, to 1 mm2."""
    make, params = case
    whole = make()
    after = apply(whole, params).pattern
    new = [p for p in after.pieces if p.name not in {q.name for q in whole.pieces}]
    assert len(new) == 2
    total = sum(polygon_area(p.outline.flatten(0.001)) for p in new)
    one = polygon_area(whole.piece(params.piece).outline.flatten(0.001))
    assert total == pytest.approx(one, abs=1.0)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_the_new_seam_is_equally_long_on_both_sides_and_walks(case):
    """The new seam's two edges agree exactly, notch by notch; no fault that is new is found."""
    make, params = case
    whole = make()
    after = apply(whole, params).pattern
    seam = next(s for s in after.seams if s.name.endswith("joining"))
    a, b = side(after, seam.a), side(after, seam.b)
    assert a.length == pytest.approx(b.length, abs=1e-9)
    assert [s.at for s in a.stations] == pytest.approx([s.at for s in b.stations], abs=1e-9)
    ends = [
        [after.edge(r).path.start, after.edge(r).path.end][:: -1 if r.reversed else 1]
        for r in (seam.a[0], seam.b[0])
    ]
    assert all(p.is_near(q, 1e-6) for p, q in zip(*ends, strict=True))
    known = {f.code for f in run_checks(whole, CheckSettings())}
    found = run_checks(after, CheckSettings())
    assert {f.code for f in found if f.severity is Severity.FAULT} <= known


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_seams_keep_their_length(case):
    """Each seam of the whole is as long as before, its parts named in order."""
    make, params = case
    whole = make()
    after = apply(whole, params).pattern
    for seam in whole.seams:
        now = after.seam(seam.name)
        for refs, was in ((now.a, seam.a), (now.b, seam.b)):
            assert side(after, refs).length == pytest.approx(side(whole, was).length, abs=1e-3)
            for r, s in itertools.pairwise(refs):
                if {r.piece, s.piece} & {p.name for p in whole.pieces} or r.edge != s.edge:
                    continue
                first, then = after.edge(r).path, after.edge(s).path
                last = first.start if r.reversed else first.end
                assert last.is_near(then.end if s.reversed else then.start, 1e-3)


def test_cutting_area_grows_by_two_strips():
    """On square corners: twice 15 mm times the 320 mm between the side cutting lines."""
    whole = board()
    after = apply(whole, PiecePanel(piece="board", line="mid", allowance=15.0)).pattern
    grown = sum(cut_area(p) for p in after.pieces) - cut_area(whole.pieces[0])
    assert grown == pytest.approx(2 * 15.0 * 320.0, abs=0.5)


def test_parts_of_a_plain_board():
    """Cut 200 above the hem: 300 x 200 with the hem, 300 x 300 with the top; names upper, lower."""
    after = apply(board("pair"), PiecePanel(piece="board", line="mid")).pattern
    upper, lower = after.piece("board upper"), after.piece("board lower")
    assert signed_area(upper) == pytest.approx(300 * 300)
    assert signed_area(lower) == pytest.approx(300 * 200)
    assert {e.name for e in lower.edges} == {"hem", "right", "left", "joining"}
    assert {e.name for e in upper.edges} == {"top", "right", "left", "joining"}
    assert lower.edge("hem").role is Role.HEM
    assert upper.cuts == lower.cuts == board("pair").pieces[0].cuts
    assert upper.edge("joining").allowance == pytest.approx(15.875)
    assert [n.at for n in upper.edge("joining").notches] == pytest.approx([100.0, 200.0])


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_grain_is_kept(case):
    """Both parts have a grain line of the old direction, inside their outline."""
    make, params = case
    whole = make()
    after = apply(whole, params).pattern
    old = whole.piece(params.piece).grain.direction
    for part in after.pieces[:2] if params.piece != "back" else after.pieces[-2:]:
        assert part.grain.direction.is_near(old, 1e-9)
        ring = part.outline.flatten(0.5)
        for p in (part.grain.start, part.grain.end):
            assert polygon_area(ring) > 0
            low, high = part.outline.bounds()
            assert low.x <= p.x <= high.x
            assert low.y <= p.y <= high.y


def test_grain_is_shared_out():
    """The board's grain runs from 100 to 400: below the line 100 to 180, above from 230."""
    after = apply(board(), PiecePanel(piece="board", line="mid")).pattern
    lower, upper = after.piece("board lower").grain, after.piece("board upper").grain
    assert (lower.start.y, lower.end.y) == pytest.approx((100.0, 180.0))
    assert (upper.start.y, upper.end.y) == pytest.approx((230.0, 400.0))


def test_darts_and_their_places_stay():
    """The bust dart stays on the lower front, its legs where they were."""
    whole = bodice()
    after = apply(whole, PiecePanel(piece="front", line="chest", above=5.0)).pattern
    lower = after.piece("front lower")
    old, new = whole.piece("front").dart("bust"), lower.dart("bust")
    assert new.point == old.point
    for at in ("a", "b"):
        was = whole.piece("front").edge("side").path.point_at(getattr(old, at))
        assert lower.edge("side").path.point_at(getattr(new, at)).is_near(was, 1e-6)
    assert after.piece("front upper").darts == ()
    assert net_length(lower, "side") + (
        net_length(after.piece("front upper"), "side")
        if any(e.name == "side" for e in after.piece("front upper").edges)
        else 0.0
    ) == pytest.approx(net_length(whole.piece("front"), "side"), abs=1e-6)


def test_a_part_off_the_fold_is_cut_as_a_pair():
    """Cut along the length, the inner back stays on the fold, the outer one becomes a pair."""
    after = apply(
        bodice(), PiecePanel(piece="back", start="shoulder middle", end="hem middle")
    ).pattern
    assert [c.how for c in after.piece("back inner").cuts] == ["fold"]
    assert [c.how for c in after.piece("back outer").cuts] == ["pair"]
    assert after.piece("back inner").fold is not None


def test_a_seam_on_the_fold():
    """The half piece keeps its shape, is cut as a pair and sewn to its other copy."""
    whole = bodice()
    after = apply(whole, PiecePanel(piece="front", line="fold", allowance=12.0)).pattern
    front = after.piece("front")
    assert front.fold is None
    assert front.edge("fold").allowance == 12.0
    assert front.edge("fold").role is Role.CENTRE
    assert [c.how for c in front.cuts] == ["pair"]
    assert signed_area(front) == pytest.approx(signed_area(whole.piece("front")))
    seam = after.seams[-1]
    assert seam.a == seam.b
    assert (seam.a[0].piece, seam.a[0].edge) == ("front", "fold")


def test_the_print_runs_on_over_a_piece_cut_in_two():
    """Joined halves: the lay knows which copy of the upper part meets which of the lower."""
    from clothwright.cloth.cloth import Cloth
    from clothwright.lay.copies import seam_halves
    from clothwright.rules.compile import compile_lay
    from clothwright.rules.plan import Plan

    levelled = panels()
    front = replace(levelled.piece("front"), levels=(Level(name="mid", at=Vec(0.0, 200.0)),))
    after = apply(levelled.with_piece(front), PiecePanel(piece="front", line="mid")).pattern
    copies = compile_lay(after, (Cloth(name="c", width=1500.0),), Plan(name="p")).copies
    found = seam_halves(copies, after.seam("front joining"))
    assert [[h.twin for side_ in pair for h in side_] for pair in found.values()] == [
        [False, False],
        [True, True],
    ]


def test_marks_go_with_their_part_and_lines_can_be_cut_along():
    """A point mark stays on its part; a marked line is where to cut."""
    whole = board()
    piece = whole.pieces[0]
    marks = (
        Mark(name="dot", at=Vec(50.0, 450.0)),
        Mark(name="slant", path=panel("x", 300.0, 1.0, "once").edges[0].path),
    )
    from clothwright.geometry.path import polyline

    marks = (marks[0], replace(marks[1], path=polyline(((0.0, 100.0), (300.0, 160.0)))))
    whole = whole.with_piece(replace(piece, marks=marks))
    after = apply(whole, PiecePanel(piece="board", line="slant")).pattern
    assert [m.name for m in after.piece("board upper").marks if m.at] == ["dot"]
    assert signed_area(after.piece("board lower")) == pytest.approx(300 * 130.0)


def test_a_notch_goes_with_its_part():
    """The right edge's notch 100 mm up stays on the lower part, the left's near the top above."""
    after = apply(board(), PiecePanel(piece="board", line="mid")).pattern
    assert [n.at for n in after.piece("board lower").edge("right").notches] == [100.0]
    assert after.piece("board upper").edge("right").notches == ()
    assert len(after.piece("board lower").edge("left").notches) == 1


def test_facing_seams_name_both_parts_in_order():
    """A run travelled against its edge names the parts the other way round."""
    whole = board()
    seams = (
        Seam(name="f", a=(parse_edge("board.right"),), b=(parse_edge("board.left"),)),
        Seam(name="r", a=(parse_edge("board.right reversed"),), b=(parse_edge("board.left"),)),
    )
    after = apply(replace(whole, seams=seams), PiecePanel(piece="board", line="mid")).pattern
    assert [r.piece for r in after.seam("f").a] == ["board lower", "board upper"]
    assert [r.piece for r in after.seam("f").b] == ["board upper", "board lower"]
    assert [r.piece for r in after.seam("r").a] == ["board upper", "board lower"]


def test_no_line_at_all_and_both_ways():
    """Neither or both ways of saying where are refused."""
    with pytest.raises(BadInput, match=r"[Nn]either"):
        apply(board(), PiecePanel(piece="board"))
    with pytest.raises(BadInput, match=r"[Bb]oth"):
        apply(board(), PiecePanel(piece="board", line="mid", start="hem start"))
    with pytest.raises(CannotDo, match="both ends"):
        apply(board(), PiecePanel(piece="board", start="hem start", end="hem middle"))


@given(bow=st.floats(-60.0, 60.0).filter(lambda x: abs(x) > 0.1))
@settings(max_examples=15)
def test_a_bowed_seam_is_one_line_on_both_parts(bow: float) -> None:
    """Areas add up, both sides have one shape, the middle lies `bow` above the straight line."""
    before = bodice()
    params = PiecePanel(piece="back", line="chest", names="yoke, body", bow=bow)
    after = apply(before, params).pattern
    yoke, body = after.piece("yoke"), after.piece("body")
    whole = sum(area(p) for p in (yoke, body))
    assert whole == pytest.approx(area(before.piece("back")), abs=2.0)
    one, two = (p.edge("joining").path for p in (yoke, body))
    for k in range(11):
        p = one.point_at(one.length * k / 10)
        assert p.is_near(two.point_at(two.length * (10 - k) / 10), 1e-6)
    assert one.middle.y - 290.0 == pytest.approx(bow, abs=1e-6)


def test_a_seam_bowed_off_the_piece_is_refused() -> None:
    """A bow of 30 cm leaves a back 44 cm high."""
    with pytest.raises(CannotDo, match="leaves the piece on its way"):
        apply(bodice(), PiecePanel(piece="back", line="chest", bow=300.0))
