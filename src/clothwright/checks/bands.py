"""Do laps reach far enough, and bands fold in their middle; do marked lines run over a piece?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.corner_mends import corner_name
from clothwright.checks.openings import SLITS
from clothwright.checks.patches_fit import SAGITTA_MM, beyond
from clothwright.checks.weigh import each, of_mark
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.pattern.bands import is_band
from clothwright.pattern.buttons import is_hole
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.laps import LEAST_MM, CentreLap, Lap, centre_laps, laps
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Mark, Piece
from clothwright.pattern.places import lying_kind
from clothwright.words import Sentence, begun, counted, edge_name, listed

ID = "bands"

CENTRE = "centre"
"""A centre line may be drawn on beyond its piece: it is a line of the body."""


def bands(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Measure each lap, above and below, then look where each line marked on a piece ends."""
    yield from each(ID, tuple(laps(pattern)), lambda lap: Where(piece=lap.piece.name), _lap)
    yield from each(
        ID,
        tuple(centre_laps(pattern)),
        lambda lap: Where(piece=lap.piece.name),
        lambda lap: _leaning(lap, settings),
    )
    yield from each(
        ID,
        tuple(p for p in pattern.pieces if any(_lines(p))),
        lambda p: Where(piece=p.name),
        lambda p: _lying(p, settings),
    )
    yield from each(
        ID,
        tuple(p for p in pattern.pieces if _folded_along(p) and is_band(pattern, p.name)),
        lambda p: Where(piece=p.name),
        lambda p: _halves(pattern, p, settings),
    )


def _lap(lap: Lap) -> Iterator[Finding]:
    if lap.length >= LEAST_MM:
        return
    names = listed([edge_name(lap.piece.name, e.name) for e in lap.edges])
    yield Finding(
        code="lap-too-short",
        severity=Severity.NOTICE,
        where=Where(piece=lap.piece.name, edge=lap.edges[0].name),
        measured=lap.length,
        expected=LEAST_MM,
        unit="mm",
        words=(
            f"{begun(names)} laps only ", lap.length, " beyond what is sewn; the smallest button "
            "wants ", LEAST_MM, ", a hook about as much. Make it longer, or it does not close.",
        ),
    )  # fmt: skip


def _leaning(lap: CentreLap, settings: CheckSettings) -> Iterator[Finding]:
    off = lap.low - lap.high
    if abs(off) <= settings.notice:
        return
    name = begun(edge_name(lap.piece.name, lap.edge.name))
    yield Finding(
        code="lap-leans",
        severity=Severity.NOTICE,
        where=Where(piece=lap.piece.name, edge=lap.edge.name),
        measured=lap.low,
        expected=lap.high,
        unit="mm",
        words=(
            f"{name} lies ", lap.high, f" from the {lap.centre} at its upper end and ", lap.low,
            " at its lower end: closed, it slants across the front. Where that is not meant, draw "
            f"it as far from the {lap.centre} below as above.",
        ),
        mend=_moved(lap, lap.lower, -off),
        others=(_moved(lap, lap.upper, off),),
    )  # fmt: skip


def _moved(lap: CentreLap, corner: int, by: float) -> Mend:
    """Return one end of a lap's edge moved out by so much, mm."""
    params = {
        "corner": corner_name(lap.piece, corner),
        "by": round(by, 6),
        "direction": "across",
    }
    return Mend(change="move-edge", params=params)


def _lines(piece: Piece) -> Iterator[tuple[Mark, Path]]:
    """Yield the lines that are marked on a piece and that no other check looks at."""
    for mark in piece.marks:
        other = {CENTRE, *SLITS} & set(mark.name.lower().split())
        if mark.path is not None and not (other or is_hole(mark) or lying_kind(mark.name)):
            yield mark, mark.path


