"""Pieces of one view hung from each other: grain upright, along their seams, none on another.

Flat pieces cannot follow every seam. One whose seam runs along its neighbour's, turned or not,
may follow it; all others hang straight and touch their neighbour (a crotch, a bust).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from clothwright.drawing.flat import UPRIGHT, Joined, Part
from clothwright.geometry.rigid import rigid_fit
from clothwright.geometry.transform import Transform, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.lay.problem import Ring
from clothwright.lay.sewn import Numbers

TUBE_MM = 25.0
"""Fitted to several seams and still so far off (RMS, mm), a piece closes a tube with its
neighbour; then it is laid along one of them."""
GAPES_MM = 60.0
"""mm: a seam that gapes wider than this while its pieces hang straight is rather followed (a gore
that is flared, a collar). Our own choice."""
FOLLOWS_MM = 5.0
"""mm: a piece that follows a seam lies as near as this to it (RMS), no deeper on the other."""
LEVEL_DEG = 15.0
"""degrees: a strip that would lean by no more than this lies level. Our own choice."""
HAIR_MM = 0.1
"""mm: edges that lie on each other are no overlap."""

Pairs = list[tuple[Vec, Vec]]
"""Places of a copy in its own frame, and the places of the view they are sewn to."""


class Sewing(NamedTuple):
    """A seam of a copy to one that hangs already: `to`, its shape, and the places sewn together."""

    to: str
    pairs: Pairs


def hung(
    start: str,
    free: Sequence[str],
    rings: Mapping[str, Ring],
    seams: Sequence[Sequence[Joined]],
) -> list[Part]:
    """Hang one copy upright and from it all of `free` that seams join, one after the other.

    rings: as of a Part, by shape. seams: places sewn together, seam by seam.
    """
    done = {start: Part(shape=start, ring=rings[start], move=UPRIGHT)}
    while True:
        onto: dict[str, list[Sewing]] = {}
        for k in (k for k in free if k not in done):
            found = (_sewn_to(row, k, done) for row in seams)
            onto |= {k: several} if (several := [s for s in found if s]) else {}
        if not onto:
            return list(done.values())
        k = max(onto, key=lambda b: sum(len(s.pairs) for s in onto[b]))
        move, off = _hangs(onto[k], rings[k], {n: p.outline for n, p in done.items()})
        done[k] = Part(shape=k, ring=rings[k], move=move, off=off)


def laid_along(pairs: Pairs, ring: Ring, others: Sequence[Ring]) -> tuple[Transform, float]:
    """Return where a strip lies along its seam, level, off what it is sewn to; and what is left.

    ring: of the strip, others: of what it is sewn to as that lies. What is left: RMS, mm.
    """
    move, _ = rigid_fit(*zip(*pairs, strict=True))
    way = move.apply_direction((1.0, 0.0)).angle_deg
    level = rotation_deg(90.0 * round(way / 90.0))
    if abs(way - 90.0 * round(way / 90.0)) <= LEVEL_DEG:
        move = _nearest(pairs, level)
    for other in others:
        move = move.then(translation(_clear(pairs, move, ring, other)))
    return move, _off(pairs, move)


def seen_from(row: Sequence[Joined], shape: str) -> list[Joined]:
    """Return the places of a seam at one copy, that copy first."""
    out = [j for j in row if j[0] == shape]
    return out + [(b, q, a, p) for a, p, b, q in row if b == shape and a != shape]


def leaning(parts: Sequence[Part]) -> list[float]:
    """Return by how many degrees the grain of each part leans to the left."""
    ways = (p.move.apply_direction((1.0, 0.0)) for p in parts)
    return [(math.degrees(math.atan2(w.y, w.x)) + 90.0) % 360.0 - 180.0 for w in ways]


def _sewn_to(row: Sequence[Joined], shape: str, done: Mapping[str, Part]) -> Sewing | None:
    """Return what of a seam joins a copy to what hangs already, None for nothing."""
    mine = [(p, other, q) for _, p, other, q in seen_from(row, shape) if other in done]
    if len(mine) < 2:
        return None
    pairs = [(p, done[other].move.apply(q)) for p, other, q in mine]
    return Sewing(mine[0][1], pairs)


def _hangs(
    seams: Sequence[Sewing], ring: Ring, others: Mapping[str, Ring]
) -> tuple[Transform, float]:
    """Return where a copy hangs, and what is left at its seams (RMS, mm)."""
    together = [pair for s in seams for pair in s.pairs]
    if len(seams) > 1 and _off(together, _nearest(together, UPRIGHT)) > TUBE_MM:
        seams = [max(seams, key=lambda s: s.pairs[0][0].distance(s.pairs[-1][0]))]
        together = seams[0].pairs
    straight = _nearest(together, UPRIGHT)
    for s in seams:
        straight = straight.then(translation(_clear(s.pairs, straight, ring, others[s.to])))
    gapes = max(straight.apply(p).distance(q) for p, q in together)
    followed, off = rigid_fit(*zip(*together, strict=True))
    deep = max(_clear(s.pairs, followed, ring, others[s.to]).norm for s in seams)
    if gapes > GAPES_MM and max(off, deep) <= FOLLOWS_MM:
        return followed, off
    return straight, _off(together, straight)


def _nearest(pairs: Pairs, turn: Transform) -> Transform:
    """Return the move of a copy turned so that brings its places nearest, by least squares."""
    apart = [q - turn.apply(p) for p, q in pairs]
    middle = Vec(sum(v.x for v in apart) / len(apart), sum(v.y for v in apart) / len(apart))
    return turn.then(translation(middle))


def _off(pairs: Pairs, move: Transform) -> float:
    return math.sqrt(sum(move.apply(p).distance(q) ** 2 for p, q in pairs) / len(pairs))


def _clear(pairs: Pairs, move: Transform, ring: Ring, other: Ring) -> Vec:
    """Return the shift that takes a copy off the one it is sewn to, square to their seam."""
    chord = pairs[-1][1] - pairs[0][1]
    axis = 0 if abs(chord.y) > abs(chord.x) else 1
    mine, its = np.array([move.apply(p) for p in ring]), np.array(other)
    hand = 1.0 if mine[:, axis].mean() > its[:, axis].mean() else -1.0
    at = np.unique(np.concatenate([mine[:, 1 - axis], its[:, 1 - axis]]))
    deep = _reach(its, axis, hand, at) + _reach(mine, axis, -hand, at)
    deepest = float(deep.max(initial=-np.inf))
    by = hand * deepest if deepest > HAIR_MM else 0.0
    return Vec(by, 0.0) if axis == 0 else Vec(0.0, by)


def _reach(ring: Numbers, axis: int, hand: float, at: Numbers) -> Numbers:
    """Return how far a ring reaches along an axis (hand 1: up it, -1: down) at places across it.

    ring: (n, 2) mm; at: (m,) mm on the other axis. (m,) mm, -inf where the ring is not.
    """
    ends = np.roll(ring, -1, axis=0)
    low, run = ring[:, 1 - axis], ends[:, 1 - axis] - ring[:, 1 - axis]
    run = np.where(np.abs(run) < 1e-9, np.inf, run)
    share = (at[:, None] - low) / run
    there = ring[:, axis] + share * (ends[:, axis] - ring[:, axis])
    inside = (share >= 0.0) & (share <= 1.0) & np.isfinite(run)
    found: Numbers = np.where(inside, hand * there, -np.inf).max(axis=1)
    return found


def turned(parts: Sequence[Part], by_deg: float) -> list[Part]:
    """Return parts turned by so many degrees to the left about the middle of the view."""
    turn = rotation_deg(by_deg)
    return [Part(shape=p.shape, ring=p.ring, move=p.move.then(turn), off=p.off) for p in parts]
