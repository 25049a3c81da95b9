"""What of a piece has become larger or smaller since it was bought, and its lining has not.

A lining is not always as long along its edges as what it lies in (a pleat, a facing between), but
what is added to the one is to be added to the other: widths at the levels they share, the centre,
and edges of one name. All lengths in mm, darts folded out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from clothwright.pattern.companions import companions, companions_of, too_long
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Companion, Pattern
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.width import width_at

LIKE = 0.2
"""Share: a companion within so much of a piece's width is as wide as the whole of it (our own)."""

ALONG = "along its"
"""What the place of an edge begins with."""

AGREE_MM = 1.5
"""mm by which an edge may be off and agrees, as in the walk."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drifted:
    """A width or an edge that a piece gained, and its companion did not.

    place: "at the bust line", or the edge's name. gained, followed: mm that each is the longer.
    """

    companion: Companion
    of: str
    place: str
    gained: float
    followed: float


def drifted(bought: Pattern, pattern: Pattern, agree: float) -> Iterator[Drifted]:
    """Yield where linings, and interfacings as wide as their piece, are behind since bought.

    agree: mm that two gains may differ. Pieces that were renamed, divided or drafted since are left
    out: they have no measure of their own as bought.
    """
    old = {p.name: p for p in bought.pieces}
    for companion in companions(pattern):
        if companion.kind not in ("lining", "interfacing") or companion.piece not in old:
            continue
        mine = old[companion.piece], pattern.piece(companion.piece)
        for name in dict.fromkeys(a.piece for a in companion.of):
            if name not in old or (old[name] is pattern.piece(name) and mine[0] is mine[1]):
                continue
            theirs = _grown(old[name], pattern.piece(name))
            facings = list(_facings(pattern, old, name)) if companion.kind == "lining" else []
            for place, gained, followed in _gains(companion, theirs, _grown(*mine), facings, agree):
                yield Drifted(
                    companion=companion, of=name, place=place, gained=gained, followed=followed
                )


def unlike(pattern: Pattern) -> float:
    """Return by how much linings and what they line are off along edges of one name, in all, mm.

    A facing between them counts with the lining. By itself it tells nothing, since ease may be
    meant: where it grows, what was changed is not what was spoilt.
    """
    found = 0.0
    lining = (c for c in companions(pattern) if c.kind == "lining")
    for own, name in {(c.piece, a.piece) for c in lining for a in c.of}:
        lines = [_edges(pattern.piece(n)) for n in (name, own, *_facing_names(pattern, name))]
        for edge in lines[0].keys() & lines[1].keys():
            found += abs(lines[0][edge] - sum(line.get(edge, 0.0) for line in lines[1:]))
    return found


def _edges(piece: Piece) -> dict[str, float]:
    return {e.name: net_length(piece, e.name) for e in piece.edges}


def _facing_names(pattern: Pattern, piece: str) -> list[str]:
    return [c.piece for c in companions_of(pattern, piece) if c.kind == "facing"]


class _Grown(NamedTuple):
    """How long a piece was and is, mm by each place that it had and has. late: it is behind."""

    then: dict[str, float]
    now: dict[str, float]
    late: bool = False

    def by(self, place: str) -> float:
        """Return by how much it became the longer there, mm; 0 where it has no such place."""
        return self.now[place] - self.then[place] if place in self.now else 0.0


def _grown(old: Piece, new: Piece) -> _Grown:
    """Measure a piece; an edge that was cut in two, or joined to another, is not the same one."""
    then, now = _lengths(old), _lengths(new)
    both = [key for key in then if key in now]
    return _Grown({key[0]: then[key] for key in both}, {key[0]: now[key] for key in both})


def _lengths(piece: Piece) -> dict[tuple[str, ...], float]:
    """Return mm by place: at each level, at the centre, along each edge by its neighbours."""
    found: dict[tuple[str, ...], float] = {
        (f"at the {lv.name} line",): width_at(piece, lv.name) for lv in piece.levels
    }
    centre = sum(e.length for e in piece.edges if e.role in (Role.FOLD, Role.CENTRE))
    if centre:
        found["at the centre",] = centre
    for edge in piece.edges:
        beside = (e.name for e in piece.neighbours(edge.name))
        found[f"{ALONG} {edge.name}", *beside] = net_length(piece, edge.name)
    return found


def _gains(
    companion: Companion, theirs: _Grown, mine: _Grown, facings: list[_Grown], agree: float
) -> Iterator[tuple[str, float, float]]:
    """Yield each place where a companion is behind, and by how much each became the longer there.

    What a facing between them gains is not the lining's; where that is behind itself, it is told.
    """
    for place in sorted(theirs.now.keys() & mine.now.keys()):
        between = [f for f in facings if place in f.now]
        whole = abs(theirs.then[place] - mine.then[place]) <= LIKE * theirs.then[place]
        if any(f.late for f in between) or (companion.kind == "interfacing" and not whole):
            continue
        gained, followed = theirs.by(place) - sum(f.by(place) for f in between), mine.by(place)
        off = theirs.now[place] - sum(f.now[place] for f in between) - mine.now[place]
        right = place.startswith(ALONG) and abs(off) <= AGREE_MM  # a pleat may lie in a width
        if abs(gained - followed) > agree and not right:
            yield place, gained, followed


def _facings(pattern: Pattern, old: dict[str, Piece], piece: str) -> Iterator[_Grown]:
    """Yield the facings between a piece and its lining, as bought and now: they gain a share."""
    for c in companions_of(pattern, piece):
        if c.kind == "facing" and c.piece in old:
            late = any(abs(too_long(pattern, c, a.edge)) > AGREE_MM for a in c.of if a.edge)
            yield _grown(old[c.piece], pattern.piece(c.piece))._replace(late=late)
