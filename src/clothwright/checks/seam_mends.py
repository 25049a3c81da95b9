"""What may mend a seam whose sides differ in length: which edge, at which end, one after the other.

A band, a facing, a collar follows the garment. Otherwise the longer side is shortened where the
notches say that it is off, or the shorter one lengthened. Which of them upsets nothing else is
tried by the workroom.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import CheckSettings
from clothwright.checks.weigh import length_band
from clothwright.pattern.companions import companions
from clothwright.pattern.finding import Mend
from clothwright.pattern.measure import gain_of, net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import Walk, corner_index

MOST = 12
"""How many changes are tried at the most; our own figure: after each all checks are run."""

_NEAR_MM = 1.0
"""mm: an edge that ends so near to a stretch that is off ends in it; our own figure."""


class _Tip(NamedTuple):
    """One end of an edge in a run, and whether it is its end as the run goes."""

    ref: EdgeRef
    at_end: bool
    at: float


def seam_mends(
    pattern: Pattern, seam: Seam, walk: Walk, settings: CheckSettings
) -> tuple[Mend, ...]:
    """Return what may make a seam's sides agree, likeliest first; empty where nothing does."""
    sides = [(seam.b, "b"), (seam.a, "a")] if walk.off > 0 else [(seam.a, "a"), (seam.b, "b")]
    follow = {c.piece for c in companions(pattern)}
    sides.sort(key=lambda side: not all(r.piece in follow for r in side[0]))
    found: dict[tuple[tuple[str, object], ...], Mend] = {}
    for refs, letter in sides:
        for tip in _tips(pattern, refs, _off(walk, letter, settings)):
            if gain_of(seam, tip.ref):
                for mend in _ways(pattern, seam, refs, tip, settings):
                    found.setdefault(tuple(mend.params.items()), mend)
    return tuple(found.values())[:MOST]


def _off(walk: Walk, letter: str, settings: CheckSettings) -> list[tuple[float, float]]:
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


def _tips(
    pattern: Pattern, refs: tuple[EdgeRef, ...], off: list[tuple[float, float]]
) -> list[_Tip]:
    """Return the ends of a run's edges that lie where it is off: the run's own ends first."""
    run, found = 0.0, []
    for ref in refs:
        length = net_length(pattern.piece(ref.piece), ref.edge)
        found += [_Tip(ref, False, run), _Tip(ref, True, run + length)]
        run += length

    def inside(at: float) -> bool:
        return not off or any(low - _NEAR_MM <= at <= high + _NEAR_MM for low, high in off)

    def likely(tip: _Tip) -> tuple[bool, bool, bool]:
        inner = _NEAR_MM < tip.at < run - _NEAR_MM
        return inner, not _at_hem(pattern, tip), not tip.at_end

    return sorted((t for t in found if inside(t.at)), key=likely)


def _at_hem(pattern: Pattern, tip: _Tip) -> bool:
    """Tell whether a hem begins there: the end that is free, since others meet seams already."""
    name, index = corner_index(pattern, (tip.ref,), at_end=tip.at_end)
    edges = pattern.piece(name).edges
    return Role.HEM in (edges[index].role, edges[index - 1].role)


def _ways(
    pattern: Pattern, seam: Seam, refs: tuple[EdgeRef, ...], tip: _Tip, settings: CheckSettings
) -> Iterator[Mend]:
    """Yield how an end may be moved: the edge beside it swung, or all of that edge shifted.

    A hem that some plan lays along a border stays straight: it is only shifted.
    """
    ref = tip.ref
    first = next(r for r in refs if (r.piece, r.edge) == (ref.piece, ref.edge))
    at = "end" if tip.at_end == (ref.reversed == first.reversed) else "start"
    params = {"seam": seam.name, "edge": f"{ref.piece}.{ref.edge}", "at": at}
    name, index = corner_index(pattern, (ref,), at_end=tip.at_end)
    edges = pattern.piece(name).edges
    beside = next(e for e in (edges[index], edges[index - 1]) if e.name != ref.edge)
    hems = {e for b in settings.borders for e in pattern.edges_now(b.piece, b.edge)}
    if (name, beside.name) not in hems:
        yield Mend(change="match-edge", params=params)
    if beside.role is not Role.FOLD:
        yield Mend(change="match-edge", params={**params, "neighbour": "parallel"})
