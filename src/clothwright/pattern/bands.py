"""Bands: what keeps its shape and follows what it is sewn to, a binding, a cuff, a collar."""

from __future__ import annotations

from clothwright.pattern.companions import LAID, companions
from clothwright.pattern.measure import corner_angle_deg
from clothwright.pattern.parts import is_strip
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef

SQUARE_DEG = 1.0
"""Degrees by which a square corner may be off; our own figure."""


def is_band(pattern: Pattern, name: str) -> bool:
    """Tell whether a piece keeps its shape: a binding, a cuff, a collar, a stand."""
    piece = pattern.piece(name)
    return bool(_goes_along(pattern, name)) or is_strip(piece) or _is_square(piece)


def band_side(pattern: Pattern, seam: Seam, but: tuple[str, ...] = ()) -> tuple[EdgeRef, ...]:
    """Return the side of a seam that follows the other: bands alone; () where neither does.

    Of two the one that goes with what it is sewn to, then the longer strip. but: pieces that stay.
    """
    sides = [
        (refs, other)
        for refs, other in ((seam.b, seam.a), (seam.a, seam.b))
        if _is_one_edge_each(refs, other)
        and all(r.piece not in but and _follows(pattern, r.piece) for r in refs)
    ]

    def goes_with(side: tuple[tuple[EdgeRef, ...], tuple[EdgeRef, ...]]) -> tuple[bool, bool]:
        refs, others = side[0], {r.piece for r in side[1]}
        along = [_goes_along(pattern, r.piece) & others for r in refs]
        return not all(along), not all(is_strip(pattern.piece(r.piece)) for r in refs)

    return min(sides, key=goes_with)[0] if sides else ()


def fitted_together(pattern: Pattern, seam: Seam) -> tuple[str, ...]:
    """Return the seams that a band is fitted along one after the other, this one first.

    A collar on a stand follows the stand; an upper collar that is sewn to an under collar follows
    its own neck. () where no side is a band.
    """
    side = band_side(pattern, seam)
    names, done = [seam.name] if side else [], {r.piece for r in side}
    linked = {n for s in pattern.seams if s.pieces & done for n in s.pieces - done}
    for other in pattern.seams:
        bands = {r.piece for r in band_side(pattern, other, tuple(done))}
        if other is not seam and bands & linked:
            names.append(other.name)
            done |= bands
    return tuple(names)


def _is_one_edge_each(refs: tuple[EdgeRef, ...], other: tuple[EdgeRef, ...]) -> bool:
    """Tell whether a side has one edge of each of its pieces, none of them sewn to itself."""
    edges = {(r.piece, r.edge) for r in refs}
    pieces = {piece for piece, _ in edges}
    return len(pieces) == len(edges) and not pieces & {r.piece for r in other}


def _follows(pattern: Pattern, name: str) -> bool:
    """Tell whether a piece is a band for certain: a square one is, where it is folded."""
    piece = pattern.piece(name)
    laid = any(c.piece == name and c.kind in LAID for c in companions(pattern))
    if piece.darts or laid or "facing" in name.lower().split():
        return False
    folded = _is_square(piece) and any("fold" in m.name.lower().split() for m in piece.marks)
    return bool(_goes_along(pattern, name)) or is_strip(piece) or folded


def _goes_along(pattern: Pattern, name: str) -> set[str]:
    """Return the pieces that a piece is sewn along as their collar, waistband, binding."""
    own = (c for c in companions(pattern) if c.piece == name and c.kind not in LAID)
    return {a.piece for c in own for a in c.of if a.edge}


def _is_square(piece: Piece) -> bool:
    """Tell whether all lines of a piece are straight and all its corners square."""
    corners = (corner_angle_deg(piece, i) for i in range(len(piece.edges)))
    square = all(min(abs(deg - 90.0), abs(deg - 180.0)) <= SQUARE_DEG for deg in corners)
    return square and all(e.path.is_straight for e in piece.edges)
