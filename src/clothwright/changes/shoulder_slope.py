"""Square or sloping shoulders: the tip goes up or down about the neck, the armhole goes with it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes import own_corners
from clothwright.changes.change import Change, Outcome
from clothwright.changes.hinge import swing, turned_to_gain
from clothwright.changes.partners import partners
from clothwright.changes.redraw import Redrawn, from_end, kept, redrawn, refuse_crossing, swung_edge
from clothwright.changes.upper import Upper, shoulders_of, upper_of
from clothwright.errors import CannotDo
from clothwright.geometry.transform import Transform, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, listed

MOST_MM = 20.0
"""mm: beyond it the toile decides, or a pad (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoulderSlope:
    """Parameters of `shoulder-slope`; lengths in mm."""

    pieces: tuple[str, ...] = param(
        "pieces", "front and back alike, and their linings", label="Which pieces"
    )
    by: float = param(
        "length",
        "how much higher the shoulder's tip; a minus lowers it, for sloping shoulders",
        label="How much squarer",
    )
    armhole: str = param(
        "choice",
        "",
        default="",
        choices={
            "": "it goes along whole, the underarm too: the sleeve fits as it did",
            "tip": "its tip alone: it grows or shrinks, and the sleeve has to follow",
        },
        label="What the armhole does",
    )


def apply(pattern: Pattern, params: ShoulderSlope) -> Outcome:
    """Turn each shoulder about its neck point until its tip is `by` mm higher.

    The shoulder keeps its length, so the tip comes out a little, or goes in. The armhole moves by
    the tip's way, the side follows at its upper end. Raises CannotDo, BadInput.
    Source: plane geometry (docs/changes/shoulder-slope.md).
    """
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left the shoulders of {listed(params.pieces)}.",))
    changed, out = pattern, 0.0
    for name in params.pieces:
        for armhole in shoulders_of(pattern, pattern.piece(name)):
            upper = upper_of(changed, changed.piece(name), armhole)
            arm = upper.tip - upper.neck_point
            now = turned_to_gain(arm, params.by, upper.piece.up)
            if now is None:
                raise _too_much(upper, params.by)
            out = abs(upper.piece.up.cross(now)) - abs(upper.piece.up.cross(arm))
            after = _turned(upper, arm, now, whole=params.armhole != "tip")
            refuse_crossing(after, f'the shoulder of "{name}" cannot be moved so far')
            changed = changed.with_piece(after)
    changed, trued = own_corners.trued(pattern, changed)
    said = (*_said(params, out), *trued, *partners(pattern, changed))
    return Outcome(pattern=changed, said=said)


def _too_much(upper: Upper, by: float) -> CannotDo:
    arm = upper.tip - upper.neck_point
    rise = upper.piece.up.dot(arm)
    most = arm.norm - rise if by > 0 else arm.norm + rise
    return CannotDo(
        what=(f'the shoulder of "{upper.piece.name}" cannot be moved by ', abs(by)),
        why=("it is only ", arm.norm, " long"),
        nearest=("less than ", AtMost(most)),
    )


def _turned(upper: Upper, arm: Vec, now: Vec, *, whole: bool) -> Piece:
    """Turn the shoulder, shift the armhole or swing its upper end, and let the side follow."""
    turn, shift = swing(upper.neck_point, arm, now), translation(now - arm)
    piece, shoulder, hole, side = upper.piece, upper.shoulder, upper.armhole, upper.side
    piece = _darts_moved(_darts_moved(piece, shoulder.name, turn), hole.name, shift)
    new = {shoulder.name: Redrawn(shoulder.path.transformed(turn), kept)}
    tip, low = shift.apply(upper.tip), shift.apply(upper.underarm)
    if whole:
        new[hole.name] = Redrawn(hole.path.transformed(shift), kept)
        ends = {"end": low} if upper.rising else {"start": low}
        path = swung_edge(piece, side.name, **ends).path
        place = kept if upper.rising else from_end(side.length, path.length)
        new[side.name] = Redrawn(path, place)
    else:
        ends = {"end": tip} if upper.rising else {"start": tip}
        new[hole.name] = swung_edge(piece, hole.name, **ends)
    return redrawn(piece, new).piece


def _darts_moved(piece: Piece, edge: str, move: Transform) -> Piece:
    darts = (replace(d, point=move.apply(d.point)) if d.edge == edge else d for d in piece.darts)
    return replace(piece, darts=tuple(darts))


def _said(params: ShoulderSlope, out: float) -> Sentence:
    by, names = params.by, listed(params.pieces)
    way = (
        (" squarer: its tip is ", " higher") if by > 0 else (" more sloping: its tip is ", " lower")
    )
    side = " farther out" if out > 0 else " farther in"
    lead: Sentence = (
        f"Made the shoulder of {names}",
        way[0],
        abs(by),
        way[1],
        " and ",
        abs(out),
        side,
        ", as long as before.",
    )
    hole: Sentence = (" The armhole goes along: sleeve and collar stay; the chest is ",)
    hole = (*hole, abs(out), " wider there" if out > 0 else " narrower there", " on each half.")
    if params.armhole == "tip":
        hole = (" The underarm stays where it was.",)
    lot: Sentence = ()
    if abs(by) > MOST_MM:
        lot = (" More than ", MOST_MM, " is rare: try it in a toile first, or use a pad.")
    return (*lead, *hole, *lot)


CHANGE = Change(
    id="shoulder-slope",
    title="Square or sloping shoulders",
    topic="bust, back and shoulder",
    why="Folds from the tip towards the centre ask for a squarer shoulder, folds from the neck to "
    "the underarm for more slope. Neck, shoulder length and armhole stay as long as they are.",
    source="what each fold asks for: USDA, Fitting Dresses; amounts: plane geometry "
    "(docs/changes/shoulder-slope.md)",
    params=ShoulderSlope,
    apply=apply,
)
