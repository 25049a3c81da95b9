"""Every seam of a lay with how the print meets along it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from clothwright.lay.compiled import Compiled
from clothwright.lay.copies import is_outside
from clothwright.lay.meeting.best import best_meeting
from clothwright.lay.meeting.compare import MeetingPlaces, asked, compared, patches
from clothwright.lay.meeting.joins import Join, joins, laid_together, marks_of
from clothwright.lay.meeting.values import (
    ORDER,
    TOLERANCE_MM,
    BestMeeting,
    MeetingKind,
    MeetingRun,
    MeetingSection,
    SeamMark,
    SeamMeeting,
    kind_of,
    share_of,
)
from clothwright.lay.result import Lay, Placement
from clothwright.lay.sewn import Numbers, Sewn
from clothwright.pattern.pattern import Pattern

STEP_MM = 0.5
"""mm between the places of a seam that are compared, at most: no extreme is understated by more."""
HAIR_MM = 0.01
"""mm: more than sums of lengths are rounded by: pieces are laid just at the end of a tolerance."""
SECTION_MM = 1.0
"""mm: what is shorter is no section of a seam."""


def meetings(
    pattern: Pattern,
    compiled: Compiled,
    lay: Lay,
    tolerances: Mapping[str, float] | None = None,
) -> tuple[SeamMeeting, ...]:
    """Return how the print meets where it opens and at every seam and patch, on both halves.

    tolerances: mm by name of the seam, where it is not `TOLERANCE_MM`. Seams along which nothing
    is printed are left out, and so are those of two different cloths (`between_cloths`).
    """
    placed = {p.shape: p for p in lay.placements}
    found = []
    for join in joins(pattern, compiled, placed):
        regions = {placed[s].region for s in join.shapes}
        if len(regions) == 1 and compiled.cloth(min(regions)).print.has_design:
            tolerance = (tolerances or {}).get(join.name, TOLERANCE_MM)
            found.append(_meeting(pattern, compiled, placed, join, tolerance))
    return tuple(m for m in found if m is not None)


def between_cloths(pattern: Pattern, compiled: Compiled, lay: Lay) -> dict[str, tuple[str, ...]]:
    """Return the seams worn outside that join pieces of two printed cloths, with those copies.

    What is printed on one cloth is not compared with what is printed on another.
    """
    placed = {p.shape: p for p in lay.placements}
    found: dict[str, tuple[str, ...]] = {}
    for join in joins(pattern, compiled, placed):
        regions = {placed[s].region for s in join.shapes}
        printed = all(compiled.cloth(r).print.has_design for r in regions)
        if len(regions) > 1 and printed and _is_worn(pattern, compiled, join):
            found[join.name] = tuple(dict.fromkeys((*found.get(join.name, ()), *join.shapes)))
    return found


def _is_worn(pattern: Pattern, compiled: Compiled, join: Join) -> bool:
    return all(is_outside(pattern, compiled.copy(s)) for s in join.shapes)


def _meeting(
    pattern: Pattern,
    compiled: Compiled,
    placed: Mapping[str, Placement],
    join: Join,
    tolerance: float,
) -> SeamMeeting | None:
    both = laid_together(pattern, compiled, placed, join, step=STEP_MM)
    near = tolerance + HAIR_MM
    found = patches(compiled.cloth(placed[join.shapes[0]].region), both, near)
    if not found:
        return None
    turns = np.array([placed[h.shape].turn_deg for h in join.a])
    wanted = asked(both.a.heading, turns[both.a.run])
    places = compared(len(both.at), found, wanted, near)
    runs = tuple(_runs(both.at, places, near))
    marks = marks_of(pattern, join)
    best = best_meeting(found, wanted, _pair(join, both), near)
    return SeamMeeting(
        seam=join.name,
        half=join.half,
        shapes=join.shapes,
        a_count=len(join.a),
        worn=_is_worn(pattern, compiled, join),
        length=float(both.at[-1]),
        tolerance=tolerance,
        marks=marks,
        sections=tuple(_sections(marks, runs)),
        runs=runs,
        worst=_largest(places.gap),
        mean=_mean(places.gap),
        level=_largest(places.level),
        upright=_largest(places.upright),
        best=BestMeeting(share=max(best.share, share_of(runs)), worst=best.worst),
    )


def _pair(join: Join, both: Sewn) -> NDArray[np.intp]:
    """Return which two pieces are sewn together at each place; -1 for two edges of one."""
    alone = [[a.shape == b.shape for b in join.b] for a in join.a]
    pair = both.a.run * len(join.b) + both.b.run
    return np.where(np.array(alone)[both.a.run, both.b.run], -1, pair)


def _known(values: Numbers) -> Numbers:
    return values[~np.isnan(values)]


def _largest(values: Numbers) -> float | None:
    known = _known(values)
    return float(np.max(known)) if len(known) else None


def _mean(values: Numbers) -> float | None:
    known = _known(values)
    return float(np.mean(known)) if len(known) else None


def _runs(at: Numbers, places: MeetingPlaces, tolerance: float) -> Iterator[MeetingRun]:
    """Yield the parts of a seam along which it meets in one way; a change lies between places."""
    within = ~(np.isnan(places.gap) | (places.gap > tolerance))
    state = places.kind * 2 + within
    cuts = np.flatnonzero(np.diff(state)) + 1
    for first, last in pairwise([0, *cuts.tolist(), len(at)]):
        kind = ORDER[int(places.kind[first])]
        turned = kind in (MeetingKind.TURNED, MeetingKind.MIRRORED)
        yield MeetingRun(
            low=float(at[0] if first == 0 else (at[first - 1] + at[first]) / 2),
            high=float(at[-1] if last == len(at) else (at[last - 1] + at[last]) / 2),
            kind=kind,
            within=bool(within[first]),
            turned_deg=float(np.median(places.turned_deg[first:last])) if turned else 0.0,
        )


def _sections(marks: Sequence[SeamMark], runs: Sequence[MeetingRun]) -> Iterator[MeetingSection]:
    """Yield the sections; a run that reaches over a mark by less than a step does not count."""
    for start, end in pairwise(marks):
        parts = (r.between(start.at, end.at) for r in runs)
        inside = [p for p in parts if p is not None and p.length >= STEP_MM]
        if end.at - start.at > SECTION_MM:
            yield MeetingSection(start=start, end=end, kind=kind_of(inside), share=share_of(inside))
