"""Which notches of a seam slipped, by how much, and where each belongs."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.pattern.walk import Pair, Walk

ALIKE_MM = 0.5
"""mm: notches that are off by the same, within this, slipped together; half a pencil line."""

_SLACK_MM = 1e-6


def slips(walk: Walk) -> tuple[float, ...]:
    """Return for each pair of marks by how far b's lies beyond a's, mm, counted from the start.

    What is meant to be eased up to there is allowed for.
    """
    out, run, off, rest = [], 0.0, 0.0, list(walk.sections)
    for pair in walk.pairs:
        while rest and run + rest[0].b <= pair.b.at + _SLACK_MM:
            section = rest.pop(0)
            run, off = run + section.b, off + section.off
        out.append(off)
    return tuple(out)


def slipped(walk: Walk, least: float) -> tuple[Pair, ...]:
    """Return the pairs that are off by more than `least` mm, all by as much; () where they differ.

    Only where the seam agrees in all: else it is longer or shorter, and nothing slipped.
    """
    off = [(pair, by) for pair, by in zip(walk.pairs, slips(walk), strict=True) if abs(by) > least]
    if not off or abs(walk.off) > least:
        return ()
    alike = all(abs(by - off[0][1]) <= ALIKE_MM for _, by in off)
    return tuple(pair for pair, _ in off) if alike else ()


def belongs(walk: Walk, moved: Sequence[int], i: int, *, on_b: bool) -> float:
    """Return where on its own side the mark of pair i belongs, mm from the seam's start.

    moved: the numbers of the pairs that slipped; else as `across`.
    """
    stay = [pair for k, pair in enumerate(walk.pairs) if k not in moved]
    partner = walk.pairs[i].a if on_b else walk.pairs[i].b
    return across(walk, stay, partner.at, on_b=on_b)


def across(walk: Walk, pairs: Sequence[Pair], at: float, *, on_b: bool) -> float:
    """Return where on one side a place (mm) of the other side is sewn, mm from the seam's start.

    It lies as far as that from the nearest marks beside it that meet, where nothing is eased on the
    way; else in proportion. pairs: the marks that meet, in order.
    """
    marks = [(p.b.at, p.a.at) if on_b else (p.a.at, p.b.at) for p in pairs]
    whole = (walk.b.length, walk.a.length) if on_b else (walk.a.length, walk.b.length)
    low = max((m for m in marks if m[1] <= at), default=(0.0, 0.0))
    high = min((m for m in marks if m[1] > at), default=whole)
    if _is_flat(walk, low[1], at, on_b=on_b):
        return low[0] + at - low[1]
    if _is_flat(walk, at, high[1], on_b=on_b):
        return high[0] - (high[1] - at)
    long = high[1] - low[1]
    return low[0] + (at - low[1]) / long * (high[0] - low[0]) if long > _SLACK_MM else low[0]


def _is_flat(walk: Walk, low: float, high: float, *, on_b: bool) -> bool:
    """Tell whether nothing is eased between two places (mm) of the side that stays."""
    run = 0.0
    for section in walk.sections:
        start, run = run, run + (section.a if on_b else section.b)
        if min(run, high) - max(start, low) > _SLACK_MM and section.meant != (0.0, 0.0):
            return False
    return True
