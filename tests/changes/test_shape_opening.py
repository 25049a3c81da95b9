"""Necklines and armholes raised and lowered: what they end at, and what stays square."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwright.changes.alike import asked_alike
from clothwright.changes.shape_opening import CHANGE, ShapeOpening, apply
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_length, side
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.figures import told_anew
from tests.garments.wardrobe import GARMENTS
from tests.specimens import bodice

NECKS = ("front.neck", "back.neck")
HOLES = ("front.armhole", "back.armhole")


def shaped(pattern: Pattern, edges: tuple[str, ...], **more: float) -> Pattern:
    return apply(pattern, ShapeOpening(edges=edges, **more)).pattern


@given(lower=st.floats(0.0, 60.0), shoulder=st.floats(-20.0, 30.0))
def test_the_ends_move_along_centre_and_shoulder(lower: float, shoulder: float) -> None:
    """Centre and shoulder end just so much sooner, on their own lines; the line stays square."""
    before, after = bodice(), shaped(bodice(), NECKS, lower=lower, shoulder=shoulder)
    for name in ("front", "back"):
        old, new = before.piece(name), after.piece(name)
        assert old.edge("fold").length - new.edge("fold").length == pytest.approx(lower, abs=1e-6)
        less = net_length(old, "shoulder") - net_length(new, "shoulder")
        assert less == pytest.approx(shoulder, abs=1e-6)
        path = new.edge("neck").path
        end = path.end_tangent if name == "front" else path.start_tangent
        assert abs(end.dot(Vec(0.0, 1.0))) < 1e-6


def test_a_back_neck_is_not_raised_above_its_shoulder() -> None:
    """It rises 17.2 mm from the centre to the shoulder: 18 would turn it over."""
    with pytest.raises(CannotDo, match="come level with the other"):
        shaped(bodice(), ("back.neck",), lower=-18.0)


def test_a_lowered_armhole_still_meets_at_the_side() -> None:
    """Both sides end 2 cm sooner, so the side seam agrees as before; the fit of the sleeve is told.

    On the shirt, whose armholes are sewn to one cap: what the armholes gain, the cap lacks.
    """
    before = GARMENTS["shirt"]()
    sides = [r for s in before.seams if s.name == "side" for r in (*s.a, *s.b)]
    after = shaped(before, HOLES, lower=20.0)
    for ref in sides:
        was, now = before.edge(ref).length, after.edge(ref).length
        if ref.piece in ("front", "back"):
            assert was - now == pytest.approx(20.0, abs=1e-6)
    said = say(apply(before, ShapeOpening(edges=HOLES, lower=20.0)).said, Unit.cm)
    gained = sum(
        after.piece(n).edge("armhole").length - before.piece(n).edge("armhole").length
        for n in ("front", "back")
    )
    assert gained > 10.0
    assert "together the edges are" in said
    assert "Now make sleeve, cap" in said


def test_the_facing_is_offered_the_same() -> None:
    """A facing that lies along the neck is lowered with it."""
    facing = replace(bodice().piece("front"), name="neck facing")
    along = Along(edge="neck", piece="front", edge_of="neck")
    tie = Companion(piece="neck facing", kind="facing", of=(along,), by="drafted")
    whole = replace(bodice(), pieces=(*bodice().pieces, facing), companions=(tie,))
    params = ShapeOpening(edges=NECKS, lower=10.0)
    assert asked_alike(CHANGE, whole, params) == (replace(params, edges=("neck facing.neck",)),)


RAGLAN = ("front.neck", "back.neck", "sleeve.neck")
ARMHOLE = (
    "side front.armhole",
    "centre front.armhole",
    "centre back.armhole",
    "side back.armhole",
)


@pytest.mark.parametrize(
    ("garment", "edges", "seams", "lower", "shoulder", "at_seam"),
    [
        ("raglan", RAGLAN, ("front raglan", "back raglan"), 10.0, 10.0, -10.0),
        ("raglan", RAGLAN, ("front raglan", "back raglan"), 10.0, 0.0, 0.0),
        ("princess", ARMHOLE, ("front panel seam", "back panel seam"), 10.0, 0.0, 0.0),
        ("princess", ARMHOLE, ("front panel seam", "back panel seam"), 10.0, 5.0, -5.0),
        ("princess", ARMHOLE, ("front panel seam", "back panel seam"), 10.0, -5.0, 0.0),
    ],
)
def test_pieces_of_one_opening_still_meet_at_the_seams_between_them(
    garment: str,
    edges: tuple[str, ...],
    seams: tuple[str, ...],
    lower: float,
    shoulder: float,
    at_seam: float,
) -> None:
    """Both sides of a seam that ends in the opening change alike, or one would be the longer.

    They stay but where the whole line moves: by what both ends of it do at least.
    """
    p = GARMENTS[garment]()
    params = ShapeOpening(edges=edges, lower=lower, shoulder=shoulder)
    after = CHANGE.apply(p, params).pattern
    for name in seams:
        seam = p.seam(name)
        grown = [side(after, s).length - side(p, s).length for s in (seam.a, seam.b)]
        assert grown == pytest.approx([at_seam, at_seam], abs=0.5)
    corners = [t for t in told_anew(p, after, garment) if "instead of a fair" in t]
    assert corners == []


def test_a_neck_that_runs_through_front_sleeve_and_back() -> None:
    """A raglan's neck, lowered alike all round: the raglan seams and the dart on top still fit.

    One parallel line through all pieces of the run; what is left to do is the binding's length.
    """
    before = GARMENTS["raglan"]()
    params = ShapeOpening(
        edges=("front.neck", "back.neck", "sleeve.neck"), lower=10.0, shoulder=10.0
    )
    after = CHANGE.apply(before, params).pattern
    told = told_anew(before, after, "raglan")
    assert [t for t in told if "neck binding" not in t] == []


def test_what_a_neck_gains_is_told_of_the_garment_and_of_its_facing_each() -> None:
    """A facing lies under the neck: a neck and its facing are never added to one length."""
    blouse = GARMENTS["princess"]()
    names = [f"{p.name}.neck" for p in blouse.pieces if any(e.name == "neck" for e in p.edges)]
    said = say(apply(blouse, ShapeOpening(edges=tuple(names), lower=5.0)).said, Unit.cm)
    assert ", those of the facing " in said, said


def test_a_waist_is_not_lowered_as_a_neck_is() -> None:
    """It has no shoulder end: that is what is said, and what to do instead."""
    edges = ("front.waist", "back.waist")
    with pytest.raises(CannotDo, match=r"has no shoulder.* a panel cut off along the waist"):
        shaped(GARMENTS["trousers"](), edges, lower=20.0)


def test_a_waist_in_two_edges_is_a_waist_still() -> None:
    """Beside a slant pocket the waist goes on on another edge, which is no shoulder either."""
    trousers = GARMENTS["trousers"]()
    front = trousers.piece("front")
    at = front.index("waist")
    waist = front.edges[at]
    first, second = (replace(waist, path=q, notches=()) for q in waist.path.split_at(40.0))
    halves = (replace(first, name="waist out"), replace(second, corner=""))
    edges = (*front.edges[:at], *halves, *front.edges[at + 1 :])
    split = trousers.with_piece(replace(front, edges=edges, darts=()))
    with pytest.raises(CannotDo, match="has no shoulder"):
        shaped(replace(split, seams=()), ("front.waist", "back.waist"), lower=20.0)


def test_a_neck_over_a_yoke_runs_fair_still_where_it_is_lowered() -> None:
    """Front and yoke end lower each by itself: over their seam the neck bends as before at most."""
    p = GARMENTS["shirt"]()
    outcome = apply(p, ShapeOpening(edges=("front.neck", "yoke.neck"), lower=10.0))
    assert "corner-not-fair" not in {f.code for f in run_checks(outcome.pattern)}
    plain = [net_length(outcome.pattern.piece(n), "neck") for n in ("front", "yoke")]
    assert sum(plain) > sum(net_length(p.piece(n), "neck") for n in ("front", "yoke"))
    assert "runs fair over the seam" in say(outcome.said, Unit.cm)
