"""Corners that a change turned itself are made fair again: where a seam ends on a line across it.

A swung part takes the line that runs over its seam out of true by the turn. The two lines there
are redrawn, as long as they were. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.changes.reach import touched
from clothwright.changes.redraw import redrawn
from clothwright.changes.seam_tip import SeamTip, line_across, seam_tip
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import self_crossings
from clothwright.pattern.beside import Beside, sewn_flat
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.words import Sentence, refs_name

REACH_MM = 60.0
"""mm from the seam over which the lines across it are redrawn (as `true-seam` does)."""
FAIR_DEG = 5.0
"""degrees: a line that bends less over a seam runs fair (common practice, as the walk has it)."""
TURNED_DEG = 1.0
"""degrees: a change that turns a line by less leaves it as it is (our own figure)."""
CORNER_DEG = 45.0
"""degrees: one that bends more is a corner that is meant (as `true-seam` has it)."""
AS_LONG_MM = 0.5
"""mm: a line redrawn may differ by less from its length, which the cloth takes (our own figure)."""


class _End(NamedTuple):
    """A seam's "start" or "end", and how far the line across bends there now and did before."""

    seam: Seam
    at: str
    bend: float
    turned: float


def trued(before: Pattern, after: Pattern) -> tuple[Pattern, Sentence]:
    """Return a changed pattern with the corners fair again that the change put out of true.

    A line across a seam that bends now, and bent less before, is redrawn on the pieces that were
    changed until it bends as it did. Left as it is where too little of it is free, for the walk to
    tell. Also the sentence that names the lines, () for none.
    """
    pattern, lines = after, list[EdgeRef]()
    for end in _turned(before, after):
        corners = _corners(before, pattern, end)
        made = _redrawn(pattern, end, corners)
        if made is not None:
            pattern = made
            lines += [EdgeRef(c.ref.piece, c.across.name) for c in corners]
    if not lines:
        return pattern, ()
    names = refs_name(list(dict.fromkeys((r.piece, r.edge) for r in lines)))
    return pattern, (
        " So that the line runs fair over the seam there, it was redrawn within ",
        REACH_MM,
        f" of it, its length kept: {names}.",
    )


def _turned(before: Pattern, after: Pattern) -> Iterator[_End]:
    """Yield the ends of seams at which a change took the line across out of true.

    Of the pieces that it touched: no other line has turned.
    """
    new, beside = touched(before, after), Beside(after)
    for seam in (s for s in sewn_flat(after) if s.pieces & new):
        for across in beside.lines_across(seam):
            at = "end" if across.at_end else "start"
            now, then = (_bend_deg(p, seam, at) for p in (after, before))
            if FAIR_DEG < abs(now) <= CORNER_DEG and abs(now) > abs(then) + TURNED_DEG:
                yield _End(seam, at, now, now - then)


def _bend_deg(pattern: Pattern, seam: Seam, at: str) -> float:
    return sum(t.inside_deg for t in _tips(pattern, seam, at)) - 180.0


def _tips(pattern: Pattern, seam: Seam, at: str) -> list[SeamTip]:
    side = -1 if at == "end" else 0
    return [seam_tip(pattern, run[side], at, 0.0) for run in (seam.a, seam.b)]


def _corners(before: Pattern, pattern: Pattern, end: _End) -> list[SeamTip]:
    """Return the corners at a seam's end that lie on pieces the change touched."""
    old = {p.name: p for p in before.pieces}
    return [
        t
        for t in _tips(pattern, end.seam, end.at)
        if t.piece.edges != getattr(old.get(t.ref.piece), "edges", None)
    ]


def _redrawn(pattern: Pattern, end: _End, corners: list[SeamTip]) -> Pattern | None:
    """Return the pattern with the line across drawn as fair as it was; None where it cannot be."""
    for c in {(c.ref.piece, c.ref.edge, c.at_end): c for c in corners}.values():
        here = seam_tip(pattern, c.ref, end.at, 0.0)
        way = here.leaving(end.turned / len(corners))
        try:
            line = line_across(here, way, REACH_MM, "", as_before=True)
        except CannotDo:
            return None
        piece = redrawn(here.piece, {here.across.name: line}).piece
        if abs(line.path.length - here.across.length) > AS_LONG_MM or self_crossings(piece.outline):
            return None
        pattern = pattern.with_piece(piece)
    return pattern
