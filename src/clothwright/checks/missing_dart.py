"""Was a dart left out? The line still has the point over which it was cut, and its seam is off.

Such a line is not to be smoothed: that would leave it as much too long. It wants its dart back.
"""

from __future__ import annotations

from clothwright.pattern.bends import bends_in
from clothwright.pattern.finding import Mend
from clothwright.pattern.measure import dart_legs, gain_of
from clothwright.pattern.parts import runs_up
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import walk_seam

WIDTHS_MM = (6.0, 60.0)
"""mm: what a dart takes out at a waist, at least and at most; less is eased, more is shared between
two (docs/sources.md, darts)."""

LONG_MM = 100.0
"""mm: how long a dart is made where no other one tells; our own figure."""


def missing_dart(pattern: Pattern, seam: Seam, edge: EdgeRef) -> Mend | None:
    """Return the dart that an edge lacks: it is too long for its seam, and has a point.

    None where the seam runs up the body, where nothing tells the place, or by how much it is off is
    no width of a dart.
    """
    gain, off = gain_of(seam, edge), walk_seam(pattern, seam).off
    if not gain or seam.kind == "cap" or runs_up(pattern, seam):
        return None
    width = off / gain
    piece = pattern.piece(edge.piece)
    points = [b for b in bends_in(piece, piece.edge(edge.edge)) if b.deg > 0]
    if not WIDTHS_MM[0] <= width <= WIDTHS_MM[1] or not points:
        return None
    at = max(points, key=lambda b: b.deg).at
    params = {"edge": f"{edge.piece}.{edge.edge}", "width": width, "at": at}
    return Mend(change="add-dart", params={**params, "length": _length(pattern, seam, piece)})


def _length(pattern: Pattern, seam: Seam, piece: Piece) -> float:
    """Return how long a dart of this seam is: as the piece's own, or another's, in that seam."""
    refs = [*(r for r in seam.refs if r.piece == piece.name), *seam.a, *seam.b]
    darts = [
        (pattern.piece(r.piece), d) for r in refs for d in pattern.piece(r.piece).darts_on(r.edge)
    ]
    return sum(dart_legs(*darts[0])) / 2 if darts else LONG_MM
