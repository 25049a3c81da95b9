"""Pieces laid flat beside each other: a copy in a view, a view, a garment, and moving them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.geometry.area import polygon_area
from clothwright.geometry.transform import Transform, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.lay.copies import Copy
from clothwright.lay.problem import Ring
from clothwright.lay.result import Placement
from clothwright.lay.sewn import placement_move
from clothwright.pattern.whole import unfolded

SAGITTA_MM = 0.2
"""mm: how far the drawn outline may stray from the stitching line."""
GAP_MM = 14.0
"""mm left between pieces that no seam joins in a view."""
FRONT, BACK, BESIDE = "front", "back", "beside"
UPRIGHT = rotation_deg(90.0)

Joined = tuple[str, Vec, str, Vec]
"""A place of one copy sewn to a place of another, each in its own copy's frame."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One copy, or a section of it, in a view.

    ring: the stitching line with darts cut out, right side up, its top towards +x (the frame of
    a placement before it is turned and moved). move: from there to the view (mm, y up the body).
    off: what is left of the fit to its seams (RMS, mm); 0 for the piece a view begins with.
    """

    shape: str
    ring: Ring
    move: Transform
    off: float = 0.0

    @property
    def outline(self) -> Ring:
        """The ring as it lies in the view."""
        return tuple(_pair(self.move.apply(p)) for p in self.ring)


class SewnOn(NamedTuple):
    """A copy sewn flat on another. under: that shape; move: from its own frame to that one's."""

    copy: Copy
    under: str
    move: Transform


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One side of a garment. name: "front", "back", or "beside" for pieces laid beside it."""

    name: str
    parts: tuple[Part, ...]

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least x, least y, largest x, largest y of its outlines, mm."""
        points = [p for part in self.parts for p in part.outline]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True, slots=True, kw_only=True)
class Garment:
    """A garment put together flat. notes: what could not be known, in sentences."""

    name: str
    views: tuple[View, ...]
    notes: tuple[str, ...] = ()


def resting(copy: Copy) -> Placement:
    """Return a copy right side up in its own frame, neither turned nor moved."""
    return Placement(
        shape=copy.id, region="", turn_deg=0.0, flipped=copy.turned_over, x=0.0, y=0.0, outline=()
    )


def ring_of(copy: Copy) -> Ring:
    """Return the stitching line of a copy in its frame, right side up, with its darts cut out."""
    piece = unfolded(copy.piece)
    move = placement_move(copy, resting(copy))
    points: list[tuple[float, float]] = []
    for edge in piece.edges:
        at = 0.0
        for dart in piece.darts_on(edge.name):
            if dart.a > at + 1e-6:
                points += edge.path.between(at, dart.a).flatten(SAGITTA_MM)
            points.append(dart.point)
            at = dart.b
        if edge.length > at + 1e-6:
            points += edge.path.between(at, edge.length).flatten(SAGITTA_MM)
    ring: list[tuple[float, float]] = []
    for p in points:
        q = _pair(move.apply(p))
        if not ring or Vec(*q).distance(ring[-1]) > 0.01:
            ring.append(q)
    if Vec(*ring[0]).distance(ring[-1]) <= 0.01:
        ring.pop()
    return tuple(reversed(ring)) if move.mirrors else tuple(ring)


def lying_on(parts: Iterable[Part], patches: Sequence[SewnOn]) -> Iterator[Part]:
    """Yield some parts of a view, each with what is sewn flat on it."""
    for part in parts:
        yield part
        for on in patches:
            if on.under == part.shape:
                yield Part(shape=on.copy.id, ring=ring_of(on.copy), move=on.move.then(part.move))


def section_of(ring: Ring, along: Vec, low: float, high: float) -> Ring:
    """Return the part of a ring between two lines square to a direction, mm along it."""
    turn = rotation_deg(-along.angle_deg)
    laid = tuple(_pair(turn.apply(p)) for p in ring)
    back = turn.inverse()
    return tuple(_pair(back.apply(p)) for p in within(laid, 0, low, high))


def within(ring: Ring, axis: int, low: float, high: float) -> Ring:
    """Return the part of a ring between two lines across an axis (0 = x, 1 = y), as one ring, mm.

    Parts that hang apart stay joined along the line; for a fill that is no difference.

    >>> within(((0, 0), (2, 0), (2, 2), (0, 2)), 1, 0.5, 1.0)
    ((2.0, 0.5), (2.0, 1.0), (0.0, 1.0), (0.0, 0.5))
    """
    return _half(_half(ring, axis, low, above=True), axis, high, above=False)


def _half(ring: Ring, axis: int, line: float, *, above: bool) -> Ring:
    out: list[tuple[float, float]] = []
    sign = 1.0 if above else -1.0
    for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True):
        da, db = sign * (a[axis] - line), sign * (b[axis] - line)
        if da >= 0:
            out.append((float(a[0]), float(a[1])))
        if (da > 0 > db) or (da < 0 < db):
            p = Vec(*a) + (Vec(*b) - Vec(*a)) * (da / (da - db))
            out.append((p.x, p.y))
    return tuple(out)


def shifted(parts: Iterable[Part], by: Vec) -> list[Part]:
    """Return parts moved by so many mm, to the right and up the body."""
    return [replace(p, move=p.move.then(translation(by))) for p in parts]


def reach_of(parts: Sequence[Part], hand: int) -> float:
    """Return how far parts reach to the right (1) or left (-1) of the middle, mm."""
    if not parts:
        return 0.0
    x0, _, x1, _ = View(name="", parts=tuple(parts)).box
    return max(0.0, x1 if hand > 0 else -x0)


def beyond(parts: Sequence[Part], hand: int, reach: float) -> list[Part]:
    """Shift parts to the right (hand 1) or left (-1), beyond a reach (mm) from the middle."""
    x0, _, x1, _ = View(name="", parts=tuple(parts)).box
    near = reach + GAP_MM / 2
    return shifted(parts, Vec(near - x0 if hand > 0 else -near - x1, 0.0))


def area_of(ring: Ring) -> float:
    """Return the area inside a ring, square mm."""
    return abs(polygon_area(ring))


def _pair(p: Vec) -> tuple[float, float]:
    return (p.x, p.y)
