"""Walking a seam: which marks meet, and how long each stretch is."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.checks.specimens import outfit, seam

from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Notch, NotchKind, Piece
from clothwright.pattern.walk import Span, ease_span, walk_seam

S, D = NotchKind.SINGLE, NotchKind.DOUBLE


def strip(name: str, length: float, *notches: Notch) -> Piece:
    """A rectangle whose lower edge carries the notches."""
    return Piece(
        name=name,
        edges=(
            Edge(name="low", path=polyline(((0, 0), (length, 0))), notches=notches),
            Edge(name="rest", path=polyline(((length, 0), (length, 50), (0, 50), (0, 0)))),
        ),
    )


def walked(a: Piece, b: Piece, **more: object):  # type: ignore[no-untyped-def]
    joined = seam("s", "a.low", "b.low", **more)
    return walk_seam(Pattern(pieces=(a, b), seams=(joined,)), joined)


def met(a: tuple[Notch, ...], b: tuple[Notch, ...]) -> list[tuple[float, float]]:
    walk = walked(strip("a", 400.0, *a), strip("b", 400.0, *b))
    return [(p.a.at, p.b.at) for p in walk.pairs]


def test_notches_of_one_name_meet_wherever_they_are() -> None:
    """A name decides before kind and place."""
    a = (Notch(at=100, name="x"), Notch(at=300, name="y"))
    b = (Notch(at=290, name="x", kind=D), Notch(at=310, name="y"))
    assert met(a, b) == [(100, 290), (300, 310)]


def test_notches_of_different_names_do_not_meet() -> None:
    """Two names, two notches, even at the same place."""
    assert met((Notch(at=100, name="x"),), (Notch(at=100, name="y"),)) == []


def test_nameless_notches_meet_by_kind_and_order() -> None:
    """Double meets double although a single one lies nearer."""
    a = (Notch(at=100, kind=D), Notch(at=200))
    b = (Notch(at=90), Notch(at=120, kind=D), Notch(at=190))
    assert met(a, b) == [(100, 120), (200, 190)]


def test_the_nearer_of_two_equal_notches_is_the_partner() -> None:
    """One notch against two of its kind: the other one stays alone."""
    walk = walked(strip("a", 400.0, Notch(at=300)), strip("b", 400.0, Notch(at=100), Notch(at=290)))
    assert [(p.a.at, p.b.at) for p in walk.pairs] == [(300, 290)]
    assert [s.at for s in walk.alone_b] == [100]


def test_a_joint_meets_a_nameless_notch_near_it() -> None:
    """The shoulder in an armhole meets the top notch of a cap, though nobody named it."""
    clean = outfit()
    cap = clean.piece("sleeve").edge("cap")
    bare = replace(cap, notches=tuple(replace(n, name="") for n in cap.notches))
    pattern = clean.with_piece(clean.piece("sleeve").with_edge(bare))
    walk = walk_seam(pattern, pattern.seam("armhole"))
    kinds = [(p.a.kind, p.b.kind) for p in walk.pairs]
    assert kinds == [(S, S), (None, S), (D, D)]
    assert walk.alone_a == walk.alone_b == ()


def test_a_far_joint_is_no_partner() -> None:
    """A panel joint does not catch a nameless notch more than a tenth of the seam away."""
    two = Pattern(
        pieces=(strip("a", 200.0), strip("c", 200.0), strip("b", 400.0, Notch(at=100))),
        seams=(seam("s", "a.low, c.low", "b.low"),),
    )
    walk = walk_seam(two, two.seams[0])
    assert walk.pairs == ()
    assert [s.at for s in walk.alone_b] == [100]


@pytest.mark.parametrize(("apart", "meets"), [(8.0, True), (27.0, False)])
def test_joints_that_lie_apart_are_no_partners(apart: float, meets: bool) -> None:
    """A yoke's line 27 mm above a pocket's end is another place, on a seam a metre long.

    Both sides are 1000 mm long and agree: nothing there has to meet. A side seam that runs on
    below a waist, 8 mm off, is told.
    """
    names = ("a", "c", "b", "d")
    lengths = (874.0, 126.0, 874.0 + apart, 126.0 - apart)
    pieces = tuple(strip(n, length) for n, length in zip(names, lengths, strict=True))
    pocket = replace(pieces[1].edges[0], corner="pocket end")
    pieces = (pieces[0], pieces[1].with_edge(pocket), *pieces[2:])
    sewn = seam("s", "a.low, c.low", "b.low, d.low")
    walk = walk_seam(Pattern(pieces=pieces, seams=(sewn,)), sewn)
    assert bool(walk.pairs) is meets
    assert any(abs(s.off) > 1.5 for s in walk.sections) is meets


def test_sections_run_from_notch_to_notch_with_darts_folded_out() -> None:
    """The front side is 220 long without its dart: 90 below the waist notch, 130 above."""
    pattern = outfit()
    walk = walk_seam(pattern, pattern.seam("side"))
    assert [(s.start, s.end) for s in walk.sections] == [
        ('"side hem"', 'notch "waist"'),
        ('notch "waist"', '"underarm"'),
    ]
    assert [s.a for s in walk.sections] == pytest.approx([90, 130])
    assert [s.b for s in walk.sections] == pytest.approx([90, 130])
    assert pattern.piece("front").edge("side").length > 240


def test_ease_belongs_between_its_notches_only() -> None:
    """Outside ease_from and ease_to the sides must be equal; the stretch between takes it all."""
    a = strip("a", 300.0, Notch(at=100, name="p"), Notch(at=200, name="q"))
    b = strip("b", 310.0, Notch(at=100, name="p"), Notch(at=210, name="q"))
    walk = walked(a, b, ease=10.0, ease_from="p", ease_to="q")
    assert [s.meant for s in walk.sections] == [Span(0, 0), Span(10, 10), Span(0, 0)]
    assert [s.off for s in walk.sections] == [0, 0, 0]
    assert walk.off == 0


def test_ease_up_to_eased_max_is_accepted() -> None:
    """Meant 6 to 10: 5 is one too short, 8 is right, 12 is two too long."""
    span = ease_span(seam("s", "a.low", "b.low", ease=6.0, eased_max=10.0))
    assert [span.outside(d) for d in (5.0, 6.0, 8.0, 10.0, 12.0)] == [-1, 0, 0, 0, 2]


def test_a_side_meant_to_be_shorter() -> None:
    """Negative ease: side b is meant to be the shorter one."""
    span = ease_span(seam("s", "a.low", "b.low", ease=-6.0))
    assert [span.outside(d) for d in (-6.0, -4.0, -9.0)] == [0, 2, -3]


def test_a_run_over_two_pieces_is_one_side() -> None:
    """Both skirt waists together are as long as the band, and meet its notch at the side."""
    pattern = outfit()
    walk = walk_seam(pattern, pattern.seam("waist"))
    assert walk.a.length == pytest.approx(walk.b.length)
    assert [p.a.kind for p in walk.pairs] == [None]
    assert Vec(walk.pairs[0].a.at, 0).is_near((walk.pairs[0].b.at, 0), 1e-9)
