"""Shapes that several pages draw whole: they tell how these pages lie to each other, exactly.

A page may draw the whole drawing and show a part of it, or only the shapes that touch it. Either
way a shape that reaches over to another page stands on both, moved. Shapes that look alike (two
grain lines of one length) are told from one that is the same by what else would have to stand
there: a shape that comes to lie on what a page shows, and is not drawn there, speaks against.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.geometry.box import Box
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pen import PenLine, alike

SAME_MM = 0.15
"""mm: shapes that are one agree within this, wherever a program rounds."""
SHORT_MM = 15.0
"""mm: shorter lines (marks, crosses) say nothing about where a page lies."""
CURVE_MM = 60.0
"""mm: a longer line that is not straight tells by itself; three shapes tell together."""
FEWEST = 3
MOST = 300
"""The longest shapes of a page are looked at."""
OFTEN = 8
"""A shape that stands on one page more often than this tells nothing."""
LEAST_STEP = 0.3
"""Of the page: two pages lie at least this far apart, one way or the other."""
STEP_RANGE = 0.32
"""Of what a page shows: from one to the next it is as far, or so much less."""
OFF_MM = 6.0
"""mm: a page lies off the grid by no more."""
MISSING = 0.1
"""Share of the length of shapes shared that may be missing where they would have to stand."""
SAMPLE_MM = 4.0
EDGE_MM = 25.0
"""mm at the edges of a page without a frame that may not show what is drawn."""
FRAME_MM = 16.0
"""mm at the edges of a page that may not show it although a frame goes round them."""

Island = dict[int, Vec]
"""Pages (by their place in the list) that lie together, each with its move."""
Points = NDArray[np.float64]


class PageShape(NamedTuple):
    """A line of a page. kind: equal for shapes that are the same up to a move. low: of its box."""

    line: PenLine
    kind: int
    low: Vec
    telling: bool
    points: Points

    @property
    def length(self) -> float:
        """Its length in mm."""
        return self.line.path.length


class PageLink(NamedTuple):
    """Two pages, by how much the second is moved, how much they share (mm), whether surely."""

    a: int
    b: int
    by: Vec
    shared: float
    sure: bool
    size: Vec


def same_shape(a: PenLine, b: PenLine) -> bool:
    """Tell whether two lines are the same up to a move."""
    one, other = a.path.bounds(), b.path.bounds()
    return (
        a.closed == b.closed
        and abs(a.path.length - b.path.length) < SAME_MM
        and one.size.distance(other.size) < SAME_MM
        and all(
            (p - one.low).distance(q - other.low) < SAME_MM
            for p, q in zip(a.path.ends, b.path.ends, strict=True)
        )
        and alike(a.pen, b.pen)
        and _middle(a).distance(_middle(b)) < 2 * SAME_MM
    )


def _middle(line: PenLine) -> Vec:
    return line.path.point_at(0.37 * line.path.length) - line.path.bounds().low


class Shapes:
    """The shapes of all pages, and the islands of pages that share some."""

    def __init__(self, pages: Sequence[DrawnPage], window: Box | None) -> None:
        """pages: without frames and crosses. window: what each shows, None when not known."""
        self.pages = pages
        self.each: list[list[PageShape]] = [[] for _ in pages]
        self._size = window.size if window else Vec(pages[0].width, pages[0].height)
        self._core = [_core(p, window) for p in pages]
        self._sort()
        self.islands = self._grown()

    def _sort(self) -> None:
        """Give shapes that are the same one number."""
        found = [
            (x.path.length, k, x)
            for k, page in enumerate(self.pages)
            for x in sorted(page.lines, key=lambda x: -x.path.length)[:MOST]
            if x.path.length >= SHORT_MM
        ]
        first: list[PenLine] = []
        recent: list[int] = []
        for length, k, line in sorted(found, key=lambda f: f[0]):
            recent = [n for n in recent if length - first[n].path.length < SAME_MM]
            kind = next((n for n in recent if same_shape(first[n], line)), None)
            if kind is None:
                kind = len(first)
                first.append(line)
                recent.append(kind)
            path = line.path
            telling = length > CURVE_MM and not path.is_straight
            low = path.bounds().low
            self.each[k].append(PageShape(line, kind, low, telling, _points(line)))

    def _links(self) -> list[PageLink]:
        """Return what pairs of pages share, the most first."""
        out = []
        of_kind = [_by_kind(shapes) for shapes in self.each]
        for a in range(len(self.pages)):
            for b in range(a + 1, len(self.pages)):
                out += list(self._between(a, b, of_kind[a], of_kind[b]))
        return sorted(out, key=lambda k: (-k.sure, -k.shared))

    def _between(
        self, a: int, b: int, mine: dict[int, list[PageShape]], theirs: dict[int, list[PageShape]]
    ) -> Iterator[PageLink]:
        clusters: list[tuple[Vec, list[PageShape]]] = []
        for kind in mine.keys() & theirs.keys():
            if max(len(mine[kind]), len(theirs[kind])) > OFTEN:
                continue
            for one in mine[kind]:
                for other in theirs[kind]:
                    by = one.low - other.low
                    known = next((c for c in clusters if c[0].distance(by) < 2 * SAME_MM), None)
                    if known is None:
                        clusters.append((by, [one]))
                    else:
                        known[1].append(one)
        page = self.pages[a]
        for by, shapes in clusters:
            if max(abs(by.x) / page.width, abs(by.y) / page.height) < LEAST_STEP:
                continue
            sure = any(s.telling for s in shapes) or len({s.kind for s in shapes}) >= FEWEST
            yield PageLink(a, b, by, sum(s.length for s in shapes), sure, self._size)

    def _grown(self) -> list[Island]:
        """Join pages to islands, by what they share, the most first.

        Pages lie on a grid: its step is what most of the links say. Links by shapes that tell
        little count only on that grid; those that tell may be a little off it.
        """
        island_of: dict[int, Island] = {k: {k: Vec(0.0, 0.0)} for k in range(len(self.pages))}
        links = self._links()
        step = tuple(_voted([k for k in links if k.sure], axis) for axis in (0, 1))
        exact = [k for k in links if _off(k.by, step) < 4 * SAME_MM]
        near = [k for k in links if k.sure and 4 * SAME_MM <= _off(k.by, step) < OFF_MM]
        for link in (*exact, *near):
            mine, theirs = island_of[link.a], island_of[link.b]
            if mine is theirs:
                continue
            by = mine[link.a] + link.by - theirs[link.b]
            moved = {k: v + by for k, v in theirs.items()}
            if self.speaks_for(mine, moved):
                mine.update(moved)
                for k in moved:
                    island_of[k] = mine
        islands = {id(i): i for i in island_of.values()}.values()
        return sorted(islands, key=lambda i: (-len(i), min(i)))

    def speaks_for(self, mine: Island, theirs: Island) -> bool:
        """Tell whether nothing is missing where two islands lie so."""
        shared = missing = 0.0
        for a, at in mine.items():
            for b, there in theirs.items():
                some, none = self.shared(a, b, there - at)
                shared, missing = shared + some, missing + none
        return missing <= MISSING * shared

    def shared(self, a: int, b: int, by: Vec) -> tuple[float, float]:
        """Return mm of shapes that two pages share, and of those one lacks; b is moved by `by`."""
        shared, missing = 0.0, 0.0
        for one, other, way in ((a, b, by), (b, a, by * -1.0)):
            there = _by_kind(self.each[other])
            for shape in self.each[one]:
                low = shape.low - way
                if any(s.low.distance(low) < 3 * SAME_MM for s in there.get(shape.kind, ())):
                    shared += shape.length
                elif _crosses(shape.points, way, self._core[other]):
                    missing += shape.length
        return shared, missing

    def missing(self, at: Island) -> float:
        """Return mm of shapes that would have to stand on some page of these, and do not."""
        listed = list(at)
        return sum(
            self.shared(a, b, at[b] - at[a])[1]
            for k, a in enumerate(listed)
            for b in listed[k + 1 :]
        )

    def on_others(self, page: int, line: PenLine, at: Island) -> bool:
        """Tell whether a line of a page stands on another one too, where pages lie so."""
        shape = next((s for s in self.each[page] if s.line is line), None)
        if shape is None:
            return False
        here = at[page] + shape.low
        return any(
            s.kind == shape.kind and (at[n] + s.low).distance(here) < 3 * SAME_MM
            for n in at
            if n != page
            for s in self.each[n]
        )

    def explained(self) -> tuple[float, float]:
        """Return mm of shapes that reach out of their page: of those on two pages, and of all."""
        both = whole = 0.0
        of = {k: island for island in self.islands for k in island}
        for k, shapes in enumerate(self.each):
            page = self.pages[k]
            for shape in shapes:
                if page.paper.holds(shape.line.path.bounds(), 1.0):
                    continue
                whole += shape.length
                both += shape.length * self.on_others(k, shape.line, of[k])
        return both, whole


def step_of(islands: Sequence[Island]) -> tuple[float | None, float | None]:
    """Return how far pages lie from each other, across and up; None where islands do not tell.

    The least distance of which all others are multiples.
    """
    out: list[float | None] = []
    for axis in (0, 1):
        away = sorted(
            abs(v[axis] - w[axis])
            for i in islands
            for n, v in enumerate(i.values())
            for w in list(i.values())[:n]
        )
        away = [d for d in away if d > SHORT_MM]
        step = None
        for parts in (1, 2, 3):
            if away and away[0] / parts > 2 * SHORT_MM:
                one = away[0] / parts
                off = [d - round(d / one) * one for d in away]
                if all(abs(d) < 4 * SAME_MM for d in off):
                    far = away[-1]
                    step = far / round(far / one)
                    break
        out.append(step)
    return out[0], out[1]


def _voted(links: Sequence[PageLink], axis: int) -> float | None:
    """Return the distance that most links to a next page have, weighed by what they share."""
    votes: list[tuple[float, float]] = []
    for link in links:
        away = abs(link.by[axis])
        if away < SHORT_MM or not 1.0 - STEP_RANGE < away / link.size[axis] < 1.02:
            continue
        known = next((k for k, (d, _) in enumerate(votes) if abs(d - away) < 4 * SAME_MM), None)
        if known is None:
            votes.append((away, link.shared))
        else:
            votes[known] = (votes[known][0], votes[known][1] + link.shared)
    return max(votes, key=lambda v: v[1])[0] if votes else None


def _off(by: Vec, step: tuple[float | None, ...]) -> float:
    """Return how far a move is off the grid, mm; where no step is known, from none at all."""
    return max(
        abs(d) if one is None else abs(d - round(d / one) * one)
        for d, one in zip(by, step, strict=True)
    )


def _core(page: DrawnPage, window: Box | None) -> Box:
    """Return what a page surely shows."""
    if window is None:
        return page.paper.grown(-EDGE_MM)
    return window.grown(-3.0).common(page.paper.grown(-FRAME_MM))


def _by_kind(shapes: Sequence[PageShape]) -> dict[int, list[PageShape]]:
    out: dict[int, list[PageShape]] = defaultdict(list)
    for shape in shapes:
        out[shape.kind].append(shape)
    return out


def _points(line: PenLine) -> Points:
    """Return points along a line, a few mm from each other."""
    flat = np.array([(p.x, p.y) for p in line.path.flatten(0.5)])
    run = np.concatenate([[0.0], np.hypot(*np.diff(flat, axis=0).T).cumsum()])
    at = np.linspace(0.0, run[-1], max(2, int(run[-1] / SAMPLE_MM)))
    return np.column_stack([np.interp(at, run, flat[:, 0]), np.interp(at, run, flat[:, 1])])


def _crosses(points: Points, by: Vec, core: Box) -> bool:
    """Tell whether a shape that is moved back by `by` lies somewhere in a window."""
    x, y = points[:, 0] - by.x, points[:, 1] - by.y
    return bool(((x > core.low.x) & (x < core.high.x) & (y > core.low.y) & (y < core.high.y)).any())
