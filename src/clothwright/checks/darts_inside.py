"""Do darts keep clear of each other, and of the bust point?"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each, length_band
from clothwright.geometry.intersect import meet
from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece
from clothwright.words import counted, listed

ID = "darts-inside"

BUST_POINT = "bust point"
"""What the mark of the fullest place is called."""

SHORT_MM = 12.7
"""mm: 1/2 in, how far short of the bust point a dart stops at least (agricultural university's
course, trade facts; others say up to 2 in for a dart from shoulder or neck)."""

AIMS_MM = 25.4
"""mm: a dart whose middle line passes within 1 in of the bust point is meant for it."""

CLEAR_MM = 10.0
"""mm of cloth that the suggested mend leaves between two darts; our own figure."""

LEAST_MM = 5.0
"""mm: a dart shorter than this cannot be sewn."""

_TOUCH_MM = 1.0


class Wedge(NamedTuple):
    """A dart as it lies on its piece: leg ends, point, and the middle of its mouth."""

    dart: Dart
    a: Vec
    b: Vec

    @property
    def mouth(self) -> Vec:
        """The middle between its leg ends."""
        return (self.a + self.b) * 0.5

    @property
    def depth(self) -> float:
        """How long it is along its middle, mm."""
        return self.mouth.distance(self.dart.point)


def darts_inside(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look at every two darts of a piece, and at every dart that points to a marked bust point."""
    yield from each(
        ID, pattern.pieces, lambda p: Where(piece=p.name), lambda p: _piece(p, settings)
    )


def _piece(piece: Piece, settings: CheckSettings) -> Iterator[Finding]:
    wedges = [_wedge(piece, dart) for dart in piece.darts]
    for first, second in combinations(wedges, 2):
        yield from _cross(piece, first, second)
    for mark in piece.marks:
        if mark.at is not None and mark.name.lower() == BUST_POINT:
            for wedge in wedges:
                yield from _too_near(piece, wedge, mark.at, settings)


def _wedge(piece: Piece, dart: Dart) -> Wedge:
    path = piece.edge(dart.edge).path
    return Wedge(dart, path.point_at(dart.a), path.point_at(dart.b))


def _cross(piece: Piece, first: Wedge, second: Wedge) -> Iterator[Finding]:
    one, two = first.dart, second.dart
    if one.edge == two.edge and min(one.b, two.b) > max(one.a, two.a):
        return  # they share a part of the edge, which is told as that
    if not any(_legs_cross(first, second)) and not (_holds(first, two) or _holds(second, one)):
        return
    shorter = min((_clear_of(first, second), _clear_of(second, first)), key=lambda w: w[1])
    yield Finding(
        code="darts-cross",
        severity=Severity.FAULT,
        where=Where(piece=piece.name, edge=one.edge, point=f"{one.name} point"),
        words=(
            f'Darts "{one.name}" and "{two.name}" of {piece.name} cross inside the piece: the same '
            "cloth cannot be folded into both. Make one of them shorter, or join them in one.",
        ),
        mend=_shorten(piece, *shorter) if shorter[0].depth - shorter[1] >= LEAST_MM else None,
    )


def _shorten(piece: Piece, wedge: Wedge, by: float) -> Mend:
    dart = f"{piece.name}.{wedge.dart.name}"
    return Mend(change="shorten-dart", params={"dart": dart, "by": round(by, 2)})


def _legs_cross(first: Wedge, second: Wedge) -> Iterator[Vec]:
    """Yield where the legs of two darts cross, their ends left out."""
    for p in (first.a, first.b):
        for q in (second.a, second.b):
            u, v = first.dart.point - p, second.dart.point - q
            at = meet(p, u.unit, q, v.unit)
            if at is not None and _within(at, p, u) and _within(at, q, v):
                yield at


def _within(at: Vec, start: Vec, leg: Vec) -> bool:
    along = (at - start).dot(leg.unit)
    return _TOUCH_MM < along < leg.norm - _TOUCH_MM


def _holds(wedge: Wedge, other: Dart) -> bool:
    """Tell whether the other dart's point lies within this one, not just on its rim."""
    p, a, b = wedge.dart.point, wedge.a, wedge.b
    sides = [(q - o).unit.cross(other.point - o) for o, q in ((p, a), (a, b), (b, p))]
    return min(sides) > _TOUCH_MM or max(sides) < -_TOUCH_MM


def _clear_of(wedge: Wedge, other: Wedge) -> tuple[Wedge, float]:
    """Return by how many mm a dart would have to be shorter to end before the other one."""
    way = (wedge.dart.point - wedge.mouth).unit
    points = [*_legs_cross(wedge, other)]
    if _holds(wedge, other.dart):
        points.append(other.dart.point)
    met = [way.dot(wedge.dart.point - p) for p in points]
    return wedge, max(met, default=wedge.depth) + CLEAR_MM


def _too_near(piece: Piece, wedge: Wedge, bust: Vec, settings: CheckSettings) -> Iterator[Finding]:
    dart = wedge.dart
    way = (dart.point - wedge.mouth).unit
    left = way.dot(bust - dart.point)
    if abs(way.cross(bust - wedge.mouth)) > AIMS_MM or way.dot(bust - wedge.mouth) <= 0:
        return
    if length_band(min(0.0, left - SHORT_MM), settings) is None:
        return
    beyond = left < -settings.notice
    at = ("runs ", -left, " beyond") if beyond else ("ends ", max(0.0, left), " from")
    yield Finding(
        code="dart-near-bust-point",
        severity=Severity.FAULT if beyond else Severity.NOTICE,
        where=Where(piece=piece.name, edge=dart.edge, point=f"{dart.name} point"),
        measured=left,
        expected=SHORT_MM,
        unit="mm",
        words=(
            f'Dart "{dart.name}" of {piece.name} ', *at, " the bust point; sewn up to it a dart "
            "makes a peak there. It stops at least ", SHORT_MM, " short.",
        ),
        mend=_shorten(piece, wedge, SHORT_MM - left)
        if wedge.depth - (SHORT_MM - left) >= LEAST_MM
        else None,
    )  # fmt: skip


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the darts of pieces with several, or a bust point; name pieces that should have one."""
    del settings
    marked = [p for p in pattern.pieces if len(p.darts) > 1 or (p.darts and has_bust_point(p))]
    count = sum(len(p.darts) for p in marked)
    bare = [
        p.name
        for p in pattern.pieces
        if any("bust" in d.name.lower() for d in p.darts) and not has_bust_point(p)
    ]
    never = "How near the bust dart comes to the bust point, which is not marked on"
    return LookedAt(
        count,
        counted(
            count, "dart beside another or a bust point", "darts beside others or a bust point"
        ),
        (f"{never} {listed(bare)}.",) if bare else (),
    )


def has_bust_point(piece: Piece) -> bool:
    """Tell whether the bust point is marked on a piece."""
    return any(m.at is not None and m.name.lower() == BUST_POINT for m in piece.marks)


CHECK = Check(
    id=ID,
    title="Do darts keep clear of each other and of the bust point?",
    why="Where two darts cross, the same cloth would have to be folded twice; a dart sewn right up "
    "to the fullest place makes a peak there.",
    source="A dart stops 1/2 in short of the bust point (agricultural university's course, "
    "docs/sources.md, darts); for other darts people say more, up to 2 in.",
    codes=("darts-cross", "dart-near-bust-point", f"{ID}-skipped"),
    run=darts_inside,
    looked=looked,
)
