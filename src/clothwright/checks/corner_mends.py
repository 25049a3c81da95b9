"""What mends seams that meet at a corner: the corner moved, so that all of them agree at once.

Where a shoulder and an armhole are both off, or a waist and a side, the corner that they share was
moved, or both corners of one edge. Putting it back comes before bending each seam by itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import CheckSettings
from clothwright.checks.weigh import length_band
from clothwright.pattern.bands import is_band
from clothwright.pattern.companions import companion_names
from clothwright.pattern.finding import Mend
from clothwright.pattern.measure import gain_of, seams_gaining
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import corner_index, walk_seam


class CornerMend(NamedTuple):
    """A corner that may be moved, or two.

    agreed: how many seams that are off agree after it. at: the piece and the number of each corner.
    """

    agreed: int
    mend: Mend
    at: frozenset[tuple[str, int]]


def corner_mends(pattern: Pattern, seam: Seam, settings: CheckSettings) -> tuple[CornerMend, ...]:
    """Return which corners of a seam's edges may be moved, those that agree most seams first.

    One alone, and both ends of an edge together where each spoils a seam that the other does not. A
    band keeps its shape; so does a facing or a lining where but one seam is off.
    """
    off = {s.name: _is_off(pattern, s, settings) for s in pattern.seams}
    follow = companion_names(pattern)
    found: dict[str, CornerMend] = {}
    for edge in dict.fromkeys(EdgeRef(r.piece, r.edge) for r in seam.refs):
        for corners in _corners(pattern, seam, edge):
            it = _mend(pattern, pattern.piece(edge.piece), corners, off)
            if it is not None and (it.agreed > 1 or edge.piece not in follow):
                found.setdefault(str(it.mend.params), it)
    return tuple(sorted(found.values(), key=lambda it: -it.agreed))


def _corners(pattern: Pattern, seam: Seam, edge: EdgeRef) -> Iterator[tuple[int, ...]]:
    """Yield which corners of an edge's piece may be moved for a seam.

    Each of the edge's two alone; both together; each with the other end of the edge beside it.
    """
    if gain_of(seam, edge) == 0 or is_band(pattern, edge.piece):
        return
    count = len(pattern.piece(edge.piece).edges)
    first, last = (corner_index(pattern, (edge,), at_end=end)[1] for end in (False, True))
    yield from ((first,), (last,), (first, last))
    yield from ((first, (first - 1) % count), (last, (last + 1) % count))


def _is_off(pattern: Pattern, seam: Seam, settings: CheckSettings) -> bool:
    """Tell whether a seam's sides do not agree; a cap that says no ease may be as it is."""
    unsaid = seam.kind == "cap" and not (seam.ease or seam.eased_max)
    return not unsaid and length_band(walk_seam(pattern, seam).off, settings) is not None


def _mend(
    pattern: Pattern, piece: Piece, corners: tuple[int, ...], off: dict[str, bool]
) -> CornerMend | None:
    """Return the corners of a piece as what is moved; None where they are not to be moved."""
    beside = [piece.edges[c - k] for c in corners for k in (1, 0)]
    if any(e.role is Role.FOLD or is_front_edge(pattern, piece, e) for e in beside):
        return None
    at = [{s.name for s in _seams(pattern, piece, c)} for c in corners]
    spoilt = [{n for n in names if off[n]} for names in at]
    if len(corners) > 1 and not (spoilt[0] - spoilt[1] and spoilt[1] - spoilt[0]):
        return None
    names = [corner_name(piece, c) for c in sorted(corners)]
    params = dict(zip(("corner", "other"), names, strict=False))
    mend = Mend(change="fit-corner", params=params)
    return CornerMend(len(set().union(*spoilt)), mend, frozenset((piece.name, c) for c in corners))


def _seams(pattern: Pattern, piece: Piece, corner: int) -> Iterator[Seam]:
    """Yield the seams that change in length with a corner."""
    for k in (corner - 1, corner):
        yield from seams_gaining(pattern, EdgeRef(piece.name, piece.edges[k].name))


def is_front_edge(pattern: Pattern, piece: Piece, edge: Edge) -> bool:
    """Tell whether an edge runs up a piece and is sewn to nothing, such as a front edge.

    It is shifted whole: its corner alone would bend the neck, too.
    """
    way = edge.path.end - edge.path.start
    upright = abs(way.dot(piece.up)) > abs(way.cross(piece.up))
    return upright and not pattern.seams_of(piece.name, edge.name)


def corner_name(piece: Piece, corner: int) -> str:
    """Name a corner by its number: "PIECE.CORNER", or by the edge that starts there."""
    edge, names = piece.edges[corner], [e.corner for e in piece.edges]
    own = edge.corner if edge.corner and names.count(edge.corner) == 1 else f"{edge.name} start"
    return f"{piece.name}.{own}"
