"""Cut a piece square to its grain and spread it, or fold it out, its edges redrawn over the cut.

What lengthening and matching a level share. Lengths in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from clothwright.changes.redraw import Redrawn, redrawn, refuse_crossing
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.shift import shifted
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import Transform, translation
from clothwright.geometry.turning import waves_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.piece import Edge, Grain, Mark, Piece
from clothwright.words import AtLeast, AtMost, Sentence

REACH_MM = 50.0
"""mm above and below the cut over which a curved edge is redrawn, at least (common practice: the
step is blended with a curved ruler over a hand's breadth)."""

LEFT_MM = 1.0
"""mm along the grain that must be left of every run that is shortened."""

DIP_MM = 0.05
"""mm an edge may dip past the cut and still count as lying on one side of it."""

MISS_MM = 0.5
"""mm: a curve that gains so much less than the cut opens is looked for a better stretch."""

FAIR_DEG, WAVE_DEG = 3.0, 10.0
"""Degrees to and fro that redrawing may add: seen as fair, and refused beyond. Our own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cut:
    """A cut through `p` square to the grain; what lies below moves `by` down the grain."""

    piece: str
    p: Vec
    up: Vec
    by: float
    curves: str

    def height(self, q: Vec) -> float:
        return self.up.dot(q - self.p)

    def is_below(self, q: Vec) -> bool:
        return self.height(q) < -JOIN_MM

    @property
    def move(self) -> Transform:
        return translation(self.up * -self.by)

    def moved(self, q: Vec) -> Vec:
        return self.move.apply(q) if self.is_below(q) else q

    @property
    def what(self) -> Sentence:
        verb = "lengthened" if self.by > 0 else "shortened"
        return (f'"{self.piece}" cannot be {verb} by ', abs(self.by), " there")


def lengthened(piece: Piece, at: Vec, by: float, *, curves: str = "smooth") -> Piece:
    """Return a piece cut through `at` square to the grain and spread by `by` mm (minus: closed).

    The same object when `by` is 0. Raises CannotDo.
    """
    if by == 0.0:
        return piece
    cut = _Cut(piece=piece.name, p=at, up=piece.up, by=by, curves=curves)
    _check_sides(piece, cut)
    _check_darts(piece, cut)
    _check_room(piece, cut)
    new = {e.name: _redrawn_edge(piece, e, cut) for e in piece.edges}
    darts = tuple(
        replace(d, point=cut.move.apply(d.point)) if _dart_below(piece, d.name, cut) else d
        for d in piece.darts
    )
    grain = piece.grain and Grain(
        start=cut.moved(piece.grain.start), end=cut.moved(piece.grain.end)
    )
    out = redrawn(
        replace(piece, darts=darts),
        {name: r for name, r in new.items() if r.path is not piece.edge(name).path},
        grain=grain,
        levels=tuple(replace(lv, at=cut.moved(lv.at)) for lv in piece.levels),
        marks=tuple(_moved_mark(m, cut) for m in piece.marks),
    ).piece
    refuse_crossing(out, cut.what)
    return out


def _check_sides(piece: Piece, cut: _Cut) -> None:
    heights = [cut.height(q) for e in piece.edges for q in e.path.flatten(1.0)]
    low, high = min(heights), max(heights)
    if low < -JOIN_MM and high > JOIN_MM:
        return
    side, other = ("below", low) if low >= -JOIN_MM else ("above", high)
    raise CannotDo(
        what=cut.what,
        why=f"nothing of the piece lies {side} the cut",
        nearest=(
            "a cut at least ",
            AtLeast(abs(other) + 1),
            " higher" if side == "below" else " lower",
        ),
    )


def _check_darts(piece: Piece, cut: _Cut) -> None:
    """Refuse a cut through a dart: its legs would no longer agree."""
    for dart in piece.darts:
        path = piece.edge(dart.edge).path
        heights = [
            cut.height(q) for q in (path.point_at(dart.a), path.point_at(dart.b), dart.point)
        ]
        low, high = min(heights), max(heights)
        if low < -JOIN_MM and high > JOIN_MM:
            raise CannotDo(
                what=cut.what,
                why=f'the cut would run through the dart "{dart.name}"',
                nearest=(
                    "a cut ",
                    AtLeast(high),
                    " higher or ",
                    AtLeast(-low),
                    " lower, clear of the dart",
                ),
            )


def _check_room(piece: Piece, cut: _Cut) -> None:
    """Refuse to take out more than the shortest of the runs that are redrawn holds."""
    rooms = []
    for edge in piece.edges:
        if cut.is_below(edge.path.start) != cut.is_below(edge.path.end):
            at = line_crossings(edge.path, cut.p, cut.up.perp)[0].at_a
            heights = [cut.height(edge.path.point_at(x)) for x in _run(piece, edge, at)]
            rooms.append((abs(heights[0] - heights[1]), edge.name))
    room, name = min(rooms)
    if -cut.by > room - LEFT_MM + JOIN_MM:
        raise CannotDo(
            what=cut.what,
            why=(f'edge "{name}" runs only ', room, " along the grain there"),
            nearest=(
                "to shorten by ",
                AtMost(max(0.0, room - LEFT_MM)),
                ", or to share it between two places",
            ),
        )


def _dart_below(piece: Piece, name: str, cut: _Cut) -> bool:
    dart = piece.dart(name)
    path = piece.edge(dart.edge).path
    points = (path.point_at(dart.a), path.point_at(dart.b), dart.point)
    return any(cut.is_below(q) for q in points)


def _redrawn_edge(piece: Piece, edge: Edge, cut: _Cut) -> Redrawn:
    path = edge.path
    starts_below, ends_below = cut.is_below(path.start), cut.is_below(path.end)
    if starts_below == ends_below:
        _check_dip(edge, cut, below=starts_below)
        return Redrawn(path.transformed(cut.move) if starts_below else path, lambda at: at)
    found = line_crossings(path, cut.p, cut.up.perp)
    if len(found) != 1:
        raise CannotDo(
            what=cut.what,
            why=f'its edge "{edge.name}" crosses the cut {len(found)} times',
            nearest="a cut that crosses each edge once",
        )
    at = found[0].at_a
    new = _spread(edge, _run(piece, edge, at), at, cut)
    grown = new.length - path.length
    last = at - JOIN_MM if starts_below else at + JOIN_MM  # on the cut counts as above it
    return Redrawn(new, lambda x: x if x <= last else x + grown)


def _check_dip(edge: Edge, cut: _Cut, *, below: bool) -> None:
    heights = [cut.height(q) for q in edge.path.flatten(0.02)]
    past = max(heights) if below else -min(heights)
    if past > DIP_MM:
        raise CannotDo(
            what=cut.what,
            why=f'both ends of its edge "{edge.name}" lie on one side of the cut, but the edge '
            "crosses it",
            nearest=("a cut ", AtLeast(past), " higher" if below else " lower"),
        )


def _run(piece: Piece, edge: Edge, at: float) -> tuple[float, float]:
    """The stretch of the edge around a place that is smooth and free of darts, mm."""
    marks = [0.0, edge.length]
    for dart in piece.darts_on(edge.name):
        marks += [dart.a, dart.b]
    run = 0.0
    for first, second in zip(edge.path.segments, edge.path.segments[1:], strict=False):
        run += first.length
        if abs(turn_between_deg(first.tangent(1.0), second.tangent(0.0))) > 1.0:
            marks.append(run)
    low = max(m for m in marks if m <= at + JOIN_MM)
    high = min((m for m in marks if m > max(at, low) + JOIN_MM), default=edge.length)
    if high - low <= JOIN_MM:  # the cut runs through the edge's own end: the run before it
        low = max((m for m in marks if m < high - JOIN_MM), default=0.0)
    return low, high


def _spread(edge: Edge, run: tuple[float, float], at: float, cut: _Cut) -> Path:
    """Redraw an edge that crosses the cut at `at`; only what lies in `run` changes its shape."""
    path, (low, high) = edge.path, run
    if cut.is_below(path.start):  # the lower end moves: travel towards it
        path, low, high, at = (
            path.reversed(),
            path.length - high,
            path.length - low,
            path.length - at,
        )
    move = cut.up * -cut.by
    if path.between(low, high).is_straight:
        new = shifted(path, low, high, move, straight=True)
    elif cut.curves == "spread" and cut.by > 0:
        new = shifted(path, at, at, move)
    else:
        new = _bent(edge.name, path, (low, high), at, cut)
    return new.reversed() if cut.is_below(edge.path.start) else new


def _bent(name: str, path: Path, run: tuple[float, float], at: float, cut: _Cut) -> Path:
    """Bend a curve over the stretch near the cut where it stays fairest and gains most.

    A stretch that runs along the grain is bent least and gains as much as the cut opens.
    """
    best, least = path, (math.inf, math.inf)
    for low, high in _bands(run, at, max(REACH_MM, 2 * abs(cut.by))):
        new = shifted(path, low, high, cut.up * -cut.by)
        missed = abs(cut.by) - abs(new.length - path.length)
        waves = waves_deg(
            path.between(*run), new.between(run[0], run[1] + new.length - path.length)
        )
        found = max(0.0, waves - FAIR_DEG), max(0.0, missed - MISS_MM)
        if found < least:
            best, least = new, found
        if found == (0.0, 0.0):
            break
    if least[0] > WAVE_DEG - FAIR_DEG:
        raise CannotDo(
            what=cut.what,
            why=f'its edge "{name}" runs too much across the grain there: redrawn, it would wave',
            nearest="a cut where that edge runs up and down"
            + (", or that edge left as it is spread, to be trued by hand" if cut.by > 0 else ""),
        )
    return best


def _bands(run: tuple[float, float], at: float, reach: float) -> Iterator[tuple[float, float]]:
    """Yield stretches (mm along the edge) round the cut, the shorter first, within the run.

    Each is as long as `reach`, if the run is.
    """
    whole = math.inf, math.inf
    for before, after in (
        (reach, reach),
        (reach, 0.0),
        (0.0, reach),
        (2 * reach, 2 * reach),
        whole,
    ):
        low, high = max(run[0], at - before), min(run[1], at + after)
        yield max(run[0], min(low, high - reach)), min(run[1], max(high, low + reach))


def _moved_mark(mark: Mark, cut: _Cut) -> Mark:
    """Move a mark that lies below; stretch a line mark that crosses the cut along the grain."""
    at = None if mark.at is None else cut.moved(mark.at)
    if mark.path is None:
        return replace(mark, at=at)
    heights = [cut.height(q) for s in mark.path.segments for q in s.controls()]
    low, high = min(heights), max(heights)
    if low >= -JOIN_MM:
        return replace(mark, at=at)
    if high <= JOIN_MM:
        return replace(mark, at=at, path=mark.path.transformed(cut.move))
    return replace(mark, at=at, path=mark.path.transformed(_stretch(cut, low, high)))


def _stretch(cut: _Cut, low: float, high: float) -> Transform:
    """Scale along the grain so that height `high` stays and `low` moves with what lies below."""
    factor = max(0.05, (high - low + cut.by) / (high - low))
    (ux, uy), k = cut.up, factor - 1.0
    top = cut.p + cut.up * high
    along = ux * top.x + uy * top.y
    return Transform(
        1 + k * ux * ux, k * ux * uy, k * ux * uy, 1 + k * uy * uy, -k * along * ux, -k * along * uy
    )
