"""Leave a part of a seam open: what slits, zips and godets have in common. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.cut_out import stretch_of
from clothwright.changes.darts import free_name
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.pattern.companions import along_part, as_before, companions
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.trail import Trail, joined, trail_to
from clothwright.words import AtMost, Sentence, edge_name, listed

ENDS = {
    "": "the lower end of a sleeve's seam, the upper one of any other",
    "upper": "from its upper end down",
    "lower": "from its lower end up",
}
"""From which end of a seam an opening goes."""
LEAST_SEWN_MM = 10.0
"""mm of a seam's edge that must be left to be sewn."""
LEAST_RISE = 0.1
"""How far one end of a seam has to lie above the other, as a share of its length (six degrees)."""


class OpenPart(NamedTuple):
    """The part of an edge that is left open. at_end: it lies at the end of its edge as drawn."""

    piece: str
    edge: str
    at_end: bool

    def ref(self, seam_at_end: bool) -> EdgeRef:
        """Return it as the seam travels that it was a part of."""
        return EdgeRef(self.piece, self.edge, reversed=self.at_end != seam_at_end)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartOpened:
    """The pattern with the end of a seam left open; both open edges (one when they are the same).

    at_end: the open part is at the seam's end as it is noted. trail: where the edges have gone.
    """

    pattern: Pattern
    parts: tuple[OpenPart, ...]
    at_end: bool
    trail: Trail


def part_opened(
    pattern: Pattern, name: str, length: float, *, low: bool, called: str
) -> PartOpened:
    """Divide both edges of a seam at `length` mm from its lower (or upper) end, and sew the rest.

    The part that is sewn keeps the edge's name, the open one is called by it and `called`. Every
    other seam along the edges, and what goes with them, goes along both parts. Raises BadInput for
    no length or an unknown seam, CannotDo where an edge is too short there, a dart opens in it, or
    the seam lies level.
    """
    seam = pattern.seam(name)
    if length <= JOIN_MM:
        raise BadInput(what="nothing of the seam would be open", expected="a length")
    at_end = _lower_at_end(pattern, seam) == low
    parts: list[OpenPart] = []
    done: list[tuple[str, str]] = []
    after = pattern
    for run in (seam.a, seam.b):
        ref = run[-1] if at_end else run[0]
        if (ref.piece, ref.edge) in done:  # both sides are one edge, cut twice
            continue
        done.append((ref.piece, ref.edge))
        piece, part = _divided(after.piece(ref.piece), ref, length, at_end=at_end, called=called)
        after = _along_both(after, pattern.piece(ref.piece), piece, ref.edge, part)
        parts.append(part)
    seams = tuple(seam if s.name == name else s for s in after.seams)
    names = dict.fromkeys(p.piece for p in parts)
    trail = joined(trail_to(pattern.piece(n), (after.piece(n),)) for n in names)
    after = as_before(pattern, replace(after, seams=seams))
    return PartOpened(pattern=after, parts=tuple(parts), at_end=at_end, trail=trail)


def end_of(pattern: Pattern, name: str, end: str) -> str:
    """Return from which end of a seam an opening goes, "upper" or "lower", asked for or not.

    A sleeve, whose cap is sewn in, opens at the wrist; all else where it is put on.
    """
    caps = {r.piece for s in pattern.seams if s.kind == "cap" for r in s.b}
    return end or ("lower" if pattern.seam(name).pieces <= caps else "upper")


def lining_open(opened: PartOpened) -> Sentence:
    """Ask to leave what lines a seam open as far as it is; "" for nothing."""
    open_edges = {(p.piece, p.edge) for p in opened.parts}
    names = dict.fromkeys(
        c.piece
        for c in companions(opened.pattern)
        if c.kind == "lining" and any((a.piece, a.edge_of) in open_edges for a in c.of)
    )
    return (f" Leave {listed(list(names))} open as far.",) if names else ()


def _lower_at_end(pattern: Pattern, seam: Seam) -> bool:
    """Tell whether the seam's end, as it is noted, lies lower on the body than its start.

    Heights are those on each piece it goes along, added up. Raises CannotDo for a seam that runs
    across, or that comes down as far as it has gone up: which end is the upper one is not told.
    """
    rise = 0.0
    for ref in seam.a:
        start, end = pattern.edge(ref).path.ends
        rise += pattern.piece(ref.piece).up.dot(end - start) * (-1.0 if ref.reversed else 1.0)
    if abs(rise) < LEAST_RISE * sum(pattern.edge(ref).length for ref in seam.a):
        raise CannotDo(
            what=f"seam {seam.name} cannot be left open at one of its ends",
            why="neither of them is the upper one",
            nearest="a seam that runs up and down",
        )
    return rise < 0.0


def _divided(
    piece: Piece, ref: EdgeRef, length: float, *, at_end: bool, called: str
) -> tuple[Piece, OpenPart]:
    """Return a piece with the edge in two: what is sewn under its own name, and what is open."""
    edge = piece.edge(ref.edge)
    last = at_end != ref.reversed
    if edge.length < length + LEAST_SEWN_MM:
        raise CannotDo(
            what=f"{edge_name(piece.name, edge.name)} cannot be left open that far",
            why=("it is ", edge.length, " long there"),
            nearest=(AtMost(max(0.0, edge.length - LEAST_SEWN_MM)), " or less"),
        )
    at = edge.length - length if last else length
    open_span = (at, edge.length) if last else (0.0, at)
    sewn_span = (0.0, at) if last else (at, edge.length)
    for dart in piece.darts_on(edge.name):
        if dart.b > open_span[0] - JOIN_MM and dart.a < open_span[1] + JOIN_MM:
            raise CannotDo(
                what=f"{edge_name(piece.name, edge.name)} cannot be left open that far",
                why=f'the dart "{dart.name}" opens in that part',
                nearest="to leave less of it open, or move the dart first",
            )
    name = free_name(tuple(e.name for e in piece.edges), f"{edge.name} {called}")
    top = f"{name} top"
    sewn = stretch_of(edge, *sewn_span)
    left = replace(stretch_of(edge, *open_span), name=name)
    pair = (sewn, replace(left, corner=top)) if last else (left, replace(sewn, corner=top))
    i = piece.index(edge.name)
    darts = tuple(
        replace(d, a=d.a - sewn_span[0], b=d.b - sewn_span[0]) if d.edge == edge.name else d
        for d in piece.darts
    )
    edges: tuple[Edge, ...] = (*piece.edges[:i], *pair, *piece.edges[i + 1 :])
    return replace(piece, edges=edges, darts=darts), OpenPart(piece.name, name, last)


def _along_both(pattern: Pattern, old: Piece, piece: Piece, edge: str, part: OpenPart) -> Pattern:
    """Return the pattern with the divided piece; seams along the whole edge go along both parts."""

    def along(refs: tuple[EdgeRef, ...]) -> tuple[EdgeRef, ...]:
        out: list[EdgeRef] = []
        for r in refs:
            both = (
                (r, replace(r, edge=part.edge)) if (r.piece, r.edge) == (old.name, edge) else (r,)
            )
            out += both if len(both) == 1 or part.at_end != r.reversed else both[::-1]
        return tuple(out)

    seams = tuple(replace(s, a=along(s.a), b=along(s.b)) for s in pattern.seams)
    pieces = tuple(piece if p.name == piece.name else p for p in pattern.pieces)
    after = replace(pattern, pieces=pieces, seams=seams)
    return along_part(after, piece.name, edge, part.edge)
