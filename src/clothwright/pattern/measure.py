"""Questions about lengths: edges with their darts folded out, seams from notch to notch."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Dart, NotchKind, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.whole import TWIN


def dart_angle_deg(piece: Piece, dart: Dart) -> float:
    """Return the dart's intake as an angle at its point, degrees, positive.

    The angle is the intake; the width at the edge depends on the length of the legs.
    """
    path = piece.edge(dart.edge).path
    a, b = path.point_at(dart.a) - dart.point, path.point_at(dart.b) - dart.point
    return abs(turn_between_deg(a, b))


def dart_intake(piece: Piece, dart: Dart) -> float:
    """Return the straight distance between the two leg ends, mm (2 L sin(angle / 2))."""
    path = piece.edge(dart.edge).path
    return path.point_at(dart.a).distance(path.point_at(dart.b))


def dart_legs(piece: Piece, dart: Dart) -> tuple[float, float]:
    """Return the lengths of both legs in mm, the one nearer the edge's start first."""
    a, b = dart_mouth(piece, dart)
    return a.distance(dart.point), b.distance(dart.point)


def dart_mouth(piece: Piece, dart: Dart) -> tuple[Vec, Vec]:
    """Return where both legs end on the edge, mm, the one nearer the edge's start first."""
    path = piece.edge(dart.edge).path
    return path.point_at(dart.a), path.point_at(dart.b)


def dart_corners(piece: Piece, dart: Dart) -> tuple[Vec, Vec, Vec]:
    """Return both ends of the legs and the point, mm."""
    return (*dart_mouth(piece, dart), dart.point)


def mouth_middle(piece: Piece, dart: Dart) -> Vec:
    """Return the middle between the ends of the legs, mm."""
    a, b = dart_mouth(piece, dart)
    return a.lerp(b, 0.5)


def net_at(piece: Piece, edge: str, at: float) -> float:
    """Return the distance in mm along an edge with its darts folded out.

    A place inside a dart's mouth counts as the place where its legs meet.
    """
    net = at
    for dart in piece.darts_on(edge):
        if at >= dart.b:
            net -= dart.b - dart.a
        elif at > dart.a:
            net -= at - dart.a
    return net


def gross_at(piece: Piece, edge: str, net: float) -> float:
    """Return the place (mm) on an edge as drawn that lies `net` mm along it, darts folded out."""
    at = net
    for dart in piece.darts_on(edge):
        if at > dart.a:
            at += dart.b - dart.a
    return at


def net_length(piece: Piece, edge: str) -> float:
    """Return the stitching length of an edge in mm with its darts folded out."""
    return net_at(piece, edge, piece.edge(edge).length)


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A place along one side of a seam: a notch, or a joint between two of its edges.

    at: mm of stitching line from the seam's start, darts folded out. kind: None at a joint.
    """

    name: str
    kind: NotchKind | None
    at: float
    piece: str
    edge: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side of a seam laid out straight: its length in mm and its stations in order."""

    length: float
    stations: tuple[Station, ...]


def side(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> Side:
    """Lay one side of a seam out straight, darts folded out."""
    run = 0.0
    stations: list[Station] = []
    for i, ref in enumerate(refs):
        piece = pattern.piece(ref.piece)
        edge = piece.edge(ref.edge)
        length = net_length(piece, ref.edge)
        if i > 0:
            stations.append(
                Station(
                    name=_joint_name(piece, ref), kind=None, at=run, piece=ref.piece, edge=ref.edge
                )
            )
        found = []
        for notch in edge.notches:
            at = net_at(piece, ref.edge, notch.at)
            at = length - at if ref.reversed else at
            found.append(
                Station(
                    name=notch.name, kind=notch.kind, at=run + at, piece=ref.piece, edge=ref.edge
                )
            )
        stations.extend(sorted(found, key=lambda s: s.at))
        run += length
    return Side(length=run, stations=tuple(stations))


def run_length(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> float:
    """Return how long a run of edges is, mm, darts folded out."""
    return sum(net_length(pattern.piece(r.piece), r.edge) for r in refs)


def place_on(pattern: Pattern, refs: tuple[EdgeRef, ...], at: float) -> tuple[EdgeRef, float]:
    """Return the edge of a run on which a place of it lies, and how far along that as drawn, mm.

    at: mm along the run, darts folded out; what lies before it or beyond lies at its end. Raises
    ValueError for a run without edges.
    """
    for ref in refs:
        piece = pattern.piece(ref.piece)
        length = net_length(piece, ref.edge)
        if at <= length or ref is refs[-1]:
            net = min(max(at, 0.0), length)
            return ref, gross_at(piece, ref.edge, length - net if ref.reversed else net)
        at -= length
    raise ValueError("a side of a seam has edges")


def runs_at(
    pattern: Pattern, refs: tuple[EdgeRef, ...], piece: str, edge: str, at: float
) -> Iterator[tuple[float, EdgeRef]]:
    """Yield how far along a run (mm, darts folded out) a place of an edge lies, and as which edge.

    at: mm along the edge as drawn. Nothing where the edge is not of the run; an edge may be of it
    twice.
    """
    run = 0.0
    for ref in refs:
        length = net_length(pattern.piece(ref.piece), ref.edge)
        if (ref.piece, ref.edge) == (piece, edge):
            net = net_at(pattern.piece(piece), edge, at)
            yield run + (length - net if ref.reversed else net), ref
        run += length


def seams_gaining(pattern: Pattern, edge: EdgeRef) -> tuple[Seam, ...]:
    """Return the seams whose difference changes with the length of an edge."""
    return tuple(s for s in pattern.seams_of(edge.piece, edge.edge) if gain_of(s, edge))


def gain_of(seam: Seam, edge: EdgeRef) -> int:
    """Return how many mm side b of a seam gains on side a for each mm an edge becomes longer.

    -1 for an edge of side a, 1 for one of side b; -2 or 2 where it lies there twice, as half a
    skirt does along a whole waistband; 0 where it lies on both sides, or on neither.
    """

    def times(refs: tuple[EdgeRef, ...]) -> int:
        return sum((r.piece, r.edge) == (edge.piece, edge.edge) for r in refs)

    return times(seam.b) - times(seam.a)


def _joint_name(piece: Piece, ref: EdgeRef) -> str:
    """Name of the corner where the run enters this edge; on both halves of a piece the same."""
    edge = piece.neighbours(ref.edge)[1] if ref.reversed else piece.edge(ref.edge)
    return edge.corner.removesuffix(TWIN)


def corner_angle_deg(piece: Piece, index: int) -> float:
    """Return the inside angle in degrees at the start corner of edge number `index`.

    180 = straight on; less = an outward corner; more = an inward one.
    """
    before, after = piece.edges[index - 1], piece.edges[index]
    turn = turn_between_deg(before.path.end_tangent, after.path.start_tangent)
    return 180.0 - turn
