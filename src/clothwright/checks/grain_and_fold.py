"""Is there a grain line, and do grain, fold, levels and cuts go together?"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from clothwright.checks.check import Check, CheckSettings
from clothwright.checks.weigh import each, pieces_looked
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.parts import is_strip
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Level, Piece, Role
from clothwright.pattern.symmetry import mirror_axes
from clothwright.words import Sentence, edge_name, show_angle_deg

ID = "grain-and-fold"

GRAIN_DEG = 0.5
"""degrees: a grain line further from parallel (or square) to the fold than this is a fault. Over a
60 cm fold half a degree is 5 mm, about what the eye sees against a straight yarn; our own."""

FOLD_MM = 0.5
"""mm: a fold edge that bows more than this cannot lie on the fold of the cloth; our own figure,
half the width of a chalk line."""

MEANT_DEG = 10.0
"""degrees: a grain that leans more than this against the middle of its piece is taken to be meant
(a pocket or a yoke cut slantwise for the look) and only noted; our own figure."""

SHORTEST_MM = 1.0
"""mm: a grain line shorter than this points nowhere."""


def grain_and_fold(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look at each piece's grain line, fold edge, cuts and level lines."""
    del settings
    yield from each(ID, pattern.pieces, lambda piece: Where(piece=piece.name), _piece)


def _piece(piece: Piece) -> Iterator[Finding]:
    yield from _grain(piece)
    yield from _fold(piece)
    yield from _grain_to_centre(piece)
    yield from _cuts(piece)
    for level in piece.levels:
        yield from _level(piece, level)


def _grain(piece: Piece) -> Iterator[Finding]:
    grain = piece.grain
    if grain is None:
        said: Sentence = (f"{piece.name} has no grain line, so nobody can tell how it lies on",)
        yield _fault("grain-missing", piece, (*said, " the cloth."))
        return
    if grain.start.distance(grain.end) < SHORTEST_MM:
        said = (f"The grain line of {piece.name} is only ", grain.start.distance(grain.end))
        yield _fault("grain-missing", piece, (*said, " long and points nowhere."))


def _fold(piece: Piece) -> Iterator[Finding]:
    folds = sorted((e for e in piece.edges if e.role is Role.FOLD), key=lambda e: e.name)
    if len(folds) > 1:
        names = " and ".join(e.name for e in folds)
        yield _fault(
            "fold-twice", piece, (f"{piece.name} has more than one fold edge: {names}.",), folds[1]
        )
    if not folds:
        return
    fold = folds[0]
    bow = _bow(fold)
    if bow > FOLD_MM:
        yield _fault(
            "fold-not-straight",
            piece,
            (f"{edge_name(piece.name, fold.name)} lies on the fold but bows by ", bow, "."),
            fold,
            measured=bow,
            unit="mm",
        )
    else:
        yield from _grain_to_fold(piece, fold)


def _bow(edge: Edge) -> float:
    """Return how far an edge leaves the straight line between its ends, mm."""
    if edge.path.is_straight:
        return 0.0
    start, axis = edge.path.start, (edge.path.end - edge.path.start).unit
    return max(abs(axis.cross(p - start)) for p in edge.path.flatten())


def off_middle_deg(piece: Piece) -> float:
    """Return how far a grain line leans against the fold or the middle of its piece, degrees.

    0 where it runs along it, across it or (on a whole piece) on the bias, and where nothing shows
    where the middle is.
    """
    grain, fold = piece.grain, piece.fold
    if grain is None or grain.start.distance(grain.end) < SHORTEST_MM:
        return 0.0
    if fold is not None:
        return _off_yarns(piece.up, fold.path.end - fold.path.start, 90.0)
    return min((_off_yarns(piece.up, way, 45.0) for way in _middles(piece)), default=0.0)


def _grain_to_centre(piece: Piece) -> Iterator[Finding]:
    off = off_middle_deg(piece) if piece.fold is None else 0.0
    if off > GRAIN_DEG:
        meant = off > MEANT_DEG
        yield Finding(
            code="grain-off-centre",
            severity=Severity.NOTE if meant else Severity.FAULT,
            where=Where(piece=piece.name),
            measured=off,
            expected=0.0,
            unit="deg",
            words=(
                f"The grain line of {piece.name} leans {show_angle_deg(off)} against the middle of "
                f"the piece{', taken to be meant' if meant else ''}; cut like this, one half hangs "
                "differently from the other.",
            ),
        )


