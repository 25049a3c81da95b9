"""What mends a seam that runs up the body: a piece made longer or shorter between two of its lines.

Where that was done is told by the notches; where there are none, a cut may lie anywhere, and
several heights are tried, since a dart may be in the way.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from typing import NamedTuple

from clothwright.checks.check import CheckSettings
from clothwright.checks.weigh import length_band
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Mend
from clothwright.pattern.measure import place_on
from clothwright.pattern.parts import runs_up
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import Walk, walk_seam

SHARES = (0.5, 0.25, 0.75)
"""Where in a stretch that is off a piece is cut across, as shares of it; our own figures."""

LEAST_MM = 10.0
"""mm: notches nearer to each other in height have no cut between them; our own figure."""

MOST = 6
"""How many cuts are tried at the most; our own figure."""

SLANT = 0.99
"""An edge that leans by more than its cosine gains less than a cut opens; our own figure."""


class _Spot(NamedTuple):
    """Where a piece may be cut across: so much above a level, mm.

    steep: how much its edge gains for each mm that the cut opens.
    """

    piece: str
    level: str
    above: float
    steep: float


def length_mends(
    pattern: Pattern, seam: Seam, walk: Walk, settings: CheckSettings
) -> tuple[Mend, ...]:
    """Return how pieces of a seam may be made longer or shorter at a level, likeliest first.

    All pieces change alike that seams up the body hold to it and that agree with it: the fronts,
    or the backs that were forgotten. The side that is off in most seams is changed first, else
    the shorter one. Nothing where no notches tell where it is off.
    """
    spots = _spots(pattern, seam, walk, settings, SHARES[0]) if len(walk.sections) > 1 else []
    upright = _uprights(pattern, settings)
    groups = ((spot, _held(pattern, spot[0].piece, spot[0].level, upright)) for spot in spots)
    return tuple(_mends(seam, walk, groups))


def more_length_mends(
    pattern: Pattern, seam: Seam, walk: Walk, settings: CheckSettings
) -> tuple[Mend, ...]:
    """Return how one piece of a seam alone may be made longer or shorter, somewhere along it."""
    spots = [s for share in SHARES for s in _spots(pattern, seam, walk, settings, share)]
    return tuple(_mends(seam, walk, ((spot, (spot[0].piece,)) for spot in spots)))[:MOST]


def cap_length_mends(pattern: Pattern, seam: Seam, walk: Walk) -> Iterator[Mend]:
    """Yield how a sleeve that was folded out or spread across its cap is given that back.

    At several heights of the cap, and between its notches, since they tell on which of them it is
    off: redrawn over some way, it gains by the mean slope of its line.
    """
    names = tuple(dict.fromkeys(r.piece for r in seam.b))
    first = pattern.piece(names[0])
    shared = [lv for lv in first.levels if all(_has_level(pattern, n, lv.name) for n in names)]
    if not shared or abs(walk.off) < 1.0:
        return
    lines = [(pattern.piece(r.piece), pattern.edge(r).path) for r in seam.b]
    level = shared[0].name
    high = max(_above(p, level, q) for p, path in lines for q in path.flatten())
    low = min(_above(p, level, q) for p, path in lines for q in path.ends)
    evenly = [low + (high - low) * share for share in SHARES]
    heights = [*evenly, *_between_notches(pattern, seam, level, low, high)]
    slope = sum(_slope(piece, path, level, h) for h in evenly for piece, path in lines)
    by = -walk.off * len(SHARES) / max(slope, 1.0)
    for above in heights:
        params = {"pieces": names, "level": level, "by": by, "above": above}
        yield Mend(change="lengthen", params=params)


def _between_notches(
    pattern: Pattern, seam: Seam, level: str, low: float, high: float
) -> Iterator[float]:
    """Yield the middles between the heights of a cap's notches, mm above a level, and its ends."""
    edges = ((pattern.piece(r.piece), pattern.edge(r)) for r in seam.b)
    notched = [_above(p, level, e.path.point_at(n.at)) for p, e in edges for n in e.notches]
    for one, other in pairwise(sorted((low, *notched, high))):
        if other - one >= LEAST_MM:
            yield (one + other) / 2


def _has_level(pattern: Pattern, piece: str, level: str) -> bool:
    return any(lv.name == level for lv in pattern.piece(piece).levels)


def _above(piece: Piece, level: str, point: Vec) -> float:
    return piece.up.dot(point - piece.level(level).at)


def _slope(piece: Piece, path: Path, level: str, above: float) -> float:
    """Return how much a line gains in all for each mm that a cut at a height opens."""
    at = piece.level(level).at + piece.up * above
    cuts = line_crossings(path, at, piece.up.perp)
    return sum(abs(path.tangent_at(c.at_a).dot(piece.up)) for c in cuts)


