"""What of a piece has become larger or smaller since it was bought, and its lining has not.

A lining is not always as long along its edges as what it lies in (a pleat, a facing between), but
what is added to the one is to be added to the other: widths at the levels they share, the centre,
and edges of one name. All lengths in mm, darts folded out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.pattern.companions import companions
from clothwright.pattern.girth import width_at
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Companion, Pattern
from clothwright.pattern.piece import Piece, Role

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
    levels = [{lv.name for lv in p.levels} for p in (*theirs, *mine)]
    for level in sorted(set.intersection(*levels)):
        widths = [width_at(p, level) for p in (*theirs, *mine)]
        if kind == "lining" or abs(widths[0] - widths[2]) <= LIKE * widths[0]:
            between = sum(
                width_at(now, level) - width_at(was, level)
                for was, now in facings
                if all(level in {lv.name for lv in p.levels} for p in (was, now))
            )
            yield f"at the {level} line", widths[1] - widths[0] - between, widths[3] - widths[2]
    centres = [_centre(p) for p in (*theirs, *mine)]
    if all(centres):
        yield "at the centre", centres[1] - centres[0], centres[3] - centres[2]
    edges = [{e.name for e in p.edges} for p in (*theirs, *mine)]
    for edge in sorted(set.intersection(*edges)):
        lengths = [net_length(p, edge) for p in (*theirs, *mine)]
        between = sum(
            net_length(now, edge) - net_length(was, edge)
            for was, now in facings
            if all(edge in {e.name for e in p.edges} for p in (was, now))
        )
        yield f"along its {edge}", lengths[1] - lengths[0] - between, lengths[3] - lengths[2]


def _centre(piece: Piece) -> float:
    """Return how long the fold or centre edges of a piece are, mm; 0 for a piece without."""
    return sum(e.length for e in piece.edges if e.role in (Role.FOLD, Role.CENTRE))


def _facings(pattern: Pattern, old: dict[str, Piece], piece: str) -> Iterator[Then]:
    """Yield the facings between a piece and its lining, as bought and now: they gain a share."""
    for c in companions(pattern):
        if c.kind == "facing" and c.piece in old and any(a.piece == piece for a in c.of):
            yield old[c.piece], pattern.piece(c.piece)
