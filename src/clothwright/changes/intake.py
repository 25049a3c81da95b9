"""Move a dart's intake: close a dart, wholly or in part, and open as much at another place."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.darts import (
    CORNER_MM,
    pressed_by_custom,
    with_dart,
    with_true_cap,
)
from clothwright.changes.rejoin import rejoined
from clothwright.changes.slash import BLEND_MM, Opening, cut_in_two, part_that_stays
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.transform import IDENTITY, rotation_deg
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.ends import end_words
from clothwright.pattern.level_spots import with_levels_kept
from clothwright.pattern.measure import dart_angle_deg, dart_intake, dart_legs, dart_mouth
from clothwright.pattern.piece import Dart, Edge, Piece, Role
from clothwright.words import AtLeast, Said


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A piece after its dart's intake was moved: the new dart's name, and how it lies."""

    piece: Piece
    opened: Dart


def move_intake(
    piece: Piece,
    dart: Dart,
    *,
    edge: Edge,
    at: float,
    share: float = 1.0,
    name: str = "",
    pressed: str = "",
) -> Moved:
    """Close a dart by `share` of its angle and open as much at a place of an edge.

    One part of the piece turns about the dart's point (slash.part_that_stays says which rests).
    Angles add up; stitching lengths, darts folded out, stay. The new dart is called `name`; the
    old one keeps its name as long as something of it is left. Raises CannotDo.
    """
    name = name or dart.name
    check_legs(piece, dart)
    check_cut(piece, dart, edge, at)
    slash = cut_in_two(
        replace(piece, darts=tuple(d for d in piece.darts if d.name != dart.name)),
        Opening(dart.edge, dart.a, dart.b),
        Opening(edge.name, at, at),
        (dart.point,),
    )
    turn = share * dart_angle_deg(piece, dart)
    move = rotation_deg(-turn, dart.point), rotation_deg(turn, dart.point)
    stays = part_that_stays(slash)
    moves = (IDENTITY, move[1]) if stays == 0 else (move[0], IDENTITY)
    found = rejoined(slash, moves)
    old, new = found.openings
    out = found.piece
    opened = Dart(name=name, edge=new.edge, a=new.a, b=new.b, point=dart.point)
    custom = pressed_by_custom(out, out.edge(new.edge).path, new.a, new.b, dart.point)
    out = with_dart(out, replace(opened, pressed=pressed or custom))
    if old.b > old.a:
        out = with_dart(out, replace(dart, a=old.a, b=old.b))
        out = with_true_cap(out, dart.name)
    out = with_levels_kept(piece, in_order(with_true_cap(out, name), piece), found.now)
    return Moved(piece=out, opened=out.dart(name))


def in_order(piece: Piece, before: Piece) -> Piece:
    """Keep the darts in the order they had; new ones last."""
    names = [d.name for d in before.darts]
    rank = {name: i for i, name in enumerate(names)}
    return replace(
        piece, darts=tuple(sorted(piece.darts, key=lambda d: rank.get(d.name, len(names))))
    )


def check_legs(piece: Piece, dart: Dart) -> None:
    """Refuse a dart whose legs cannot be laid on each other. Raises CannotDo."""
    legs = dart_legs(piece, dart)
    if abs(legs[0] - legs[1]) > BLEND_MM:
        raise CannotDo(
            what=f'dart "{dart.name}" of "{piece.name}" cannot be closed',
            why=("its legs are ", legs[0], " and ", legs[1], " long"),
            nearest="true the dart first",
        )


def check_clear(piece: Piece, name: str) -> None:
    """Refuse a dart with a mouth so near an end of its edge that it cannot be sewn. CannotDo.

    Exactly at the end it is taken up in the seam there. Beside it, the mouth has to be clear of
    that seam's allowance; and a cap that stands out, because the edge runs slantingly to the dart,
    has to mirror an edge that is there, or it would be a whisker. (Fold and cut, plane geometry.)
    """
    dart = piece.dart(name)
    edge, (before, after) = piece.edge(dart.edge), piece.neighbours(dart.edge)
    cap = _standing_out(piece, dart)
    ends = (("start", dart.a, before), ("end", edge.length - dart.b, after))
    for end, free, beside in ends:
        need = max(beside.allowance, cap if dart.pressed == end else 0.0)
        if CORNER_MM < free < need - CORNER_MM:
            raise CannotDo(
                what=f'the dart "{name}" of "{piece.name}" cannot open in "{edge.name}" there',
                why=(
                    "its mouth would lie only ",
                    free,
                    f" from {end_words(piece, edge.name, end)}",
                ),
                nearest=("a place at least ", AtLeast(need), " from there, or that corner itself"),
            )


def _standing_out(piece: Piece, dart: Dart) -> float:
    """Return half the length of a cap that stands out by more than half the mouth, else 0 (mm)."""
    path = piece.edge(dart.edge).path
    tip = path.point_at((dart.a + dart.b) / 2)
    out = tip.distance(dart.point) - dart_legs(piece, dart)[0]
    return (dart.b - dart.a) / 2 if out > dart_intake(piece, dart) / 2 else 0.0


def check_cut(piece: Piece, dart: Dart, edge: Edge, at: float) -> None:
    """Refuse a cut (mm) that would leave the piece, or run through another dart. CannotDo."""
    what = (f'dart "{dart.name}" of "{piece.name}" cannot be moved to "{edge.name}" at ', at)
    if edge.role is Role.FOLD:
        raise CannotDo(
            what=what,
            why="that edge lies on the fold, and a dart would spoil the fold",
            nearest="another edge, or make it a centre edge with a seam first",
        )
    check_way(piece, dart, edge, at, what)


def check_way(piece: Piece, dart: Dart, edge: Edge, at: float, what: Said) -> None:
    """Refuse a straight cut from a dart to a place (mm) that leaves the piece or meets a dart.

    Raises CannotDo.
    """
    for other in piece.darts_on(edge.name):
        if other.a + CORNER_MM < at < other.b - CORNER_MM:
            raise CannotDo(
                what=what,
                why=f'the mouth of dart "{other.name}" is there',
                nearest=(other.a, " or ", other.b, ", beside that dart"),
            )
    to = edge.path.point_at(at)
    cut = polyline((dart.point, to))
    through = [c for c in crossings(cut, piece.outline) if c.at_a < cut.length - 0.2]
    if cut.length < 1.0 or through or (to - dart.point).dot(edge.path.tangent_at(at).perp) >= 0:
        raise CannotDo(
            what=what,
            why="the straight line from the dart's point to there leaves the piece",
            nearest="a place that can be seen from the dart's point",
        )
    for other in piece.darts:
        if other.name != dart.name and _runs_through(piece, other, cut):
            raise CannotDo(
                what=what,
                why=f'the cut would run through dart "{other.name}"',
                nearest=f'move dart "{other.name}" first, or choose a place on this side of it',
            )


def _runs_through(piece: Piece, dart: Dart, cut: Path) -> bool:
    ends = dart_mouth(piece, dart)
    for end in ends:
        found = crossings(cut, polyline((dart.point, end)))
        if any(
            not c.point.is_near(dart.point, 0.05) and not c.point.is_near(end, 0.05) for c in found
        ):
            return True
    way = cut.end - cut.start
    turns = [turn_between_deg(way, end - dart.point) for end in ends]
    return cut.start.is_near(dart.point, 0.05) and turns[0] < -1e-6 and turns[1] > 1e-6
