"""Where the middle of a piece runs, and how far its grain line leans against it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.parts import is_strip
from clothwright.pattern.piece import Edge, Grain, Piece, Role
from clothwright.pattern.symmetry import mirror_axes

GRAIN_DEG = 0.5
"""degrees: a grain line further from parallel (or square) to the fold than this is a fault. Over a
60 cm fold half a degree is 5 mm, about what the eye sees against a straight yarn; our own."""

SLIPPED_DEG = 10.0
"""degrees: a grain line that leans more is taken to be meant (a pocket or a yoke cut slantwise for
the look); our own figure."""

MIDDLE = "middle"
"""What the middle of a piece is called that nothing but its shape shows."""

SHORTEST_MM = 1.0
"""mm: a grain line shorter than this points nowhere."""


def to_middle_deg(piece: Piece) -> float | None:
    """Return the least turn of the grain line onto the yarns of the fold or the middle, degrees.

    Counter-clockwise positive. It may run along the fold or across it; on a whole piece along the
    middle, across it or on the bias. None without a grain line, or where nothing shows a middle.
    """
    return min((turn for _, turn in _turns(piece)), key=abs, default=None)


def middle_name(piece: Piece) -> str:
    """Return what `to_middle_deg` turns a grain line onto: a fold, a marked line, `MIDDLE`."""
    return min(_turns(piece), key=lambda t: abs(t[1]), default=(MIDDLE, 0.0))[0]


def _turns(piece: Piece) -> Iterator[tuple[str, float]]:
    """Yield each line that a grain line goes by, by name, and the turn onto it, degrees."""
    grain, fold = piece.grain, piece.fold
    if grain is None or grain.start.distance(grain.end) < SHORTEST_MM:
        return
    if fold is not None:
        yield fold.name, to_yarns_deg(piece.up, fold.path.end - fold.path.start, 90.0)
        return
    for name, way in _middles(piece):
        yield name, to_yarns_deg(piece.up, way, 45.0)


def off_middle_deg(piece: Piece) -> float:
    """Return how far a grain line leans against the fold or the middle of its piece, degrees.

    0 where nothing shows where the middle is.
    """
    return abs(to_middle_deg(piece) or 0.0)


def with_grain_turned(piece: Piece, by_deg: float) -> Piece:
    """Return a piece with its grain line turned about its own middle, degrees counter-clockwise."""
    if piece.grain is None:
        return piece
    by = rotation_deg(by_deg, piece.grain.start.lerp(piece.grain.end, 0.5))
    grain = Grain(start=by.apply(piece.grain.start), end=by.apply(piece.grain.end))
    return replace(piece, grain=grain)


def grain_along(piece: Piece, edge: Edge) -> Piece | None:
    """Return a piece with its grain turned along a straight centre line from which it slipped.

    None where the edge is no straight centre line, or the grain runs along it, or leans against it
    by more than can have slipped.
    """
    is_centre = edge.role is Role.CENTRE or "centre" in edge.name.lower().split()
    if piece.grain is None or not (is_centre and edge.path.is_straight):
        return None
    turn = to_yarns_deg(piece.up, edge.path.end - edge.path.start, 90.0)
    return with_grain_turned(piece, turn) if GRAIN_DEG < abs(turn) <= SLIPPED_DEG else None


def to_yarns_deg(up: Vec, way: Vec, every_deg: float) -> float:
    """Return the least turn of a direction onto another, or onto it turned by `every_deg`."""
    turn = turn_between_deg(up, way) % every_deg
    return turn if turn <= every_deg / 2 else turn - every_deg


def _middles(piece: Piece) -> Iterator[tuple[str, Vec]]:
    """Yield the directions of a whole piece's middle, with the name of each.

    They are marked lines, a centre or a fold line, else about what it mirrors. A band or a strap
    lies along its two long edges, where they are straight and parallel.
    """
    marked = [(m.name, m.path) for m in piece.marks if m.path and _is_centre(m.name)]
    straight = [(name, path) for name, path in marked if path.is_straight]
    if straight:
        yield from ((name, path.end - path.start) for name, path in straight)
    elif band := _band_way(piece):
        yield "long edges", band
    else:
        yield from ((MIDDLE, axis.along) for axis in mirror_axes(piece))


def _is_centre(mark: str) -> bool:
    """Tell whether a marked line shows the way of its piece: its centre, or the fold of a band."""
    return mark.lower().startswith("centre") or mark.lower() == "fold line"


def _band_way(piece: Piece) -> Vec | None:
    """Return the direction of a band's long edges; None for any other piece, such as a gore."""
    if not is_strip(piece):
        return None
    low, high = piece.outline.bounds()
    long = [
        way
        for e in piece.edges
        if e.path.is_straight and (way := e.path.end - e.path.start).norm > 0.4 * max(high - low)
    ]
    ways = [way for way in long if abs(turn_between_deg(way, -long[0])) < GRAIN_DEG]
    return long[0] if ways else None
