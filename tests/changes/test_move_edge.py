"""Moving an edge or a corner along a direction."""

from __future__ import annotations

import pytest

from clothwright.changes.move_edge import MoveEdge, apply
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_legs, net_length
from clothwright.pattern.piece import signed_area
from clothwright.units import Unit
from clothwright.words import say
from tests.garments.wardrobe import GARMENTS
from tests.specimens import INCH, bodice, skirt


def test_a_straight_side_moves_out_parallel() -> None:
    """1/2 in let out: every place of the new side lies 1/2 in square from the old line."""
    old = bodice().piece("back")
    new = apply(bodice(), MoveEdge(edge="back.side", by=INCH / 2)).pattern.piece("back")
    axis = (old.edge("side").path.end - old.edge("side").path.start).unit
    for at in (0.0, 100.0, 230.0):
        off = axis.cross(new.edge("side").path.point_at(at) - old.edge("side").path.start)
        assert off == pytest.approx(-INCH / 2, abs=1e-6)
    hem = new.edge("hem").path
    assert hem.is_straight
    assert hem.start.y == pytest.approx(0.0, abs=1e-9)


def test_width_added_is_shared_over_the_edges() -> None:
    """2 in more over two side seams is 1/2 in on each of four edges: the hem grows by 4 × 1/2 in.

    (Extension leaflet: divide by the number of seam edges.) Measured square to a straight side.
    """
    pattern = bodice()
    for name in ("front.side", "back.side"):
        pattern = apply(pattern, MoveEdge(edge=name, by=INCH / 2, direction="across")).pattern
    grown = [
        2 * (pattern.piece(n).edge("hem").length - bodice().piece(n).edge("hem").length)
        for n in ("front", "back")
    ]
    assert sum(grown) == pytest.approx(2 * INCH, abs=1e-6)


def test_a_moved_fold_adds_its_strip() -> None:
    """Moving the fold out adds a strip along it: area grows by amount × its mean length."""
    old = skirt().piece("skirt front")
    how = MoveEdge(edge="skirt front.fold", by=10.0)
    new = apply(skirt(), how).pattern.piece("skirt front")
    grown = signed_area(new) - signed_area(old)
    lengths = [p.edge("fold").length for p in (old, new)]
    assert grown == pytest.approx(10.0 * sum(lengths) / 2, abs=0.5)
    assert new.fold is not None
    assert new.fold.path.is_straight


def test_a_dart_of_the_moved_edge_goes_with_it() -> None:
    """The dart keeps its legs and angle; its point moves by the same displacement."""
    old = bodice().piece("front")
    new = apply(bodice(), MoveEdge(edge="front.side", by=9.0)).pattern.piece("front")
    assert dart_legs(new, new.dart("bust")) == pytest.approx(
        dart_legs(old, old.dart("bust")), abs=1e-6
    )
    moved = new.dart("bust").point.distance(old.dart("bust").point)
    assert moved == pytest.approx(9.0, abs=1e-9)


def test_a_corner_takes_both_edges_along() -> None:
    """Dropping the underarm 1 cm: it is exactly there, the others stay, straight stays straight."""
    old = bodice().piece("back")
    how = MoveEdge(corner="back.underarm", by=10.0, direction="down")
    new = apply(bodice(), how).pattern.piece("back")
    assert new.point("underarm").is_near(old.point("underarm") + Vec(0, -10), 1e-9)
    assert new.point("shoulder tip") == old.point("shoulder tip")
    assert new.edge("side").path.is_straight
    assert new.edge("side").notches[0].at == pytest.approx(
        old.edge("side").notches[0].at - old.edge("side").length + new.edge("side").length
    )


def test_a_notch_keeps_its_distance_from_the_nearer_end() -> None:
    """The waist notch, 60 mm from the hem, stays 60 mm from it when the side grows."""
    how = MoveEdge(corner="front.hem side", by=20.0, direction="down")
    new = apply(bodice(), how).pattern.piece("front")
    assert new.edge("side").notches[0].at == pytest.approx(60.0, abs=1e-9)


@pytest.mark.parametrize(
    ("direction", "expected"),
    [
        ("up", Vec(0, 5)),
        ("down", Vec(0, -5)),
        ("across", Vec(-5, 0)),
    ],
)
def test_directions_along_and_across_the_grain(direction: str, expected: Vec) -> None:
    """Up and down run along the grain arrow, across away from the piece."""
    how = MoveEdge(corner="back.hem side", by=5.0, direction=direction)
    new = apply(bodice(), how).pattern.piece("back")
    by = new.point("hem side") - bodice().piece("back").point("hem side")
    assert by.is_near(expected, 1e-9)


def test_out_and_in_are_opposite() -> None:
    """By 5 mm in is by -5 mm out."""
    first = apply(bodice(), MoveEdge(edge="back.side", by=5.0, direction="in")).pattern
    second = apply(bodice(), MoveEdge(edge="back.side", by=-5.0)).pattern
    assert (
        first.piece("back").point("underarm").is_near(second.piece("back").point("underarm"), 1e-9)
    )


def test_a_corner_may_slide_along_the_fold_but_not_off_it() -> None:
    """The neck at centre front can be lowered; it cannot leave the fold."""
    lower = MoveEdge(corner="front.neck centre", by=12.0, direction="down")
    new = apply(bodice(), lower).pattern.piece("front")
    assert new.point("neck centre").is_near((0.0, 368.0), 1e-9)
    with pytest.raises(CannotDo, match="fold"):
        apply(bodice(), MoveEdge(corner="front.neck centre", by=12.0, direction="across"))


def test_an_outline_that_would_cross_itself_is_refused() -> None:
    """Moving a hem up past the underarm is refused."""
    with pytest.raises(CannotDo):
        apply(bodice(), MoveEdge(edge="back.hem", by=300.0, direction="up"))


def test_one_thing_at_a_time() -> None:
    """Naming both an edge and a corner, or neither, is a mistake."""
    with pytest.raises(BadInput, match="neither"):
        apply(bodice(), MoveEdge(by=3.0))
    with pytest.raises(BadInput, match="one edge"):
        apply(bodice(), MoveEdge(by=3.0, edge="front.side", corner="front.underarm"))


def test_the_sentence() -> None:
    """The record names the place, the amount and the direction."""
    said = apply(bodice(), MoveEdge(edge="back.side", by=INCH / 2, direction="across")).said
    assert say(said, Unit.inch) == "Moved back, side 1/2 in across the grain."


def test_a_move_without_meaning_is_refused() -> None:
    """A hem faces along the grain: it has no "across"; a slide along itself does nothing."""
    with pytest.raises(CannotDo, match="no side"):
        apply(bodice(), MoveEdge(edge="back.hem", by=10.0, direction="across"))
    with pytest.raises(CannotDo, match="slide"):
        apply(skirt(), MoveEdge(edge="skirt back.fold", by=10.0, direction="up"))


def test_what_is_sewn_to_a_moved_corner_is_told_to_follow() -> None:
    """The fork let out makes the back's inseam longer: the front's has to grow as much."""
    p = GARMENTS["trousers"]()
    done = apply(p, MoveEdge(corner="back.fork", by=10.0))
    now, then = (net_length(q.piece("back"), "inseam") for q in (done.pattern, p))
    said = say(done.said, Unit.cm)
    assert f"make front, inseam {round((now - then) / 10, 1)} cm longer" in said
