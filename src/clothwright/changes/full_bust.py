"""Full or small bust: a front wider or narrower over the bust, its armhole and side as they were.

The front is cut from its lower edge over the bust point to the armhole, from the side to the bust
point, and level from the centre to the first cut. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.bust_cuts import (
    CutFront,
    centre_opening,
    cut_front,
    refuse_cuts,
    what_of,
)
from clothwright.changes.bust_follow import bust_moved, followers, longer_beside
from clothwright.changes.change import Change, Outcome
from clothwright.changes.hinge import (
    Swung,
    swing,
    swung_apart,
)
from clothwright.changes.intake import in_order
from clothwright.changes.partners import partners
from clothwright.changes.pivot_dart import SHORT_MM, Mouth, with_mouth, with_spread
from clothwright.changes.redraw import Redrawn, from_nearer, redrawn
from clothwright.changes.slash import BLEND_MM, Opening
from clothwright.changes.smooth_line import smoothed
from clothwright.changes.upper import is_facing, laid_along
from clothwright.errors import CannotDo
from clothwright.geometry.transform import IDENTITY, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_intake, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece, Role
from clothwright.units.params import param
from clothwright.words import Sentence

MOST_MM, LEAST_MM = 25.0, -20.0
"""mm on the half front: beyond it (5 cm more, 4 cm less on the body) a size is better (common
practice)."""
REACH_MM, SLANT = 60.0, 0.1
"""mm to each side over which a front edge that leans by more than so much of its run is redrawn."""
DEEP_MM = 250.0
"""mm: a lower edge farther below the bust point is no waist (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FullBust:
    """Parameters of `full-bust`; lengths in mm."""

    piece: str = param("piece", "the front, drawn as one half", label="Which front")
    by: float = param(
        "length",
        "half of what is missing round the whole bust; a minus takes it away, for a small bust",
        label="How much wider this half becomes",
    )
    point: str = param(
        "point",
        "the fullest place; left out: the mark or the dart that is called bust",
        default="",
        label="The bust point",
    )
    armhole: str = param(
        "place",
        "the place of the armhole that stays where it is; left out: its notch",
        default="",
        label="Where the armhole hinges",
    )
    side: str = param(
        "place",
        "where the front opens at the side; left out: the dart there, else a little below the bust",
        default="",
        label="Where the side opens",
    )
    waist: str = param(
        "choice",
        "",
        default="",
        choices={
            "": "it grows, or its own dart does",
            "dart": "a waist dart takes it up",
        },
        label="What the lower edge does",
    )
    longer: float | None = param(
        "length",
        "as much as the front that a lining or a facing goes with; left out: by what the bust "
        "point drops",
        default=None,
        label="How much longer its centre becomes",
    )


def apply(pattern: Pattern, params: FullBust) -> Outcome:
    """Swing the upper side part about the armhole until the bust point lies `by` mm farther out.

    The lower side part moves along without turning, the lower centre part straight down. Armhole,
    neck, shoulder and the side, its dart folded out, keep their lengths; the side dart grows or
    closes by the turn; the centre becomes longer by what the bust point drops. A facing, which lies
    beside all that, becomes as much longer. Raises CannotDo, BadInput.
    Source: plane geometry (docs/changes/full-bust.md).
    """
    piece = pattern.piece(params.piece)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {piece.name} as wide over the bust.",))
    if is_facing(pattern, piece):
        after, told = longer_beside(piece, params.longer, params.point)
    else:
        front = _cut(pattern, params)
        refuse_cuts(front, params.by)
        after = _altered(front, params)
        told = (*_said(front, after, params), *_warned(params.by))
    changed = pattern.with_piece(after)
    return Outcome(pattern=changed, said=(*told, *partners(pattern, changed)))


def _cut(pattern: Pattern, params: FullBust) -> CutFront:
    return cut_front(
        pattern,
        pattern.piece(params.piece),
        params.by,
        point=params.point,
        armhole=params.armhole,
        side=params.side,
        drop=params.longer,
    )


def _alike(pattern: Pattern, params: FullBust) -> tuple[FullBust, ...]:
    """Linings as wide about a point that drops as far, facings as much longer there.

    Of a lining or a facing, what goes with the same front.
    """
    if params.by == 0.0:
        return ()
    fronts = [of.piece for _, of in laid_along(pattern, params.piece)]
    front = next(iter(fronts), params.piece)
    longer = params.longer
    if longer is None and not is_facing(pattern, pattern.piece(params.piece)):
        longer = _cut(pattern, params).drop
    there = replace(params, point="", armhole="", side="", longer=longer)
    names = () if longer is None else followers(pattern, front)
    return tuple(replace(there, piece=name) for name in names if name != params.piece)


def _altered(front: CutFront, params: FullBust) -> Piece:
    """Cut the front, move its four parts and join them; darts and marks at the bust follow."""
    piece, bust, up = front.piece, front.bust, front.up
    across = front.out * front.out.dot(front.feet[1] - front.feet[0])
    closed = max(0.0, -front.drop)
    own = (front.side.dart, front.foot.dart)
    bare = replace(piece, darts=tuple(d for d in piece.darts if d not in own))
    found = swung_apart(
        bare,
        (front.foot.opening, front.side.opening, front.hinge, centre_opening(front)),
        (
            Swung(inner=(bust,), move=translation(front.shift)),
            Swung(inner=(bust,), move=swing(bust - front.arm, front.arm, front.arm_now)),
            Swung(inner=(bust, front.corner + up * closed), move=IDENTITY),
            Swung(inner=(front.corner + across,), move=translation(-up * front.drop)),
        ),
    )
    now = bust + front.shift
    after = _faired(found.piece, found.openings[3], up)
    after = with_mouth(after, front.side, found.openings[1], now)
    if front.foot.dart is not None or params.waist == "dart":
        deep = up.dot(bust - front.feet[0]) - SHORT_MM
        if front.foot.dart is None and params.by > 0 and deep > DEEP_MM:
            raise CannotDo(
                what=what_of(piece, params.by),
                why=("its lower edge lies ", deep, " below the bust: no waist dart begins there"),
                nearest="letting the lower edge grow, and taking in the side at the waist",
            )
        after = with_spread(after, front.foot, found.openings[0], deep, front.to_centre)
    return in_order(bust_moved(piece, after, bust, front.shift), piece)


def _faired(piece: Piece, opening: Opening, up: Vec) -> Piece:
    """Draw a slanting front edge in one curve over what was let in; an upright one stays."""
    edge = piece.edge(opening.edge)
    path, low, high = edge.path, opening.a - REACH_MM, opening.b + REACH_MM
    beside = (max(0.0, opening.a - 1.0), min(path.length, opening.b + 1.0))
    slants = [abs(up.cross(path.tangent_at(at))) for at in beside]
    if max(slants) < SLANT or edge.role is Role.FOLD or piece.darts_on(edge.name):
        return piece
    new = smoothed(path, max(0.0, low), min(path.length, high))
    place = from_nearer(path.length, new.length)
    return redrawn(piece, {edge.name: Redrawn(new, place)}).piece


def _said(front: CutFront, after: Piece, params: FullBust) -> Sentence:
    by = params.by
    lead: Sentence = (
        f"Made {front.piece.name} ",
        abs(by),
        " wider" if by > 0 else " narrower",
        " over the bust, ",
        abs(2 * by),
        " on the body.",
    )
    cut = ", cut ", front.below, " below the bust point"
    told = [*_grown(front.piece, after, centre_opening(front).edge, *cut)]
    told += _grown(front.piece, after, front.foot.opening.edge)
    for mouth in (front.side, front.foot):
        told += _dart_now(mouth, after)
    return (*lead, *told)


def _dart_now(mouth: Mouth, after: Piece) -> Sentence:
    """Say how wide the dart of an opening is now; "" where there is none and was none."""
    edge, own = mouth.opening.edge, mouth.dart
    if own is not None and all(d.name != own.name for d in after.darts):
        return (f' Dart "{own.name}" is gone.',)
    new = [d for d in after.darts_on(edge) if mouth.piece.darts_on(edge) == ()]
    named = [d for d in after.darts if own is not None and d.name == own.name]
    return tuple(
        part
        for dart in named or new
        for part in (f' Dart "{dart.name}" is ', dart_intake(after, dart), " wide now.")
    )


def _grown(before: Piece, after: Piece, name: str, *at: str | float) -> Sentence:
    """Say by how much an edge is sewn longer, or shorter; "" where it is not."""
    by = net_length(after, name) - net_length(before, name)
    if abs(by) <= BLEND_MM:
        return ()
    way = " longer" if by > 0 else " shorter"
    return (f" Its {name} is ", abs(by), way, *at, ".")


def _warned(by: float) -> Sentence:
    if LEAST_MM <= by <= MOST_MM:
        return ()
    return (
        " That is a lot for one correction (",
        2 * (MOST_MM if by > 0 else -LEAST_MM),
        " on the body by custom): another size may need less.",
    )


CHANGE = Change(
    id="full-bust",
    title="Full or small bust",
    topic="bust, back and shoulder",
    why="A pattern is drawn for one cup. Strain across the bust and a front that rides up ask for "
    "more, loose folds below it for less; armhole, shoulder and neck fit already and stay.",
    source="which lines are cut: a sewing company's manual of about 1911; amounts: plane geometry "
    "(docs/changes/full-bust.md)",
    params=FullBust,
    apply=apply,
    alike=_alike,
)
