"""What one slip of the hand would explain: each kind tried on each piece, solved for its amount.

A piece cut a strip shorter at one height, an edge or a corner shifted: such a slip leaves its mark
on every seam it touches, by its own share on each. Undone by the one amount that fits them best,
the right one leaves next to nothing, a wrong one most of it. Lengths in mm.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from typing import Any, NamedTuple

from clothwright.checks.check import CheckSettings
from clothwright.checks.companion_mends import REACH_MM
from clothwright.checks.levels_across import meetings
from clothwright.errors import ClothwrightError
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.vec import Vec
from clothwright.pattern.bands import is_band
from clothwright.pattern.companions import companions
from clothwright.pattern.finding import Finding, Mend, Severity
from clothwright.pattern.measure import dart_corners
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.together import left_behind
from clothwright.pattern.trail import UNMOVED
from clothwright.pattern.walk import walk_seam
from clothwright.workbook import change_of
from clothwright.workroom.walking.checking import checked

NUDGE_MM, ROUNDS = 2.0, 3
"""mm of the first trial of an amount, and how often it is made better."""

APART_MM = 12.0
"""mm: lines nearer to each other than this have no room for a cut between them; our own figure."""

FINE_MM = 0.3
"""mm: less is no difference; a pencil line."""

ALIKE_MM = 1.5
"""mm: two slips that leave so nearly as much explain as much; a pencil line and a half."""

FAR_MM = 50.0
"""mm: a slip is no larger, and no single difference counts for more; our own figure."""

UPRIGHT = 0.8
"""Of an edge that runs up, at least: the cosine of how far it leans; our own figure."""

LEFT = 0.3
"""Share of what was off that a slip may leave to be the one that was made; our own figure."""

FORETOLD, FLAT = 2.0, 1e-6
"""Times that share which a first trial may foretell, since a curve answers by bending; and how
little of a change is none. Our own."""

PIECES, ALIKE, MOST = 4, 2, 10
"""How many pieces are suspected, and how many slips are named at the most, of one kind on one edge
or piece, and in all; our own figures."""

Params = dict[str, object]
Offs = dict[tuple[str, ...], float]


class _Slip(NamedTuple):
    """A change whose amount, its `by`, undoes a slip.

    kind: what is done, to what. left: what is off after it, mm in all.
    """

    kind: tuple[str, str]
    left: float
    mend: Mend


@lru_cache(maxsize=8)
def slips(pattern: Pattern, settings: CheckSettings) -> tuple[Mend, ...]:
    """Return the changes that undo one slip and leave least of what is off, the best first."""
    found = [f for f in checked(pattern, settings) if f.severity is not Severity.NOTE]
    tried = [s for name in _suspects(pattern, found) for s in _of_piece(pattern, name, settings)]
    kinds: Counter[tuple[str, str]] = Counter()
    best = []
    for slip in sorted(tried, key=_likely):
        kinds[slip.kind] += 1
        best += [slip.mend] if kinds[slip.kind] <= ALIKE else []
    return tuple(best[:MOST])


def _likely(slip: _Slip) -> tuple[int, bool]:
    """Order slips by what they leave; of those that leave as much, a piece folded lengthwise last.

    A fold trimmed by an allowance makes a piece narrower, too, and is made more often.
    """
    return int(slip.left / ALIKE_MM), slip.kind[0] == "widen"


def _suspects(pattern: Pattern, found: Iterable[Finding]) -> list[str]:
    """Return the pieces of what was found, those of most findings first; a band keeps its shape."""
    sewn = {s.name: s.pieces for s in pattern.seams}
    named = Counter(n for f in found for n in {f.where.piece, *sewn.get(f.where.seam, ())})
    names = [p.name for p in pattern.pieces if named[p.name] and not is_band(pattern, p.name)]
    return sorted(names, key=lambda name: -named[name])[:PIECES]


def _of_piece(pattern: Pattern, name: str, settings: CheckSettings) -> Iterator[_Slip]:
    """Yield the slips on one piece that would explain most of what is off along it."""
    piece, part = pattern.piece(name), _around(pattern, name, settings)
    was = _offs(part)
    if not _sum(was):
        return
    slips = (_solved(part, name, change, params, was) for change, params in _kinds(piece))
    yield from filter(None, slips)


def _around(pattern: Pattern, name: str, settings: CheckSettings) -> Pattern:
    """Return a pattern with the seams and the companions of one piece alone.

    A cap of which nothing is said is meant to have the ease of the bands.
    """
    ease, most = settings.cap_ease_min, settings.cap_ease_max
    own = (s for s in pattern.seams if name in s.pieces)
    seams = tuple(
        replace(s, ease=ease, eased_max=most)
        if s.kind == "cap" and not (s.ease or s.eased_max)
        else s
        for s in own
    )
    linked = (c for c in companions(pattern) if name in (c.piece, *(a.piece for a in c.of)))
    return replace(pattern, seams=seams, companions=tuple(linked), trail=UNMOVED)


def _kinds(piece: Piece) -> Iterator[tuple[str, Params]]:
    """Yield the slips that may have been made on a piece, all but the amount."""
    for level, above in _heights(piece):
        yield "lengthen", {"pieces": (piece.name,), "level": level, "above": above}
    for edge, at in _widths(piece):
        yield "widen", {"edge": f"{piece.name}.{edge.name}", "at": at}
    for edge, at in _sides(piece):
        yield "wedge", {"edge": f"{piece.name}.{edge.name}", "at": at}
    for i, edge in enumerate(piece.edges):
        moved: Params = {"edge": f"{piece.name}.{edge.name}", "direction": "out"}
        yield "move-edge", moved
        if edge.role is Role.FOLD:
            continue
        yield "move-edge", {**moved, "neighbours": "follow", "reach": REACH_MM}
        if not (edge.path.is_straight or piece.darts_on(edge.name)):
            yield "hollow", {"edge": f"{piece.name}.{edge.name}"}
        if piece.edges[i - 1].role is not Role.FOLD:
            corner: Params = {"corner": f"{piece.name}.{edge.name} start"}
            yield "move-edge", {**corner, "direction": "up"}
            yield "move-edge", {**corner, "direction": "across"}


def _heights(piece: Piece) -> Iterator[tuple[str, float]]:
    """Yield where a piece may have been cut across, as a level and mm above it."""
    for first in piece.levels[:1]:
        for height in _between(piece, piece.up):
            yield first.name, height - piece.up.dot(first.at)


def _widths(piece: Piece) -> Iterator[tuple[Edge, float]]:
    """Yield where a piece may have been cut lengthwise, as an edge and mm along it."""
    across = piece.up.perp
    for far in _between(piece, across):
        for edge in piece.edges:
            cuts = line_crossings(edge.path, across * far, piece.up)
            if cuts:
                yield edge, cuts[0].at_a
                break


def _sides(piece: Piece) -> Iterator[tuple[Edge, float]]:
    """Yield where a side may have been cut into, as an edge and mm along it.

    Once between any two notches of an edge that runs up, clear of darts: they lose alike.
    """
    up, parts = piece.up, dict[tuple[str, int], list[tuple[Edge, float]]]()
    darts = [sorted(up.dot(q) for q in dart_corners(piece, d)) for d in piece.darts]
    for high in _between(piece, up):
        met = [
            (c.at_b, edge.name, c.at_a)
            for edge in piece.edges
            for c in line_crossings(edge.path, up * high, up.perp)
        ]
        for _, name, at in (min(met), max(met)) if len(met) > 1 else ():
            edge = piece.edge(name)
            part = name, sum(n.at < at for n in edge.notches)
            blocked = edge.role is Role.FOLD or any(d[0] < high < d[-1] for d in darts)
            if not blocked and abs(up.dot(edge.path.tangent_at(at))) >= UPRIGHT:
                parts.setdefault(part, []).append((edge, at))
    yield from (found[len(found) // 2] for found in parts.values())


def _between(piece: Piece, way: Vec) -> Iterator[float]:
    """Yield how far on a piece may have been cut, mm: between any two things marked on it."""
    marked = [e.path.start for e in piece.edges]
    marked += [e.path.point_at(n.at) for e in piece.edges for n in e.notches]
    marked += [q for d in piece.darts for q in dart_corners(piece, d)]
    marked += [lv.at for lv in piece.levels]
    for low, high in pairwise(sorted(way.dot(p) for p in marked)):
        if high - low >= APART_MM:
            yield (low + high) / 2


def _solved(pattern: Pattern, name: str, change: str, params: Params, was: Offs) -> _Slip | None:
    """Return a slip by the amount after which least is off; None where it explains too little.

    What an amount would leave is foretold by a first trial of 2 mm; a few better it.
    """
    most = LEFT * _sum(was)
    by, step, then, best = 0.0, NUDGE_MM, was, None
    for _ in range(ROUNDS):
        now = _done(pattern, change, params, by + step)
        if now is None:
            break
        by += step
        if _sum(now) <= (most if best is None else best.left):
            mend = Mend(change=change, params={**params, "by": by})
            what = str(params.get("edge", name)) if change in ("move-edge", "hollow") else name
            best = _Slip((change, what), _sum(now), mend)
        slopes = {k: (now[k] - then[k]) / step for k in now.keys() & then.keys()}
        square = sum(v * v for v in slopes.values())
        if square < FLAT:
            break
        step, then = -sum(v * now[k] for k, v in slopes.items()) / square, now
        foretold = {k: v + slopes.get(k, 0.0) * step for k, v in now.items()}
        near = abs(step) < FINE_MM / 10 or abs(by + step) > FAR_MM
        if near or _sum(foretold) > FORETOLD * most:
            break
    return best


def _done(pattern: Pattern, change: str, params: Params, by: float) -> Offs | None:
    kind: Any = change_of(change)
    try:
        return _offs(kind.apply(pattern, kind.params(**params, by=by)).pattern)
    except ClothwrightError:
        return None


def _offs(pattern: Pattern) -> Offs:
    """Return what is off, mm: parts of seams, levels across them, what goes with pieces."""
    found: Offs = {}
    for seam in pattern.seams:
        walk = walk_seam(pattern, seam)
        found[seam.name, ""] = walk.off
        for part in walk.sections if len(walk.sections) > 1 else ():
            found[seam.name, part.start, part.end] = part.off
        for met in meetings(pattern, seam):
            found[seam.name, met.level, "level"] = met.off
    for b in left_behind(pattern, 0.0):
        found[b.companion.piece, b.edge, "behind"] = b.measured - b.expected
    return found


def _sum(offs: Offs) -> float:
    sizes = (min(abs(v), FAR_MM) for v in offs.values())
    return sum(size for size in sizes if size > FINE_MM)
