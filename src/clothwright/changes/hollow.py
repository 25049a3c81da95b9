"""Hollow a curve, or fill it out: its middle moved, its ends and its corners kept."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.partners import partners
from clothwright.changes.redraw import Redrawn, redrawn, refuse_crossing
from clothwright.errors import CannotDo
from clothwright.geometry.shift import bowed
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import edge_name


@dataclass(frozen=True, slots=True, kw_only=True)
class Hollow:
    """Parameters of `hollow`; lengths in mm."""

    edge: str = param("edge", "the edge to draw anew, such as an armhole", label="Which edge")
    by: float = param(
        "length",
        "how far its middle goes into the piece; a minus fills it out",
        label="How deep at its middle",
    )


def apply(pattern: Pattern, params: Hollow) -> Outcome:
    """Move the middle of an edge by `by` mm, square to the line between its ends.

    Its ends stay, and so do its directions there; notches stay at the same share of it. Raises
    CannotDo for a fold, an edge with a dart or an outline that would cross itself; BadInput for
    names.
    """
    ref = parse_edge(params.edge)
    piece = pattern.piece(ref.piece)
    edge = piece.edge(ref.edge)
    name = edge_name(piece.name, edge.name)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {name} as hollow as before.",))
    _refuse(piece, edge, name)
    path = bowed(edge.path, (edge.path.end - edge.path.start).unit.perp * params.by)
    scale = path.length / edge.path.length
    new = redrawn(piece, {edge.name: Redrawn(path, lambda at: at * scale)}).piece
    refuse_crossing(new, (f"{name} cannot be drawn so far",))
    changed = pattern.with_piece(new)
    verb = "Hollowed" if params.by > 0 else "Filled out"
    said = (f"{verb} {name} by ", abs(params.by), " at its middle, to nothing at its ends.")
    return Outcome(pattern=changed, said=(*said, *partners(pattern, changed)))


def _refuse(piece: Piece, edge: Edge, name: str) -> None:
    if edge.role is Role.FOLD:
        raise CannotDo(
            what=f"{name} cannot be hollowed",
            why="it lies on the fold of the cloth",
            nearest="to move it whole",
        )
    if piece.darts_on(edge.name):
        raise CannotDo(
            what=f"{name} cannot be hollowed",
            why="a dart opens in it",
            nearest="to turn that dart into another edge first",
        )


CHANGE = Change(
    id="hollow",
    title="Hollow or fill out a curve",
    topic="edges and seams",
    why="An armhole, a neck or a crotch that cuts in front, or stands away, needs another depth "
    "between its ends, not another place of them.",
    source="docs/sources.md: walking seams; plane geometry",
    params=Hollow,
    apply=apply,
)