def _middles(piece: Piece) -> Iterator[Vec]:
    """Yield the directions of a whole piece's middle: marked lines, else about what it mirrors.

    A band or a strap lies along its two long edges, where they are straight and parallel.
    """
    marked = [m.path for m in piece.marks if m.path and m.name.lower().startswith("centre")]
    straight = [path for path in marked if path.is_straight]
    if straight:
        yield from (path.end - path.start for path in straight)
    elif band := _band_way(piece):
        yield band
    else:
        yield from (axis.along for axis in mirror_axes(piece))


def _band_way(piece: Piece) -> Vec | None:
    """Return the direction of a band's long edges; None for any other piece, such as a gore."""
    if not is_strip(piece):
        return None
    low, high = piece.outline.bounds()
    long = [
        way
        for e in piece.edges
        if e.path.is_straight and (way := e.path.end - e.path.start).norm > 0.4 * max(high - low)
    ]
    ways = [way for way in long if abs(turn_between_deg(way, -long[0])) < GRAIN_DEG]
    return long[0] if ways else None


def _off_yarns(up: Vec, way: Vec, every_deg: float) -> float:
    """Return how far the grain is from a direction, or from one turned by `every_deg`, degrees."""
    turn = abs(turn_between_deg(up, way)) % every_deg
    return min(turn, every_deg - turn)


def _grain_to_fold(piece: Piece, fold: Edge) -> Iterator[Finding]:
    off = off_middle_deg(piece)
    if off > GRAIN_DEG:
        yield _fault(
            "grain-off-fold",
            piece,
            (
                f"The grain line of {piece.name} is {show_angle_deg(off)} off the fold "
                f"{fold.name}; on folded cloth both follow the same yarn.",
            ),
            fold,
            measured=off,
            unit="deg",
        )


def _cuts(piece: Piece) -> Iterator[Finding]:
    on_fold = [c for c in piece.cuts if c.how == "fold"]
    if on_fold and piece.fold is None:
        yield _fault(
            "cut-on-missing-fold",
            piece,
            (
                f"{piece.name} is to be cut on the fold from {on_fold[0].material}, but none of "
                "its edges is a fold edge.",
            ),
        )
    other = [c for c in piece.cuts if c.how != "fold"]
    if other and piece.fold is not None:
        yield _fault(
            "fold-cut-single",
            piece,
            (
                f"{piece.name} is half a piece, but is to be cut {other[0].how} from "
                f"{other[0].material} without the fold; unfold it, or cut it on the fold.",
            ),
            piece.fold,
        )


@lru_cache(maxsize=1024)
def _is_met(outline: Path, at: Vec, across: Vec) -> bool:
    """Tell whether a level line meets an outline; kept, since few pieces change."""
    return bool(line_crossings(outline, at, across))


def _level(piece: Piece, level: Level) -> Iterator[Finding]:
    if _is_met(piece.outline, level.at, piece.up.perp):
        return
    yield Finding(
        code="level-outside",
        severity=Severity.NOTICE,
        where=Where(piece=piece.name, point=level.name),
        words=(f"The {level.name} line of {piece.name} lies outside the piece.",),
    )


def _fault(
    code: str,
    piece: Piece,
    words: Sentence,
    edge: Edge | None = None,
    *,
    measured: float | None = None,
    unit: str = "",
) -> Finding:
    return Finding(
        code=code,
        severity=Severity.FAULT,
        where=Where(piece=piece.name, edge=edge.name if edge else ""),
        measured=measured,
        expected=None if measured is None else 0.0,
        unit=unit,
        words=words,
    )


CHECK = Check(
    id=ID,
    title="Is there a grain line, and do grain, fold and cuts go together?",
    why="A piece without a grain line cannot be laid; one whose fold bows or leans off the grain "
    "opens into a piece nobody drew.",
    source="Common practice; the numbers are our own and stand in the check.",
    codes=(
        "grain-missing",
        "grain-off-fold",
        "grain-off-centre",
        "fold-not-straight",
        "fold-twice",
        "cut-on-missing-fold",
        "fold-cut-single",
        "level-outside",
        f"{ID}-skipped",
    ),
    run=grain_and_fold,
    looked=pieces_looked,
)
