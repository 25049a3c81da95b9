"""What mends a seam that runs up the body: a piece made longer or shorter between two of its lines.

Where that was done is told by the notches.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from clothwright.checks.check import CheckSettings
from clothwright.checks.weigh import length_band
from clothwright.pattern.finding import Mend
from clothwright.pattern.measure import place_on
from clothwright.pattern.parts import runs_up
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import Walk, walk_seam

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
    upright = {s.name: _agrees(pattern, s, settings) for s in _upright(pattern)}
    spots = sorted(
        _spots(pattern, seam, walk, settings),
        key=lambda it: -_spoilt(pattern, it[0].piece, upright),
    )
    groups = ((spot, _held(pattern, spot[0].piece, spot[0].level, upright)) for spot in spots)
    return tuple(_mends(seam, walk, groups))


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
    pattern: Pattern, seam: Seam, walk: Walk, settings: CheckSettings
) -> list[tuple[_Spot, float]]:
    """Return where pieces may be cut across, and 1 where one is to be longer, -1 where shorter."""
    sides = [(seam.a, "a", 1.0), (seam.b, "b", -1.0)]
    if walk.off < 0:
        sides = [(seam.b, "b", 1.0), (seam.a, "a", -1.0)]
    return [
        (spot, sign)
        for refs, letter, sign in sides
        for low, high in stretches_off(walk, letter, settings)
        for spot in _spot(pattern, refs, (low + high) / 2)
    ]


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
