"""A straight cut through a piece, square to its grain or along it, and the edges redrawn over it.

Lengths in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from clothwright.changes.redraw import Redrawn
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.shift import bent, chained
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import Transform, translation
from clothwright.geometry.turning import tightest, waves_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.piece import Edge, Piece
from clothwright.words import Sentence

REACH_MM = 50.0
"""mm above and below the cut over which a curved edge is redrawn, at least (common practice: the
step is blended with a curved ruler over a hand's breadth)."""

DIP_MM = 0.05
"""mm an edge may dip past the cut and still count as lying on one side of it."""

MARK_MM = 3.0
"""mm: a notch so near to the cut is the mark of its level and stays with it, as the notch does that
it meets: a drawn line is not truer. Our own choice."""

MISS_MM = 0.5
"""mm: a curve that gains so much less than the cut opens is looked for a better stretch."""

TIGHT, ROUND_MM = 1.5, 150.0
"""Times: a redrawn curve may bend so much more than it did anywhere; a line that bends less than a
circle of that radius (mm) counts as one. Our own choice: beyond it a bend is seen."""

FAIR_DEG, WAVE_DEG = 1.0, 10.0
"""Degrees to and fro that redrawing may add: seen as fair, and refused beyond. Our own choice."""


class CutWords(NamedTuple):
    """What a cut does, which way lies what is below and above it, and how an edge runs over it."""

    grown: str
    shrunk: str
    shrink: str
    below: str
    above: str
    higher: str
    lower: str
    way: str
    best: str


CROSSWISE = CutWords(
    "lengthened", "shortened", "shorten", "below", "above", "higher", "lower", "along",
    "runs up and down",
)  # fmt: skip
LENGTHWISE = CutWords(
    "made wider", "made narrower", "make it narrower", "beside", "beside", "further in",
    "further out", "across", "runs across",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelCut:
    """A cut through `p` square to `up`; what lies below it moves by `by` the other way.

    up: the grain's own direction, or across it (`across`) where the piece is cut along its grain.
    """

    piece: str
    p: Vec
    up: Vec
    by: float
    curves: str
    across: bool = False

    def height(self, q: Vec) -> float:
        """How far a point lies above the cut, mm."""
        return self.up.dot(q - self.p)

    def is_below(self, q: Vec) -> bool:
        """Whether a point goes along; what lies on the cut stays."""
        return self.height(q) < -JOIN_MM

    @property
    def said(self) -> CutWords:
        """How places are said by this cut."""
        return LENGTHWISE if self.across else CROSSWISE

    @property
    def move(self) -> Transform:
        """How what lies below moves."""
        return translation(self.up * -self.by)

    def moved(self, q: Vec) -> Vec:
        """Where a point is then."""
        return self.move.apply(q) if self.is_below(q) else q

    @property
    def what(self) -> Sentence:
        """The beginning of a refusal."""
        verb = self.said.grown if self.by > 0 else self.said.shrunk
        return (f'"{self.piece}" cannot be {verb} by ', abs(self.by), " there")


class CutPlace(NamedTuple):
    """Where an edge crosses the cut, mm along it; what may be redrawn there.

    down: it goes on below the cut.
    """

    at: float
    run: tuple[float, float]
    down: bool


def crossings(piece: Piece, edge: Edge, cut: LevelCut) -> tuple[CutPlace, ...]:
    """Return where an edge goes from one side of the cut to the other, in order along it."""
    path = edge.path
    below = {cut.is_below(p) for s in path.segments for p in s.controls()}
    if len(below) == 1:  # all of it lies on one side
        return ()
    marks = [c.at_a for c in line_crossings(path, cut.p, cut.up.perp)]
    bounds = [0.0, *marks, path.length]
    middles = [cut.height(path.point_at((a + b) / 2)) < 0.0 for a, b in pairwise(bounds)]
    middles[0] = cut.is_below(path.start)
    middles[-1] = cut.is_below(path.end)
    sides = zip(marks, pairwise(middles), strict=True)
    ats = [(at, now) for at, (was, now) in sides if was != now]
    if not ats or (len(ats) > 1 and max(abs(cut.height(p)) for p in path.flatten(0.02)) <= DIP_MM):
        return ()
    between = [-math.inf, *((a + b) / 2 for (a, _), (b, _) in pairwise(ats)), math.inf]
    found = []
    for (at, down), (first, last) in zip(ats, pairwise(between), strict=True):
        low, high = _run(piece, edge, at)
        found.append(CutPlace(at, (max(low, first), min(high, last)), down=down))
    return tuple(found)


def redrawn_edge(edge: Edge, places: tuple[CutPlace, ...], cut: LevelCut) -> Redrawn:
    """Redraw an edge over each place where it crosses the cut; what lies between is as it was.

    places: its `crossings`. Raises CannotDo where it would wave.
    """
    path, below = edge.path, cut.is_below(edge.path.start)
    parts, at, grown = [], 0.0, []
    for crossing in places:
        low, high, middle = _spread(edge, crossing, cut)
        if low - at > JOIN_MM:
            parts.append(_part(path, at, low, cut, below=below))
        parts.append(middle)
        last = crossing.at + (MARK_MM if crossing.down else -MARK_MM)
        grown.append((last, middle.length - (high - low)))
        at, below = high, crossing.down
    if not grown:
        return Redrawn(path.transformed(cut.move) if below else path, lambda x: x)
    if path.length - at > JOIN_MM:
        parts.append(_part(path, at, path.length, cut, below=below))
    return Redrawn(chained(parts), lambda x: x + sum(g for last, g in grown if x > last))


def _part(path: Path, low: float, high: float, cut: LevelCut, *, below: bool) -> Path:
    part = path.between(low, high)
    return part.transformed(cut.move) if below else part


def held_places(piece: Piece, edge: Edge) -> list[float]:
    """Return where an edge is not redrawn, mm: its ends, its corners, the mouths of its darts."""
    marks = [0.0, edge.length]
    for dart in piece.darts_on(edge.name):
        marks += [dart.a, dart.b]
    run = 0.0
    for first, second in pairwise(edge.path.segments):
        run += first.length
        if abs(turn_between_deg(first.tangent(1.0), second.tangent(0.0))) > 1.0:
            marks.append(run)
    return marks


def _run(piece: Piece, edge: Edge, at: float) -> tuple[float, float]:
    """The stretch of the edge around a place that is smooth and free of darts, mm."""
    marks = held_places(piece, edge)
    low = max(m for m in marks if m <= at + JOIN_MM)
    high = min((m for m in marks if m > max(at, low) + JOIN_MM), default=edge.length)
    if high - low <= JOIN_MM:  # the cut runs through the edge's own end: the run before it
        low = max((m for m in marks if m < high - JOIN_MM), default=0.0)
    return low, high


def _spread(edge: Edge, crossing: CutPlace, cut: LevelCut) -> tuple[float, float, Path]:
    """Return the stretch of an edge (mm along it) that is redrawn at a crossing, and its line."""
    path, (low, high), at = edge.path, crossing.run, crossing.at
    if not crossing.down:  # travel towards the end that moves
        path, at = path.reversed(), path.length - at
        low, high = path.length - high, path.length - low
    straight = path.between(low, high).is_straight
    if not straight and cut.curves == "spread" and cut.by > 0:
        low = high = at
    elif not straight:
        low, high = _stretch_of(edge.name, path, (low, high), at, cut)
    middle = bent(path, low, high, cut.up * -cut.by, straight=straight)
    if crossing.down:
        return low, high, middle
    return path.length - high, path.length - low, middle.reversed()


def _stretch_of(
    name: str, path: Path, run: tuple[float, float], at: float, cut: LevelCut
) -> tuple[float, float]:
    """Return the stretch of a curve near the cut over which it stays fair, and gains most.

    A stretch that runs along the grain is bent least and gains as much as the cut opens.
    """
    best, least = run, (math.inf, math.inf, math.inf)
    own = max(tightest(path.between(*run)), 1 / ROUND_MM)
    for low, high in _bands(run, at, max(REACH_MM, 2 * abs(cut.by))):
        new = bent(path, low, high, cut.up * -cut.by)
        missed = abs(cut.by) - abs(new.length - (high - low))
        waves = waves_deg(path.between(low, high), new)
        tight = tightest(new) / own - TIGHT
        # rounded: which of two that are alike is taken must not hang on the way a piece lies
        found = (
            round(max(0.0, waves - FAIR_DEG), 3),
            round(max(0.0, tight), 3),
            round(max(0.0, missed - MISS_MM), 3),
        )
        if found < least:
            best, least = (low, high), found
        if not any(found):
            break
    if least[0] > WAVE_DEG - FAIR_DEG:
        raise CannotDo(
            what=cut.what,
            why=f'its edge "{name}" runs too much along the cut: redrawn, it would wave',
            nearest=f"a cut where that edge {cut.said.best}"
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
