"""What a fold round the body goes over: pieces sewn side by side, and where they are sewn."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.changes.alike import pieces_alike
from clothwright.geometry.intersect import line_crossings
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece

SEWN_WITH = ("plain", "closure")
"""Kinds of seam across which a level runs on to the next piece."""


def level_with(
    pattern: Pattern, piece: str, level: str, *, linings: bool = True
) -> tuple[str, ...]:
    """Return the pieces that a fold along a level goes round: sewn to it, with that level too.

    linings: with their companions (linings, facings) that have it.
    """
    having = {p.name for p in pattern.pieces if any(v.name == level for v in p.levels)}
    found = [piece]
    for name in found:
        for seam in (s for s in pattern.seams if s.kind in SEWN_WITH):
            sewn = seam.pieces
            found += sorted((sewn & having) - set(found)) if name in sewn else []
    more = pieces_alike(pattern, found) if linings else ()
    return (*found, *(n for n in more if n in having))


def sewn_at(pattern: Pattern, pieces: Sequence[str], level: str) -> tuple[str, ...]:
    """Return the edges, PIECE.EDGE, at which some of these pieces are sewn to others at a level."""
    seams = (s for s in pattern.seams if s.kind in SEWN_WITH)
    found: list[str] = []
    for seam in seams:
        refs = [(r.piece, r.edge) for r in seam.refs]
        sides = [p for p, _ in refs]
        if len(set(sides)) > 1 and set(sides) <= set(pieces):
            found += [f"{p}.{e}" for p, e in refs if _crosses(pattern.piece(p), e, level)]
    return tuple(dict.fromkeys(found))


def shared_level(pattern: Pattern, seam: Seam) -> str:
    """Return a level that crosses every edge of a seam, the first piece's first; "" for none."""
    refs = [(pattern.piece(r.piece), r.edge) for r in seam.refs]
    names = (v.name for v in refs[0][0].levels)
    return next((n for n in names if all(_crosses(p, e, n) for p, e in refs)), "")


def cuts(piece: Piece, level: str, above: float) -> bool:
    """Tell whether a line so many mm above one of its levels goes through a piece."""
    line = next(v for v in piece.levels if v.name == level)
    at = line.at + piece.up * above
    return len(line_crossings(piece.outline, at, piece.up.perp)) > 1


def crossed(piece: Piece, edge: str) -> str:
    """Return the first level of a piece that crosses one of its edges; "" for none."""
    return next((v.name for v in piece.levels if _crosses(piece, edge, v.name)), "")


def _crosses(piece: Piece, edge: str, level: str) -> bool:
    line = next((v for v in piece.levels if v.name == level), None)
    return line is not None and bool(line_crossings(piece.edge(edge).path, line.at, piece.up.perp))
