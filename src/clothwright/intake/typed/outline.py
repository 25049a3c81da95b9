"""Edges that are typed in any order and either way round become one closed outline."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from clothwright.errors import BadInput
from clothwright.geometry.area import polygon_area
from clothwright.geometry.path import Path
from clothwright.geometry.region import is_simple
from clothwright.geometry.vec import Vec
from clothwright.intake.typed.edges import TypedEdge
from clothwright.units import Unit
from clothwright.words import show_length

FLATTEN_MM = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """An edge in the order round the piece. reversed: it was typed against that order."""

    edge: TypedEdge
    reversed: bool

    @property
    def start(self) -> str:
        """The point it starts at, going round."""
        return self.edge.end if self.reversed else self.edge.start

    @property
    def end(self) -> str:
        """The point it ends at, going round."""
        return self.edge.start if self.reversed else self.edge.end


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """All edges, counter-clockwise. joined: points within the tape's error, taken as one."""

    turns: tuple[Turn, ...]
    joined: Mapping[str, str]


def joined_ends(
    edges: Sequence[TypedEdge], at: Mapping[str, Vec], tape: float
) -> Mapping[str, str]:
    """Return ends of edges that lie within the tape's error of another one: name to name.

    Only ends that no other edge shares are joined: the outline was measured round to its start.
    """
    ends = [p for e in edges for p in (e.start, e.end)]
    lone = [p for p in dict.fromkeys(ends) if ends.count(p) == 1 and p in at]
    out: dict[str, str] = {}
    for n, p in enumerate(lone):
        near = [q for q in lone[:n] if q not in out.values() and at[q].distance(at[p]) <= tape]
        if near and p not in out:
            out[p] = min(near, key=lambda q: at[q].distance(at[p]))
    return out


def round_of(
    edges: Sequence[TypedEdge], at: Mapping[str, Vec], unit: Unit, tape: float, where: str
) -> Round:
    """Return the edges as a closed outline. Raises BadInput: where it is open, by how many mm."""
    if len(edges) < 2:
        raise BadInput(
            where=where,
            what="it has fewer than two edges" if edges else "it has no edges yet",
            expected="lines such as: edge side from B to C, straight",
        )
    joined = joined_ends(edges, at, tape)
    same = {p: joined.get(p, p) for e in edges for p in e.points}
    left = list(edges)
    turns = [Turn(edge=left.pop(0), reversed=False)]
    while left:
        here = same[turns[-1].end]
        if here == same[turns[0].start]:
            raise left[0].note.fault(
                f'the outline closes at {here} without "{left[0].name}"',
                "edges that go once round the piece",
            )
        found = next((e for e in left if here in (same[e.start], same[e.end])), None)
        if found is None:
            raise _open(edges, turns, same, at, unit)
        left.remove(found)
        turns.append(Turn(edge=found, reversed=same[found.start] != here))
    if same[turns[-1].end] != same[turns[0].start]:
        raise _open(edges, turns, same, at, unit)
    _no_branch(edges, same)
    knots = [at[p] for t in turns for p in _along(t)[:-1]]
    if len(knots) > 2 and polygon_area(knots) < 0:
        turns = [Turn(edge=t.edge, reversed=not t.reversed) for t in reversed(turns)]
        turns = [turns[-1], *turns[:-1]]  # it still begins with the edge typed first
    return Round(turns=tuple(turns), joined=joined)


def _along(turn: Turn) -> tuple[str, ...]:
    return turn.edge.points[::-1] if turn.reversed else turn.edge.points


def _no_branch(edges: Sequence[TypedEdge], same: Mapping[str, str]) -> None:
    ends = [same[p] for e in edges for p in (e.start, e.end)]
    many = next((p for p in ends if ends.count(p) > 2), None)
    if many is not None:
        last = [e for e in edges if many in (same[e.start], same[e.end])][-1]
        raise last.note.fault(
            f"{ends.count(many)} edges end at {many}", "two edges at each point of the outline"
        )


def _open(
    edges: Sequence[TypedEdge],
    turns: Sequence[Turn],
    same: Mapping[str, str],
    at: Mapping[str, Vec],
    unit: Unit,
) -> BadInput:
    """Return where the outline stands open, how far, and which way."""
    ends = [same[p] for e in edges for p in (e.start, e.end)]
    lone = [p for p in dict.fromkeys(ends) if ends.count(p) == 1]
    last = turns[-1]
    a = same[last.end]
    others = [p for p in lone if p != a]
    if not others:
        return last.edge.note.fault(f"no edge goes on from {a}", "edges that follow each other")
    b = min(others, key=lambda p: at[p].distance(at[a]))
    gap = at[b] - at[a]
    ways = []
    if abs(gap.y) > 0.05:
        ways.append(f"{show_length(abs(gap.y), unit)} {'up' if gap.y > 0 else 'down'}")
    if abs(gap.x) > 0.05:
        ways.append(f"{show_length(abs(gap.x), unit)} {'right' if gap.x > 0 else 'left'}")
    return last.edge.note.fault(
        f"the outline stands open: no edge goes on from {a}, and none to {b}, "
        f"{show_length(gap.norm, unit)} away ({' and '.join(ways) or 'at the same place'})",
        f"an edge from {a} to {b}, or the same point for both",
        f"a line such as: edge from {a} to {b}, straight",
    )


def check_simple(paths: Sequence[Path], where: str) -> None:
    """Refuse an outline that crosses itself or has no area. Raises BadInput."""
    ring = [p for path in paths for p in path.flatten(FLATTEN_MM)[:-1]]
    if not is_simple(ring):
        raise BadInput(
            where=where,
            what="the outline crosses or touches itself",
            expected="edges that go once round the piece",
            try_="looking at the drawing: one of its points lies on the wrong side",
        )
