"""Can a piece with this outline be cut at all?"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from clothwright.checks.check import Check, CheckSettings
from clothwright.checks.weigh import FAILURES, each, pieces_looked, reason_of
from clothwright.errors import joined
from clothwright.geometry.intersect import Crossing, self_crossings
from clothwright.geometry.path import Path
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.words import Sentence, edge_name

ID = "outline"

SHORTEST_MM = 0.5
"""mm: an edge shorter than this is no edge but a slip of the pen (a pencil line is as wide)."""


def outline(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look at each piece's stitching line and at the cutting line it leads to."""
    del settings
    yield from each(ID, pattern.pieces, lambda piece: Where(piece=piece.name), _piece)


def _piece(piece: Piece) -> Iterator[Finding]:
    short = [e for e in piece.edges if e.length < SHORTEST_MM]
    for edge in short:
        yield _short(piece, edge)
    crossed = _first_crossing(piece.outline)
    if crossed:
        yield _crosses(piece, crossed)
    if not short and not crossed:
        yield from _cutting_line(piece)


def _short(piece: Piece, edge: Edge) -> Finding:
    return Finding(
        code="edge-without-length",
        severity=Severity.FAULT,
        where=Where(piece=piece.name, edge=edge.name),
        measured=edge.length,
        expected=SHORTEST_MM,
        unit="mm",
        words=(f"{edge_name(piece.name, edge.name)} is only ", edge.length, " long."),
    )


def _crosses(piece: Piece, at: Crossing) -> Finding:
    first, second = sorted(
        (_edge_at(piece, at.at_a), _edge_at(piece, at.at_b)), key=lambda e: e.name
    )
    two = f"{first.name} crosses itself" if first is second else f"{first.name} and {second.name} "
    return Finding(
        code="outline-crosses",
        severity=Severity.FAULT,
        where=Where(piece=piece.name, edge=first.name),
        words=(f"The outline of {piece.name} crosses itself: {two.strip()}"
               f"{'' if first is second else ' cross'}.",),
    )  # fmt: skip


def _edge_at(piece: Piece, at: float) -> Edge:
    """Return the edge on which a distance along the whole outline lies."""
    for edge in piece.edges:
        if at <= edge.length:
            return edge
        at -= edge.length
    return piece.edges[-1]


def _cutting_line(piece: Piece) -> Iterator[Finding]:
    try:
        line = cutting_line(piece).outline
    except FAILURES as error:
        yield _impossible(piece, joined(f"{piece.name} has no cutting line: ", reason_of(error)))
        return
    if _first_crossing(line):
        words = (
            f"The cutting line of {piece.name} crosses itself; an allowance is too wide for the "
            "shape beside it.",
        )
        yield _impossible(piece, words)


def _impossible(piece: Piece, words: Sentence) -> Finding:
    return Finding(
        code="cutting-line-impossible",
        severity=Severity.FAULT,
        where=Where(piece=piece.name),
        words=words,
    )


@lru_cache(maxsize=1024)
def _first_crossing(path: Path) -> Crossing | None:
    """Return the first place where a closed path crosses itself; kept, since few pieces change."""
    found = self_crossings(path)
    return found[0] if found else None


CHECK = Check(
    id=ID,
    title="Can this outline be cut?",
    why="An outline that crosses itself, an edge of no length or an allowance wider than the "
    "shape allows cannot be printed, laid or cut.",
    source="Plane geometry.",
    codes=(
        "outline-crosses",
        "edge-without-length",
        "cutting-line-impossible",
        f"{ID}-skipped",
    ),
    run=outline,
    looked=pieces_looked,
)
