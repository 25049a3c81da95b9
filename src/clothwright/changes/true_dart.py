"""True a dart: legs of one length, and the cap as it comes out when folded and cut along."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import accumulate

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import (
    find_dart,
    has_true_cap,
    with_dart,
    with_true_cap,
)
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_legs
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece
from clothwright.units.params import param
from clothwright.words import Sentence

REACH_MM = 60.0
"""mm of the seam line beside a leg that may be redrawn to meet the leg's new end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrueDart:
    """The dart, the way it is pressed, and which leg is right when they differ."""

    dart: str = param("dart", "the dart whose legs and cap are made true", label="Which dart")
    pressed: str = param(
        "choice",
        "",
        default="",
        choices={
            "": "where it is pressed now",
            "start": "the start of the edge",
            "end": "the end of the edge",
        },
        label="Pressed towards",
    )
    legs: str = param(
        "choice",
        "",
        default="half-way",
        choices={
            "half-way": "both meet half-way",
            "first": "the leg nearer the edge's start is right",
            "second": "the other leg is right",
        },
        label="When the legs differ in length",
    )


def apply(pattern: Pattern, params: TrueDart) -> Outcome:
    """Fold, press and cut, on paper: the seam runs on without a dent where the dart is sewn.

    The legs are made equal first, each along its own line; the seam line beside a moved end is
    redrawn over at most 60 mm. Then the cap is the seam line's own run, mirrored over the leg and
    the centre line. Raises CannotDo when the folded dart's edge would not reach its centre line.
    """
    piece, dart = find_dart(pattern, params.dart)
    pressed = params.pressed or dart.pressed
    legs = dart_legs(piece, dart)
    even = abs(legs[0] - legs[1]) <= 1e-6
    if even and pressed == dart.pressed and has_true_cap(piece, dart, within=1e-3):
        return Outcome(pattern=pattern, said=(f'Dart "{dart.name}" of {piece.name} is true.',))
    after = piece
    if not even:
        wanted = {"first": legs[0], "second": legs[1]}.get(params.legs, sum(legs) / 2)
        after = _with_legs(piece, dart, wanted)
    after = with_dart(after, replace(after.dart(dart.name), pressed=pressed))
    after = with_true_cap(after, dart.name)
    return Outcome(pattern=pattern.with_piece(after), said=_said(piece, after, dart, legs))


def _with_legs(piece: Piece, dart: Dart, length: float) -> Piece:
    """Move both leg ends along their legs to `length` mm from the point."""
    edge = piece.edge(dart.edge)
    path = edge.path
    ends = path.point_at(dart.a), path.point_at(dart.b)
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


def _said(before: Piece, after: Piece, dart: Dart, legs: tuple[float, float]) -> Sentence:
    now = after.dart(dart.name)
    length = dart_legs(after, now)[0]
    path = after.edge(now.edge).path
    cap = path.between(now.a, now.b)
    proud = cap.point_at(cap.length / 2).distance(now.point) - (
        cap.start.lerp(cap.end, 0.5).distance(now.point)
    )
    even: Sentence = ()
    if abs(legs[0] - legs[1]) > 1e-6:
        even = (" Its legs were ", legs[0], " and ", legs[1], "; both are now ", length, ".")
    return (
        f'Trued dart "{dart.name}" of {before.name}, pressed towards the {now.pressed} of '
        f"{now.edge}: its cap stands ",
        proud,
        f" proud of the straight line between its legs.{'' if even else ' Legs stay.'}",
        *even,
    )


CHANGE = Change(
    id="true-dart",
    title="True a dart: equal legs, cap folded and cut",
    topic="darts",
    why="A dart cut straight across comes up short at its seam when it is folded and pressed. The "
    "right cap depends on the way it is pressed.",
    source="plane geometry of folding, r = L sin f / sin(f + h) (docs/changes/true-dart.md)",
    params=TrueDart,
    apply=apply,
)
