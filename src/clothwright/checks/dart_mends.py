"""Which dart mends a seam or a line: left out, one too many, slipped, or of another width.

A line that still has the point over which a dart was cut is not to be smoothed: that would leave it
as much too long. It wants its dart back. A line that dents where a dart is sewn was drawn without
that dart: where the seam is too short by just what it takes, it is one too many.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from clothwright.pattern.bends import bend_at_dart, bends_in
from clothwright.pattern.finding import Mend
from clothwright.pattern.measure import dart_intake, dart_legs, gain_of, runs_at
from clothwright.pattern.parts import runs_up
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Dart, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import walk_seam

WIDTHS_MM = (6.0, 60.0)
"""mm: what a dart takes out at a waist, at least and at most; less is eased, more is shared between
two (docs/sources.md, darts)."""

LONG_MM = 100.0
"""mm: how long a dart is made where no other one tells; our own figure."""

DENT = 0.5
"""Share of a dart's own angle by which a line dents at it that was drawn without it; over a dart
that is cut true it does not dent at all. Our own figure."""

POINT_DEG = 5.0
"""degrees by which an edge sticks out where it was cut over a dart, at least; our own figure."""

FITTED_MM = 2.0
"""mm: no dart is fitted for less, which no hand sews truer: an edge gives that. Our own figure."""

CHANGED_DEG = 3.0
"""degrees by which a line bends at a dart whose leg was moved; one cut true bends by less. Our own
figure."""

Stretches = list[tuple[float, float]]
"""From where to where a side of a seam is off, mm from its start; none: all of it."""


def missing_dart(pattern: Pattern, seam: Seam, edge: EdgeRef) -> Mend | None:
    """Return the dart that an edge lacks: it is too long for its seam, and has a point.

    None where the seam runs up the body, where nothing tells the place, or by how much it is off is
    no width of a dart. An edge that is sewn twice lacks half of what the seam is off.
    """
    longer, piece = _longer(pattern, seam, edge), pattern.piece(edge.piece)
    if seam.kind == "cap" or runs_up(pattern, seam):
        return None
    points = [b for b in bends_in(piece, piece.edge(edge.edge)) if b.deg > 0]
    if not WIDTHS_MM[0] <= longer <= WIDTHS_MM[1] or not points:
        return None
    at = max(points, key=lambda b: b.deg).at
    params = {"edge": f"{edge.piece}.{edge.edge}", "seam": seam.name, "at": at}
    return Mend(change="add-dart", params={**params, "length": _length(pattern, seam, piece)})


def spare_dart(pattern: Pattern, seam: Seam, dart: Dart, piece: Piece, agree: float) -> Mend | None:
    """Return what leaves out a dart whose width is just what its edge lacks in a seam.

    Only where the line dents at it once it is sewn. agree: mm within which lengths are equal.
    """
    shorter = -_longer(pattern, seam, EdgeRef(piece.name, dart.edge))
    if not _dents(piece, dart) or abs(shorter - dart_intake(piece, dart)) > agree:
        return None
    params = {"dart": f"{piece.name}.{dart.name}", "into": "loose"}
    return Mend(change="release-dart", params=params)


def slipped_dart(piece: Piece, dart: Dart) -> tuple[Mend, ...]:
    """Return what brings a dart back to where its edge has the point over which it was cut.

    Only where the line dents at it once it is sewn. The point may be that of its cap, or lie at one
    of its legs.
    """
    if not _dents(piece, dart):
        return ()
    points = [b.at for b in bends_in(piece, piece.edge(dart.edge)) if b.deg > POINT_DEG]
    up = 1 if dart.pressed == "start" else -1
    of_dart: dict[str, object] = {"dart": f"{piece.name}.{dart.name}"}
    return tuple(
        Mend(change="shift-dart", params={**of_dart, "by": (at - own) * up})
        for at in points
        for own in (dart.a, (dart.a + dart.b) / 2, dart.b)
    )


def _dents(piece: Piece, dart: Dart) -> bool:
    """Tell whether a line dents at a dart, once sewn, as one does that was drawn without it."""
    width, bend = dart_intake(piece, dart), bend_at_dart(piece, dart)
    angle = math.degrees(2 * math.atan2(width / 2, sum(dart_legs(piece, dart)) / 2))
    return bend is not None and -bend.deg > DENT * angle


def _longer(pattern: Pattern, seam: Seam, edge: EdgeRef) -> float:
    """Return by how much an edge is too long for its seam, mm; 0 where it cannot make it agree."""
    gain = gain_of(seam, edge)
    return walk_seam(pattern, seam).off / gain if gain else 0.0


def _length(pattern: Pattern, seam: Seam, piece: Piece) -> float:
    """Return how long a dart of this seam is: as the piece's own, or another's, in that seam."""
    refs = [*(r for r in seam.refs if r.piece == piece.name), *seam.refs]
    darts = [
        (pattern.piece(r.piece), d) for r in refs for d in pattern.piece(r.piece).darts_on(r.edge)
    ]
    return sum(dart_legs(*darts[0])) / 2 if darts else LONG_MM


def whole_darts(pattern: Pattern, seam: Seam, agree: float) -> Iterator[Mend]:
    """Yield the darts of a seam that were left out or are too many. agree: as `spare_dart`, mm."""
    for ref in dict.fromkeys(EdgeRef(r.piece, r.edge) for r in seam.refs):
        piece = pattern.piece(ref.piece)
        ways = [spare_dart(pattern, seam, d, piece, agree) for d in piece.darts_on(ref.edge)]
        yield from (m for m in (missing_dart(pattern, seam, ref), *ways) if m)


def fitted_darts(pattern: Pattern, seam: Seam, off: tuple[Stretches, Stretches]) -> Iterator[Mend]:
    """Yield the darts that open where a seam is off: one of them may have changed its width."""
    found = dict.fromkeys(
        f"{piece.name}.{dart.name}"
        for refs, stretches in zip((seam.a, seam.b), off, strict=True)
        for piece, dart, at in _opening(pattern, refs)
        if abs(_longer(pattern, seam, EdgeRef(piece.name, dart.edge))) >= FITTED_MM
        and (not stretches or any(low <= at <= high for low, high in stretches))
    )
    for dart in found:
        yield Mend(change="fit-dart", params={"dart": dart, "seam": seam.name})


def changed_darts(pattern: Pattern, seam: Seam, off: tuple[Stretches, Stretches]) -> Iterator[Mend]:
    """Yield the darts of `fitted_darts` that the line tells to have been changed, mm.

    They lie between the notches that are off, and the line bends at them once they are sewn.
    """
    if not any(off):
        return
    for mend in fitted_darts(pattern, seam, off):
        name, _, dart = str(mend.params["dart"]).partition(".")
        bend = bend_at_dart(pattern.piece(name), pattern.piece(name).dart(dart))
        if bend is not None and abs(bend.deg) >= CHANGED_DEG:
            yield mend


def _opening(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> Iterator[tuple[Piece, Dart, float]]:
    """Yield the darts that open along a run, and how far from its start, mm, as sewn."""
    for name, edge in dict.fromkeys((r.piece, r.edge) for r in refs):
        piece = pattern.piece(name)
        for dart in piece.darts_on(edge):
            yield from ((piece, dart, at) for at, _ in runs_at(pattern, refs, name, edge, dart.a))
