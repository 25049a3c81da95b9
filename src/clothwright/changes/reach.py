"""Whether a change of a piece reaches what goes with it: by the part of its edges that covers."""

from __future__ import annotations

from clothwright.geometry.path import Path
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.companions import PART, companions
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.since import drifted

FOLLOWS_MM = 1.0
"""mm: less than this is left to the cloth."""

TURNED_DEG = 1.0
"""degrees: a corner that turns by less is as it was."""

SPANS = ((0.0, 0.5), (0.5, 1.0), (0.0, 1.0))
"""Shares of a line between which it is measured to tell its shape."""


def touched(before: Pattern, after: Pattern) -> set[str]:
    """Return the pieces that a change made or made anew."""
    old = {p.name: p for p in before.pieces}
    return {p.name for p in after.pieces if old.get(p.name) is not p}


def reaches(before: Pattern, after: Pattern, piece: str, companion: Companion) -> bool:
    """Tell whether what was done to a piece reaches a companion of it.

    A facing lies along its edges only. A lining is reached by what it would have to gain, too;
    what lies along no edge, and an interfacing, by all.
    """
    along = [a for a in companion.of if a.edge and a.piece == piece]
    if companion.kind == "interfacing" or not along:
        return True
    if any(reaches_edge(before, after, companion.piece, a) for a in along):
        return True
    gains = drifted(before, after, FOLLOWS_MM) if companion.kind == "lining" else ()
    return any((d.companion.piece, d.of) == (companion.piece, piece) for d in gains)


def reaches_edge(before: Pattern, after: Pattern, own: str, along: Along) -> bool:
    """Tell whether a line has another shape, or another corner, where an edge lies along it."""
    old, new = before.piece(along.piece), after.piece(along.piece)
    if old is new:
        return False
    if all(e.name != along.edge_of for e in old.edges):
        return True
    ends = _covered_ends(before, own, along)
    long = before.piece(own).edge(along.edge).length
    was, now = (p.edge(along.edge_of).path for p in (old, new))
    turned = zip(*(_corners(p, along.edge_of, ends) for p in (old, new)), strict=True)
    return (
        _has_changed(_part(was, ends, long), _part(now, ends, long))
        or (not all(ends) and _has_slid(was, now, at_end=ends[1]))
        or any(abs(new_deg - old_deg) >= TURNED_DEG for old_deg, new_deg in turned)
    )


Ends = tuple[bool, bool]
"""Whether a line is covered at its start, and at its end."""


def _covered_ends(pattern: Pattern, own: str, along: Along) -> Ends:
    """Return at which ends of a line an edge lies along it; both where it covers the whole.

    It begins at the end beyond which the edge beside it lies along what is beside the line.
    """
    piece, there = pattern.piece(own), pattern.piece(along.piece)
    if piece.edge(along.edge).length >= (1.0 - PART) * there.edge(along.edge_of).length:
        return True, True
    ties = [a for c in companions(pattern) if c.piece == own for a in c.of]
    mine = {e.name for e in piece.neighbours(along.edge)}
    beside = {a.edge_of for a in ties if a.edge in mine and a.piece == along.piece}
    first, last = (e.name in beside for e in there.neighbours(along.edge_of))
    return (first, last) if first != last else (True, True)


def _part(path: Path, ends: Ends, long: float) -> Path:
    """Return what is covered of a line by an edge so long (mm)."""
    if all(ends):
        return path
    long = min(long, path.length)
    return path.between(0.0, long) if ends[0] else path.between(path.length - long, path.length)


def _corners(piece: Piece, edge: str, ends: Ends) -> list[float]:
    """Return how far the outline turns at the ends of a line that are covered, degrees.

    Ends at the fold or the centre are left out: what is made there, a facing ends at.
    """
    path, (first, last) = piece.edge(edge).path, piece.neighbours(edge)
    found = (
        (first.role, first.path.end_tangent, path.start_tangent),
        (last.role, path.end_tangent, last.path.start_tangent),
    )
    middle = (Role.FOLD, Role.CENTRE)
    return [
        turn_between_deg(a, b)
        for covered, (role, a, b) in zip(ends, found, strict=True)
        if covered and role not in middle
    ]


def _has_slid(before: Path, after: Path, *, at_end: bool) -> bool:
    """Tell whether the end of a line lies farther along it: there it became longer or shorter."""
    by = after.end - before.end if at_end else after.start - before.start
    along = before.end_tangent if at_end else before.start_tangent
    return abs(along.dot(by)) >= FOLLOWS_MM


def _has_changed(before: Path, after: Path) -> bool:
    """Tell whether a line has another shape, wherever it lies now."""
    spans = [
        [line.point_at(line.length * a).distance(line.point_at(line.length * b)) for a, b in SPANS]
        for line in (before, after)
    ]
    return any(abs(now - then) >= FOLLOWS_MM for then, now in zip(*spans, strict=True))
