"""What mends seams at both ends of an edge that lies out by one amount: all of it was moved.

A side let out along its whole length spoils the waist below it and the armhole above. Put back at
its two corners it would keep a belly in between; so it is moved back whole.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import CheckSettings
from clothwright.checks.weigh import length_band
from clothwright.pattern.finding import Mend
from clothwright.pattern.measure import gain_of, seams_gaining
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import walk_seam

ALIKE = 0.25
"""Share by which what an edge lies out by its two ends may differ; our own figure."""

SQUARE = 0.3
"""An edge that meets the one beside it at a flatter angle (its sine) does not tell how far that was
moved; our own figure."""

REACH_MM = 80.0
"""mm: so much of the edges beside one that is moved is drawn anew; our own figure."""

FOLLOW: dict[str, object] = {"neighbours": "follow", "reach": REACH_MM}


class _Out(NamedTuple):
    """How an edge lies out by one beside it, mm: what that lacks, and the sine of their angle."""

    lacks: float
    sine: float


def edge_mends(pattern: Pattern, seam: Seam, settings: CheckSettings) -> tuple[Mend, ...]:
    """Return which edges beside those of a seam may be moved whole, out or in.

    Those that lie out by about as much by the seams at both ends. An edge on the fold stays.
    """
    found: dict[str, Mend] = {}
    for ref in dict.fromkeys(EdgeRef(r.piece, r.edge) for r in seam.refs):
        piece = pattern.piece(ref.piece)
        for edge in piece.neighbours(ref.edge) if gain_of(seam, ref) else ():
            if edge.role is not Role.FOLD:
                for mend in _moved(pattern, piece, edge, settings):
                    found.setdefault(str(mend.params), mend)
    return tuple(found.values())


def _moved(pattern: Pattern, piece: Piece, edge: Edge, settings: CheckSettings) -> Iterator[Mend]:
    """Yield how an edge may be moved whole, by the seams at its ends that do not agree."""
    beside = piece.neighbours(edge.name)
    sewn = [seams_gaining(pattern, EdgeRef(piece.name, n.name)) for n in beside]
    off = [[s for s in of if length_band(walk_seam(pattern, s).off, settings)] for of in sewn]
    if not all(off):
        return
    outs = [
        _out(pattern, s, piece, n, edge)
        for n, spoilt in zip(beside, off, strict=True)
        for s in spoilt
    ]
    if any(o.sine < SQUARE for o in outs):
        return
    for follow in (True, False):
        amounts = [o.lacks / o.sine if follow else o.lacks * o.sine for o in outs]
        by = sum(amounts) / len(amounts)
        if all(abs(b - by) <= ALIKE * abs(by) for b in amounts):
            params: dict[str, object] = {"edge": f"{piece.name}.{edge.name}", "by": by}
            params |= {"direction": "out"} | (FOLLOW if follow else {})
            yield Mend(change="move-edge", params=params)


def _out(pattern: Pattern, seam: Seam, piece: Piece, own: Edge, beside: Edge) -> _Out:
    """Return what an edge of a seam lacks to agree, mm, and how the one beside it stands to it."""
    gain = gain_of(seam, EdgeRef(piece.name, own.name))
    at_end = piece.neighbours(beside.name)[0].name == own.name
    along = own.path.end_tangent if at_end else own.path.start_tangent
    sine = abs(along.cross((beside.path.end - beside.path.start).unit))
    return _Out(-walk_seam(pattern, seam).off / gain, sine)
