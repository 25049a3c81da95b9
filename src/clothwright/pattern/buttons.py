"""Buttons and buttonholes that are marked on a piece, in rows up its opening."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise
from statistics import median

from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.middle import SLIPPED_DEG
from clothwright.pattern.parts import ON_LINE_MM, along_grain, centre_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Mark, Piece, Role
from clothwright.units import INCH

ROW_MM = 25.0
"""mm: buttons farther from each other across are two rows, as on a double-breasted front; ours."""
SMALLEST_MM = 0.375 * INCH
"""mm across: the smallest button that the sources speak of, 3/8 in (docs/sources.md: buttons)."""


def least_stand(button: float) -> float:
    """Return the least stand for a button, mm: the wider of D / 2 + 1/4 in and 3/4 D.

    Source: docs/sources.md, buttons. They are one at D = 1 in.

    >>> least_stand(18.0), round(least_stand(25.4), 3)
    (15.35, 19.05)
    """
    return max(button / 2 + INCH / 4, 0.75 * button)


@dataclass(frozen=True, slots=True, kw_only=True)
class ButtonRow:
    """Marks in one row up a piece, from the lowest up. out: mm of each from the centre.

    holes: they are buttonholes. out counts to the left of the grain, along `across`; known: from a
    centre that is marked or an edge, else from the middle one of the row.
    """

    piece: Piece
    names: tuple[str, ...]
    at: tuple[Vec, ...]
    out: tuple[float, ...]
    across: Vec
    holes: bool
    known: bool

    @property
    def gaps(self) -> tuple[float, ...]:
        """How far each lies from the next one up, mm."""
        return tuple(a.distance(b) for a, b in pairwise(self.at))

    @property
    def middle_out(self) -> float:
        """How far the row lies from the centre, mm: that of the middle one."""
        return median(self.out)


def is_hole(mark: Mark) -> bool:
    """Tell whether a mark is a buttonhole."""
    words = mark.name.lower().replace("-", " ")
    return "buttonhole" in words or "button hole" in words


def is_button(mark: Mark) -> bool:
    """Tell whether a mark is a button or a buttonhole, not the line they lie on."""
    named = mark.name.lower().startswith("button")
    return named and (mark.at is not None or is_hole(mark))


def button_marks(piece: Piece) -> Iterator[tuple[Mark, Vec]]:
    """Yield the buttons and buttonholes of a piece, each with the place it is for."""
    for mark in piece.marks:
        if is_button(mark):
            if mark.at is not None:
                yield mark, mark.at
            elif mark.path is not None:
                yield mark, mark.path.middle


def button_rows(pattern: Pattern, piece: Piece) -> tuple[ButtonRow, ...]:
    """Return the rows of a piece's buttons and of its buttonholes."""
    centre = _centre(pattern, piece)
    found = []
    for holes in (False, True):
        here = [(m.name, at) for m, at in button_marks(piece) if is_hole(m) is holes]
        line = centre or _through(piece, tuple(at for _, at in here))
        up = (line.end - line.start).unit
        marks = [(up.cross(at - line.start), name, at) for name, at in here]
        found += [
            _row(piece, row, up.perp, holes, centre is not None) for row in _apart(sorted(marks))
        ]
    return tuple(found)


Sighted = tuple[float, str, Vec]


def _apart(marks: list[Sighted]) -> Iterator[list[Sighted]]:
    """Yield the marks in rows, by how far they lie out."""
    row: list[Sighted] = []
    for mark in marks:
        if row and mark[0] - row[-1][0] > ROW_MM:
            yield row
            row = []
        row.append(mark)
    if row:
        yield row


def _row(piece: Piece, marks: list[Sighted], across: Vec, holes: bool, known: bool) -> ButtonRow:
    up = sorted(marks, key=lambda m: piece.up.dot(m[2]))
    zero = 0.0 if known else median(m[0] for m in up)
    return ButtonRow(
        piece=piece,
        names=tuple(m[1] for m in up),
        at=tuple(m[2] for m in up),
        out=tuple(m[0] - zero for m in up),
        across=across,
        holes=holes,
        known=known,
    )


def _centre(pattern: Pattern, piece: Piece) -> Path | None:
    """Return the centre that is drawn, up the piece; None where only the buttons tell it.

    It stays the centre where the grain line slipped, which is told by itself.
    """
    line = centre_line(pattern, piece, SLIPPED_DEG)
    drawn = [m.path for m in piece.marks if m.path is not None and not is_button(m)]
    drawn += [e.path for e in piece.edges]
    if line is None or not any(line == path for path in drawn):
        return None
    return line if piece.up.dot(line.end - line.start) > 0.0 else line.reversed()


def _through(piece: Piece, marks: tuple[Vec, ...]) -> Path:
    """Return the line up the piece on which most of the marks lie, leaning least from the grain."""
    ways = [polyline((at, at + piece.up)) for at in marks or (Vec(0.0, 0.0),)]
    for pair in combinations(marks, 2):
        line = polyline(sorted(pair, key=piece.up.dot))
        ways += [line] if along_grain(piece, line, SLIPPED_DEG) else []

    def misses(line: Path) -> tuple[int, float]:
        up = (line.end - line.start).unit
        off = sum(1 for at in marks if abs(up.cross(at - line.start)) > ON_LINE_MM)
        return off, round(abs(piece.up.cross(up)), 6)

    return min(ways, key=misses)


def stand_of(pattern: Pattern, row: ButtonRow) -> float | None:
    """Return how far a row lies from the edge that laps over, mm; None where it is no free edge.

    A fold that is marked beyond the row is where the edge will be; on the very edge it is 0.
    """
    piece, at = row.piece, row.at[len(row.at) // 2]
    ways = (_reach(pattern, piece, at, piece.up.perp * sign) for sign in (1.0, -1.0))
    near = min((way for way in ways if way is not None), default=None, key=lambda w: w[0])
    if near is None or not near[1]:
        return None
    return near[0]


def is_too_narrow(pattern: Pattern, row: ButtonRow) -> bool:
    """Tell whether not even the smallest button goes on the stand of a row."""
    stand = stand_of(pattern, row)
    return stand is not None and stand < least_stand(SMALLEST_MM) - 1e-6 and len(row.at) > 1


def _reach(pattern: Pattern, piece: Piece, at: Vec, way: Vec) -> tuple[float, bool] | None:
    """Return how far a piece reaches on one side of a place, and whether its edge is free there."""
    folds = [
        (c.at_b, True)
        for m in piece.marks
        if m.path is not None and "fold" in m.name.lower()
        for c in line_crossings(m.path, at, way)
    ]
    edges = [
        (c.at_b, _is_free(pattern, piece, e))
        for e in piece.edges
        for c in line_crossings(e.path, at, way)
    ]
    # buttons on the very edge have no stand at all
    return min(
        ((max(0.0, d), free) for d, free in (*folds, *edges) if d > -ON_LINE_MM), default=None
    )


def _is_free(pattern: Pattern, piece: Piece, edge: Edge) -> bool:
    """Tell whether an edge is one that laps over: not on a fold, not sewn on to another piece."""
    sewn = any(s.kind in ("plain", "cap") for s in pattern.seams_of(piece.name, edge.name))
    return edge.role is not Role.FOLD and not sewn
