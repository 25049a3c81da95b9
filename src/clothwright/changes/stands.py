"""Upright collars: a stand whose front curves up, and the collar that falls over it. In mm."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import accumulate

from clothwright.changes.collars import COLLAR, FRONT, MIDDLE, NECK, OUTER, STAND, DraftCollar, Neck
from clothwright.errors import CannotDo
from clothwright.geometry.arcs import ellipse_arc
from clothwright.geometry.offset import parallel
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Cut, Edge, Grain, Notch, Piece, Role
from clothwright.pattern.whole import moved
from clothwright.words import AtMost

MOST_DEG = 60.0
"""Degrees: how much half a stand may turn at most, from its middle to its front."""


def turn_of_stand(length: float, rise: float) -> float:
    """Return the angle in radians of an arc so long (mm) whose end rises so far (mm).

    rise / length = (1 - cos θ) / θ, solved by halving. Raises CannotDo beyond `MOST_DEG`.
    """
    low, high = 0.0, math.radians(MOST_DEG)
    most = length * (1 - math.cos(high)) / high
    if rise > most:
        raise CannotDo(
            what=("the front of the stand cannot rise by ", rise),
            why="it would curve more than a neck does",
            nearest=("at most ", AtMost(most)),
        )
    for _ in range(60):
        middle = (low + high) / 2
        at = (1 - math.cos(middle)) / middle
        low, high = (middle, high) if at < rise / length else (low, middle)
    return (low + high) / 2


def stand_piece(neck: Neck, asked: DraftCollar) -> Piece:
    """Return half of the stand on the fold, cut twice; its upper edge is parallel to the neck.

    Raises CannotDo where its front would rise or lap over by too much.
    """
    line = polyline(((0.0, 0.0), (neck.length, 0.0)))
    if asked.rise > 0.0:
        theta = turn_of_stand(neck.length, asked.rise)
        radius = neck.length / theta
        line = Path(ellipse_arc(Vec(0.0, radius), (radius, radius), 0.0, -math.pi / 2, theta))
    top = parallel(line, -asked.stand)
    upper = [("collar edge", top.reversed())]
    if asked.front:
        if asked.front >= top.length / 2:
            raise CannotDo(
                what=("the stand cannot lap over by ", asked.front),
                why=("its upper edge is only ", top.length, " long"),
                nearest=("less than ", AtMost(top.length / 2)),
            )
        most, rest = top.split_at(top.length - asked.front)
        upper = [("front top", rest.reversed()), ("collar edge", most.reversed())]
    lines = [(NECK, line), (FRONT, polyline((line.end, top.end))), *upper]
    return _on_fold(STAND, lines, neck, asked, count=2)


def fall_piece(neck: Neck, stand: Piece, asked: DraftCollar) -> Piece:
    """Return half of the collar that falls over the stand, on the fold, as long as its edge."""
    long, deep = stand.edge("collar edge").length, asked.depth
    corners = [Vec(0.0, 0.0), Vec(long, 0.0), Vec(long + asked.point, deep), Vec(0.0, deep)]
    names = (NECK, FRONT, OUTER)
    lines = [(n, polyline(corners[k : k + 2])) for k, n in enumerate(names)]
    return _on_fold(COLLAR, lines, neck, asked, count=1)


def _on_fold(
    name: str, lines: list[tuple[str, Path]], neck: Neck, asked: DraftCollar, *, count: int
) -> Piece:
    """Return a half piece, its fold on the left, laid where the neck is."""
    low, high = lines[0][1].start, lines[-1][1].end
    edges = [Edge(name=n, path=p, allowance=asked.allowance) for n, p in lines]
    if name == STAND:
        sewn = neck.allowance or asked.allowance
        edges[0] = replace(edges[0], notches=_marks(neck), allowance=sewn)
    edges.append(Edge(name=MIDDLE, path=polyline((high, low)), role=Role.FOLD))
    x, tall = 0.25 * neck.length, high.y - low.y
    foot = min(p.y for p in lines[0][1].flatten(0.5) if p.x <= x + 1.0)
    grain = Grain(start=Vec(x, foot + 0.35 * tall), end=Vec(x, foot + 0.85 * tall))
    cut = Cut(material=asked.material, how="fold", count=count)
    piece = Piece(name=name, edges=tuple(edges), grain=grain, cuts=(cut,))
    return moved(piece, neck.move)


def _marks(neck: Neck) -> tuple[Notch, ...]:
    """Return a notch for every seam that the collar goes over, and for the centre in front."""
    runs = neck.runs if neck.first else neck.runs[::-1]
    found = [Notch(at=a) for a in list(accumulate(r.path.length for r in runs))[:-1]]
    if neck.beyond_centre:
        found.append(Notch(at=neck.length - neck.beyond_centre, name=neck.centre))
    return tuple(sorted(found, key=lambda n: n.at))
