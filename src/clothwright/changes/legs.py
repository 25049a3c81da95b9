"""Make the legs of a dart a length, and redraw the seam line beside them. Lengths in mm."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import accumulate

from clothwright.changes.darts import (
    has_true_cap,
    with_dart,
    with_path_between,
    with_true_cap,
)
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.pattern.bends import CHORD_MM
from clothwright.pattern.measure import dart_intake, dart_legs, dart_mouth
from clothwright.pattern.piece import Dart, Piece
from clothwright.words import AtMost

REACH_MM = 60.0
"""mm of the seam line beside a leg that may be redrawn to meet the leg's new end."""
EXACT_MM, CAP_MM = 0.05, 1.5
"""mm: a dart's cap so near to the true one was drawn true; or is true as the walk has it."""


def with_legs(piece: Piece, dart: Dart, length: float) -> Piece:
    """Move both leg ends along their legs to `length` mm from the point; the cap is straight then.

    The seam line beside a moved end is redrawn over at most 60 mm. Raises CannotDo where there is
    too little of it.
    """
    edge = piece.edge(dart.edge)
    path = edge.path
    ends = dart_mouth(piece, dart)
    new = [dart.point + (e - dart.point).unit * length for e in ends]
    low, high = _reach(piece, dart)
    moved = max(e.distance(n) for e, n in zip(ends, new, strict=True))
    if min(dart.a - low, high - dart.b) < 2 * moved:
        raise CannotDo(
            what=f'dart "{dart.name}" of "{piece.name}" cannot be trued',
            why=(
                "its legs would change by ",
                moved,
                ", and there is too little of the seam line beside it to be redrawn",
            ),
            nearest="a smaller correction: move the dart's point so that its legs differ less",
        )
    parts = [
        _drawn_to(path.between(low, dart.a), new[0]),
        polyline(new),
        _drawn_to(path.between(dart.b, high).reversed(), new[1]).reversed(),
    ]
    old = (low, dart.a, dart.b, high)
    now = tuple(accumulate((low, *(p.length for p in parts))))
    if low > JOIN_MM:
        parts.insert(0, path.between(0.0, low))
    if path.length - high > JOIN_MM:
        parts.append(path.between(high, path.length))

    def place(at: float) -> float:
        return _place(old, now, at)

    edge = replace(
        edge,
        path=join_all(parts),
        notches=tuple(replace(n, at=place(n.at)) for n in edge.notches),
    )
    darts = tuple(
        replace(d, a=place(d.a), b=place(d.b)) if d.edge == edge.name else d for d in piece.darts
    )
    edges = tuple(edge if e.name == edge.name else e for e in piece.edges)
    return replace(piece, edges=edges, darts=darts)


def evened(piece: Piece, name: str) -> Piece:
    """Return the piece with both legs of a dart as long as they are on the average, mm.

    Raises CannotDo where there is too little of the seam line beside it.
    """
    dart = piece.dart(name)
    a, b = dart_legs(piece, dart)
    return with_legs(piece, dart, (a + b) / 2) if abs(a - b) > 1e-6 else piece


def narrowed(piece: Piece, name: str, by: float) -> Piece:
    """Return the piece with a dart `by` mm narrower, in the middle of where it was.

    The seam line runs on straight into what was its mouth, so that it bends there no more than it
    did once the dart is sewn.
    Raises CannotDo where less than 1 mm of it would be left.
    """
    dart = piece.dart(name)
    width = dart_intake(piece, dart)
    if width - by < 1.0:
        raise CannotDo(
            what=(f'dart "{name}" of "{piece.name}" cannot be ', by, " narrower"),
            why=("it is ", width, " wide"),
            nearest=("at most ", AtMost(max(0.0, width - 1.0)), ", or to leave that dart out"),
        )
    if by > 0:
        path = piece.edge(dart.edge).path
        a, b = dart_mouth(piece, dart)
        ways = _way_on(path, dart.a - CHORD_MM, dart.a), _way_on(path, dart.b + CHORD_MM, dart.b)
        step = _step(b - a, ways[1] - ways[0], width - by)
        low, high = a + ways[0] * step, b + ways[1] * step
        piece = with_path_between(piece, dart.edge, dart.a, dart.b, polyline((a, low, high, b)))
        start = dart.a + step
        new = replace(dart, a=start, b=start + low.distance(high))
    else:
        new = replace(dart, a=dart.a + by / 2, b=dart.b - by / 2)
    return with_true_cap(evened(with_dart(piece, new), name), name)


def _step(across: Vec, nearer: Vec, left: float) -> float:
    """Return how far (mm) both ends of a mouth go on until it is `left` mm wide.

    across: from one end to the other; nearer: by how much that changes for each mm.
    """
    square, half = nearer.dot(nearer), across.dot(nearer)
    rest = across.dot(across) - left * left
    return rest / (math.sqrt(max(0.0, half * half - square * rest)) - half)


def _way_on(path: Path, before: float, at: float) -> Vec:
    """Return the way a seam line comes to a place from one beside it (mm), or how it ends."""
    if not 0.0 <= before <= path.length:
        return path.start_tangent if before < 0.0 else path.end_tangent * -1.0
    return (path.point_at(at) - path.point_at(before)).unit


def _reach(piece: Piece, dart: Dart) -> tuple[float, float]:
    """Return from where to where, mm along the edge, the seam line may be redrawn."""
    neighbours = [d for d in piece.darts_on(dart.edge) if d.name != dart.name]
    low = max([d.b for d in neighbours if d.b <= dart.a], default=0.0)
    whole = piece.edge(dart.edge).length
    high = min([d.a for d in neighbours if d.a >= dart.b], default=whole)
    return max(low, dart.a - REACH_MM), min(high, dart.b + REACH_MM)


def _place(old: tuple[float, ...], new: tuple[float, ...], at: float) -> float:
    """Where a place is after the stretches between `old` became those between `new`."""
    if at <= old[0]:
        return at
    for i in range(1, len(old)):
        if at <= old[i]:
            share = (at - old[i - 1]) / (old[i] - old[i - 1])
            return new[i - 1] + share * (new[i] - new[i - 1])
    return at + new[-1] - old[-1]


def _drawn_to(path: Path, end: Vec) -> Path:
    """Redraw a run of the seam line so that it ends elsewhere: a straight one straight."""
    return polyline((path.start, end)) if path.is_straight else path.with_ends(end=end)


def darts_trued(piece: Piece, old: Piece, name: str) -> Piece:
    """Make the legs of darts on a redrawn edge equal again, and caps true that were (`old`).

    A cap that was true but for what a walk allows is drawn anew where it is not any more.
    """
    for dart in piece.darts_on(name):
        piece = evened(piece, dart.name)
        was, now = old.dart(dart.name), piece.dart(dart.name)
        exact, about = (has_true_cap(old, was, within) for within in (EXACT_MM, CAP_MM))
        if exact or (about and not has_true_cap(piece, now, CAP_MM)):
            piece = with_true_cap(piece, dart.name)
    return piece
