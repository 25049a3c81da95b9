"""Widen a piece at an edge: in full at a line, tapered to nothing above and below it.

Each place of the edge moves straight across the grain, so that its height stays and taking in
undoes letting out. All lengths in mm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from clothwright.changes.legs import darts_trued
from clothwright.changes.redraw import Redrawn, keep_fold, redrawn, swung_edge
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Edge, Piece
from clothwright.words import edge_name

STEP_MM = 25.0
"""mm between the places at which a tapered line is drawn exactly."""
UPRIGHT = 0.1
"""Share of an edge's length by which it has to run up or down to have an outer side."""
SHORTEST_MM = 40.0
"""mm: over less than this nothing runs out: it goes on at full, as at a waist that rises to the
side seam (our own choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taper:
    """How much of a widening there is at a height: all at `level`, nothing from top and bottom on.

    Heights in mm along `up`. top, bottom: None where it goes on at full. It runs out with a soft
    bend at both ends, 3 t^2 - 2 t^3 (plane geometry). mouths: lowest and highest place of darts
    that open there; what lies in one is folded away and counts as no height.
    """

    up: Vec
    level: float
    top: float | None
    bottom: float | None
    mouths: tuple[tuple[float, float], ...] = ()

    def share(self, at: Vec) -> float:
        """Return the share there, 0 to 1."""
        t = self._t(at)
        return t * t * (3.0 - 2.0 * t)

    def slope(self, at: Vec) -> float:
        """Return by how much the share grows for each mm up."""
        t, end = self._t(at), self._end(at)
        return 0.0 if end is None else 6.0 * t * (1.0 - t) / self._sewn(end, self.level)

    def _end(self, at: Vec) -> float | None:
        end = self.top if self.up.dot(at) > self.level else self.bottom
        return None if end is None or abs(end - self.level) < SHORTEST_MM else end

    def _t(self, at: Vec) -> float:
        end = self._end(at)
        if end is None:
            return 1.0
        return min(1.0, max(0.0, self._sewn(end, self.up.dot(at)) / self._sewn(end, self.level)))

    def _sewn(self, low: float, high: float) -> float:
        """Return how far one height lies above another once the darts are sewn, mm."""
        folded = (min(max(high, a), b) - min(max(low, a), b) for a, b in self.mouths)
        return high - low - sum(folded)


def outward(piece: Piece, edge: Edge) -> Vec:
    """Return the direction across the grain that leads away from the piece at an edge.

    Raises CannotDo for an edge that runs across itself (a hem, a waist).
    """
    out = -(edge.path.end - edge.path.start).unit.perp
    across = piece.up.perp
    if abs(across.dot(out)) < UPRIGHT:
        raise CannotDo(
            what=f"{edge_name(piece.name, edge.name)} has no side that is away from the piece",
            why="it runs across the grain from end to end",
            nearest="an edge that runs up and down, such as a side",
        )
    return across if across.dot(out) >= 0 else -across


def widened(piece: Piece, name: str, by: float, taper: Taper) -> Piece:
    """Return the piece `by` mm wider at an edge; the edges beside it follow (`moved_by`)."""
    return moved_by(piece, name, outward(piece, piece.edge(name)) * by, taper)


def moved_by(piece: Piece, name: str, move: Vec, taper: Taper) -> Piece:
    """Return the piece with every place of an edge moved by its share; the edges beside follow.

    Notches go with their place, darts keep their point; both legs are made equal. Raises CannotDo
    where an edge on the fold would leave its line.
    """
    edge = piece.edge(name)
    return with_line(
        piece,
        name,
        drawn(edge.path, move, taper),
        move,
        lambda at: taper.share(edge.path.point_at(at)),
    )


def with_line(
    piece: Piece, name: str, path: Path, move: Vec, share: Callable[[float], float]
) -> Piece:
    """Return the piece with an edge drawn anew, each place moved by its share (by mm along it)."""
    edge = piece.edge(name)

    def place(at: float) -> float:
        return path.nearest(edge.path.point_at(at) + move * share(at))[0]

    before, after = piece.neighbours(name)
    new = {name: Redrawn(path, place)}
    what = (f"{edge_name(piece.name, name)} cannot be moved by ", move.norm)
    for beside, end in ((before, path.start), (after, path.end)):
        keep_fold(beside, end, what)
    if not path.start.is_near(edge.path.start, JOIN_MM):
        new[before.name] = swung_edge(piece, before.name, end=path.start)
    if not path.end.is_near(edge.path.end, JOIN_MM):
        new[after.name] = swung_edge(piece, after.name, start=path.end)
    return darts_trued(redrawn(piece, new).piece, piece, name)


def drawn(path: Path, move: Vec, taper: Taper) -> Path:
    """Return a line with every place moved by its share; bends and corners stay."""
    segments: list[Segment] = []
    for part in path.split_many(tuple(_stations(path, taper))):
        for s in part.segments:
            shares = taper.share(s.start), taper.share(s.end)
            slopes = taper.slope(s.start), taper.slope(s.end)
            ends = s.start + move * shares[0], s.end + move * shares[1]
            if isinstance(s, Line) and slopes == (0.0, 0.0) and shares[0] == shares[1]:
                segments.append(Line(*ends))
                continue
            handles = _handles(s)
            sheared = [
                v + move * (k * taper.up.dot(v)) for v, k in zip(handles, slopes, strict=True)
            ]
            segments.append(Cubic(ends[0], ends[0] + sheared[0], ends[1] + sheared[1], ends[1]))
    return Path(tuple(segments))


def _handles(segment: Segment) -> tuple[Vec, Vec]:
    """Return the way from each end to its handle."""
    if isinstance(segment, Cubic):
        return segment.p1 - segment.p0, segment.p2 - segment.p3
    third = (segment.end - segment.start) / 3
    return third, -third


def _stations(path: Path, taper: Taper) -> Iterator[float]:
    """Yield where a line is divided: at the heights of the taper, and often where it tapers."""
    heights = [h for h in (taper.level, taper.top, taper.bottom) if h is not None]
    found = [c.at_a for h in heights for c in line_crossings(path, taper.up * h, taper.up.perp)]
    steps = int(path.length // STEP_MM)
    for k in range(1, steps):
        at = path.length * k / steps
        if 0.0 < taper.share(path.point_at(at)) < 1.0:
            found.append(at)
    ends = [0.0, *sorted(found), path.length]
    for before, at in pairwise(ends[:-1]):
        if at - before > 1.0 and path.length - at > 1.0:
            yield at
