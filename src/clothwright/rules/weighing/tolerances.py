"""How true a seam is meant to be: the room that a plan's own rules give to what meets there."""

from __future__ import annotations

from clothwright.pattern.closing import Closing, closings
from clothwright.pattern.names import Ref
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.rules.names import refs_of
from clothwright.rules.plan import PlacingRule, Plan

ON_EDGE_MM = 0.5
"""mm: a point as near to a stitching line as this lies on it."""


def seam_tolerances(plan: Plan, pattern: Pattern) -> dict[str, float]:
    """Return mm by name of the seam, where a rule says how far apart the print may be there.

    A rule speaks of a seam when its points lie on both its sides, and of where a garment opens when
    they lie on the line that closes; of several rules the widest counts.
    """
    found: dict[str, float] = {}
    for rule in plan.rules:
        within = getattr(rule, "within", 0.0)
        if not within:
            continue
        names = [s.name for s in pattern.seams if _speaks_of(rule, s, pattern)]
        names += [c.name for c in closings(pattern) if _closes_at(rule, c)]
        for name in names:
            found[name] = max(within, found.get(name, 0.0))
    return found


def _closes_at(rule: PlacingRule, closing: Closing) -> bool:
    points = [ref for _, ref in refs_of(rule) if ref.kind == "point"]
    piece, line = closing.piece, closing.line
    at = [piece.points().get(p.name) for p in points if p.piece == piece.name]
    near = [p for p in at if p is not None and line.nearest(p)[1] <= ON_EDGE_MM]
    return bool(points) and len(near) == len(points)


def _speaks_of(rule: PlacingRule, seam: Seam, pattern: Pattern) -> bool:
    points = [ref for _, ref in refs_of(rule) if ref.kind == "point"]
    on_a, on_b = (
        {n for n, point in enumerate(points) if _lies_on(side, point, pattern)}
        for side in (seam.a, seam.b)
    )
    if on_a | on_b != set(range(len(points))):
        return False
    return bool(on_a and on_b) if len(points) > 1 else bool(points)


def _lies_on(side: tuple[EdgeRef, ...], point: Ref, pattern: Pattern) -> bool:
    """Tell whether a named point of a piece, or the dart it is the point of, is on one side."""
    piece = pattern.piece(point.piece)
    at = piece.points().get(point.name)
    if at is None:
        return False
    for ref in side:
        if ref.piece == piece.name:
            darts = [d.point for d in piece.darts_on(ref.edge)]
            if at in darts or piece.edge(ref.edge).path.nearest(at)[1] <= ON_EDGE_MM:
                return True
    return False
