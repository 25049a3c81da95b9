"""Make a piece wider or narrower lengthwise: cut along its grain and spread, or folded out."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import find_place
from clothwright.changes.over_cut import LevelCut
from clothwright.changes.partners import partners
from clothwright.changes.spread import spread
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.pattern.ends import end_words
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import Sentence, edge_name


@dataclass(frozen=True, slots=True, kw_only=True)
class Widen:
    """Parameters of `widen`; lengths in mm."""

    edge: str = param("edge", "an edge that the cut runs through", label="Through which edge")
    by: float = param("length", "how much wider; a minus makes narrower", label="By how much")
    at: float | None = param(
        "length",
        "how far from that edge's start the cut begins; left out: its middle",
        default=None,
        label="How far from the start of that edge",
    )


def apply(pattern: Pattern, params: Widen) -> Outcome:
    """Cut a piece through a place of an edge, along its grain, and spread it (a minus folds out).

    Everything on the side of the cut that has neither the fold nor the grain line moves by exactly
    `by` across the grain. Edges that cross the cut are redrawn as by `lengthen`. Raises CannotDo
    where a dart lies across the cut, nothing lies beside it, or there is not so much to take out;
    BadInput for names.
    """
    ref = parse_edge(params.edge)
    piece = pattern.piece(ref.piece)
    edge, at = find_place(pattern, piece, f"{ref.piece}.{ref.edge}", params.at)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {piece.name} as wide as before.",))
    place = edge.path.point_at(at)
    cut = LevelCut(
        piece=piece.name,
        p=place,
        up=_kept(piece, place),
        by=params.by,
        curves="smooth",
        across=True,
    )
    changed = pattern.with_piece(spread(piece, cut))
    return Outcome(
        pattern=changed, said=(*_said(piece, edge, at, params), *partners(pattern, changed))
    )


def _kept(piece: Piece, place: Vec) -> Vec:
    """Return the way across the grain to what stays: the fold, else the grain line."""
    fold, grain = piece.fold, piece.grain
    held = fold.path.start if fold else grain.start if grain else piece.edges[0].path.start
    across = piece.up.perp
    return across if across.dot(held - place) >= -JOIN_MM else -across


def _said(piece: Piece, edge: Edge, at: float, params: Widen) -> Sentence:
    end = end_words(piece, edge.name, "start")
    return (
        f"Made {piece.name} ",
        abs(params.by),
        f" {'wider' if params.by > 0 else 'narrower'}, cut along the grain through "
        f"{edge_name(piece.name, edge.name)} ",
        at,
        f" from {end}.",
    )


CHANGE = Change(
    id="widen",
    title="Make a piece wider or narrower lengthwise",
    topic="lengths",
    why="A body is wider or narrower than the pattern at every height alike; cut along the grain "
    "and spread, or folded out, and neither side loses its shape.",
    source="docs/sources.md: lengthening and shortening",
    params=Widen,
    apply=apply,
)
