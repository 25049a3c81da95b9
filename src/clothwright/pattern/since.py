"""What of a piece has become larger or smaller since it was bought, and its lining has not.

A lining is not always as long along its edges as what it lies in (a pleat, a facing between), but
what is added to the one is to be added to the other: widths at the levels they share, the centre,
and edges of one name. All lengths in mm, darts folded out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from clothwright.pattern.companions import companions
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Companion, Pattern
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.width import width_at

LIKE = 0.2
"""Share: a companion within so much of a piece's width is as wide as the whole of it (our own)."""


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
        mine = (old[companion.piece], pattern.piece(companion.piece))
        for name in dict.fromkeys(a.piece for a in companion.of):
            if name not in old or (old[name] is pattern.piece(name) and mine[0] is mine[1]):
                continue
            theirs = (old[name], pattern.piece(name))
            for place, gained, followed in _gains(pattern, old, theirs, mine, companion.kind):
                if abs(gained - followed) > agree:
                    yield Drifted(
                        companion=companion,
                        of=name,
                        place=place,
                        gained=gained,
                        followed=followed,
                    )


Then = tuple[Piece, Piece]
"""A piece as bought, and as it is now."""


def _gains(
    pattern: Pattern, old: dict[str, Piece], theirs: Then, mine: Then, kind: str
) -> Iterator[tuple[str, float, float]]:
    """Yield each place that both have, and by how much each became the longer there."""
    facings = tuple(_facings(pattern, old, theirs[1].name)) if kind == "lining" else ()
    four = (*theirs, *mine)
    for level in sorted(set.intersection(*map(_levels, four))):
        wide = [width_at(p, level) for p in (theirs[0], mine[0])]
        if kind == "lining" or abs(wide[0] - wide[1]) <= LIKE * wide[0]:
            between = sum(_gain(f, level, width_at) for f in facings if _both(f, level, _levels))
            gained = _gain(theirs, level, width_at) - between
            yield f"at the {level} line", gained, _gain(mine, level, width_at)
    centres = [_centre(p) for p in four]
    if all(centres):
        yield "at the centre", centres[1] - centres[0], centres[3] - centres[2]
    for edge in sorted(set.intersection(*map(_edges, four))):
        if any(_beside(then, edge) != _beside(now, edge) for then, now in (theirs, mine)):
            continue  # it was cut in two, or joined to another
        between = sum(_gain(f, edge, net_length) for f in facings if _both(f, edge, _edges))
        gained = _gain(theirs, edge, net_length) - between
        yield f"along its {edge}", gained, _gain(mine, edge, net_length)


def _gain(then: Then, name: str, measure: Callable[[Piece, str], float]) -> float:
    """Return by how much a piece became the longer at a level or along an edge, mm."""
    return measure(then[1], name) - measure(then[0], name)


def _both(then: Then, name: str, names: Callable[[Piece], set[str]]) -> bool:
    return all(name in names(p) for p in then)


def _levels(piece: Piece) -> set[str]:
    return {lv.name for lv in piece.levels}


def _edges(piece: Piece) -> set[str]:
    return {e.name for e in piece.edges}


def _beside(piece: Piece, edge: str) -> list[str]:
    """Return the names of the edges at both ends of one."""
    return [e.name for e in piece.neighbours(edge)]


def _centre(piece: Piece) -> float:
    """Return how long the fold or centre edges of a piece are, mm; 0 for a piece without."""
    return sum(e.length for e in piece.edges if e.role in (Role.FOLD, Role.CENTRE))


def _facings(pattern: Pattern, old: dict[str, Piece], piece: str) -> Iterator[Then]:
    """Yield the facings between a piece and its lining, as bought and now: they gain a share."""
    for c in companions(pattern):
        if c.kind == "facing" and c.piece in old and any(a.piece == piece for a in c.of):
            yield old[c.piece], pattern.piece(c.piece)
