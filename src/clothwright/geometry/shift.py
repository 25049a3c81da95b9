"""Moving one end of a curve along, the shape in between kept."""

from __future__ import annotations

from itertools import pairwise

from clothwright.geometry.path import Path, join_all
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec

STEP_MM = 25.0
"""mm of the old curve that one new cubic stands for at most."""


def shifted(path: Path, low: float, high: float, by: Vec, *, straight: bool = False) -> Path:
    """Return the path with all after `high` (mm along it) moved by `by`, all before `low` at rest.

    In between each point goes as far of the way as 3t² - 2t³, t from 0 at low to 1 at high: no
    corner comes in, and the curve keeps its own bends. With `straight`, or low = high, a straight
    line takes its place. low <= high, within the path.
    """
    parts = [path.between(0.0, low)] if low > JOIN_MM else []
    if straight or high - low <= JOIN_MM:
        parts.append(Path((Line(path.point_at(low), path.point_at(high) + by),)))
    else:
        parts.append(_bent(path, low, high, by))
    if high < path.length - JOIN_MM:
        parts.append(path.between(high, path.length).transformed(translation(by)))
    return join_all(parts)


def _bent(path: Path, low: float, high: float, by: Vec) -> Path:
    """The stretch between, in cubics that share points and directions with the bent curve.

    The share is a cubic of the length, so on a straight line they are exact.
    """
    long = high - low
    knots = _knots(path, low, high)
    points, ways = [], []
    for at in knots:
        t = (at - low) / long
        points.append(path.point_at(at) + by * (t * t * (3 - 2 * t)))
        ways.append(path.tangent_at(at) + by * (6 * t * (1 - t) / long))
    return Path(
        tuple(
            Cubic(p, p + u * (step / 3), q - v * (step / 3), q)
            for (p, q), (u, v), step in zip(
                pairwise(points), pairwise(ways), (b - a for a, b in pairwise(knots)), strict=True
            )
        )
    )


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
