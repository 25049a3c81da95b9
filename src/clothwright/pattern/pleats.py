"""Where the pleats or tucks of a seam lie on the flat edge, before they are folded."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.pattern.fullness import fuller, taken
from clothwright.pattern.measure import net_length, side
from clothwright.pattern.pattern import FOLDED, Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import ease_bounds


class PleatFold(NamedTuple):
    """One fold: cloth between two lines of an edge, which are laid on each other.

    start, end: mm along the edge, as drawn. to_end: the line at the end stays and the one at the
    start is brought to it, so that the fold lies towards the edge's end; else the other way round.
    number: from 1, counted along the seam; a box or an inverted pleat has two folds.
    """

    start: float
    end: float
    to_end: bool
    number: int


def folds_of(pattern: Pattern, seam: Seam) -> dict[EdgeRef, tuple[PleatFold, ...]]:
    """Return the folds on each edge of the side that is folded; none where they are not counted.

    They lie evenly between the marks of the seam. An edge over whose end a fold runs has none, and
    none of the others either; nor has one with darts.
    """
    refs = fuller(seam)
    run = side(pattern, refs)
    low, high = ease_bounds(seam, run) if refs == seam.b else (0.0, run.length)
    each = taken(seam)
    visible = (high - low) / seam.folds - each if seam.folds else 0.0
    if seam.join not in FOLDED or each <= 0.0 or visible <= 0.0:
        return {}
    laid = [f for k in range(seam.folds) for f in _one(seam, low, k, each, visible)]
    out: dict[EdgeRef, tuple[PleatFold, ...]] = {}
    begun = 0.0
    for ref in refs:
        piece = pattern.piece(ref.piece)
        length = net_length(piece, ref.edge)
        here = [f for f in laid if f.start < begun + length and f.end > begun]
        if here and (piece.darts_on(ref.edge) or not _within(here, begun, begun + length)):
            return {}
        out[ref] = tuple(_on_edge(here, ref, begun, length))
        begun += length
    return {ref: folds for ref, folds in out.items() if folds}


def _one(seam: Seam, low: float, k: int, each: float, visible: float) -> Iterator[PleatFold]:
    """Yield the folds of one pleat along the run; what is seen lies evenly beside it."""
    block, half = low + k * (visible + each), each / 2
    x, n = block + visible / 2, k + 1
    if seam.fold_to == "inverted":
        yield PleatFold(x, x + half, True, 2 * n - 1)
        yield PleatFold(x + half, x + each, False, 2 * n)
    elif seam.fold_to == "box":
        panel = min(half, visible)
        x = block + (visible - panel) / 2
        yield PleatFold(x, x + half, False, 2 * n - 1)
        yield PleatFold(x + half + panel, x + each + panel, True, 2 * n)
    else:
        yield PleatFold(x, x + each, seam.fold_to != "start", n)


def _within(folds: list[PleatFold], low: float, high: float) -> bool:
    return all(low <= f.start and f.end <= high for f in folds)


def _on_edge(
    folds: list[PleatFold], ref: EdgeRef, begun: float, length: float
) -> Iterator[PleatFold]:
    """Yield folds of a run as they lie on one of its edges, in order along it."""
    for f in reversed(folds) if ref.reversed else folds:
        start, end = f.start - begun, f.end - begun
        if ref.reversed:
            yield PleatFold(length - end, length - start, not f.to_end, f.number)
        else:
            yield PleatFold(start, end, f.to_end, f.number)
