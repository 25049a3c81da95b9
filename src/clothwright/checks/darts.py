"""Are a dart's legs equal, its cap true and its point inside the piece?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.dart_mends import slipped_dart
from clothwright.checks.weigh import each, length_band, skipped
from clothwright.geometry.intersect import line_crossings, meet
from clothwright.geometry.path import Path
from clothwright.geometry.region import inside
from clothwright.geometry.vec import Vec, turn_between_deg, unit_at
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.measure import dart_legs
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece
from clothwright.words import counted

ID = "darts"

CORNER_MM = 1.0
"""mm: a dart whose leg ends nearer than this to the corner has no seam line to be folded over."""

_RAYS = (0.25, 0.5, 0.75)
"""Where between the legs the cap is looked at, as shares of the dart's angle."""


def darts(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look at every dart of every piece."""
    every = tuple((piece, dart) for piece in pattern.pieces for dart in piece.darts)
    yield from each(
        ID, every, lambda pair: _where(*pair), lambda pair: _dart(*pair, settings=settings)
    )
    for piece in pattern.pieces:
        yield from _overlaps(piece)


def _dart(piece: Piece, dart: Dart, *, settings: CheckSettings) -> Iterator[Finding]:
    if not inside(dart.point, piece.outline.flatten(0.5)):
        yield Finding(
            code="dart-point-outside",
            severity=Severity.FAULT,
            where=_where(piece, dart),
            words=(f'Dart "{dart.name}" of {piece.name} runs out beyond the edge of the piece.',),
        )
        return
    first, second = dart_legs(piece, dart)
    weight = length_band(first - second, settings)
    if weight:
        yield _legs(piece, dart, weight, first, second)
        return
    yield from _cap(piece, dart, settings)


def _legs(piece: Piece, dart: Dart, weight: Severity, first: float, second: float) -> Finding:
    ways = (*slipped_dart(piece, dart), _mend(piece, dart))
    return Finding(
        code="dart-legs-differ",
        severity=weight,
        where=_where(piece, dart),
        measured=max(first, second),
        expected=min(first, second),
        unit="mm",
        words=(
            f'The legs of dart "{dart.name}" of {piece.name} are ',
            max(first, second),
            " and ",
            min(first, second),
            " long; they differ by ",
            abs(first - second),
            ", so the seam would step there.",
        ),
        mend=ways[0],
        others=ways[1:],
    )


def _cap(piece: Piece, dart: Dart, settings: CheckSettings) -> Iterator[Finding]:
    off = _cap_off(piece.edge(dart.edge).path, dart)
    if off is None:
        return
    if off != off:  # noqa: PLR0124 - not a number: the cap cannot be found
        yield skipped(ID, _where(piece, dart), f'the cap of dart "{dart.name}" cannot be drawn')
        return
    weight = length_band(off, settings)
    if weight is None:
        return
    kind = "short of" if off < 0 else "beyond"
    yield Finding(
        code="dart-cap-not-true",
        severity=weight,
        where=_where(piece, dart),
        measured=off,
        expected=0.0,
        unit="mm",
        words=(
            f'The edge of {piece.name} over dart "{dart.name}" lies ',
            abs(off),
            f" {kind} where it should: folded, pressed and cut along {dart.edge}, the dart "
            "would show a different line.",
        ),
        mend=_mend(piece, dart),
    )


@lru_cache(maxsize=1024)
def _cap_off(path: Path, dart: Dart) -> float | None:
    """Return how far the cap lies beyond (+) or short of (-) its true line, worst place, mm.

    Folded over the leg it is pressed to, the dart's cloth lies on the seam line beyond that leg; so
    a ray inside the dart must be as long as its mirror image across that leg.
    None: no seam line there to be folded over. NaN: no such line is met. Kept: few darts change.
    """
    to_start = dart.pressed == "start"
    if (dart.a if to_start else path.length - dart.b) < CORNER_MM:
        return None
    a, b = path.point_at(dart.a) - dart.point, path.point_at(dart.b) - dart.point
    turn = turn_between_deg(a, b)
    worst = 0.0
    for share in _RAYS:
        now = _reach(path, dart.point, unit_at(a.angle_deg + turn * share), dart.a, dart.b)
        mirrored = turn * min(share, 1 - share)
        beyond = a.angle_deg - mirrored if to_start else b.angle_deg + mirrored
        low, high = (0.0, dart.a) if to_start else (dart.b, path.length)
        true = _reach(path, dart.point, unit_at(beyond), low, high)
        if true is None:
            true = _run_on(path, dart.point, unit_at(beyond), at_start=to_start)
        if now is None or true is None:
            return math.nan
        worst = max(worst, now - true, key=abs)
    return worst


def _reach(path: Path, p: Vec, way: Vec, low: float, high: float) -> float | None:
    """Return how far from p, along a direction, the stretch low..high (mm) of a path is met."""
    met = [c.at_b for c in line_crossings(path, p, way) if low - 0.01 <= c.at_a <= high + 0.01]
    ahead = [at for at in met if at > 0]
    return min(ahead) if ahead else None


def _run_on(path: Path, p: Vec, way: Vec, *, at_start: bool) -> float | None:
    """Return the same for the straight line that runs on beyond the path's end."""
    end, along = (path.start, -path.start_tangent) if at_start else (path.end, path.end_tangent)
    point = meet(p, way, end, along)
    if point is None or (point - p).dot(way) <= 0 or (point - end).dot(along) < 0:
        return None
    return (point - p).dot(way)


def _overlaps(piece: Piece) -> Iterator[Finding]:
    for edge in piece.edges:
        on = piece.darts_on(edge.name)
        for first, second in pairwise(on):
            shared = first.b - second.a
            if shared > CORNER_MM:
                one, two = sorted((first.name, second.name))
                yield Finding(
                    code="darts-overlap",
                    severity=Severity.FAULT,
                    where=Where(piece=piece.name, edge=edge.name, point=f"{one} point"),
                    measured=shared,
                    expected=0.0,
                    unit="mm",
                    words=(
                        f'Darts "{one}" and "{two}" of {piece.name} share ',
                        shared,
                        f" of {edge.name}.",
                    ),
                )


def _where(piece: Piece, dart: Dart) -> Where:
    return Where(piece=piece.name, edge=dart.edge, point=f"{dart.name} point")


def _mend(piece: Piece, dart: Dart) -> Mend:
    return Mend(change="true-dart", params={"dart": f"{piece.name}.{dart.name}"})


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the darts."""
    del settings
    count = sum(len(p.darts) for p in pattern.pieces)
    return LookedAt(count, counted(count, "dart"))


CHECK = Check(
    id=ID,
    title="Are dart legs equal, caps true and points inside?",
    why="Unequal legs leave a step in the seam; an edge drawn straight across a dart is too short "
    "once the dart is folded and pressed.",
    source="Plane geometry: fold and cut, r = L sin f / sin(f + h) for a straight seam at angle f "
    "to the leg, h half the dart's angle (docs/sources.md, darts). Bands as for seams.",
    codes=(
        "dart-legs-differ",
        "dart-cap-not-true",
        "dart-point-outside",
        "darts-overlap",
        f"{ID}-skipped",
    ),
    run=darts,
    looked=looked,
)
