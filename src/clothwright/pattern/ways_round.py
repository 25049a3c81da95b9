"""Does a seam run the right way round on both its sides, or is one sewn back to front?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from clothwright.pattern.fullness import fuller
from clothwright.pattern.measure import Station, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import corner_index

NEAR = 0.12
"""Share of a side's length within which a notch has its partner. Our own choice."""

_PLACES = frozenset({"top", "bottom", "left", "right"})
"""What an edge is called that nobody has named: it says nothing of a body."""

_OTHER = {"start": "end", "end": "start"}

_VIEWS = ("front", "back")


class Evidence(NamedTuple):
    """What says that two sides go together as they lie, and what says the contrary: counts."""

    good: int
    bad: int


def turned(seam: Seam) -> Seam:
    """Return the seam with its side b sewn from its other end.

    What is eased between two marks of side b, and the way its folds lie, stay as they are on b.
    """
    b = tuple(replace(r, reversed=not r.reversed) for r in reversed(seam.b))
    to = _OTHER.get(seam.fold_to, seam.fold_to) if fuller(seam) == seam.b else seam.fold_to
    return replace(seam, b=b, fold_to=to, ease_from=seam.ease_to, ease_to=seam.ease_from)


def swapped(seam: Seam) -> Seam:
    """Return a seam with its sides changed over, so that the longer one is the second."""
    return replace(seam, a=seam.b, b=seam.a, ease=-seam.ease, eased_max=-seam.eased_max)


def righted(pattern: Pattern) -> Pattern:
    """Return the pattern with every seam sewn from the right end."""
    wrong = [s for s in pattern.seams if is_turned_round(pattern, s)]
    if not wrong:
        return pattern
    return replace(pattern, seams=tuple(turned(s) if s in wrong else s for s in pattern.seams))


def is_turned_round(pattern: Pattern, seam: Seam) -> bool:
    """Tell whether a side is sewn from its wrong end: nothing is against it the other way round."""
    if seam.a == seam.b:
        return False
    now = evidence(pattern, seam)
    if not now.bad:
        return False
    then = evidence(pattern, turned(seam))
    return then.bad == 0 and then.good > now.good


def evidence(pattern: Pattern, seam: Seam) -> Evidence:
    """Count what notches (single front, double back), names and hems say of a seam's direction."""
    ways = (_by_notches, _by_views, _by_roles, _by_names)
    said = [good for way in ways for good in way(pattern, seam)]
    return Evidence(said.count(True), said.count(False))


def _by_notches(pattern: Pattern, seam: Seam) -> Iterator[bool]:
    """Yield for every notch of side a whether the nearest one of side b is of its kind."""
    a, b = side(pattern, seam.a), side(pattern, seam.b)
    kinds = {s.kind for s in (*a.stations, *b.stations) if s.kind}
    if len(kinds) < 2:
        return
    others = [s for s in b.stations if s.kind]
    for s in a.stations:
        if s.kind and others:
            near = min(others, key=lambda t: _apart(s, t, a.length, b.length))
            if _apart(s, near, a.length, b.length) <= NEAR:
                yield s.kind is near.kind


def _apart(s: Station, t: Station, whole_s: float, whole_t: float) -> float:
    return abs(s.at / (whole_s or 1.0) - t.at / (whole_t or 1.0))


def _by_views(pattern: Pattern, seam: Seam) -> Iterator[bool]:
    """Yield whether front meets front, where each side has a front and a back end by its names."""
    ends = [[_view(pattern, run, at_end=e) for e in (False, True)] for run in (seam.a, seam.b)]
    if all(set(views) == set(_VIEWS) for views in ends):
        yield ends[0] == ends[1]


def _view(pattern: Pattern, run: tuple[EdgeRef, ...], *, at_end: bool) -> str:
    """Return "front" or "back" for one end of a run: what its names say, of one only; else ""."""
    ref = run[-1 if at_end else 0]
    beside = _beside(pattern, run, at_end=at_end)
    for name in (beside.name, ref.edge, ref.piece):
        found = [v for v in _VIEWS if v in name.lower().split()]
        if len(found) == 1:
            return found[0]
    return ""


def _by_roles(pattern: Pattern, seam: Seam) -> Iterator[bool]:
    """Yield whether hem meets hem, and fold fold, where each side has one at just one end."""
    for roles in ((Role.HEM,), (Role.FOLD, Role.CENTRE)):
        ends = [
            [_beside(pattern, run, at_end=e).role in roles for e in (False, True)]
            for run in (seam.a, seam.b)
        ]
        if all(sum(there) == 1 for there in ends):
            yield ends[0] == ends[1]


def _by_names(pattern: Pattern, seam: Seam) -> Iterator[bool]:
    """Yield whether what is called alike meets (neck and neck), where each side has it once."""
    a, b = (
        [_beside(pattern, run, at_end=e).name for e in (False, True)] for run in (seam.a, seam.b)
    )
    shared = [n for n in a if n in b and n not in _PLACES]
    if shared and len(set(a)) == len(set(b)) == 2:
        yield all(a.index(n) == b.index(n) for n in shared)


def _beside(pattern: Pattern, run: tuple[EdgeRef, ...], *, at_end: bool) -> Edge:
    """Return the edge that meets a run at one of its ends."""
    ref = run[-1 if at_end else 0]
    name, index = corner_index(pattern, run, at_end=at_end)
    edges = pattern.piece(name).edges
    own_starts_here = edges[index].name == ref.edge and at_end == ref.reversed
    return edges[index - 1] if own_starts_here else edges[index]
