"""Moving one end of a curve along, or its middle, the shape in between kept."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from clothwright.geometry.path import Path, join_all
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec

STEP_MM = 25.0
"""mm of the old curve that one new cubic stands for at most."""


def bent(path: Path, low: float, high: float, by: Vec, *, straight: bool = False) -> Path:
    """Return the stretch from low to high mm of a path with its end moved by `by`.

    Each point goes as far of the way as 3t² - 2t³, t from 0 at low to 1 at high: no corner comes
    in where the path goes on at either end, and the stretch keeps its own bends. With `straight`,
    or low = high, it is a straight line. The cubics share points and directions with the bent
    curve; the share is a cubic of the length, so that on a straight line they are exact.
    """
    start, long = path.point_at(low), high - low
    if straight or long <= JOIN_MM:
        return Path((Line(start, path.point_at(high) + by),))
    shares = [(at, (at - low) / long) for at in _knots(path, low, high)]
    moves = [by * (t * t * (3 - 2 * t)) for _, t in shares]
    turns = [by * (6 * t * (1 - t) / long) for _, t in shares]
    return _through(path, [at for at, _ in shares], moves, turns)


def bowed(path: Path, by: Vec) -> Path:
    """Return a path with its middle moved by `by`, its ends and its directions there kept.

    Each point goes as far of the way as 16t²(1 - t)², t from 0 to 1 along it; as exact as `bent`.
    """
    long = path.length
    shares = [(at, at / long) for at in _knots(path, 0.0, long)]
    moves = [by * (16 * t * t * (1 - t) ** 2) for _, t in shares]
    turns = [by * (32 * t * (1 - t) * (1 - 2 * t) / long) for _, t in shares]
    return _through(path, [at for at, _ in shares], moves, turns)


def _through(
    path: Path, knots: Sequence[float], moves: Sequence[Vec], turns: Sequence[Vec]
) -> Path:
    """Return a path whose points at some places (mm along it) go so far.

    turns: by how much its directions there change.
    """
    points = [path.point_at(at) + by for at, by in zip(knots, moves, strict=True)]
    ways = [path.tangent_at(at) + by for at, by in zip(knots, turns, strict=True)]
    steps = [(b - a) / 3 for a, b in pairwise(knots)]
    return Path(
        tuple(
            Cubic(p, p + u * step, q - v * step, q)
            for (p, q), (u, v), step in zip(pairwise(points), pairwise(ways), steps, strict=True)
        )
    )


def chained(parts: Sequence[Path]) -> Path:
    """Return one path from parts that follow each other but for what finding them by length costs.

    Each starts exactly where the one before it ends (about 0.0001 mm).
    """
    out = [parts[0]]
    for part in parts[1:]:
        out.append(part.with_ends(start=out[-1].end))
    return join_all(out)


def _knots(path: Path, low: float, high: float) -> list[float]:
    """Where the new cubics meet: where the old segments do, and every STEP_MM at most."""
    run, joints = 0.0, [low]
    for segment in path.segments[:-1]:
        run += segment.length
        if low + JOIN_MM < run < high - JOIN_MM:
            joints.append(run)
    knots = [low]
    for a, b in pairwise((*joints, high)):
        n = max(1, round((b - a) / STEP_MM + 0.5))
        knots += [a + (b - a) * k / n for k in range(1, n + 1)]
    return knots
