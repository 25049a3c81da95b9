"""Words inside an outline, clear of its line and of the grain arrow; and that arrow."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt

from clothwright.geometry.path import polyline
from clothwright.geometry.region import all_inside
from clothwright.geometry.vec import Vec, turn_apart
from clothwright.pattern.piece import Edge
from clothwright.picture.picture import DrawnRole, Stroke, Text

STEPS = 14
"""Places tried each way across the outline."""
CHAR = 0.62
"""Width of a letter as a share of the type size, generously."""
CAPITAL = 0.75
"""Height of a capital as a share of the type size."""
LINE = 1.4
"""Height of a line of words as a share of the type size."""


def upright(angle_deg: float) -> float:
    """Return a direction (degrees), turned round if words along it would stand on their heads."""
    a = (angle_deg + 180.0) % 360.0 - 180.0
    return a - 180.0 if a > 90.0 + 1e-6 else a + 180.0 if a < -90.0 - 1e-6 else a


def place_words(
    ring: Sequence[tuple[float, float]],
    wide: float,
    tall: float,
    along: Vec,
    *avoid: Sequence[Vec],
) -> Vec | None:
    """Return the middle of a box `wide` x `tall` mm, its length along `along`, inside a ring.

    avoid: the two ends of a line (the grain arrow) or opposite corners of a box that it must not
    lie on. The place nearest the
    middle of the outline is taken; None when there is none.
    """
    if _extent(ring, along) < wide or _extent(ring, along.perp) < tall:
        return None
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    low, high = Vec(min(xs), min(ys)), Vec(max(xs), max(ys))
    middle = Vec(sum(xs) / len(xs), sum(ys) / len(ys)).lerp((low + high) / 2, 0.5)
    spots = [
        Vec(low.x + (high.x - low.x) * i / STEPS, low.y + (high.y - low.y) * j / STEPS)
        for i in range(1, STEPS)
        for j in range(1, STEPS)
    ]
    spots.append(middle)
    spots.sort(key=middle.distance)
    spots = [p for p in spots if not any(_on_line(p, wide, tall, along, a) for a in avoid)]
    inside = all_inside(_boxes(spots, wide, tall, along), ring)
    return next(itertools.compress(spots, inside), None)


def _extent(ring: Sequence[tuple[float, float]], along: Vec) -> float:
    """How far a ring reaches in a direction, mm."""
    places = [along.dot(Vec(*p)) for p in ring]
    return max(places) - min(places)


def lettered(
    words: str,
    ring: Sequence[tuple[float, float]],
    sizes: Iterable[float],
    *,
    avoid: Sequence[Vec] = (),
    clear: Sequence[Vec] = (),
    group: str = "",
) -> Text | None:
    """Return words inside a ring, along x or up, at the first of these sizes that finds room.

    sizes: of the type, mm, the largest first. avoid, clear: as in `place_words`. None when none
    fits.
    """
    for size in sizes:
        for along in (Vec(1.0, 0.0), Vec(0.0, 1.0)):
            spot = place_words(ring, CHAR * size * len(words), LINE * size, along, avoid, clear)
            if spot is not None:
                return word(words, spot - along.perp * (size * 0.35), size, along, group)
    return None


def word(words: str, at: Vec, size: float, along: Vec, group: str) -> Text:
    """Return words whose base line has its middle at a point, never on their heads; size in mm."""
    return Text(
        words=words,
        at=at,
        size=size,
        role=DrawnRole.LABEL,
        anchor="middle",
        angle_deg=upright(along.angle_deg),
        group=group,
    )


def along_edge(
    edge: Edge,
    words: str,
    size: float,
    *,
    gap: float,
    share: float = 0.5,
    role: DrawnRole = DrawnRole.LABEL,
    group: str = "",
) -> Text:
    """Return words along an edge, inside the piece and never on their heads.

    size: of the type, mm. gap: mm from the edge to the nearer side of the letters. share: of the
    edge's length, where the middle of the words is.
    """
    middle = edge.length * share
    along = edge.path.tangent_at(middle)
    angle_deg = upright(along.angle_deg)
    turned = turn_apart(angle_deg, along.angle_deg) > 90.0
    base = gap + (CAPITAL * size if turned else 0.0)
    return Text(
        words=words,
        at=edge.path.point_at(middle) + along.perp * base,
        size=size,
        role=role,
        anchor="middle",
        angle_deg=angle_deg,
        group=group,
    )


def grain_arrow(tail: Vec, head: Vec, group: str) -> tuple[Stroke, ...]:
    """Return the grain line of a piece as it lies, with a tip at its head; () without a length."""
    u = (head - tail).unit
    if u.norm == 0:
        return ()
    tip = polyline((head - u * 16 + u.perp * 6, head, head - u * 16 - u.perp * 6))
    lines = (polyline((tail, head)), tip)
    return tuple(Stroke(path=line, role=DrawnRole.GRAIN, group=group) for line in lines)


def _boxes(
    at: Sequence[Vec], wide: float, tall: float, along: Vec
) -> Sequence[npt.NDArray[np.float64]]:
    """Corners and middles of the sides of a box about each of these points, 8 x 2 each."""
    p = np.array(at).reshape(-1, 2)
    u, v = np.array(along * (wide / 2)), np.array(along.perp * (tall / 2))
    points = (p + u + v, p - u + v, p - u - v, p + u - v, p + u, p - u, p + v, p - v)
    return list(np.stack(points, axis=-2))


def _on_line(p: Vec, wide: float, tall: float, along: Vec, avoid: Sequence[Vec]) -> bool:
    if len(avoid) != 2:
        return False
    a, b = ((q - p) for q in avoid)
    ends = [(q.dot(along), q.dot(along.perp)) for q in (a, b)]
    near_u = min(e[0] for e in ends) < wide / 2 + 2 and max(e[0] for e in ends) > -wide / 2 - 2
    near_v = min(e[1] for e in ends) < tall / 2 + 2 and max(e[1] for e in ends) > -tall / 2 - 2
    return near_u and near_v
