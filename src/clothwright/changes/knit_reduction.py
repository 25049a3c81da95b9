"""Make pieces smaller for a cloth that stretches."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes import own_corners
from clothwright.changes.change import Change, Outcome
from clothwright.changes.legs import with_legs
from clothwright.changes.partners import partners
from clothwright.changes.redraw import Redrawn, redrawn
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_legs, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.whole import moved_mark
from clothwright.units.params import param
from clothwright.words import Sentence, listed, show_fraction

MOST = 0.4
"""The largest share taken off: a cloth for it stretches to 1.67 times its length. Our own bound."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KnitReduction:
    """Which pieces, the shares they lose across and along the grain, and the cloth's stretch."""

    pieces: tuple[str, ...] = param(
        "pieces", "all that are cut from the knit, bands too", label="Which pieces"
    )
    across: float = param(
        "share", "round the body: 8 % makes 92 out of 100", label="How much smaller across"
    )
    along: float = param(
        "share",
        "only where the cloth gives lengthwise, too",
        default=0.0,
        label="How much shorter along the grain",
    )
    stretch: float | None = param(
        "share",
        "fold it across, mark 10 and pull: to 13 is 30 %",
        default=None,
        label="How far it gives across",
    )


def apply(pattern: Pattern, params: KnitReduction) -> Outcome:
    """Draw every place of the pieces nearer to the fold, centre or grain line by the shares.

    A cloth smaller by the share n has to stretch by n / (1 - n) to be as wide as before: that much
    is told, and a cloth that stretches less is refused. Allowances stay. Where the ease of a seam
    is meant, it is as much smaller as its sides now differ less. A corner that was fair as sewn may
    need truing: directions turn where across and along differ.

    Raises BadInput for shares out of bounds or unknown names, CannotDo for too little stretch.
    Source: stretch is (stretched - rest) / rest, so smaller by n needs n / (1 - n); trade-facts of
    docs/sources.md (knits).
    """
    for share in (params.across, params.along):
        if not 0.0 <= share <= MOST:
            raise BadInput(
                what=f"{show_fraction(share)} smaller is more than any knit is cut",
                expected=f"{show_fraction(MOST)} or less",
            )
    needed = required_stretch(params.across)
    if params.stretch is not None and params.stretch < needed - 1e-9:
        room = params.stretch / (1.0 + params.stretch)
        raise CannotDo(
            what=f"pieces of this cloth cannot be {show_fraction(params.across)} smaller",
            why=f"it would have to stretch by {show_fraction(needed)} to be as wide as before, and "
            f"it stretches by {show_fraction(params.stretch)}",
            nearest=f"make them {show_fraction(room)} smaller or less",
        )
    after = pattern
    for name in params.pieces:
        after = after.with_piece(_smaller(after.piece(name), params.across, params.along))
    seams = tuple(_eased(s, pattern, after, params.pieces) for s in after.seams)
    changed, trued = own_corners.trued(pattern, replace(after, seams=seams))
    said = (*_said(params, needed), *trued, *partners(pattern, changed))
    return Outcome(pattern=changed, said=said)


def required_stretch(share: float) -> float:
    """Return the share by which a cloth must stretch to make up for one that was taken off.

    >>> round(required_stretch(0.08), 4), required_stretch(0.2)
    (0.087, 0.25)
    """
    return share / (1.0 - share)


def _smaller(piece: Piece, across: float, along: float) -> Piece:
    """Return a piece drawn nearer to its fold, centre or grain line; it itself for no shares."""
    if across == along == 0.0:
        return piece
    move = _drawn_nearer(_still(piece), piece.up, 1.0 - across, 1.0 - along)
    new = redrawn(
        replace(piece, darts=tuple(replace(d, point=move.apply(d.point)) for d in piece.darts)),
        {e.name: _moved(e.path, move) for e in piece.edges},
        levels=tuple(replace(lv, at=move.apply(lv.at)) for lv in piece.levels),
        marks=tuple(moved_mark(m, move) for m in piece.marks),
        grain=piece.grain
        and replace(
            piece.grain, start=move.apply(piece.grain.start), end=move.apply(piece.grain.end)
        ),
    ).piece
    for dart in new.darts:
        legs = dart_legs(new, dart)
        if abs(legs[0] - legs[1]) > JOIN_MM:
            new = with_legs(new, new.dart(dart.name), sum(legs) / 2)
    return new


def _still(piece: Piece) -> Vec:
    """Return a place that stays: on the fold or centre, else on the grain line."""
    for role in (Role.FOLD, Role.CENTRE):
        for edge in piece.edges:
            if edge.role is role:
                return edge.path.start.lerp(edge.path.end, 0.5)
    return piece.grain.start if piece.grain else piece.edges[0].path.start


def _drawn_nearer(still: Vec, up: Vec, across: float, along: float) -> Transform:
    """Return the map that multiplies distances from a place across and along a direction."""
    x, y = up
    a, b, d = (
        along * x * x + across * y * y,
        (along - across) * x * y,
        along * y * y + across * x * x,
    )
    return Transform(
        a, b, b, d, still.x - a * still.x - b * still.y, still.y - b * still.x - d * still.y
    )


def _moved(path: Path, move: Transform) -> Redrawn:
    new = path.transformed(move)

    def place(at: float) -> float:
        if at <= JOIN_MM or at >= path.length - JOIN_MM:
            return 0.0 if at <= JOIN_MM else new.length
        return path.between(0.0, at).transformed(move).length

    return Redrawn(new, place)


def _eased(seam: Seam, before: Pattern, after: Pattern, pieces: tuple[str, ...]) -> Seam:
    """Return a seam of these pieces with its ease as its sides differ now; else as it was."""
    if seam.ease == 0.0 or not seam.pieces <= set(pieces):
        return seam
    gaps = [side(p, seam.b).length - side(p, seam.a).length for p in (before, after)]
    by = round(gaps[1] - gaps[0], 3)
    most = seam.eased_max + by if seam.eased_max else 0.0
    return replace(seam, ease=seam.ease + by, eased_max=most)


def _said(params: KnitReduction, needed: float) -> Sentence:
    if params.across == params.along == 0.0:
        return (f"Left {listed(params.pieces)} as large as before.",)
    along = f" and {show_fraction(params.along)} along the grain" if params.along else ""
    said = f"Made {listed(params.pieces)} {show_fraction(params.across)} smaller across{along}."
    return (
        f"{said} The cloth has to stretch by {show_fraction(needed)} or more round the body, and "
        "spring back: try it on a scrap. Allowances and hems stay as they were.",
    )


CHANGE = Change(
    id="knit-reduction",
    title="Make pieces smaller for a knit",
    topic="fullness and openings",
    why="A knit is cut smaller than its wearer, and lies close without a crease.",
    source="docs/sources.md: knits (required stretch is n / (1 - n))",
    params=KnitReduction,
    apply=apply,
)
