"""Square or sloping shoulders: the tip goes up or down about the neck, the armhole goes with it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes import own_corners
from clothwright.changes.change import Change, Outcome
from clothwright.changes.facing_shoulder import facing_shoulder
from clothwright.changes.hinge import swing, turned_to_gain
from clothwright.changes.partners import partners
from clothwright.changes.redraw import Redrawn, from_end, kept, redrawn, refuse_crossing, swung_edge
from clothwright.changes.upper import (
    Upper,
    is_facing,
    neck_followed,
    shoulders_of,
    upper_of,
    with_shoulder,
)
from clothwright.errors import CannotDo
from clothwright.geometry.transform import Transform, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, listed

MOST_MM = 20.0
"""mm: beyond it the toile decides, or a pad (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoulderSlope:
    """Parameters of `shoulder-slope`; lengths in mm."""

    pieces: tuple[str, ...] = param(
        "pieces", "front and back alike, their linings and facings", label="Which pieces"
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
    the tip's way, the side follows at its upper end. A lining and a facing, whose shoulders are
    one line, turn about the neck point of the garment. Raises CannotDo, BadInput.
    Source: plane geometry (docs/changes/shoulder-slope.md).
    """
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left the shoulders of {listed(params.pieces)}.",))
    changed, out, below = pattern, 0.0, list[str]()
    facings = [n for n in params.pieces if is_facing(pattern, pattern.piece(n))]
    for name in facings:
        changed = changed.with_piece(_facing_turned(pattern, name, params.by))
    pieces = with_shoulder(pattern, tuple(n for n in params.pieces if n not in facings))
    for name in pieces:
        for armhole in shoulders_of(pattern, pattern.piece(name)):
            upper = upper_of(changed, changed.piece(name), armhole)
            arm = upper.tip - upper.pivot
            now = _turned_to(upper.piece, arm, params.by)
            out = abs(upper.piece.up.cross(now)) - abs(upper.piece.up.cross(arm))
            after = _turned(upper, arm, now, whole=params.armhole != "tip")
            refuse_crossing(after, f'the shoulder of "{name}" cannot be moved so far')
            changed = changed.with_piece(after)
            if params.armhole != "tip":
                changed, panels = _with_panels(changed, upper, params.by, out)
                below += panels
    changed, trued = own_corners.trued(pattern, changed)
    said = _said(replace(params, pieces=pieces), out, below) if pieces else ()
    lead = " " if said else ""
    for_facings = (f"{lead}Turned the shoulder of {listed(facings)} as far.",) if facings else ()
    said = (*said, *for_facings, *trued, *partners(pattern, changed))
    return Outcome(pattern=changed, said=said)


def _facing_turned(pattern: Pattern, name: str, by: float) -> Piece:
    """Return a facing whose shoulder is turned as the garment's, whose tip rises by `by` mm."""
    facing = facing_shoulder(pattern, pattern.piece(name))
    after = facing.turned(_turned_to(facing.piece, facing.arm, by))
    refuse_crossing(after, f'the shoulder of "{name}" cannot be moved so far')
    return after


def _turned_to(piece: Piece, arm: Vec, by: float) -> Vec:
    """Return a shoulder, from the neck point on, with its tip `by` mm higher. Raises CannotDo."""
    now = turned_to_gain(arm, by, piece.up)
    if now is not None:
        return now
    rise = piece.up.dot(arm)
    raise CannotDo(
        what=(f'the shoulder of "{piece.name}" cannot be moved by ', abs(by)),
        why=("it is only ", arm.norm, " long"),
        nearest=("less than ", AtMost(arm.norm - rise if by > 0 else arm.norm + rise)),
    )


def _turned(upper: Upper, arm: Vec, now: Vec, *, whole: bool) -> Piece:
    """Turn the shoulder, shift the armhole or swing its upper end, and let the side follow."""
    turn, shift = swing(upper.pivot, arm, now), translation(now - arm)
    piece, shoulder, hole = upper.piece, upper.shoulder, upper.armhole
    piece = _darts_moved(_darts_moved(piece, shoulder.name, turn), hole.name, shift)
    new = {shoulder.name: Redrawn(shoulder.path.transformed(turn), kept)}
    new |= neck_followed(upper, turn)
    if whole:
        new |= _taken_along(replace(upper, piece=piece), shift)
    else:
        tip = shift.apply(upper.tip)
        ends = {"end": tip} if upper.rising else {"start": tip}
        new[hole.name] = swung_edge(piece, hole.name, **ends)
    return redrawn(piece, new).piece


def _taken_along(upper: Upper, shift: Transform) -> dict[str, Redrawn]:
    """Return the armhole shifted whole, and the side with its upper end there."""
    hole, side = upper.armhole, upper.side
    end = "end" if upper.rising else "start"
    return {
        hole.name: Redrawn(hole.path.transformed(shift), kept),
        side.name: _reaching(upper.piece, side, end, shift.apply(upper.underarm)),
    }


def _reaching(piece: Piece, edge: Edge, end: str, to: Vec) -> Redrawn:
    """Return an edge with its upper end moved; what is on it keeps its way from the lower one."""
    path = swung_edge(piece, edge.name, **{end: to}).path
    return Redrawn(path, kept if end == "end" else from_end(edge.length, path.length))


def _with_panels(
    pattern: Pattern, upper: Upper, rise: float, out: float
) -> tuple[Pattern, list[str]]:
    """Take the panels along on which the armhole goes on below, by as much up and out, mm."""
    names = list[str]()
    while upper.below is not None:
        names.append(upper.below.piece)
        upper = upper_of(pattern, pattern.piece(names[-1]), upper.below.edge)
        piece, up = upper.piece, upper.piece.up
        outwards = up.perp if up.perp.dot(upper.underarm - upper.tip) > 0 else -up.perp
        shift = translation(up * rise + outwards * out)
        new = _taken_along(upper, shift)
        end = "start" if upper.rising else "end"
        new[upper.shoulder.name] = _reaching(piece, upper.shoulder, end, shift.apply(upper.tip))
        piece = redrawn(_darts_moved(piece, upper.armhole.name, shift), new).piece
        refuse_crossing(piece, f'the armhole of "{piece.name}" cannot be moved so far')
        pattern = pattern.with_piece(piece)
    return pattern, names


def _darts_moved(piece: Piece, edge: str, move: Transform) -> Piece:
    darts = (replace(d, point=move.apply(d.point)) if d.edge == edge else d for d in piece.darts)
    return replace(piece, darts=tuple(darts))


def _said(params: ShoulderSlope, out: float, below: list[str]) -> Sentence:
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
    if below:
        panels = listed(list(dict.fromkeys(below)))
        hole = (*hole, f" It runs on over {panels}, changed by as much.")
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
