"""What mends a lining, a facing or a band that was left behind: the same for it, or undone again.

Two edges that lack the same, one at each end of a third: that one was moved. Two that run up the
piece: it was made longer at a level. One alone: the edge at one of its ends was moved. What goes
with a piece follows it; after that its piece is put back, which the workroom prefers where it mends
more. What lies on a piece edge on edge may be drawn like it, whatever was done to that.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.companions import LAID
from clothwright.pattern.finding import Mend
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.together import LeftBehind, left_behind

ALIKE_MM = 1.5
"""mm: two edges lack the same when they lack so nearly as much; a pencil line and a half."""

BESIDE_MM = (0.0, -60.0, 60.0)
"""mm above a level: where a piece may be cut across, since a dart may be in the way."""

REACH_MM = 80.0
"""mm: so much of the edges beside one that is moved is drawn anew; our own figure."""

LIKE_MM, LIKE_DEG = 0.5, 2.0
"""mm and degrees by which two lines are drawn alike; our own figures."""

MOST = 12
"""How many are tried at the most; our own figure."""


class _Lacks(NamedTuple):
    """An edge of a piece, and by how much it has to grow to agree, mm."""

    edge: str
    by: float


def companion_mends(pattern: Pattern, behind: Sequence[LeftBehind]) -> tuple[Mend, ...]:
    """Return what may be done where edges of one companion were left behind, likeliest first."""
    worst = max(behind, key=lambda b: abs(b.measured - b.expected))
    by = worst.expected - worst.measured
    same = [b for b in behind if abs(b.expected - b.measured - by) <= ALIKE_MM]
    same.sort(key=lambda b: b is not worst)
    mine = [_Lacks(b.edge, by) for b in same]
    found = list(_grown(pattern.piece(worst.companion.piece), mine))
    if worst.companion.kind in LAID:
        edges = tuple(f"{b.companion.piece}.{b.edge}" for b in behind if len(b.companion.of) == 1)
        found[1:1] = [Mend(change="draw-like", params={"edges": edges})] * bool(edges)
    for of in dict.fromkeys(a.piece for a in worst.companion.of):
        theirs = [_Lacks(a.edge_of, -by) for b in same for a in b.companion.of if a.piece == of]
        found += _grown(pattern.piece(of), theirs)
    return tuple(found)[:MOST]


def laid_along(pattern: Pattern, seam: Seam, agree: float) -> Iterator[Mend]:
    """Yield how edges of linings and facings in a seam are drawn like those that they lie along.

    Those of one side together, as front and back of an armhole; after them, what they lie along
    like them, where that alone was changed. agree: mm that are no difference.
    """
    behind = {
        (b.companion.piece, b.edge): b.companion.of[0]
        for b in left_behind(pattern, agree)
        if b.companion.kind in LAID and len(b.companion.of) == 1
    }
    back: list[Mend] = []
    for (piece, edge), of in behind.items():
        yield from _cropped(pattern.piece(piece), edge, pattern.piece(of.piece), of.edge_of)
    for side in (seam.a, seam.b):
        refs = dict.fromkeys((r.piece, r.edge) for r in side)
        own = {f"{ref[0]}.{ref[1]}": behind[ref] for ref in refs if ref in behind}
        if own:
            yield Mend(change="draw-like", params={"edges": tuple(own)})
        for edge, of in own.items():
            params = {"edges": (f"{of.piece}.{of.edge_of}",), "like": edge}
            back.append(Mend(change="draw-like", params=params))
    yield from back


def _cropped(piece: Piece, edge: str, of: Piece, edge_of: str) -> Iterator[Mend]:
    """Yield how the edge beside one is moved whole, parallel to what lies beside its like.

    Its far half is like what it lies along: the shoulder of a facing was cut off, not its neck.
    """
    for at_end in (False, True):
        name, there = piece.neighbours(edge)[at_end].name, of.neighbours(edge_of)[at_end].path
        own, line = piece.edge(edge).path, of.edge(edge_of).path
        if not at_end:
            own, line = own.reversed(), line.reversed()
        turn = turn_between_deg(line.start_tangent, own.start_tangent)
        turned = rotation_deg(turn, Vec(0.0, 0.0)).apply
        half = min(own.length, line.length) / 2
        ways = [path.point_at(half) - path.start for path in (own, line)]
        across = (piece.edge(name).path.end - piece.edge(name).path.start).unit
        askew = turn_between_deg(across, turned(there.end - there.start))
        alike = ways[0].is_near(turned(ways[1]), LIKE_MM) and abs(askew) <= LIKE_DEG
        if alike and piece.edge(name).role is not Role.FOLD:
            by = -across.perp.dot(own.start + turned(line.end - line.start) - own.end)
            params: dict[str, object] = {"edge": f"{piece.name}.{name}", "by": by}
            yield Mend(change="move-edge", params=params)
            yield Mend(change="move-edge", params={**params, "neighbours": "follow"})


def _grown(piece: Piece, lacks: list[_Lacks]) -> Iterator[Mend]:
    """Yield how a piece may be changed so that these edges of it grow."""
    if not lacks:
        return
    first, edges = lacks[0], {it.edge for it in lacks}
    beside = [e.name for e in piece.neighbours(first.edge)]
    both = [b for b in beside if edges & {e.name for e in piece.neighbours(b)} - {first.edge}]
    if all(_runs_up(piece, e) for e in edges):
        yield from _longer(piece, first.by)
    if both or len(edges) == 1:
        ends = sorted(both or beside, key=lambda e: piece.edge(e).role is not Role.HEM)
        yield from (m for e in ends for m in _moved(piece, first, e))


def _longer(piece: Piece, by: float) -> Iterator[Mend]:
    """Yield how a piece may be made longer at its levels, or a little above or below one."""
    for above in BESIDE_MM:
        for level in piece.levels:
            at = {"pieces": (piece.name,), "level": level.name, "above": above}
            yield Mend(change="lengthen", params={**at, "by": by})


def _moved(piece: Piece, lacks: _Lacks, beside: str) -> Iterator[Mend]:
    """Yield how the edge beside one that is too short is moved out, a fold never."""
    if piece.edge(beside).role is Role.FOLD:
        return
    params: dict[str, object] = {
        "edge": f"{piece.name}.{beside}",
        "by": lacks.by * _across(piece, lacks.edge, beside),
        "direction": "out",
    }
    yield Mend(change="move-edge", params={**params, "neighbours": "follow", "reach": REACH_MM})
    yield Mend(change="move-edge", params=params)


def _across(piece: Piece, edge: str, moved: str) -> float:
    """Return how far an edge is moved outwards for each mm that the one beside it gains."""
    path, other = piece.edge(edge).path, piece.edge(moved).path
    at_end = piece.neighbours(moved)[0].name == edge
    along = path.end_tangent if at_end else -path.start_tangent
    return abs(along.cross((other.end - other.start).unit))


def _runs_up(piece: Piece, edge: str) -> bool:
    path = piece.edge(edge).path
    return abs((path.end - path.start).unit.dot(piece.up)) > abs(
        (path.end - path.start).unit.cross(piece.up)
    )