def _mends(
    seam: Seam, walk: Walk, groups: Iterable[tuple[tuple[_Spot, float], tuple[str, ...]]]
) -> Iterator[Mend]:
    """Yield pieces made longer together, but not where both sides of the seam would be."""
    for (spot, sign), pieces in groups:
        if not any({r.piece for r in refs} <= set(pieces) for refs in _others(seam, spot.piece)):
            by = sign * abs(walk.off) / spot.steep
            at = {"pieces": pieces, "level": spot.level, "by": by, "above": spot.above}
            yield Mend(change="lengthen", params=at)


def _spots(
    pattern: Pattern, seam: Seam, walk: Walk, settings: CheckSettings, share: float
) -> list[tuple[_Spot, float]]:
    """Return where pieces may be cut across, and 1 where one is to be longer, -1 where shorter."""
    sides = [(seam.a, "a", 1.0), (seam.b, "b", -1.0)]
    if walk.off < 0:
        sides = [(seam.b, "b", 1.0), (seam.a, "a", -1.0)]
    upright = _uprights(pattern, settings)
    spots = [
        (spot, sign)
        for refs, letter, sign in sides
        for low, high in _stretches(walk, letter, settings)
        for spot in _spot(pattern, refs, low + (high - low) * share)
    ]
    return sorted(spots, key=lambda it: -_spoilt(pattern, it[0].piece, upright))


def _uprights(pattern: Pattern, settings: CheckSettings) -> dict[str, bool]:
    """Return which seams run up the body, by name, and whether each agrees."""
    return {s.name: _agrees(pattern, s, settings) for s in _upright(pattern)}


def _others(seam: Seam, piece: str) -> tuple[tuple[EdgeRef, ...], ...]:
    """Return the sides of a seam that a piece is no part of: they are to stay as they are."""
    return tuple(s for s in (seam.a, seam.b) if all(r.piece != piece for r in s))


def _spoilt(pattern: Pattern, piece: str, upright: Mapping[str, bool]) -> int:
    """Count the seams up a piece that do not agree."""
    return sum(not upright[s.name] for s in _upright(pattern, piece))


def _upright(pattern: Pattern, piece: str = "") -> tuple[Seam, ...]:
    """Return the seams that run up the body, of one piece or of all."""
    return tuple(
        s
        for s in pattern.seams
        if s.kind != "cap"
        and runs_up(pattern, s)
        and (not piece or any(r.piece == piece for r in s.refs))
    )


def _agrees(pattern: Pattern, seam: Seam, settings: CheckSettings) -> bool:
    return length_band(walk_seam(pattern, seam).off, settings) is None


def _held(pattern: Pattern, piece: str, level: str, upright: Mapping[str, bool]) -> tuple[str, ...]:
    """Return a piece and those held to it, one after the other, by seams that agree, in order."""
    held = [piece]
    for name in held:
        agreeing = (s for s in _upright(pattern, name) if upright[s.name])
        more = {r.piece for s in agreeing for r in s.refs} - set(held)
        held += [n for n in more if any(lv.name == level for lv in pattern.piece(n).levels)]
    return tuple(p.name for p in pattern.pieces if p.name in held)


def _spot(pattern: Pattern, refs: tuple[EdgeRef, ...], at: float) -> Iterator[_Spot]:
    """Yield where to cut a piece across, so that the cut runs through a place of a run (mm).

    It is said by the level nearest to that. Nothing where the edge there runs across.
    """
    ref, drawn = place_on(pattern, refs, at)
    piece = pattern.piece(ref.piece)
    if not piece.levels:
        return
    path = piece.edge(ref.edge).path
    heights = {lv.name: piece.up.dot(path.point_at(drawn) - lv.at) for lv in piece.levels}
    level = min(heights, key=lambda name: abs(heights[name]))
    steep = abs(piece.up.dot((path.end - path.start).unit))
    if steep > math.sqrt(0.5):
        steep = steep if steep < SLANT else 1.0
        yield _Spot(ref.piece, level, heights[level], steep)


def _stretches(walk: Walk, letter: str, settings: CheckSettings) -> list[tuple[float, float]]:
    """Return the stretches of a side that are off, all of it where no notches tell, mm."""
    whole = (0.0, walk.b.length if letter == "b" else walk.a.length)
    return [whole] if len(walk.sections) < 2 else stretches_off(walk, letter, settings)


def stretches_off(walk: Walk, letter: str, settings: CheckSettings) -> list[tuple[float, float]]:
    """Return the stretches of a side, mm from its start, that are off by its notches."""
    if len(walk.sections) < 2:
        return []
    run, found = 0.0, []
    for section in walk.sections:
        long = section.b if letter == "b" else section.a
        if length_band(section.off, settings):
            found.append((run, run + long))
        run += long
    return found
