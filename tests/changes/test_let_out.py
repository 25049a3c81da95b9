"""Letting out shared over seams and darts, tapered to nothing (trade facts: sharing out)."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.changes.darts import has_true_cap
from clothwright.changes.let_out import CHANGE, LetOut, apply
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.vec import Vec
from clothwright.pattern.companions import companions
from clothwright.pattern.girth import finished_girths
from clothwright.pattern.measure import dart_intake, net_length
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.walk import walk_seam
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.test_pages import skirt_pieces
from tests.garments.wardrobe import GARMENTS
from tests.specimens import skirt

SIDES = ("skirt front.side", "skirt back.side")


def wide(piece: Piece, y: float) -> float:
    """How far the side of a half piece lies from its fold, at a height (mm)."""
    (found,) = line_crossings(piece.edge("side").path, Vec(0.0, y), Vec(1.0, 0.0))
    return found.point.x


def test_hip_plus_five() -> None:
    """Hip + 5 cm over four side edges: 1.25 cm each (O24), all the way down, none at the waist."""
    after = apply(skirt(), LetOut(edges=SIDES, by=50.0, level="hip", full="down")).pattern
    for name in ("skirt front", "skirt back"):
        before, now = skirt().piece(name), after.piece(name)
        for y, more in ((420.0, 12.5), (200.0, 12.5), (0.0, 12.5), (611.9, 0.0)):
            assert wide(now, y) - wide(before, y) == pytest.approx(more, abs=0.01)
        assert 0.0 < wide(now, 500.0) - wide(before, 500.0) < 12.5
        assert now.edge("waist") == before.edge("waist")


def with_waist() -> Pattern:
    return replace(skirt(), pieces=skirt_pieces())


def test_waist_plus_four() -> None:
    """Waist + 4 cm over four side edges and four darts: 0.5 cm each, darts narrower (O25)."""
    params = LetOut(edges=SIDES, by=40.0, level="waist", darts=True, bottom="hip")
    before, after = with_waist(), apply(with_waist(), params).pattern
    sewn = 0.0
    for name in ("skirt front", "skirt back"):
        old, new = before.piece(name), after.piece(name)
        taken = [dart_intake(p, p.darts[0]) for p in (old, new)]
        assert taken[0] - taken[1] == pytest.approx(5.0, abs=0.01)
        assert new.point("waist side").x - old.point("waist side").x == pytest.approx(5.0)
        assert new.point("waist side").y == pytest.approx(old.point("waist side").y)
        assert wide(new, 300.0) == pytest.approx(wide(old, 300.0), abs=1e-3)
        sewn += 2 * (net_length(new, "waist") - net_length(old, "waist"))
    assert sewn == pytest.approx(40.0, abs=0.5)


def test_a_dart_with_less_than_its_share_is_refused() -> None:
    """A dart of 2 cm cannot become 2.5 narrower; one left with less than 1 cm is told."""
    params = LetOut(edges=SIDES, by=200.0, level="waist", darts=True)
    with pytest.raises(CannotDo, match="it is 20 mm wide"):
        apply(with_waist(), params)
    said = apply(with_waist(), replace(params, by=100.0)).said
    assert 'Dart "waist" of skirt front is only' in say(said, Unit.cm)


def test_where_it_runs_out_lies_on_the_right_side_of_the_line() -> None:
    """It cannot run out above the line at a line below it; a hem has no outer side."""
    with pytest.raises(CannotDo, match="the hip line does not lie below the knee line"):
        apply(skirt(), LetOut(edges=SIDES, by=9.0, level="knee", bottom="hip"))
    with pytest.raises(CannotDo, match="runs across the grain"):
        apply(skirt(), LetOut(edges=("skirt front.waist",), by=9.0, level="hip"))


@settings(max_examples=15)
@given(
    by=st.floats(-60.0, 80.0),
    height=st.floats(0.0, 1.0),
    full=st.sampled_from(["", "up", "down", "both"]),
)
def test_at_every_height_both_sides_of_the_seam_move_alike(
    by: float, height: float, full: str
) -> None:
    """The girth grows by `by` at the line, and nowhere by more; both sides stay equally long."""
    after = apply(skirt(), LetOut(edges=SIDES, by=by, level="hip", full=full)).pattern
    y = 1.0 + 609.0 * height
    more = 4 * (wide(after.piece("skirt front"), y) - wide(skirt().piece("skirt front"), y))
    assert min(0.0, by) - 0.05 <= more <= max(0.0, by) + 0.05
    at_hip = wide(after.piece("skirt front"), 420.0) - wide(skirt().piece("skirt front"), 420.0)
    assert 4 * at_hip == pytest.approx(by, abs=0.05)
    long = [after.piece(n).edge("side").length for n in ("skirt front", "skirt back")]
    assert long[0] == pytest.approx(long[1], abs=1e-6)


def test_trousers_let_out_at_the_hip_still_sew_together() -> None:
    """Front and back sides, of other bends, differ after + 4 cm at the hip by under 2 mm."""
    before = GARMENTS["trousers"]()
    params = LetOut(edges=("front.side", "back.side"), by=40.0, level="hip", bottom="knee")
    after = apply(before, params).pattern
    long = [after.piece(n).edge("side").length for n in ("front", "back")]
    assert long[0] - long[1] == pytest.approx(0.0, abs=2.0)
    for name in ("front", "back"):
        assert after.piece(name).edge("waist") == before.piece(name).edge("waist")
        assert after.piece(name).edge("hem") == before.piece(name).edge("hem")


@pytest.mark.parametrize(
    ("name", "edges", "level"),
    [
        ("raglan", ("sleeve.front seam", "sleeve.back seam"), "biceps"),
        ("trousers", ("front.side", "back.side"), "knee"),
        ("trousers", ("front.side", "back.side"), "hip"),
    ],
)
def test_an_arm_and_a_leg_are_as_much_wider_as_is_asked(
    name: str, edges: tuple[str, ...], level: str
) -> None:
    """The finished girth, measured as the wearer is: one arm, one knee, but the hips all round."""
    before = GARMENTS[name]()
    out = apply(before, LetOut(edges=edges, by=20.0, level=level))
    was, now = (finished_girths(p, (level,))[0].mm for p in (before, out.pattern))
    assert now - was == pytest.approx(20.0, abs=0.5)
    limb = {"biceps": "round each arm", "knee": "round each leg"}.get(level, "all round")
    assert f"2 cm {limb};" in say(out.said, Unit.cm)


def test_both_sides_of_a_panel_seam_let_out_over_the_bust_agree_again() -> None:
    """A line that curves out gains, one that curves in loses: they parted by 5.6 mm before.

    Sides of a seam are as long as each other, with the 5 mm that are eased, notch by notch.
    """
    p = GARMENTS["princess"]()
    edges = ("side front.panel seam", "centre front.panel seam")
    outcome = apply(p, LetOut(edges=edges, by=20.0, level="bust"))
    seam = outcome.pattern.seam("front panel seam")
    walk = walk_seam(outcome.pattern, seam)
    assert walk.off == pytest.approx(0.0, abs=0.2)
    apart = [pair.b.at - pair.a.at for pair in walk_seam(p, seam).pairs]
    now = [pair.b.at - pair.a.at for pair in walk.pairs]
    assert len(now) == 3
    assert now == pytest.approx(apart, abs=0.2)
    assert "So that both sides of front panel seam agree" in say(outcome.said, Unit.cm)


@pytest.mark.parametrize("by", [40.0, 60.0])
def test_a_side_with_a_dart_runs_fair_once_the_dart_is_sewn(by: float) -> None:
    """Where the dart is folded away no height is left: below and above it the line goes as far.

    Drawn before, the sewn line makes a point of less than 5 degrees at the dart; it may not turn
    more by what runs out over it (as the walk has it: fair lines).
    """
    p = GARMENTS["lined coat"]()
    assert any(d.edge == "side" for d in p.piece("coat front").darts)
    params = LetOut(edges=("coat front.side", "coat back.side"), by=by, level="waist")
    after = apply(p, params).pattern
    found = [f for f in run_checks(after) if f.where.piece == "coat front"]
    assert not {f.code for f in found} & {"line-bent-at-dart", "dart-cap-not-true"}
    assert walk_seam(after, after.seam("coat side")).off == pytest.approx(0.0, abs=1.0)


def test_the_lining_is_offered_the_same_share() -> None:
    """A lining that lies along the side is let out by as much at each of its edges."""
    lining = replace(skirt().piece("skirt front"), name="lining front")
    along = Along(edge="side", piece="skirt front", edge_of="side")
    tie = Companion(piece="lining front", kind="lining", of=(along,), by="bought")
    whole = replace(skirt(), pieces=(*skirt().pieces, lining), companions=(tie,))
    assert list(companions(whole))
    params = LetOut(edges=SIDES, by=50.0, level="hip")
    assert CHANGE.alike is not None
    (same,) = CHANGE.alike(whole, params)
    assert same == replace(params, edges=("lining front.side",), by=25.0)


LAYERS = ("coat front.side", "coat back.side"), ("lining front.side", "lining back.side")


def test_a_garment_and_its_lining_named_at_once_get_all_of_it_each() -> None:
    """Each layer goes once round the body: 4 cm over four edges is 1 cm at each, the lining too.

    The coat and its lining named at once are the coat let out, and then its lining by itself.
    """
    coat = GARMENTS["lined coat"]()
    asked = LetOut(edges=(*LAYERS[0], *LAYERS[1]), by=40.0, level="waist")
    at_once = apply(coat, asked)
    by_turns = coat
    for edges in LAYERS:
        by_turns = apply(by_turns, replace(asked, edges=edges)).pattern
    assert at_once.pattern.pieces == by_turns.pieces
    waist = coat.piece("coat front").level("waist").at
    found = [
        line_crossings(p.piece("coat front").edge("side").path, waist, Vec(1.0, 0.0))[0].point.x
        for p in (coat, at_once.pattern)
    ]
    assert found[1] - found[0] == pytest.approx(10.0, abs=0.01)
    assert "4 cm all round, the garment and its lining each" in say(at_once.said, Unit.cm)


def test_a_lining_with_a_seam_more_gets_a_smaller_share_at_each() -> None:
    """What one layer has more edges for is shared over its own: 4 cm over two edges and four."""
    coat = GARMENTS["lined coat"]()
    edges = (LAYERS[0][0], *LAYERS[1])
    said = say(apply(coat, LetOut(edges=edges, by=40.0, level="waist")).said, Unit.cm)
    assert (
        "coat front, side by 2 cm each, and lining front (side) and lining back (side) by 1 cm"
        in said
    )


@pytest.mark.parametrize("by", [40.0, -40.0])
def test_a_dart_in_the_side_that_is_let_out_keeps_a_true_cap(by: float) -> None:
    """A cap within a pencil line and a half of the true one, as the walk has it, stays so near."""
    dress = GARMENTS["wrap dress"]()
    asked = LetOut(edges=("bodice front.side", "bodice back.side"), by=by, level="bust")
    before, after = (p.piece("bodice front") for p in (dress, apply(dress, asked).pattern))
    for piece in (before, after):
        assert has_true_cap(piece, piece.dart("bust dart"), 1.5)


@pytest.mark.parametrize("by", [-20.0, 30.0])
def test_a_dress_is_taken_in_at_its_waist_seam(by: float) -> None:
    """Bodice and skirt each go once round the waist: 2 cm over four side edges is 0.5 cm at each.

    The skirt has no waist line of its own: its side begins where it is sewn to the bodice's.
    """
    dress, pieces = (
        GARMENTS["wrap dress"](),
        ("bodice front", "bodice back", "skirt front", "skirt back"),
    )
    sides = tuple(f"{name}.side" for name in pieces)
    after = apply(dress, LetOut(edges=sides, by=by, level="waist")).pattern
    for name in pieces:
        old, new = dress.piece(name), after.piece(name)
        more = net_length(new, "waist") - net_length(old, "waist")
        assert more == pytest.approx(by / 4, abs=0.1)
    was, now = (walk_seam(p, p.seam("waist")) for p in (dress, after))
    assert now.off == pytest.approx(was.off, abs=0.1)
    for one, two in zip(was.pairs, now.pairs, strict=True):
        assert two.b.at - two.a.at == pytest.approx(one.b.at - one.a.at, abs=0.1)


def test_no_edge_moves_over_more_than_a_third_of_its_piece() -> None:
    """60 cm off a pair of trousers is refused, with how much there is room for; that is done."""
    trousers, sides = GARMENTS["trousers"](), ("front.side", "back.side")
    with pytest.raises(CannotDo, match="a third") as caught:
        apply(trousers, LetOut(edges=sides, by=-600.0, level="hip"))
    (most,) = (x for x in caught.value.nearest if isinstance(x, float))
    assert 0.0 < most < 600.0
    apply(trousers, LetOut(edges=sides, by=-most, level="hip"))
