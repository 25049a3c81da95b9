"""Is there a grain line, and do grain, fold, levels and cuts go together?"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from clothwright.checks.check import Check, CheckSettings
from clothwright.checks.weigh import cut_as, each, pieces_looked
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.companions import companions
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.middle import (
    GRAIN_DEG,
    SHORTEST_MM,
    SLIPPED_DEG,
    middle_name,
    off_middle_deg,
)
from clothwright.pattern.parts import is_strip
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Level, Piece, Role
from clothwright.words import Sentence, edge_name, show_angle_deg

ID = "grain-and-fold"

FOLD_MM = 0.5
"""mm: a fold edge that bows more than this cannot lie on the fold of the cloth; our own figure,
half the width of a chalk line."""

CUT_LIKE = ("facing", "interfacing")
"""What has the grain of the garment along the edge it faces (common practice), wherever the middle
of its own shape runs."""


def grain_and_fold(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look at each piece's grain line, fold edge, cuts and level lines."""
    del settings
    laid = {c.piece for c in companions(pattern) if c.kind in CUT_LIKE}

    def look(piece: Piece) -> Iterator[Finding]:
        yield from _piece(piece)
        if piece.name not in laid:
            yield from _grain_to_centre(piece)

    yield from each(ID, pattern.pieces, lambda piece: Where(piece=piece.name), look)


def _piece(piece: Piece) -> Iterator[Finding]:
    yield from _grain(piece)
    yield from _fold(piece)
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


def _grain_to_centre(piece: Piece) -> Iterator[Finding]:
    off = off_middle_deg(piece) if piece.fold is None else 0.0
    if off > GRAIN_DEG:
        meant = off > SLIPPED_DEG
        yield Finding(
            code="grain-off-centre",
            severity=Severity.NOTE if meant else Severity.FAULT,
            where=Where(piece=piece.name),
            measured=off,
            expected=0.0,
            unit="deg",
            words=(
                f"The grain line of {piece.name} leans {show_angle_deg(off)} against its "
                f"{middle_name(piece)}{', taken to be meant' if meant else ''}; cut like this, it "
                "hangs or gives to one side.",
            ),
            mend=None if meant else _turned_to_middle(piece),
        )


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
            mend=_turned_to_middle(piece),
        )


def _turned_to_middle(piece: Piece) -> Mend:
    return Mend(change="turn-grain", params={"piece": piece.name})


def _cuts(piece: Piece) -> Iterator[Finding]:
    on_fold = [c for c in piece.cuts if c.how == "fold"]
    if on_fold and piece.fold is None:
        ways = [cut_as(piece, how) for how in ("once", "pair")]
        first, *others = ways if is_strip(piece) else reversed(ways)
        yield _fault(
            "cut-on-missing-fold",
            piece,
            (
                f"{piece.name} is to be cut on the fold from {on_fold[0].material}, but none of "
                "its edges is a fold edge.",
            ),
            mend=first,
            others=tuple(others),
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
            mend=cut_as(piece, "fold"),
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
    mend: Mend | None = None,
    others: tuple[Mend, ...] = (),
) -> Finding:
    return Finding(
        code=code,
        severity=Severity.FAULT,
        where=Where(piece=piece.name, edge=edge.name if edge else ""),
        measured=measured,
        expected=None if measured is None else 0.0,
        unit=unit,
        words=words,
        mend=mend,
        others=others,
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
