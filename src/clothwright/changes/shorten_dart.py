"""Shorten or lengthen a dart along its own centre line; its legs keep their ends."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import (
    find_dart,
    has_true_cap,
    inside_of,
    with_dart,
    with_true_cap,
)
from clothwright.errors import CannotDo
from clothwright.pattern.measure import dart_angle_deg, mouth_middle
from clothwright.pattern.pattern import Pattern
from clothwright.units.params import param
from clothwright.words import AtMost, show_angle_deg

LEAST_MM = 5.0
"""mm: a dart shorter than this cannot be sewn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortenDart:
    """The dart, and how far its point moves back towards the edge."""

    dart: str = param("dart", "the dart whose point moves", label="Which dart")
    by: float = param("length", "how much shorter; a minus lengthens it", label="By how much")


def apply(pattern: Pattern, params: ShortenDart) -> Outcome:
    """Move a dart's point along its centre line; its width at the edge stays, so its angle grows.

    A cap that was true is made true again for the new legs; any other cap is left as drawn.
    Raises CannotDo when less than 5 mm of the dart would be left, or its point would leave the
    piece.
    """
    piece, dart = find_dart(pattern, params.dart)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f'Dart "{dart.name}" of {piece.name} stays.',))
    mouth = mouth_middle(piece, dart)
    depth = mouth.distance(dart.point)
    if depth - params.by < LEAST_MM:
        raise CannotDo(
            what=(f'dart "{dart.name}" of "{piece.name}" cannot be ', params.by, " shorter"),
            why=("it is ", depth, " long"),
            nearest=("shorten it by ", AtMost(max(0.0, depth - LEAST_MM)), " or less"),
        )
    point = mouth + (dart.point - mouth).unit * (depth - params.by)
    if params.by < 0:
        room = inside_of(piece, mouth, (dart.point - mouth).unit)
        if depth - params.by > room - 1.0:
            raise CannotDo(
                what=(f'dart "{dart.name}" of "{piece.name}" cannot be ', -params.by, " longer"),
                why="its point would leave the piece",
                nearest=("lengthen it by ", AtMost(max(0.0, room - 1.0 - depth)), " or less"),
            )
    after = with_dart(piece, replace(dart, point=point))
    if has_true_cap(piece, dart):
        after = with_true_cap(after, dart.name)
    said = (
        f'{"Shortened" if params.by > 0 else "Lengthened"} dart "{dart.name}" of {piece.name} by ',
        abs(params.by),
        " to ",
        depth - params.by,
        "; its width at the edge stays, so its angle goes from "
        f"{show_angle_deg(dart_angle_deg(piece, dart))} to "
        f"{show_angle_deg(dart_angle_deg(after, after.dart(dart.name)))}.",
    )
    return Outcome(pattern=pattern.with_piece(after), said=said)


CHANGE = Change(
    id="shorten-dart",
    title="Shorten or lengthen a dart",
    topic="darts",
    why="A dart that runs as far as the fullest place makes a peak there: it is sewn a little "
    "shorter. After a dart was moved its point is set back again.",
    source="set back 1/2 in from the bust point: course of an agricultural university "
    "(docs/changes/shorten-dart.md)",
    params=ShortenDart,
    apply=apply,
)
