"""Which places of the cloth are sewn together: both sides of a seam as they lie, step by step.

Marks that meet lie together (`pattern.walk`); between them both sides are shared out evenly, which
is how ease is put in. Darts are folded out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import Transform, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.lay.compiled import Compiled
from clothwright.lay.copies import Copy, Half, seam_halves
from clothwright.lay.result import Placement
from clothwright.pattern.measure import net_at, net_length, run_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import Walk, walk_seam

Numbers = NDArray[np.float64]
SAGITTA_MM = 0.02
"""mm: how far the line that is walked may stray from the stitching line."""
SEWN_KINDS = ("plain", "cap", "closure")
"""Kinds of seam that show on the right side, with a piece on either side."""


def placement_move(copy: Copy, placement: Placement, *, twin: bool = False) -> Transform:
    """Return the move from the piece as drawn (or its mirrored half) to the cloth."""
    over = Transform(1.0, 0.0, 0.0, -1.0) if placement.flipped else Transform()
    own = copy.fold.then(copy.to_frame) if twin and copy.fold is not None else copy.to_frame
    return (
        own.then(over)
        .then(rotation_deg(placement.turn_deg))
        .then(translation((placement.x, placement.y)))
    )


class Marks(NamedTuple):
    """Where marks of both sides meet, mm from the seam's start on each; its ends are marks too."""

    walk: Walk
    a: Numbers
    b: Numbers

    @classmethod
    def of(cls, pattern: Pattern, seam: Seam) -> Marks:
        """Return the marks of a seam that meet."""
        walk = walk_seam(pattern, seam)
        return cls(
            walk,
            np.array([0.0, *(p.a.at for p in walk.pairs), walk.a.length]),
            np.array([0.0, *(p.b.at for p in walk.pairs), walk.b.length]),
        )

    def to_b(self, at: Numbers) -> Numbers:
        """Return the places of side b sewn to places of side a, mm."""
        return np.interp(at, self.a, self.b)

    def to_a(self, at: float) -> float:
        """Return the place of side a sewn to a place of side b, mm."""
        return float(np.interp(at, self.b, self.a))


@dataclass(frozen=True, slots=True, kw_only=True)
class BothSides:
    """The halves of copies along both sides, a and b, of what lies together."""

    a: tuple[Half, ...]
    b: tuple[Half, ...]

    @property
    def shapes(self) -> tuple[str, ...]:
        """The copies joined, those of side a first."""
        return tuple(h.shape for h in (*self.a, *self.b))


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamJoin(BothSides):
    """One seam on one side of the body: the halves along its sides a and b.

    half: 0 for the side of the body the pieces are drawn for, 1 for the other. marks: where marks
    of both sides meet.
    """

    seam: Seam
    marks: Marks
    half: int

    @property
    def name(self) -> str:
        """What it is called."""
        return self.seam.name


def joins_of(
    pattern: Pattern, compiled: Compiled, placed: Mapping[str, Placement]
) -> Iterator[SeamJoin]:
    """Yield every seam between pieces that are placed, once for each side of the body."""
    for seam in pattern.seams:
        if seam.kind not in SEWN_KINDS:
            continue
        marks = Marks.of(pattern, seam)
        for half, (a, b) in seam_halves(compiled.copies, seam).items():
            join = SeamJoin(seam=seam, marks=marks, half=half, a=a, b=b)
            if all(shape in placed for shape in join.shapes):
                yield join


class SideLaid(NamedTuple):
    """One side of a seam as it lies, place by place.

    points: (n, 2) mm on the cloth. heading: (n,) radians, the way the seam runs on the cloth.
    run: (n,) which of the side's edges each place lies on.
    """

    points: Numbers
    heading: Numbers
    run: NDArray[np.intp]


class Sewn(NamedTuple):
    """Both sides of a seam: mm from its start on side a, and the places sewn together there."""

    at: Numbers
    a: SideLaid
    b: SideLaid


def sewn(
    pattern: Pattern,
    compiled: Compiled,
    placed: Mapping[str, Placement],
    join: SeamJoin,
    *,
    step: float,
) -> Sewn:
    """Return both sides of a seam from its start to its end, at most `step` mm apart on side a."""
    marks = join.marks
    a, b = (
        tuple(_side(pattern, compiled, placed, *side))
        for side in ((join.seam.a, join.a), (join.seam.b, join.b))
    )
    n = max(2, math.ceil(marks.a[-1] / step))
    at = np.linspace(0.0, marks.a[-1], n + 1)
    return Sewn(at=at, a=_laid(a, at), b=_laid(b, marks.to_b(at)))


