"""Can a curved or flared hem be turned up without tucks?"""

from __future__ import annotations

import math
from collections.abc import Iterator

from clothwright.checks.adjoining_hems import Member, lines_of
from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import band, each
from clothwright.geometry.intersect import self_crossings
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.hems import EASES, Turned, deepest, ends_folded, turned_up
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.words import AtMost, Between, Sentence, counted, edge_name

ID = "hem-fullness"

SHRINKS = 0.09
"""Share of the width of the garment that a published hem table leaves to be shrunk at most (2 in on
a gored skirt 70 in round)."""

LEAST_DEPTH_MM = 6.0
"""mm: a hem less deep than this is rolled or faced; our own figure (1/4 in)."""

LEAST_MM = 3.0
"""mm of fullness on one piece that nobody sees; the notice band of seam lengths."""


def hem_fullness(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare every hem's cut edge with the width of the garment where it is sewn."""
    hems = tuple((p, e) for p in pattern.pieces for e in p.edges if is_turned(e))
    lines = lines_of(pattern)
    told: set[tuple[str, str]] = set()

    def look(hem: tuple[Piece, Edge]) -> Iterator[Finding]:
        line = next(
            ([m for m in line if is_turned(m.edge)] for line in lines if _is_in(hem, line)), None
        )
        members = [(pattern.piece(m.piece), m.edge) for m in line] if line else [hem]
        if (hem[0].name, hem[1].name) not in told:
            told.update((p.name, e.name) for p, e in members)
            yield from _line(members, stretches=settings.stretches)

    yield from each(ID, hems, lambda hem: Where(piece=hem[0].name, edge=hem[1].name), look)


def is_turned(edge: Edge) -> bool:
    """Tell whether an edge is a hem that is turned up."""
    return edge.role is Role.HEM and edge.allowance > 0.0


def _is_in(hem: tuple[Piece, Edge], line: tuple[Member, ...]) -> bool:
    return any((m.piece, m.edge.name) == (hem[0].name, hem[1].name) for m in line)


def _line(members: list[tuple[Piece, Edge]], *, stretches: bool) -> Iterator[Finding]:
    """Look at the hems of one line, and tell of the fullest; a knit takes up what is a little."""
    most = SHRINKS if stretches else EASES
    turned = [(p, e, turned_up(p, e.name)) for p, e in members]
    piece, edge, worst = max(turned, key=lambda m: abs(m[2].share))
    weight = band(worst.share, most, SHRINKS)
    if weight is None or abs(worst.excess) <= LEAST_MM or self_crossings(edge.path):
        return
    yield Finding(
        code="hem-too-full" if worst.excess > 0 else "hem-too-tight",
        severity=weight if worst.excess > 0 else Severity.NOTICE,
        where=Where(piece=piece.name, edge=edge.name),
        measured=worst.cut,
        expected=worst.sewn,
        unit="mm",
        words=_words(piece, edge, worst),
        mend=_mend(members) if worst.excess > 0 else None,
    )


def _words(piece: Piece, edge: Edge, turned: Turned) -> Sentence:
    kind = "wider" if turned.excess > 0 else "narrower"
    more, less = sorted((turned.cut, turned.sewn), reverse=True)
    said: Sentence = (
        "Turned up ", edge.allowance, f", {edge_name(piece.name, edge.name)} is ", turned.cut,
        " wide at its cut edge and ", turned.sewn, " where it is sewn: ", Between(more, less),
        f" {kind} ({abs(turned.share):.0%})",
    )  # fmt: skip
    if turned.excess < 0:
        return (*said, ". Stretch or clip the edge, turn up less, or face it.")
    most = min(edge.allowance, deepest(ends_folded(piece, edge.name), edge.name, EASES))
    if most < LEAST_DEPTH_MM:
        return (*said, "; more than cloth eases in. Face the hem, or roll it.")
    if most >= edge.allowance:
        return (
            *said,
            "; more than cloth eases in: its ends run on slanting. Draw the hem square to its "
            "sides, or fold its ends like the sides above it.",
        )
    return (
        *said,
        "; more than cloth eases in. Turn up at most ",
        AtMost(most),
        ", or face the hem.",
    )


def _depth(members: list[tuple[Piece, Edge]]) -> float:
    """Return how deep the hems of a line may be at most, mm, where their ends are folded back."""
    depths = (deepest(ends_folded(p, e.name), e.name, EASES) for p, e in members)
    return float(math.floor(min(*depths, *(e.allowance for _, e in members))))


def _mend(members: list[tuple[Piece, Edge]]) -> Mend | None:
    depth = _depth(members)
    if depth < LEAST_DEPTH_MM:
        return None
    edges = tuple(f"{p.name}.{e.name}" for p, e in members)
    return Mend(change="set-hem", params={"edges": edges, "depth": depth, "corners": "folded"})


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the hems that are turned up."""
    del settings
    hems = sum(1 for p in pattern.pieces for e in p.edges if is_turned(e))
    return LookedAt(hems, counted(hems, "turned hem"))


CHECK = Check(
    id=ID,
    title="Can the hems be turned up without tucks?",
    why="On a flare the cut edge is wider than the skirt it is sewn to. What is too much cannot be "
    "eased in and lies in tucks.",
    source="Excess = 2 x depth x turn (plane geometry); 5 % eases in, an extension service's table "
    "leaves up to 9 % to be shrunk (docs/sources.md, hem depths).",
    codes=("hem-too-full", "hem-too-tight", f"{ID}-skipped"),
    run=hem_fullness,
    looked=looked,
)
