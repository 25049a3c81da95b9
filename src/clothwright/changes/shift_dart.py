"""Shift a dart along its edge, point and all: its shaping goes with it. Lengths in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import (
    find_dart,
    inside_of,
    pressed_by_custom,
    with_dart,
    with_true_cap,
)
from clothwright.changes.fullness import without_dart
from clothwright.changes.intake import check_clear, in_order
from clothwright.changes.legs import evened
from clothwright.changes.smooth_line import drawn_fair, sharpest
from clothwright.errors import CannotDo
from clothwright.pattern.measure import dart_intake, net_at, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence

FAIR_MM = 30.0
"""mm to each side of a dart over which its edge is drawn fair, as sewn. Our own figure."""
AS_LONG_MM = 0.7
"""mm: an edge drawn fair may differ by less from its length, which the cloth takes. Our own."""
BENT_DEG = 5.0
"""degrees: an edge that turns by less runs fair (common practice, as the walk has it)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShiftDart:
    """The dart, and how far it is shifted."""

    dart: str = param("dart", "the dart that is shifted", label="Which dart")
    by: float = param(
        "length",
        "along its edge, away from the centre, or upwards; a minus the other way",
        label="How far",
    )


def apply(pattern: Pattern, params: ShiftDart) -> Outcome:
    """Mark a dart as long and as wide at another place of its edge, its point moved by as much.

    The edge is sewn at the length it was, straight across where the dart was, and drawn fair as
    sewn where it bends there and at the new place. Legs are made equal and the cap true. Raises
    CannotDo where the edge ends, another dart opens, or the point would leave the piece.
    Source: docs/sources.md, darts.
    """
    piece, dart = find_dart(pattern, params.dart)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f'Dart "{dart.name}" of {piece.name} stays.',))
    what: Sentence = (f'dart "{dart.name}" of "{piece.name}" cannot be shifted by ', abs(params.by))
    path, width = piece.edge(dart.edge).path, dart_intake(piece, dart)
    inwards = pressed_by_custom(piece, path, dart.a, dart.b, dart.point)
    along = params.by if inwards == "start" else -params.by
    bare = without_dart(piece, dart, reach=0.0)
    _check_room(bare, dart, width, along, what)
    new = _marked(bare, piece, dart, along)
    mouth = new.edge(dart.edge).path.point_at(dart.a + along + width / 2)
    way = new.dart(dart.name).point - mouth
    if inside_of(new, mouth, way.unit) < way.norm + 1.0:
        nearest = "a smaller amount, or the dart made shorter first"
        raise CannotDo(what=what, why="its point would leave the piece", nearest=nearest)
    new, drawn = _fair(with_true_cap(evened(new, dart.name), dart.name), piece, dart, along)
    after = in_order(new, piece)
    check_clear(after, dart.name)
    where = "away from the centre, or upwards" if params.by > 0 else "to the centre, or downwards"
    said = (
        f'Shifted dart "{dart.name}" of {piece.name} by ',
        abs(params.by),
        f" along {dart.edge}, {where}, its point with it; it is as wide as before.",
        *drawn,
    )
    return Outcome(pattern=pattern.with_piece(after), said=said)


def _fair(new: Piece, old: Piece, dart: Dart, along: float) -> tuple[Piece, Sentence]:
    """Draw the edge fair, as sewn, where the dart was and where it is; and say so.

    Left as it is where it bent as much with the dart sewn shut before, and where a fair curve would
    be of another length.
    """
    width, at, name = dart_intake(old, dart), net_at(old, dart.edge, dart.a), dart.edge
    was = math.copysign(width / 2, along)
    meant = BENT_DEG + sharpest(old, name, at, 1.0)
    drawn: Sentence = ()
    for place, reach in ((at + along, FAIR_MM), (at + was, FAIR_MM + width / 2)):
        if sharpest(new, name, place, reach) > meant:
            fair = drawn_fair(new, name, place, reach)
            if abs(net_length(fair, name) - net_length(new, name)) > AS_LONG_MM:
                return new, (f" With the dart sewn shut {name} bends there: smooth it next.",)
            new = fair
            drawn = (f" So that {name} runs fair with the dart sewn shut, it was drawn anew "
                     "within ", FAIR_MM, " of where the dart was and is.")  # fmt: skip
    return new, drawn


def _check_room(piece: Piece, dart: Dart, width: float, along: float, what: Sentence) -> None:
    """Refuse a mouth that would run off its edge, or into another dart's. Raises CannotDo."""
    low, high = dart.a + along, dart.a + along + width
    length = piece.edge(dart.edge).length
    if low < 0.0 or high > length:
        most = dart.a if along < 0 else length - dart.a - width
        why = f'its edge "{dart.edge}" ends there'
        raise CannotDo(what=what, why=why, nearest=("at most ", AtMost(max(0.0, most))))
    for other in piece.darts_on(dart.edge):
        if low < other.b and other.a < high:
            near = f'a place beside dart "{other.name}"'
            raise CannotDo(what=what, why=f'dart "{other.name}" opens there', nearest=near)


def _marked(bare: Piece, piece: Piece, dart: Dart, along: float) -> Piece:
    """Return the piece with the dart on its edge `along` mm on, leaning to it as before."""
    path, width = piece.edge(dart.edge).path, dart_intake(piece, dart)
    ends = [path.point_at(at) for at in (dart.a, dart.b)]
    old, new = bare.edge(dart.edge).path, (dart.a + along, dart.a + along + width)
    moved = old.point_at((new[0] + new[1]) / 2) - ends[0].lerp(ends[1], 0.5)
    return with_dart(bare, replace(dart, a=new[0], b=new[1], point=dart.point + moved))


CHANGE = Change(
    id="shift-dart",
    title="Shift a dart along its edge",
    topic="darts",
    why="A dart that points beside the fullest place, or stands where a seam or a motif comes, is "
    "marked a little farther on, as long and as wide.",
    source="common practice; plane geometry (docs/sources.md: darts)",
    params=ShiftDart,
    apply=apply,
)