def seam_places(
    pattern: Pattern,
    compiled: Compiled,
    placed: Mapping[str, Placement],
    seam: Seam,
    *,
    places: int = 60,
) -> tuple[tuple[tuple[str, Vec, str, Vec], ...], ...]:
    """Return, for each side of the body, which places of which copies are sewn together.

    Each row walks the seam from its start in `places` even steps, darts folded out: copy and
    place on side a, copy and place on side b, where `placed` has them. Copies that are missing
    in `placed` leave their side of the body out.
    """
    out = []
    for join in joins_of(pattern, compiled, placed):
        if join.seam is seam:
            length = run_length(pattern, seam.a)
            both = sewn(pattern, compiled, placed, join, step=length / places + 1e-9)
            out.append(tuple(_rows(join, both)))
    return tuple(out)


def _rows(join: SeamJoin, both: Sewn) -> Iterator[tuple[str, Vec, str, Vec]]:
    for i in range(len(both.at)):
        (ax, ay), (bx, by) = both.a.points[i], both.b.points[i]
        a, b = join.a[both.a.run[i]].shape, join.b[both.b.run[i]].shape
        yield a, Vec(float(ax), float(ay)), b, Vec(float(bx), float(by))


class _Run(NamedTuple):
    """One edge of a side of a seam, and the move from its piece to the cloth."""

    piece: Piece
    ref: EdgeRef
    move: Transform


def _side(
    pattern: Pattern,
    compiled: Compiled,
    placed: Mapping[str, Placement],
    refs: Sequence[EdgeRef],
    halves: Sequence[Half],
) -> Iterator[_Run]:
    for ref, half in zip(refs, halves, strict=True):
        copy = compiled.copy(half.shape)
        move = placement_move(copy, placed[half.shape], twin=half.twin)
        yield _Run(pattern.piece(ref.piece), ref, move)


def _laid(runs: Sequence[_Run], at: Numbers) -> SideLaid:
    """Lay out one side of a seam at places `at` (mm from its start, rising)."""
    lengths = [net_length(piece, ref.edge) for piece, ref, _ in runs]
    starts = np.cumsum([0.0, *lengths[:-1]])
    run = np.maximum(np.searchsorted(starts, at + 1e-9, side="right") - 1, 0)
    points, heading = np.empty((len(at), 2)), np.empty(len(at))
    for k, (piece, ref, move) in enumerate(runs):
        here = run == k
        along = at[here] - starts[k]
        along = lengths[k] - along if ref.reversed else along
        points[here], heading[here] = _moved(_on_edge(piece, ref.edge, along), move)
        heading[here] += math.pi if ref.reversed else 0.0
    return SideLaid(points, heading, run)


def laid_path(path: Path, at: Numbers, move: Transform) -> SideLaid:
    """Return the places of a line as it lies. at: mm from its start; move: to the cloth."""
    points, heading = _moved(_on_line(path, at), move)
    return SideLaid(points, heading, np.zeros(len(at), dtype=np.intp))


def _on_edge(piece: Piece, edge: str, along: Numbers) -> tuple[Numbers, Numbers]:
    """Return the points and headings of an edge at places counted with its darts folded out."""
    gross = along.copy()
    for dart in piece.darts_on(edge):
        gross[along > net_at(piece, edge, dart.a) + 1e-9] += dart.b - dart.a
    return _on_line(piece.edge(edge).path, gross)


def _on_line(path: Path, at: Numbers) -> tuple[Numbers, Numbers]:
    line = _polygon(path)
    points = np.column_stack([np.interp(at, line.at, line.points[:, k]) for k in (0, 1)])
    return points, np.interp(at, line.at, line.heading)


def _moved(line: tuple[Numbers, Numbers], move: Transform) -> tuple[Numbers, Numbers]:
    points, heading = line
    turn = np.array([[move.a, move.b], [move.c, move.d]])
    ways = np.column_stack([np.cos(heading), np.sin(heading)]) @ turn
    return points @ turn + np.array([move.e, move.f]), np.arctan2(ways[:, 1], ways[:, 0])


class _Polygon(NamedTuple):
    """A path as points (m, 2), each mm from its start, and its heading there (radians, unbroken).

    A joint of two segments stands twice, with the heading before it and after it.
    """

    at: Numbers
    points: Numbers
    heading: Numbers


@lru_cache(maxsize=1024)
def _polygon(path: Path) -> _Polygon:
    at, points, heading, run = [], [], [], 0.0
    for segment in path.segments:
        own = np.array([segment.start, *segment.flatten(SAGITTA_MM)])
        chords = np.cumsum([0.0, *np.hypot(*np.diff(own, axis=0).T)])
        n = len(own) - 1
        ts = (0.0, 1.0) if isinstance(segment, Line) else [i / n for i in range(n + 1)]
        ways = np.array([segment.tangent(t) for t in ts])
        at.append(run + chords * (segment.length / (chords[-1] or 1.0)))
        points.append(own)
        heading.append(np.arctan2(ways[:, 1], ways[:, 0]))
        run += segment.length
    return _Polygon(np.concatenate(at), np.vstack(points), np.unwrap(np.concatenate(heading)))