def _lying(piece: Piece, settings: CheckSettings) -> Iterator[Finding]:
    for mark, line in _lines(piece):
        over = beyond(piece, line.flatten(SAGITTA_MM))
        short = max(piece.outline.nearest(p)[1] for p in line.ends) if _is_fold(mark) else 0.0
        if max(over, short) <= settings.agree:
            continue
        how: Sentence = ("runs over its edge by ", over)
        if over <= settings.agree:
            how = ("ends ", short, " from its edge")
        why = ": the piece was changed there. Mark it anew, or put that back."
        words: Sentence = (f"The {mark.name} marked on {piece.name} ", *how, why)
        yield of_mark(
            piece,
            mark.name,
            words,
            code="line-off-piece",
            weight=Severity.NOTICE,
            measured=max(over, short),
        )


def _folded_along(piece: Piece) -> tuple[Mark, Path] | None:
    """Return the one straight line along which a piece is folded; None where there are several."""
    folds = [(m, m.path) for m in piece.marks if m.path is not None and _is_fold(m)]
    return folds[0] if len(folds) == 1 and folds[0][1].is_straight else None


def _halves(pattern: Pattern, piece: Piece, settings: CheckSettings) -> Iterator[Finding]:
    """Compare what lies on both sides of a band's fold line, in its middle."""
    fold = _folded_along(piece)
    reach = sorted(_reach(piece, fold[1])) if fold else []
    if fold is None or len(reach) < 2 or reach[1][0] - reach[0][0] <= settings.notice:
        return
    (least, near), (most, far) = reach
    free = ((e, by) for e, by in ((near, most - least), (far, least - most))
            if not pattern.seams_of(piece.name, e))  # fmt: skip
    mends = [
        Mend(change="move-edge", params={"edge": f"{piece.name}.{e}", "by": round(by, 6)})
        for e, by in free
    ]
    name = fold[0].name
    words: Sentence = (
        f"The {name} of {piece.name} lies ", least, f" from {edge_name(piece.name, near)}, and ",
        most, f" from {edge_name(piece.name, far)}: folded along it, one half does not reach the "
        "other's seam. Put the edge back, or mark the line in the middle.",
    )  # fmt: skip
    yield of_mark(
        piece, name, words, code="fold-off-middle", weight=Severity.NOTICE,
        measured=least, expected=most, mend=next(iter(mends), None),
    )  # fmt: skip


def _reach(piece: Piece, line: Path) -> Iterator[tuple[float, str]]:
    """Yield how far it is from the middle of a line to the first edge on each side of it, mm."""
    for way in (line.start_tangent.perp, -line.start_tangent.perp):
        met = [
            (c.at_b, e.name)
            for e in piece.edges
            for c in line_crossings(e.path, line.middle, way)
            if c.at_b > 0.0
        ]
        yield from sorted(met)[:1]


def _is_fold(mark: Mark) -> bool:
    """Tell whether a line is one that a piece is folded along, which runs from edge to edge."""
    return "fold" in f"{mark.name} {mark.note}".lower().split()


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the laps and the marked lines."""
    del settings
    lines = sum(1 for p in pattern.pieces for _ in _lines(p))
    count = lines + len((*laps(pattern), *centre_laps(pattern)))
    return LookedAt(count, counted(count, "lap or marked line", "laps and marked lines"))


CHECK = Check(
    id=ID,
    title="Do laps reach far enough, alike all along, and do marked lines run over their piece?",
    why="A band that is cut shorter at its end still fits what it is sewn to, and cannot be "
    "closed; its fold line then runs over its edge. A front "
    "edge that leans from the centre closes askew.",
    source="A button wants its stand on both sides, the wider of D / 2 + 1/4 in and 3/4 D; of the "
    "smallest button, 3/8 in, that is 7/8 in (docs/sources.md: buttons).",
    codes=("lap-too-short", "lap-leans", "line-off-piece", "fold-off-middle", f"{ID}-skipped"),
    run=bands,
    looked=looked,
)
