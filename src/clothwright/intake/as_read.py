"""A piece as it was read, laid over the piece as it was drawn: where its lines are others.

The cutting line of a piece is derived from its stitching line, an edge of it has one width of
allowance, and a corner is turned in one of a few ways. So what was drawn may come out otherwise
somewhere. Both lines are compared both ways: a corner that is missing in one stands out of the
other only.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.geometry.path import Path
from clothwright.geometry.region import distances
from clothwright.geometry.vec import Vec
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Piece
from clothwright.units import Unit
from clothwright.words import show_difference, show_length

APART_MM = 0.5
"""mm: what lies no farther off is the line that was drawn: a pen's width (common practice)."""
STEP_MM = 0.75
"""mm between the places looked at. A distance changes by no more than one walks, so that between
two places that lie on the other line none is farther off than half of this: nothing is missed."""
FINER = 16
"""Between two places where more is possible, so many parts are looked at."""
CORNER_MM = 3.0
"""mm: a difference this near to a corner, or nearer than it is large, is at the corner."""
MOSTLY = 0.5
"""A line that is off along a larger share of its way is another line: one place says enough."""
MOST = 8
"""So many places of a line are told one by one."""
Points = NDArray[np.float64]


class Difference(NamedTuple):
    """Where two lines differ most, hereabouts. at: mm; away: how far from the other line, mm."""

    at: Vec
    away: float

    def reaches(self, other: Difference) -> bool:
        """Tell whether both lie nearer together than they are large."""
        return self.at.distance(other.at) <= self.away + other.away


class Compared(NamedTuple):
    """What two lines differ by. mostly: along most of their way; then only the worst is there."""

    places: tuple[Difference, ...]
    mostly: bool


class Apart(NamedTuple):
    """A place where a piece's line is not the one that was drawn, and that in words."""

    at: Vec
    away: float
    words: str


def as_read(
    piece: Piece, unit: Unit, *, cutting: Path | None = None, stitching: Path | None = None
) -> tuple[Apart, ...]:
    """Return where a piece's lines lie more than `APART_MM` off the drawn ones, the worst first.

    cutting, stitching: the closed lines of the drawing, mm; None for one that was not drawn.
    Raises CannotDo when the piece has no cutting line.
    """
    out: list[Apart] = []
    if cutting is not None:
        parts = [e.path for e in cutting_line(piece).edges]
        out += _told(piece, "cutting line", parts, cutting, unit)
    if stitching is not None:
        out += _told(piece, "stitching line", [e.path for e in piece.edges], stitching, unit)
    return tuple(sorted(out, key=lambda a: -a.away))


def _told(piece: Piece, line: str, parts: Sequence[Path], drawn: Path, unit: Unit) -> list[Apart]:
    made = Path(tuple(s for p in parts for s in p.segments))
    found, mostly = compared(made, drawn)
    if mostly:
        worst = found[0]
        off = show_difference(worst.away, unit)
        words = f"its {line} runs elsewhere than the one that is drawn, by up to {off}"
        return [Apart(worst.at, worst.away, f"{words}: look at it before you cut")]
    out = []
    for at, away in found[:MOST]:
        off = show_difference(away, unit)
        place = _place(piece, parts, at, away, unit)
        words = f"its {line} lies {off} off the one that is drawn, {place}"
        out.append(Apart(at, away, f"{words}: look at it before you cut"))
    for at, away in found[MOST : MOST + 1]:
        more = f"its {line} leaves the one that is drawn at {len(found) - MOST} more places"
        out.append(Apart(at, away, f"{more}, by less"))
    return out


def _place(piece: Piece, parts: Sequence[Path], at: Vec, away: float, unit: Unit) -> str:
    """Say which edge a place belongs to and how far along it is, or which corner it is at."""
    names = [e.name for e in piece.edges]
    k = min(range(len(parts)), key=lambda n: parts[n].nearest(at)[1])
    along, whole = parts[k].nearest(at)[0], parts[k].length
    last = (k + 1) % len(names)
    near = max(CORNER_MM, away)
    if min(along, whole - along) <= near:
        a, b = (k - 1, k) if along <= whole - along else (k, last)
        return f'at the corner of "{names[a]}" and "{names[b]}"'
    if along <= whole - along:
        return f'on "{names[k]}", {show_length(along, unit)} from "{names[k - 1]}"'
    return f'on "{names[k]}", {show_length(whole - along, unit)} from "{names[last]}"'


