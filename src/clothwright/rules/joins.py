"""Two places of two pieces that come to lie on each other, on both sides of the body."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.geometry.vec import Vec
from clothwright.lay.copies import Half, joined_halves, points_of
from clothwright.lay.problem import Point
from clothwright.pattern.opposite import SewnPlace
from clothwright.pattern.whole import TWIN
from clothwright.rules.table import Both, CuttingTable, Landmark, Lying


@dataclass(frozen=True, slots=True, kw_only=True)
class SewnTogether:
    """The copies of two pieces that meet on one side of the body, and their points.

    at: where those are, mm in the frames of the shapes. tag: names the two for the rules on shapes.
    """

    a: Lying
    b: Lying
    both: Both
    at: tuple[Point, Point]
    tag: str


def joined_at(
    at: CuttingTable, piece_a: str, point_a: str, piece_b: str, point_b: str
) -> Iterator[SewnTogether]:
    """Yield where two named points meet; of one piece, its two copies. Raises WrongRule."""
    at.of(piece_a, "piece_a"), at.of(piece_b, "piece_b")
    for a, b in _halves(at, piece_a, piece_b):
        one, other = at.lying[a.shape], at.lying[b.shape]
        both = Both(
            shape_a=a.shape,
            point_a=at.point(one, point_a + (TWIN if a.twin else ""), "point_a"),
            shape_b=b.shape,
            point_b=at.point(other, point_b + (TWIN if b.twin else ""), "point_b"),
        )
        at_both = points_of(one.copy)[both["point_a"]], points_of(other.copy)[both["point_b"]]
        yield SewnTogether(a=one, b=other, both=both, at=at_both, tag=f"{_tag(a)} / {_tag(b)}")


def joined_on(
    at: CuttingTable, a: SewnPlace, b: SewnPlace, name: str
) -> Iterator[tuple[SewnTogether, tuple[Landmark, Landmark]]]:
    """Yield where two places without names meet, and the landmarks (`name`) they become.

    Raises WrongRule where a piece is cut from no cloth.
    """
    at.of(a.piece, "piece"), at.of(b.piece, "piece")
    for half_a, half_b in _halves(at, a.piece, b.piece):
        one, other = at.lying[half_a.shape], at.lying[half_b.shape]
        marks = (_mark(half_a, one, a.point, name), _mark(half_b, other, b.point, name))
        both = Both(shape_a=one.id, point_a=marks[0].name, shape_b=other.id, point_b=marks[1].name)
        at_both, tag = (marks[0].at, marks[1].at), f"{_tag(half_a)} / {_tag(half_b)}"
        yield SewnTogether(a=one, b=other, both=both, at=at_both, tag=tag), marks


def _halves(at: CuttingTable, piece_a: str, piece_b: str) -> list[tuple[Half, Half]]:
    if piece_a != piece_b:
        return joined_halves(at.pattern, at.copies, piece_a, piece_b)
    pair = at.of(piece_a)[:2]
    return [(Half(pair[0].id, False), Half(pair[1].id, False))] if len(pair) == 2 else []


def _mark(half: Half, lying: Lying, place: Vec, name: str) -> Landmark:
    p = lying.copy.frame_point(place, twin=half.twin)
    return Landmark(shape=half.shape, name=name + (TWIN if half.twin else ""), at=(p.x, p.y))


def _tag(half: Half) -> str:
    return half.shape + (TWIN if half.twin else "")
