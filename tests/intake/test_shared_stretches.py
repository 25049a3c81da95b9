"""An edge that all sizes share and one size draws: every size is whole, and none crosses itself.

The corners of each size are known from how the drawing is made; what is read is held against them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

import pytest

from clothwright.geometry.path import Path, ring_path
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec
from clothwright.intake.candidates import see
from clothwright.intake.drawing import Drawing, DrawnLine
from clothwright.intake.in_sizes import of_size
from clothwright.units import Unit

SIZES = ("10", "12", "16")
HOW = ("closed", "one line", "each edge")
Corners = tuple[tuple[float, float], ...]


def yoke(n: int) -> Corners:
    """Grown away from its centre, which begins and ends at one place in all sizes."""
    g = 11.0 * n
    return ((0, 0), (0, 100), (210 + g, 90 + g), (200 + g, -10 - g))


def band(n: int) -> Corners:
    """Narrower than it grows from the first size to the last."""
    return ((0, 0), (0, 40), (300 + 60.0 * n, 40), (300 + 60.0 * n, 0))


def belly(n: int) -> Corners:
    """One edge grows between corners that stay; all others are shared and longer than it."""
    return ((0, 300), (0, 0), (180, 0), (180, 300), (90, 330 + 15.0 * n))


def front(n: int) -> Corners:
    """Shared at the centre and at the placket opposite."""
    g = 8.0 * n
    return ((0, 0), (0, 200), (100, 230 + g), (250, 200), (250, 0), (100, -30 - g))


PIECES = {
    yoke: [(0, 1)],
    band: [(0, 1)],
    belly: [(0, 1, 2, 3)],
    front: [(0, 1), (3, 4)],
}
"""Each piece with its edges that are shared, by their corners."""


def open_line(points: Sequence[tuple[float, float]], size: str) -> DrawnLine:
    """A line of a size through points."""
    path = Path(tuple(Line(Vec(*a), Vec(*b)) for a, b in pairwise(points)))
    return DrawnLine(path=path, closed=False, size=size)


def drawn(make: Callable[[int], Corners], owner: str, how: str) -> Drawing:
    """A piece in all sizes; the size `owner` draws what is shared, in one of several ways."""
    lines: list[DrawnLine] = []
    for n, size in enumerate(SIZES):
        c = [*make(n), make(n)[0]]
        shared = PIECES[make]
        between = zip(shared, [*shared[1:], (len(c) - 1,)], strict=True)
        own = [c[a[-1] : b[0] + 1] for a, b in between]
        if how == "each edge":
            own = [[*pair] for part in own for pair in pairwise(part)]
        if size == owner:
            own += [[c[k] for k in part] for part in shared]
        if size == owner and how == "closed":
            path = ring_path(tuple(Vec(*p) for p in make(n)))
            lines.append(DrawnLine(path=path, closed=True, size=size))
        else:
            lines += [open_line(part, size) for part in own]
    return Drawing(name="d.pdf", lines=tuple(lines), scale_known=True, sizes=SIZES)


def corners_read(drawing: Drawing, size: str) -> list[set[tuple[int, int]]]:
    """The corners of every outline that is read in a size, to the mm."""
    outlines = [c.outline.path for c in see(of_size(drawing, size), "", Unit.cm).candidates]
    return [{(round(s.start.x), round(s.start.y)) for s in p.segments} for p in outlines]


@pytest.mark.parametrize("how", HOW)
@pytest.mark.parametrize("owner", SIZES)
@pytest.mark.parametrize("make", PIECES)
def test_every_size_has_what_one_draws(
    make: Callable[[int], Corners], owner: str, how: str
) -> None:
    """Whichever size draws it and however: each size has its own corners and no other's."""
    for n, size in enumerate(SIZES):
        want = {(round(x), round(y)) for x, y in make(n)}
        assert corners_read(drawn(make, owner, how), size) == [want]


def test_nothing_is_made_of_two_sizes() -> None:
    """Where no size draws what would close a piece, the line of another size does not."""
    lines = [open_line((*yoke(n)[1:], yoke(n)[0]), size) for n, size in enumerate(SIZES)]
    drawing = Drawing(name="d.pdf", lines=tuple(lines), scale_known=True, sizes=SIZES)
    assert all(corners_read(drawing, size) == [] for size in SIZES)


@pytest.mark.parametrize("owner", SIZES)
@pytest.mark.parametrize("size", SIZES)
def test_a_centre_in_one_size_s_pen_that_runs_on_to_the_largest_is_every_size_s(
    owner: str, size: str
) -> None:
    """The line is longer than its own size needs, so that it is no edge of that size alone."""
    lines = [open_line([(0, 0), (0, 320)], owner)]
    for n, each in enumerate(SIZES):
        g = 10.0 * n
        lines.append(open_line([(0, 0), (200 + g, 0), (180 + g, 300 + g), (0, 300 + g)], each))
    drawing = Drawing(name="d.pdf", lines=tuple(lines), scale_known=True, sizes=SIZES)
    (found,) = see(of_size(drawing, size), "", Unit.mm).candidates
    low, high = found.outline.path.bounds()
    g = 10.0 * SIZES.index(size)
    assert (high - low).is_near((200 + g, 300 + g), 0.1)
