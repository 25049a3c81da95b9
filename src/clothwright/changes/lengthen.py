"""Lengthen or shorten pieces at a level line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.partners import partners
from clothwright.changes.spread import darts_told, lengthened, times_crossed
from clothwright.errors import MissedBy
from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import Vec
from clothwright.pattern.opposite import faced_at
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.units.params import param
from clothwright.words import Sentence, begun, edge_name, listed

SAME_MM = 0.5
"""mm: a curve may gain so much less than what its piece does before it is told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengthen:
    """Parameters of `lengthen`; lengths in mm."""

    pieces: tuple[str, ...] = param(
        "pieces",
        "the pieces to change alike: shell, lining, facing; all with that level, but for a "
        "facing that is sewn to one that has it",
        label="Which pieces",
    )
    level: str = param("level", "the level line to cut at", label="At which line")
    by: float = param("length", "how much longer; a minus shortens", label="By how much")
    above: float = param(
        "length",
        "cut this far above the level line (a minus: below it)",
        default=0.0,
        label="How far above that line",
    )
    curves: str = param(
        "choice",
        "",
        default="smooth",
        choices={"smooth": "it is blended over the cut", "spread": "it is left as cut and spread"},
        label="What a curved edge does at the cut",
    )


def apply(pattern: Pattern, params: Lengthen) -> Outcome:
    """Cut each piece at the level and spread it along the grain (a minus folds it out).

    Everything below the cut (away from the tip of the grain arrow) moves by exactly `by` along
    the grain; what lies above stays. An edge that crosses the cut is redrawn: straight if it was
    straight, otherwise in one fair curve. Notches and darts above the cut keep their distance
    from the upper end of their edge, those below from the lower end.

    A dart that runs up or down through it becomes as much longer or shorter: its mouth goes with
    one part, its point with the other; its legs and its cap are made true.

    Raises CannotDo when another dart lies across the cut, when nothing lies below it, or when there
    is not so much to take out; BadInput for unknown names.
    Source: docs/sources.md, lengthening and shortening.
    """
    changed = pattern
    for name in params.pieces:
        piece = pattern.piece(name)
        at = _at(pattern, piece, params)
        new = lengthened(piece, at, params.by, curves=params.curves)
        if new is not piece:
            changed = changed.with_piece(new)
    slants = tuple(_slanting(pattern, changed, params)) if params.curves == "smooth" else ()
    pieces = ((pattern.piece(n), changed.piece(n)) for n in params.pieces)
    darts = tuple(part for old, new in pieces for part in darts_told(old, new))
    said = (*_said(params), *slants, *darts, *partners(pattern, changed))
    return Outcome(pattern=changed, said=said)


def _at(pattern: Pattern, piece: Piece, params: Lengthen) -> Vec:
    """Return a point of the cut, which is square to the grain.

    A facing that has no such line is cut where the cut of what it faces would meet it.
    """
    if not any(lv.name == params.level for lv in piece.levels):
        for there in (p for p in pattern.pieces if any(v.name == params.level for v in p.levels)):
            at = faced_at(pattern, there, _at(pattern, there, params), piece)
            if at is not None:
                return at
    return piece.level(params.level).at + piece.up * params.above


def _said(params: Lengthen) -> Sentence:
    names = listed(params.pieces)
    if params.by == 0:
        return (f"Left {names} as long as before.",)
    where: Sentence = (f" at the {params.level} line.",)
    if params.above:
        place = "above" if params.above > 0 else "below"
        where = (", cut ", abs(params.above), f" {place} the {params.level} line.")
    verb = "Lengthened" if params.by > 0 else "Shortened"
    return (f"{verb} {names} by ", abs(params.by), *where)


def _slanting(before: Pattern, after: Pattern, params: Lengthen) -> Iterator[str | float]:
    """Tell of each curve that gains less than the cut opens, why, and what would gain it all."""
    for piece in (before.piece(name) for name in params.pieces):
        for edge in (e for e in piece.edges if any(isinstance(s, Cubic) for s in e.path.segments)):
            gained = abs(after.piece(piece.name).edge(edge.name).length - edge.length)
            at = _at(before, piece, params)
            times = times_crossed(piece, edge, at) if gained else 0
            missed = times * abs(params.by) - gained
            if missed > SAME_MM:
                yield f" {begun(edge_name(piece.name, edge.name))} runs at a slant there and "
                yield "gains " if params.by > 0 else "loses "
                yield MissedBy(missed)
                yield " less; left as it is spread it gains it all." if params.by > 0 else " less."


CHANGE = Change(
    id="lengthen",
    title="Lengthen or shorten at a level",
    topic="lengths",
    why="A body is longer or shorter than the pattern between two levels; cut there and spread, or "
    "fold out, and nothing above or below loses its shape.",
    source="docs/sources.md: lengthening and shortening",
    params=Lengthen,
    apply=apply,
)