@lru_cache(maxsize=512)
def compared(made: Path, drawn: Path) -> Compared:
    """Return every place where two closed lines lie more than `APART_MM` apart, the worst first.

    Each is the farthest place of its neighbourhood, within a tenth of a mm; beyond a place where
    the lines are less than half as far apart another neighbourhood begins. Distances are true
    within a hundredth of a mm.
    """
    lines = [_as_points(p) for p in (made, drawn)]
    places = [_divided(p, STEP_MM) for p in lines]
    away = [distances(places[n], lines[1 - n]) for n in (0, 1)]
    if (away[0] > APART_MM).mean() > MOSTLY:
        k = int(away[0].argmax())
        return Compared((Difference(Vec(*map(float, places[0][k])), float(away[0][k])),), True)
    one, other = (_hills(places[n], away[n], lines[1 - n]) for n in (0, 1))
    found = {k: one.place(k) for k in one.tops}
    for n, k in enumerate(other.tops, start=1):
        here = other.place(k)
        same = one.hill_at(here.at)
        if same not in found:  # a corner cut out: either line has a corner that the other has not
            near = (k for k, d in found.items() if k >= 0 and d.reaches(here))
            same = next(near, -1 - n)
        found[same] = max(found.get(same, here), here, key=lambda d: d.away)
    every = sorted(found.values(), key=lambda d: -d.away)
    return Compared(tuple(every), False)


def _as_points(path: Path) -> Points:
    """Return a line as points, n x 2, whose chords lie within 0.005 mm of it."""
    return np.array(path.flatten(0.005))


def _divided(points: Points, step: float) -> Points:
    """Return places of a line no farther apart than this, all its corners among them."""
    a, u = points[:-1], np.diff(points, axis=0)
    counts = np.maximum(1, np.ceil(np.hypot(u[:, 0], u[:, 1]) / step)).astype(int)
    which = np.repeat(np.arange(len(a)), counts)
    first = np.repeat(np.cumsum(counts) - counts, counts)
    share = (np.arange(len(which)) - first) / counts[which]
    return np.vstack([a[which] + share[:, None] * u[which], points[-1:]])


class _Hills(NamedTuple):
    """Places of a closed line, how far each is from another line, and the hills of that.

    hill: of each place the number of the highest place of its hill, -1 where it is on none. tops:
    the highest places of those hills that count.
    """

    places: Points
    away: Points
    hill: Sequence[int]
    tops: Sequence[int]

    def place(self, k: int) -> Difference:
        return Difference(Vec(*map(float, self.places[k])), float(self.away[k]))

    def hill_at(self, at: Vec) -> int:
        """Return the hill of the place nearest to a point."""
        return self.hill[int(np.hypot(*(self.places - np.array(at)).T).argmin())]


def _hills(places: Points, away: Points, other: Points) -> _Hills:
    """Look again, finer, where more than `APART_MM` is possible, and tell the hills apart."""
    long = np.hypot(*np.diff(places, axis=0).T)
    possible = (away[:-1] + away[1:] + long) / 2 > APART_MM
    if not possible.any():
        return _Hills(places, away, [-1] * len(places), ())
    fine = [
        _divided(places[i : i + 2], long[i] / FINER)[:-1] if possible[i] else places[i : i + 1]
        for i in range(len(long))
    ]
    places = np.vstack(fine)
    away = distances(places, other)
    return _Hills(places, away, *_told_apart(away))


def _told_apart(away: Points) -> tuple[list[int], list[int]]:
    """Return the hill of each height of a row that closes in a ring, and the tops that count.

    Only heights above `APART_MM` are on a hill. A top counts when the way to any higher one goes
    down to half its height: from the highest down, each height joins the hills it touches, and
    where two of them meet, the lower one ends, as one that counts or as a shoulder of the higher.
    """
    n = len(away)
    hill = [-1] * n
    joins: dict[int, int] = {}

    def top(i: int) -> int:
        while joins.get(i, i) != i:
            i = joins[i]
        return i

    for i in map(int, np.argsort(-away, kind="stable")):
        if away[i] <= APART_MM:
            break
        near = {top(hill[j % n]) for j in (i - 1, i + 1) if hill[j % n] >= 0}
        met = sorted(near, key=lambda k: -away[k])
        hill[i] = met[0] if met else i
        for lower in met[1:]:
            if away[i] >= 0.5 * away[lower]:
                joins[lower] = met[0]
    tops = sorted(set(hill) - {-1})
    return [top(i) if i >= 0 else -1 for i in hill], [i for i in tops if top(i) == i]
