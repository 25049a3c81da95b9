"""Let in a wedge, or fold one out: so much at one edge of a piece, nothing at another."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import find_place
from clothwright.changes.hinge import first_met, refuse_blocked
from clothwright.changes.partners import partners
from clothwright.changes.slash import is_inside
from clothwright.changes.wedge_across import WedgeAcross, lapped, levelled, refuse_darts
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.ends import end_words
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, edge_name

STEEP = 0.5
"""A wedge is no deeper than so much of its own length; our own choice."""
TRIES, NEAR_MM = 4, 0.02
"""How often the depth of a wedge is made better, and mm of its gain that count as met."""
INSIDE_MM = 1.0
"""mm beside an edge at which is looked whether the piece lies there."""

Place = tuple[Edge, float]
"""An edge, and mm from its start."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LetInWedge:
    """Parameters of `wedge`; lengths in mm."""

    edge: str = param("edge", "the edge that becomes longer or shorter", label="At which edge")
    by: float = param("length", "there; a minus folds out", label="How much is let in")
    at: float | None = param(
        "length",
        "how far from that edge's start the wedge is; left out: its middle",
        default=None,
        label="How far from the start of that edge",
    )
    to: str = param(
        "edge",
        "the edge at which it runs out; left out: the one straight across, square to the grain",
        default="",
        label="To nothing at which edge",
    )
    ends: float | None = param(
        "length",
        "how far from that edge's start it runs out; left out: straight across, else its middle",
        default=None,
        label="How far from the start of that edge",
    )


def apply(pattern: Pattern, params: LetInWedge) -> Outcome:
    """Let in a wedge: one edge gains `by` mm, another nothing (a minus folds one out).

    What lies on one side of it turns about the place where it runs out, by 2 atan(x / 2r) where it
    opens by x at the distance r; where one of the edges is a fold, it is slid along the grain
    instead, so that the fold stays straight. Both edges are drawn fair within 6 cm. Raises
    CannotDo, BadInput. Source: plane geometry (docs/changes/wedge.md).
    """
    piece = pattern.piece(parse_edge(params.edge).piece)
    first = find_place(pattern, piece, params.edge, params.at)
    if params.by == 0.0:
        done = f"Left {edge_name(piece.name, first[0].name)} as long as before."
        return Outcome(pattern=pattern, said=(done,))
    last = _end(pattern, piece, first, params)
    changed = pattern.with_piece(_made(_wedge(piece, first, last, params.by)))
    return Outcome(
        pattern=changed, said=(*_said(piece, first, last, params.by), *partners(pattern, changed))
    )


def _end(pattern: Pattern, piece: Piece, first: Place, params: LetInWedge) -> Place:
    """Return where the wedge runs out. Raises CannotDo, BadInput."""
    edge, at = first
    start = edge.path.point_at(at)
    if not params.to:
        return _across(piece, edge, start)
    found = find_place(pattern, piece, params.to, params.ends)
    if found[0].name == edge.name:
        raise BadInput(
            what=f"a wedge cannot run from {edge_name(piece.name, edge.name)} to the same edge",
            expected="another edge of the same piece",
        )
    met = line_crossings(found[0].path, start, piece.up.perp) if params.ends is None else ()
    return (found[0], min(met, key=lambda c: abs(c.at_b)).at_a) if met else found


def _across(piece: Piece, edge: Edge, start: Vec) -> Place:
    """Return the place straight across the piece, square to its grain. Raises CannotDo."""
    ring = tuple(piece.outline.flatten(0.5))
    ways = [w for w in (piece.up.perp, -piece.up.perp) if is_inside(ring, start + w * INSIDE_MM)]
    if len(ways) == 1:
        other, place = first_met(piece, start + ways[0] * INSIDE_MM, ways[0])
        if other.name != edge.name:
            return other, place
    raise CannotDo(
        what=f"a wedge cannot run straight across from {edge_name(piece.name, edge.name)}",
        why="the edge itself runs across the piece there",
        nearest="an edge named at which it runs out",
    )


def _wedge(piece: Piece, first: Place, last: Place, by: float) -> WedgeAcross:
    """Return the wedge between two places. Raises CannotDo: too deep, or no way there."""
    folds = [e.role is Role.FOLD for e, _ in (first, last)]
    ends = [e.path.point_at(at) for e, at in (first, last)]
    way = ends[1] - ends[0]
    fold = WedgeAcross(
        piece=piece,
        centre=first[0],
        side=last[0],
        line=ends[0],
        by=-by,
        fair=(not folds[0], not folds[1]),
        way=way.unit,
        sheared=any(folds),
    )
    if abs(by) > STEEP * way.norm:
        raise CannotDo(
            what=fold.what,
            why=("the wedge is only ", way.norm, " long"),
            nearest=("at most ", AtMost(STEEP * way.norm)),
        )
    refuse_blocked(piece, polyline(ends), fold.what)
    return refuse_darts(fold)


def _made(fold: WedgeAcross) -> Piece:
    """Return the piece with a wedge so deep that the edge where it enters gains just its `by`."""
    made, name = fold, fold.centre.name
    piece = lapped(made)[0]
    for _ in range(TRIES):
        gained = piece.edge(name).length - fold.centre.length
        if abs(gained + fold.by) < NEAR_MM or gained * fold.by >= 0.0:
            break
        made = replace(made, by=made.by * -fold.by / gained)
        piece = lapped(made)[0]
    return levelled(piece, made, {})


def _said(piece: Piece, first: Place, last: Place, by: float) -> Sentence:
    (edge, at), (other, to_at) = first, last
    return (
        f"{'Let a wedge into' if by > 0 else 'Folded a wedge out of'} "
        f"{edge_name(piece.name, edge.name)} ",
        at,
        f" from {end_words(piece, edge.name, 'start')}, running out to nothing at its "
        f"{other.name} ",
        to_at,
        f" from {end_words(piece, other.name, 'start')}: {edge.name} is ",
        abs(by),
        f" {'longer' if by > 0 else 'shorter'}.",
    )


CHANGE = Change(
    id="wedge",
    title="Let in or fold out a wedge",
    topic="lengths",
    why="A body is longer or shorter on one side only (one hip higher, an arm that bends forward): "
    "that side gains, the other keeps its length.",
    source="plane geometry (docs/changes/wedge.md); common practice",
    params=LetInWedge,
    apply=apply,
)
