"""The dart that a part swinging about a pivot opens or closes: an old one, or a new one.

Lengths in mm, angles in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.darts import free_name, pressed_by_custom, with_dart, with_true_cap
from clothwright.changes.pivot import REACH_MM
from clothwright.changes.slash import BLEND_MM, Opening
from clothwright.errors import CannotDo, Said
from clothwright.geometry.path import Path
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.measure import dart_intake
from clothwright.pattern.piece import Dart, Piece

SHORT_MM = 25.0
"""mm: a new dart stops so far short of the bust point (1 in; 3/4 to 1 1/2 by custom, M)."""

LEAST_SHARE = 0.2
"""A dart keeps this share of the way to the pivot at least, however short it is to stop."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mouth:
    """Where a cut to a pivot reaches the outline of a piece.

    opening: a dart's, or a plain place, or what is to be taken out. dart: the one that is cut
    along, None for none. short: how far it stops before the pivot along its centre line, or a new
    one is to stop.
    """

    piece: Piece
    opening: Opening
    pivot: Vec
    dart: Dart | None
    short: float

    @property
    def angle_deg(self) -> float:
        """How much there is to close, in degrees at the pivot."""
        a, b = (end - self.pivot for end in self.ends)
        return abs(turn_between_deg(a, b)) if self.dart else 0.0

    @property
    def width(self) -> float:
        """How wide its dart is at the edge, mm."""
        return dart_intake(self.piece, self.dart) if self.dart else 0.0

    @property
    def ends(self) -> tuple[Vec, Vec]:
        """Both ends of the opening on the stitching line."""
        path = self.piece.edge(self.opening.edge).path
        return path.point_at(self.opening.a), path.point_at(self.opening.b)

    @property
    def without_dart(self) -> Piece:
        """The piece with its dart left out, to be cut."""
        own = self.dart.name if self.dart else None
        return replace(self.piece, darts=tuple(d for d in self.piece.darts if d.name != own))


def dart_towards(piece: Piece, edge: str, pivot: Vec) -> Dart | None:
    """Return the dart of an edge that points to a pivot, the nearest of several; else None."""
    near = [d for d in piece.darts_on(edge) if d.point.distance(pivot) <= REACH_MM]
    return min(near, key=lambda d: d.point.distance(pivot), default=None)


def mouth_at(piece: Piece, edge: str, at: float, pivot: Vec, short: float = SHORT_MM) -> Mouth:
    """Return the dart of an edge that points to the pivot, else a plain cut at a place (mm)."""
    dart = dart_towards(piece, edge, pivot)
    opening = Opening(edge, at, at) if dart is None else Opening(edge, dart.a, dart.b)
    if dart is not None:
        path = piece.edge(edge).path
        short = _inwards(path, dart.a, dart.b).dot(pivot - dart.point)
    return Mouth(piece=piece, opening=opening, pivot=pivot, dart=dart, short=short)


def with_mouth(piece: Piece, mouth: Mouth, now: Opening, pivot: Vec, pressed: str = "") -> Piece:
    """Return the piece with the mouth's dart as the opening is now; closed, it has none.

    A new one is called by its edge and pressed to that end of it, "" by custom. Its point lies on
    its centre line, as far short of the pivot as before.
    """
    if now.b - now.a <= BLEND_MM:
        return piece
    path = piece.edge(now.edge).path
    middle = path.point_at(now.a).lerp(path.point_at(now.b), 0.5)
    way = _inwards(path, now.a, now.b)
    deep = way.dot(pivot - middle)
    point = middle + way * max(deep - mouth.short, LEAST_SHARE * deep)
    return _with_dart(piece, mouth.dart, now, point, pressed)


def with_spread(piece: Piece, mouth: Mouth, now: Opening, deep: float, pressed: str) -> Piece:
    """Return the piece with a dart where it was cut and its two legs went apart, or together.

    The mouth's dart stays as deep as it was, a new one is `deep` mm and pressed to that end of its
    edge; closed, there is none.
    """
    if now.b - now.a <= BLEND_MM:
        return piece
    path = piece.edge(now.edge).path
    middle = path.point_at(now.a).lerp(path.point_at(now.b), 0.5)
    if mouth.dart is not None:
        deep = mouth.dart.point.distance(mouth.ends[0].lerp(mouth.ends[1], 0.5))
    point = middle + _inwards(path, now.a, now.b) * deep
    return _with_dart(piece, mouth.dart, now, point, pressed)


def _with_dart(
    piece: Piece, dart: Dart | None, now: Opening, point: Vec, pressed: str = ""
) -> Piece:
    """Put a dart into an opening, a new one called by its edge; its cap is made true.

    pressed: the end of its edge that a new one is pressed to, "" by custom.
    """
    if dart is None:
        path = piece.edge(now.edge).path
        name = free_name(tuple(d.name for d in piece.darts), now.edge)
        pressed = pressed or pressed_by_custom(piece, path, now.a, now.b, point)
        dart = Dart(name=name, edge=now.edge, a=now.a, b=now.b, point=point, pressed=pressed)
    piece = with_dart(piece, replace(dart, a=now.a, b=now.b, point=point))
    return with_true_cap(piece, dart.name)


def _inwards(path: Path, a: float, b: float) -> Vec:
    """Return the direction of a dart's centre line into the piece, from the places of its legs."""
    return (path.point_at(b) - path.point_at(a)).perp.unit


def refuse_used_up(
    mouth: Mouth, moves: tuple[Transform, Transform], what: Said, nearest: Said
) -> None:
    """Refuse to close more of a dart than there is.

    moves: of what lies before the opening in the order of the outline, and of what lies after it.
    Raises CannotDo.
    """
    a, b = (m.apply(end) for m, end in zip(moves, mouth.ends, strict=True))
    if a.distance(b) <= BLEND_MM or turn_between_deg(a - mouth.pivot, b - mouth.pivot) > 0.0:
        return
    edge, name = mouth.opening.edge, mouth.piece.name
    if mouth.dart is None:
        raise CannotDo(
            what=what,
            why=f'there is no dart in {edge} of "{name}" that could give so much',
            nearest="another dart moved there first, or the seams beside it taken in",
        )
    raise CannotDo(
        what=what,
        why=(f'dart "{mouth.dart.name}" is only ', mouth.width, " wide and would be used up"),
        nearest=nearest,
    )
