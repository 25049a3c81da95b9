"""Full or thin upper arm: a sleeve wider or narrower at the biceps, its seams as long as before.

It is cut down its middle from the top of the cap to the hem, and across from underarm to underarm;
the quarters swing about those four places. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes import own_corners
from clothwright.changes.change import Change, Outcome
from clothwright.changes.hinge import (
    Swung,
    apart,
    first_met,
    refuse_through_darts,
    swing,
    swung_apart,
    turned_to_gain,
)
from clothwright.changes.partners import partners
from clothwright.changes.slash import Opening
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import polyline
from clothwright.geometry.rigid import rigid_fit
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.level_spots import with_levels_kept
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Level, Piece
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence

MOST_MM = 50.0
"""mm: beyond it another size, or a sleeve of two pieces, is better (common practice)."""
NEAR_MM = 10.0
"""mm: a marked line so near the underarm corners is the biceps line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FullUpperArm:
    """Parameters of `full-upper-arm`; lengths in mm."""

    piece: str = param("piece", "a sleeve in one piece", label="Which sleeve")
    by: float = param(
        "length",
        "across the whole upper arm; a minus makes it narrower, for a thin arm",
        label="How much wider",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Quarters:
    """A sleeve and its four hinges: where they are on it, and the underarms and the hem now.

    top, hem: where the cut down the middle begins and ends. Sides in the order of the cap.
    """

    piece: Piece
    cap: Edge
    at: float
    hem: Opening
    sides: tuple[Vec, Vec]
    sides_now: tuple[Vec, Vec]
    hem_now: Vec

    @property
    def top(self) -> Vec:
        return self.cap.path.point_at(self.at)

    @property
    def low(self) -> Vec:
        return self.piece.edge(self.hem.edge).path.point_at(self.hem.a)

    @property
    def heights(self) -> tuple[float, float]:
        """The cap's height above both underarms, as it was and as it is."""
        up = self.piece.up
        was, now = (up.dot(self.top - a.lerp(b, 0.5)) for a, b in (self.sides, self.sides_now))
        return was, now

    @property
    def middle(self) -> Vec:
        """Where both cuts meet."""
        share = self.heights[0] / self.piece.up.dot(self.top - self.low)
        return self.top.lerp(self.low, share)


def apply(pattern: Pattern, params: FullUpperArm) -> Outcome:
    """Swing the quarters of a sleeve until it is `by` mm wider between the underarms.

    The top of the cap stays. Cap, underarm seams and hem keep their lengths; the cap becomes lower
    and the sleeve shorter down its middle. Raises CannotDo. Source: plane geometry
    (docs/changes/full-upper-arm.md).
    """
    piece = pattern.piece(params.piece)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {piece.name} as wide at the upper arm.",))
    sleeve = _quarters(piece, _cap(pattern, piece), params.by)
    for end in (sleeve.top, sleeve.low, *sleeve.sides):
        refuse_through_darts(piece, polyline((sleeve.middle, end)), _what(piece, params.by))
    after = _swung(sleeve)
    changed, trued = own_corners.trued(pattern, pattern.with_piece(after))
    said = (*_said(sleeve, params.by), *trued, *partners(pattern, changed))
    return Outcome(pattern=changed, said=said)


def _what(piece: Piece, by: float) -> Sentence:
    way = " wider" if by > 0 else " narrower"
    return (f'"{piece.name}" cannot be made ', abs(by), f"{way} at the upper arm")


def _cap(pattern: Pattern, piece: Piece) -> Edge:
    """Return what is sewn into the armhole, else what is called cap. Raises CannotDo."""
    sewn = [r.edge for s in pattern.seams if s.kind == "cap" for r in s.b if r.piece == piece.name]
    names = dict.fromkeys(sewn or [e.name for e in piece.edges if "cap" in e.name.lower()])
    if len(names) != 1:
        raise CannotDo(
            what=f'"{piece.name}" cannot be changed at the upper arm',
            why="it has more than one cap edge" if names else "which edge is its cap is not known",
            nearest="a sleeve in one piece, its cap sewn to the armhole or called cap; one that "
            "goes up to the neck is let out at both its seams, at the biceps line",
        )
    return piece.edge(next(iter(names)))


def _quarters(piece: Piece, cap: Edge, by: float) -> _Quarters:
    """Find where the sleeve is cut and where its hinges go. Raises CannotDo."""
    up, path = piece.up, cap.path
    named = [n.at for n in cap.notches if "shoulder" in n.name.lower()]
    ats = [path.length * k / 200 for k in range(1, 200)]
    at = named[0] if named else max(ats, key=lambda x: up.dot(path.point_at(x)))
    top, sides = path.point_at(at), path.ends
    hem, _ = first_met(piece, top - up * 2.0, -up)
    foot = hem.length / 2
    low = hem.path.point_at(foot)
    across = (sides[1] - sides[0]).unit
    across = up.perp if across.dot(up.perp) > 0 else -up.perp
    arms = [
        turned_to_gain(side - top, by / 2, way)
        for side, way in zip(sides, (-across, across), strict=True)
    ]
    first, second = arms
    if first is None or second is None or up.dot(first) > -1.0 or up.dot(second) > -1.0:
        most = min(2 * ((s - top).norm - abs(across.dot(s - top))) for s in sides)
        raise CannotDo(
            what=_what(piece, by),
            why="nothing would be left of the cap's height",
            nearest=("less than ", AtMost(0.9 * most), ", or a deeper armhole and a new cap"),
        )
    now = top + first, top + second
    found = apart(now, (low.distance(sides[0]), low.distance(sides[1])), now[0] - up)
    if found is None:
        raise CannotDo(
            what=_what(piece, by),
            why="its underarm seams are too short to reach",
            nearest="a smaller amount",
        )
    return _Quarters(
        piece=piece,
        cap=cap,
        at=at,
        hem=Opening(hem.name, foot, foot),
        sides=sides,
        sides_now=now,
        hem_now=found,
    )


def _swung(sleeve: _Quarters) -> Piece:
    """Move the four quarters; the grain line stays, levels go with the seams they run to."""
    piece, cap, middle = sleeve.piece, sleeve.cap, (sleeve.middle,)
    openings = (
        Opening(cap.name, 0.0, 0.0),
        Opening(cap.name, sleeve.at, sleeve.at),
        Opening(cap.name, cap.length, cap.length),
        sleeve.hem,
    )
    top = sleeve.top
    upper = [
        swing(top, was - top, now - top)
        for was, now in zip(sleeve.sides, sleeve.sides_now, strict=True)
    ]
    lower = [
        rigid_fit((was, sleeve.low), (now, sleeve.hem_now))[0]
        for was, now in zip(sleeve.sides, sleeve.sides_now, strict=True)
    ]
    moves = (upper[0], upper[1], lower[1], lower[0])
    found = swung_apart(piece, openings, [Swung(inner=middle, move=m) for m in moves])
    levels = tuple(_level(sleeve, lv, lower) or found.piece.level(lv.name) for lv in piece.levels)
    after = replace(found.piece, grain=piece.grain, levels=levels)
    return with_levels_kept(piece, after, found.now)


def _level(sleeve: _Quarters, level: Level, lower: list[Transform]) -> Level | None:
    """Return a level where it goes with the seams to which it runs; None where it meets not both.

    The biceps line lies between the underarms, another line where the seam has it that rises less.
    """
    piece, up = sleeve.piece, sleeve.piece.up
    if abs(up.dot(sleeve.sides[0].lerp(sleeve.sides[1], 0.5) - level.at)) <= NEAR_MM:
        was, now = sleeve.heights
        return replace(level, at=level.at + up * (was - now))
    rises = [
        up.dot(move.apply(met[-1].point) - met[-1].point)
        for edge, move in zip(piece.neighbours(sleeve.cap.name), lower, strict=True)
        if (met := line_crossings(edge.path, level.at, up.perp))
    ]
    return replace(level, at=level.at + up * min(rises, key=abs)) if len(rises) == 2 else None


def _said(sleeve: _Quarters, by: float) -> Sentence:
    was, now = sleeve.heights
    length = sleeve.top.distance(sleeve.low) - sleeve.top.distance(sleeve.hem_now)
    lot: Sentence = ()
    if abs(by) > MOST_MM:
        lot = (
            " That is a lot for one correction (",
            MOST_MM,
            " by custom): another size, or a sleeve of two pieces, may be better.",
        )
    return (
        f"Made {sleeve.piece.name} ",
        abs(by),
        " wider" if by > 0 else " narrower",
        " at the upper arm. Its cap seam, underarm seams and hem are as long as before; the width "
        "is paid for in height: the cap is ",
        abs(was - now),
        " lower" if was > now else " higher",
        " (",
        now,
        " now) and the sleeve is ",
        abs(length),
        " shorter" if length > 0 else " longer",
        " down its middle. Round off the top of the cap and the hem where they turn.",
        *lot,
    )


CHANGE = Change(
    id="full-upper-arm",
    title="Full or thin upper arm",
    topic="sleeves",
    why="A sleeve that binds at the upper arm, or stands off it, is changed there alone: the cap "
    "still fits the armhole and the underarm seams still meet.",
    source="hinges at the top of the cap, the hem and both underarms: plane geometry "
    "(docs/changes/full-upper-arm.md)",
    params=FullUpperArm,
    apply=apply,
)
