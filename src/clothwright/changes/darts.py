"""What the dart changes share: find a dart, make its cap, put it on a piece. Lengths in mm."""

from __future__ import annotations

from dataclasses import replace

from clothwright.changes.slash import BLEND_MM
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.intersect import line_crossings, meet
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.segment import Line
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_legs
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Piece, Role
from clothwright.pattern.refs import parse_point
from clothwright.words import AtMost, ref_name

CORNER_MM = 0.05
"""mm: a place nearer than this to an edge's end is that end."""


def find_dart(pattern: Pattern, text: str) -> tuple[Piece, Dart]:
    """Return the piece and the dart that "PIECE.DART" names. Raises BadInput."""
    name, dot, dart = text.strip().partition(".")
    if not dot or not name.strip() or not dart.strip():
        raise BadInput(what=f'"{text}" does not name a dart', expected="PIECE.DART")
    piece = pattern.piece(name.strip())
    return piece, piece.dart(dart.strip())


def own_point(piece: Piece, text: str) -> str:
    """Return the name of the point of a piece that "PIECE.POINT" means. BadInput for another's."""
    owner, spot = parse_point(text)
    if owner != piece.name:
        raise BadInput(
            what=f'"{ref_name(text)}" is not on piece "{piece.name}"',
            expected="a point of the same piece",
        )
    return spot


def find_place(pattern: Pattern, piece: Piece, text: str, at: float | None) -> tuple[Edge, float]:
    """Return the edge and the place on it (mm from its start) that are meant.

    text: "PIECE.EDGE" with `at` mm from its start (None: its middle), or "PIECE.POINT", a point on
    the stitching line. Raises BadInput when it is on another piece, or not on the edge.
    """
    where, _, name = text.strip().partition(".")
    if where.strip() != piece.name:
        pattern.piece(where.strip())
        raise BadInput(
            what=f'"{ref_name(text)}" is not on piece "{piece.name}"',
            expected="an edge or a point of the same piece",
        )
    name = name.strip()
    if any(e.name == name for e in piece.edges):
        edge = piece.edge(name)
        place = edge.length / 2 if at is None else at
        if not -CORNER_MM <= place <= edge.length + CORNER_MM:
            raise CannotDo(
                what=(f'edge "{name}" of "{piece.name}" has no place ', place, " from its start"),
                why=("it is ", edge.length, " long"),
                nearest=("a distance from 0 to ", AtMost(edge.length)),
            )
        return edge, min(max(place, 0.0), edge.length)
    point = piece.point(parse_point(text)[1])
    edge = min(piece.edges, key=lambda e: e.path.nearest(point)[1])
    place, off = edge.path.nearest(point)
    if off > BLEND_MM:
        raise CannotDo(
            what=f'"{name}" of "{piece.name}" cannot take a dart',
            why=("it lies ", off, " away from the stitching line"),
            nearest=(f'"{edge.name}" at ', place, " from its start"),
        )
    return edge, place


def true_cap(path: Path, a: float, b: float, point: Vec, pressed: str) -> Path:
    """Return the cap from a to b that is right when the dart is folded, pressed and cut along.

    The run of the seam line on the side the dart is pressed to is mirrored over that leg up to the
    dart's centre line, and over the centre line for the other half. For a straight seam that meets
    the leg at an angle f, half the dart's angle being h, the cap reaches L sin f / sin(f + h) along
    the centre line. Legs must be equal to 0.5 mm. Raises CannotDo.
    Source: plane geometry (docs/changes/true-dart.md).
    """
    if pressed == "end":
        whole = path.length
        return true_cap(path.reversed(), whole - b, whole - a, point, "start").reversed()
    end_a, end_b = path.point_at(a), path.point_at(b)
    if a <= CORNER_MM:
        return polyline((end_a, end_b))
    seen = path.between(0.0, a).reversed().transformed(reflection(point, end_a))
    centre = ((end_a - point).unit + (end_b - point).unit).unit
    found = [c for c in line_crossings(seen, point, centre) if c.at_b > 0 and c.at_a > JOIN_MM]
    half = seen.between(0.0, found[0].at_a) if found else _run_on(seen, point, centre)
    if half.end.distance(point) > 2 * end_a.distance(point):
        raise _no_cap()
    other = half.reversed().transformed(reflection(point, point + centre))
    half, other = half.with_ends(start=end_a), other.with_ends(end=end_b)
    return half.joined(other.with_ends(start=half.end))


def _run_on(seen: Path, point: Vec, centre: Vec) -> Path:
    """Run the mirrored seam line straight on to the centre line."""
    on = meet(seen.end, seen.end_tangent, point, centre)
    if on is None or (on - seen.end).dot(seen.end_tangent) <= 0 or (on - point).dot(centre) <= 0:
        raise _no_cap()
    return seen.joined(Path((Line(seen.end, on),)))


