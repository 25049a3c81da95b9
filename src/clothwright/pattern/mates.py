"""Which edges of a seam's two sides lie along each other."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.pattern.measure import net_length, run_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef

MEET_MM = 10.0
"""mm: edges that lie along each other for less than this touch only because of ease or a
difference in length; our own figure."""


class _Section(NamedTuple):
    """Where an edge lies along its side of a seam, from 0 to 1 of the side's length."""

    ref: EdgeRef
    start: float
    end: float


def mates(pattern: Pattern, seam: Seam) -> Iterator[tuple[EdgeRef, EdgeRef]]:
    """Yield each pair of edges, of side a and of side b, that lie along each other when sewn.

    Once, though a half piece lies along a whole band with both its halves.
    """
    a, b = _sections(pattern, seam.a), _sections(pattern, seam.b)
    whole = max(run_length(pattern, seam.a), run_length(pattern, seam.b))
    seen: set[tuple[str, str, str, str]] = set()
    for s in a:
        for t in b:
            shared = (min(s.end, t.end) - max(s.start, t.start)) * whole
            pair = s.ref.piece, s.ref.edge, t.ref.piece, t.ref.edge
            if shared >= min(MEET_MM, whole / 2) and pair not in seen:
                seen.add(pair)
                yield s.ref, t.ref


def _sections(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> list[_Section]:
    whole = run_length(pattern, refs) or 1.0
    run, found = 0.0, []
    for ref in refs:
        length = net_length(pattern.piece(ref.piece), ref.edge)
        found.append(_Section(ref, run / whole, (run + length) / whole))
        run += length
    return found
