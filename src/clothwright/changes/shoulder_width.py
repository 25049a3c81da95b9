"""Wide or narrow shoulders: the tip goes out or in, and the armhole's upper part swings with it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes import own_corners
from clothwright.changes.change import Change, Outcome
from clothwright.changes.hinge import apart, swing
from clothwright.changes.partners import partners
from clothwright.changes.redraw import Redrawn, kept, redrawn, refuse_crossing, swung_edge
from clothwright.changes.upper import Upper, shoulders_of, upper_of, with_shoulder
from clothwright.errors import CannotDo
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.units.params import param
from clothwright.words import Sentence, listed

MOST_MM = 20.0
"""mm: beyond it another size, or a change of style, is meant (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoulderWidth:
    """Parameters of `shoulder-width`; lengths in mm."""

    pieces: tuple[str, ...] = param(
        "pieces", "front and back alike, and their linings", label="Which pieces"
    )
    by: float = param(
        "length",
        "how much longer each shoulder; a minus shortens it, for narrow shoulders",
        label="How much wider",
    )


def apply(pattern: Pattern, params: ShoulderWidth) -> Outcome:
    """Make each shoulder `by` mm longer at its tip; the armhole swings about its notch.

    The armhole keeps its length, neck, side and centre do not move. Raises CannotDo, BadInput.
    Source: plane geometry (docs/changes/shoulder-width.md).
    """
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left the shoulders of {listed(params.pieces)}.",))
    changed, notched = pattern, set[bool]()
    pieces = with_shoulder(pattern, params.pieces)
    for name in pieces:
        for armhole in shoulders_of(pattern, pattern.piece(name)):
            upper = upper_of(changed, changed.piece(name), armhole)
            _refuse_without_pitch(upper)
            notched.add(bool(upper.pitches))
            changed = changed.with_piece(widened(upper, params.by))
    changed, trued = own_corners.trued(pattern, changed)
    said = (*_said(replace(params, pieces=pieces), notched), *trued, *partners(pattern, changed))
    return Outcome(pattern=changed, said=said)


def _refuse_without_pitch(upper: Upper) -> None:
    """Refuse an armhole that has nothing to swing about, as a short one of a yoke. CannotDo."""
    if not upper.has_pitch:
        raise CannotDo(
            what=f'the shoulder of "{upper.piece.name}" cannot be made longer or shorter',
            why="its armhole has no notch in its middle part, about which it could swing",
            nearest="a piece with the sleeve's notch in its armhole, or moving the armhole edge",
        )


def widened(upper: Upper, by: float) -> Piece:
    """Return the piece with its shoulder `by` mm longer beyond its last dart. Raises CannotDo."""
    piece, shoulder, tip = upper.piece, upper.shoulder, upper.tip
    start, run = _run(upper)
    hinge = upper.armhole.path.point_at(upper.pitch)
    chord = tip.distance(start) * (run + by) / run
    what = (
        f'the shoulder of "{piece.name}" cannot be made ',
        abs(by),
        " longer" if by > 0 else " shorter",
    )
    to = apart((start, hinge), (chord, tip.distance(hinge)), tip) if run + by > run / 4 else None
    if to is None:
        raise CannotDo(
            what=what,
            why=("only ", run, " of it can change, and the armhole keeps its length"),
            nearest="a smaller amount, or moving the armhole edge",
        )
    ends = {"start": to} if upper.rising else {"end": to}
    new = {
        shoulder.name: swung_edge(piece, shoulder.name, **ends),
        upper.armhole.name: _swung(upper, hinge, to),
    }
    after = redrawn(_darts_swung(upper, hinge, to), new).piece
    refuse_crossing(after, what)
    return after


def _run(upper: Upper) -> tuple[Vec, float]:
    """Return where the shoulder begins to change, its last dart or the neck, and how long it is."""
    shoulder = upper.shoulder
    darts = upper.piece.darts_on(shoulder.name)
    if upper.rising:
        at = darts[0].a if darts else shoulder.length
        return shoulder.path.point_at(at), at
    at = darts[-1].b if darts else 0.0
    return shoulder.path.point_at(at), shoulder.length - at


def _swung(upper: Upper, hinge: Vec, to: Vec) -> Redrawn:
    """Swing the armhole's run above the hinge until it ends at the new tip."""
    turn, path = swing(hinge, upper.tip - hinge, to - hinge), upper.armhole.path
    if not JOIN_MM < upper.pitch < path.length - JOIN_MM:
        ends = (hinge, to) if upper.rising else (to, hinge)
        return Redrawn(path.transformed(turn).with_ends(start=ends[0], end=ends[1]), kept)
    low, high = path.split_at(upper.pitch)
    if upper.rising:
        return Redrawn(low.joined(high.transformed(turn).with_ends(start=low.end, end=to)), kept)
    return Redrawn(low.transformed(turn).with_ends(start=to, end=high.start).joined(high), kept)


def _darts_swung(upper: Upper, hinge: Vec, to: Vec) -> Piece:
    """Take the darts that open above the hinge along."""
    turn = swing(hinge, upper.tip - hinge, to - hinge)
    above = {
        d.name
        for d in upper.piece.darts_on(upper.armhole.name)
        if (d.a >= upper.pitch - JOIN_MM) == upper.rising
    }
    darts = (
        replace(d, point=turn.apply(d.point)) if d.name in above else d for d in upper.piece.darts
    )
    return replace(upper.piece, darts=tuple(darts))


def _said(params: ShoulderWidth, notched: set[bool]) -> Sentence:
    lot: Sentence = ()
    if abs(params.by) > MOST_MM:
        lot = (" More than ", MOST_MM, " is a change of size or of style: try it in a toile.")
    names = {True: "its notch", False: "the seam to the panel below"}
    hinge = " or ".join(names[n] for n in sorted(notched, reverse=True))
    way = " longer" if params.by > 0 else " shorter"
    return (
        f"Made the shoulder of {listed(params.pieces)} ",
        abs(params.by),
        f"{way} at its tip. The armhole swings about {hinge} and is as long as before.",
        *lot,
    )


CHANGE = Change(
    id="shoulder-width",
    title="Wide or narrow shoulders",
    topic="bust, back and shoulder",
    why="An armhole seam that lies on the arm asks for a shorter shoulder, one that is tight and "
    "drags at the sleeve for a longer one.",
    source="what each asks for: USDA, Fitting Dresses, and Washington State University E.M. 2246; "
    "amounts: plane geometry (docs/changes/shoulder-width.md)",
    params=ShoulderWidth,
    apply=apply,
)
