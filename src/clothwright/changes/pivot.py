"""What a dart turns about: the bust point that it points to, else its own point. Lengths in mm."""

from __future__ import annotations

from dataclasses import replace

from clothwright.changes.darts import with_dart, with_true_cap
from clothwright.changes.intake import in_order
from clothwright.changes.legs import evened
from clothwright.changes.rejoin import rejoined
from clothwright.changes.slash import Opening, cut_in_two, part_that_stays
from clothwright.errors import CannotDo
from clothwright.geometry.transform import IDENTITY, rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.pattern.level_spots import with_levels_kept
from clothwright.pattern.measure import dart_angle_deg, mouth_middle
from clothwright.pattern.parts import bust_point, front_or_back
from clothwright.pattern.piece import Dart, Piece

REACH_MM = 63.5
"""mm: a dart stops up to 2 1/2 in short of the bust point (custom, by kind of dart)."""


def pivot_of(piece: Piece, dart: Dart) -> Vec:
    """Return the bust point that a dart points to, its own point where there is none near it.

    On a back each dart has a point of its own.
    """
    bust = bust_at(piece)
    return dart.point if bust is None or bust.distance(dart.point) > REACH_MM else bust


def bust_at(piece: Piece) -> Vec | None:
    """Return where the bust point is marked, else where a bust dart runs out; None on a back.

    The mark is looked up as a mark: a dart called "bust" runs out at a point of the same name.
    """
    if front_or_back(piece) == "back":
        return None
    marks = (m.at for m in piece.marks if m.at is not None and "bust" in m.name.lower())
    name = bust_point(piece)
    return next(marks, piece.point(name) if name else None)


def drawn_to(piece: Piece, dart: Dart, pivot: Vec) -> Piece:
    """Return the piece with a dart drawn on to the pivot, legs made equal; its mouth stays.

    Raises CannotDo where the legs cannot be made equal.
    """
    piece = evened(with_dart(piece, replace(dart, point=pivot)), dart.name)
    return with_true_cap(piece, dart.name)


def set_back(piece: Piece, name: str, by: float) -> Piece:
    """Return the piece with a dart's point moved `by` mm along its centre line, to its mouth."""
    dart = piece.dart(name)
    mouth = mouth_middle(piece, dart)
    point = dart.point + (mouth - dart.point).unit * min(by, 0.8 * mouth.distance(dart.point))
    return with_true_cap(with_dart(piece, replace(dart, point=point)), name)


def merged(piece: Piece, closed: str, grows: str) -> Piece:
    """Return the piece with one dart closed and another opened by as much. Angles add up.

    Both have to have their point at the same place. What lies between them turns about it.
    """
    dart, into = piece.dart(closed), piece.dart(grows)
    others = tuple(d for d in piece.darts if d.name not in (closed, grows))
    slash = cut_in_two(
        replace(piece, darts=others),
        Opening(dart.edge, dart.a, dart.b),
        Opening(into.edge, into.a, into.b),
        (dart.point,),
    )
    turn = dart_angle_deg(piece, dart)
    rests = part_that_stays(slash)
    move = rotation_deg(turn if rests == 0 else -turn, dart.point)
    moves = (IDENTITY, move) if rests == 0 else (move, IDENTITY)
    found = rejoined(slash, moves)
    now = found.openings[1]
    out = with_dart(found.piece, replace(into, a=now.a, b=now.b))
    return with_levels_kept(piece, in_order(with_true_cap(out, grows), piece), found.now)


def refuse_own_points(piece: Piece, one: Dart, other: Dart) -> None:
    """Refuse to treat two darts as one that do not turn about the same point. CannotDo."""
    pivots = pivot_of(piece, one), pivot_of(piece, other)
    if pivots[0].is_near(pivots[1], 0.5):
        return
    raise CannotDo(
        what=f'darts "{one.name}" and "{other.name}" of "{piece.name}" cannot become one',
        why=(
            "each shapes a place of its own: their points are ",
            pivots[0].distance(pivots[1]),
            " apart",
        ),
        nearest="two darts that point to the bust point, no farther from it than "
        "they are sewn short"
        if bust_at(piece) is not None
        else "moving one of them to another edge, or two darts that point to one place",
    )