def _no_cap() -> CannotDo:
    return CannotDo(
        what="the dart has no cap",
        why="folded over, its edge would never reach its centre line: the seam meets the leg too "
        "slantingly",
        nearest="a place where the seam runs more squarely to the dart, or pressing it the other "
        "way",
    )


def with_dart(piece: Piece, dart: Dart) -> Piece:
    """Return the piece with the dart of the same name replaced, or added."""
    others = tuple(d for d in piece.darts if d.name != dart.name)
    if len(others) == len(piece.darts):
        return replace(piece, darts=(*piece.darts, dart))
    return replace(piece, darts=tuple(dart if d.name == dart.name else d for d in piece.darts))


def with_path_between(piece: Piece, edge: str, a: float, b: float, cap: Path) -> Piece:
    """Return the piece with the stretch from a to b mm of an edge replaced.

    What lies beyond b (notches, darts) moves along by the difference in length; notches on the
    stretch itself go to its nearer end.
    """
    old = piece.edge(edge)
    parts = [old.path.between(0.0, a)] if a > JOIN_MM else []
    parts.append(cap)
    if old.length - b > JOIN_MM:
        parts.append(old.path.between(b, old.length))
    by = cap.length - (b - a)

    def now(at: float) -> float:
        if at <= a or (at < b - JOIN_MM and at - a < b - at):
            return min(at, a)
        return max(at, b) + by

    notches = tuple(replace(n, at=now(n.at)) for n in old.notches)
    new = replace(old, path=join_all(parts), notches=notches)
    darts = tuple(
        replace(d, a=d.a + by, b=d.b + by)
        if d.edge == edge and d.a >= b - JOIN_MM
        else (replace(d, b=d.b + by) if d.edge == edge and d.a <= a and d.b >= b else d)
        for d in piece.darts
    )
    edges = tuple(new if e.name == edge else e for e in piece.edges)
    return replace(piece, edges=edges, darts=darts)


def with_true_cap(piece: Piece, name: str) -> Piece:
    """Return the piece with the cap of a dart made true for the way it is pressed."""
    dart = piece.dart(name)
    path = piece.edge(dart.edge).path
    cap = true_cap(path, dart.a, dart.b, dart.point, dart.pressed)
    return with_path_between(piece, dart.edge, dart.a, dart.b, cap)


def has_true_cap(piece: Piece, dart: Dart, within: float = 0.05) -> bool:
    """Tell whether a dart's cap is true for the way it is pressed, to `within` mm."""
    if abs(dart_legs(piece, dart)[0] - dart_legs(piece, dart)[1]) > within:
        return False
    path = piece.edge(dart.edge).path
    try:
        cap = true_cap(path, dart.a, dart.b, dart.point, dart.pressed)
    except CannotDo:
        return False
    now = path.between(dart.a, dart.b)
    return all(now.nearest(cap.point_at(cap.length * k / 8))[1] <= within for k in range(9))


def inside_of(piece: Piece, start: Vec, direction: Vec) -> float:
    """Return how far in mm one can go from a place of the outline before leaving the piece."""
    found = line_crossings(piece.outline, start, direction)
    return min((c.at_b for c in found if c.at_b > 1.0), default=0.0)


def pressed_by_custom(piece: Piece, edge: Path, a: float, b: float, point: Vec) -> str:
    """Return the way a dart is pressed by custom: a level one down, an upright one to the centre.

    a, b: places of its legs, mm along the edge. Without a fold or centre edge an upright dart is
    pressed towards the longer part of its edge. (Common practice.)
    """
    end_a, end_b = edge.point_at(a), edge.point_at(b)
    across, out = end_b - end_a, end_a.lerp(end_b, 0.5) - point
    up = piece.up
    if abs(out.dot(up)) < abs(out.cross(up)):
        return "start" if across.dot(up) > 0 else "end"
    centre = next((e for e in piece.edges if e.role in (Role.FOLD, Role.CENTRE)), None)
    if centre is not None:
        near = across.dot(centre.path.point_at(centre.path.nearest(point)[0]) - point)
        if abs(near) > JOIN_MM:  # else it points at the centre
            return "start" if near < 0 else "end"
    return "start" if a >= edge.length - b - JOIN_MM else "end"  # in the middle: its start


def free_name(taken: tuple[str, ...], wanted: str) -> str:
    """Return the wanted name, with the next free number after it if it is taken.

    >>> free_name(("bust", "bust 2"), "bust")
    'bust 3'
    """
    if wanted not in taken:
        return wanted
    n = 2
    while f"{wanted} {n}" in taken:
        n += 1
    return f"{wanted} {n}"
