"""What is gathered, folded or drawn in along a piece's edges, drawn and said where it lies."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.drawing.piece import piece_picture
from clothwright.drawing.words import along_edge
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.fullness import depth, fuller, planned_words
from clothwright.pattern.measure import gross_at, net_length, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.pleats import PleatFold, folds_of
from clothwright.pattern.walk import ease_bounds, walk_seam
from clothwright.picture.picture import DrawnRole, Item, Picture, Stroke
from clothwright.units import Unit
from clothwright.words import Sentence, say

TEXT_MM = 3.5
NEAR_MM, FAR_MM = 6.5, 9.5
"""mm from the stitching line, between which the wave of gathers runs."""
GAP_MM = 1.5
"""mm between that, or the folds, and the words."""
WAVE_MM = 5.0
FOLD_MM = 40.0
"""mm: how long a fold is drawn."""
TO_DO = {
    "gathered": "gather",
    "elasticated": "draw in by elastic",
    "stretched": "stretch",
}


class Worked(NamedTuple):
    """A stretch of an edge that is worked. start, end: mm along the edge, as drawn.

    words: what is done, lengths in mm. folds: on this edge, where they are counted.
    """

    seam: Seam
    start: float
    end: float
    words: Sentence
    folds: tuple[PleatFold, ...]


def piece_in(pattern: Pattern, piece: Piece, unit: Unit, *, fill: bool = False) -> Picture:
    """Return a piece as it is printed, mm, with what is gathered or folded along its edges.

    unit: of the lengths that are said.
    """
    items = tuple(worked_items(pattern, piece, unit))
    picture = piece_picture(piece, unit, fill=fill)
    return picture.plus(Picture(items=items)) if items else picture


def worked_items(pattern: Pattern, piece: Piece, unit: Unit, scale: float = 1.0) -> Iterator[Item]:
    """Yield gathers, folds and words along a piece's edges, mm.

    unit: of the lengths that are said. scale: 1 for paper at full size.
    """
    for edge in piece.edges:
        for one in worked(pattern, piece, edge):
            folds = () if _marked(piece, one.seam) else one.folds
            yield from _drawn(piece, edge, one, folds, scale)
            yield along_edge(
                edge,
                say(one.words, unit),
                TEXT_MM * scale,
                gap=(_fold_mm(scale) if folds else FAR_MM * scale) + GAP_MM * scale,
                share=(one.start + one.end) / 2 / edge.length,
                role=DrawnRole.MARK,
                group=piece.name,
            )


def _marked(piece: Piece, seam: Seam) -> bool:
    """Tell whether the folds of a seam are marked on a piece already."""
    return any(m.name.startswith(f"{seam.name} fold ") for m in piece.marks)


def _fold_mm(scale: float) -> float:
    return FOLD_MM * min(scale, 2.0)


def worked(pattern: Pattern, piece: Piece, edge: Edge) -> Iterator[Worked]:
    """Yield what is worked along an edge, by seams; what is only eased is left to its notches."""
    for seam in pattern.seams_of(piece.name, edge.name):
        refs = fuller(seam)
        if seam.join == "eased" or not seam.ease:
            continue
        run = side(pattern, refs)
        low, high = ease_bounds(seam, run) if refs == seam.b else (0.0, run.length)
        folds, begun = folds_of(pattern, seam), 0.0
        for ref in refs:
            length = net_length(pattern.piece(ref.piece), ref.edge)
            ends = [min(max(at - begun, 0.0), length) for at in (low, high)]
            if (ref.piece, ref.edge) == (piece.name, edge.name) and ends[1] > ends[0]:
                along = sorted(length - at if ref.reversed else at for at in ends)
                start, end = (gross_at(piece, edge.name, at) for at in along)
                words = _words(pattern, seam, high - low, alone=len(refs) == 1)
                yield Worked(seam, start, end, words, folds.get(ref, ()))
            begun += length


def _words(pattern: Pattern, seam: Seam, long: float, *, alone: bool) -> Sentence:
    """Say what is done, and how long it is then."""
    if seam.join not in TO_DO:
        lead = ", each " if seam.folds > 1 else ", "
        each: Sentence = (lead, depth(seam), " deep") if depth(seam) else ()
        return (planned_words(seam).removeprefix("in "), *each)
    if seam.join == "stretched":
        return (f"{TO_DO[seam.join]} by ", abs(seam.ease))
    walk = walk_seam(pattern, seam)
    taken = abs(walk.b.length - walk.a.length)
    whole = "" if alone else ", in all,"
    return (f"{TO_DO[seam.join]}{whole} to ", max(long - taken, 0.0))


def _drawn(
    piece: Piece, edge: Edge, one: Worked, folds: tuple[PleatFold, ...], scale: float
) -> Iterator[Stroke]:
    """Yield a wave along what is gathered or drawn in; both lines of each fold, and an arrow."""
    if one.seam.join in ("gathered", "elasticated"):
        yield _stroke(piece, _wave(edge, one.start, one.end, scale))
    down = _fold_mm(scale)
    for fold in folds:
        crease, place = (fold.start, fold.end) if fold.to_end else (fold.end, fold.start)
        for at in (crease, place):
            yield _stroke(piece, _inward(edge, at, 0.0, down))
        yield from (_stroke(piece, path) for path in _arrow(edge, crease, place, down / 2))


def _wave(edge: Edge, start: float, end: float, scale: float) -> Path:
    count = max(2, 2 * round((end - start) / WAVE_MM / 2 / scale))
    places = [start + (end - start) * k / count for k in range(count + 1)]
    ways = (NEAR_MM * scale, FAR_MM * scale)
    return polyline([_inside(edge, at, ways[k % 2]) for k, at in enumerate(places)])


def _arrow(edge: Edge, crease: float, place: float, down: float) -> Iterator[Path]:
    """Yield an arrow from the line that is folded to the one it is laid on."""
    tail, head = (_inside(edge, at, down) for at in (crease, place))
    back = (tail - head).unit * 3.0
    yield polyline((tail, head))
    yield polyline((head + back + back.perp * 0.5, head, head + back - back.perp * 0.5))


def _inward(edge: Edge, at: float, low: float, high: float) -> Path:
    return polyline((_inside(edge, at, low), _inside(edge, at, high)))


def _inside(edge: Edge, at: float, by: float) -> Vec:
    return edge.path.point_at(at) + edge.path.tangent_at(at).perp * by


def _stroke(piece: Piece, path: Path) -> Stroke:
    return Stroke(path=path, role=DrawnRole.MARK, group=piece.name)
