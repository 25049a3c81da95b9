"""True a dart: legs of one length, and the cap as it comes out when folded and cut along."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import (
    find_dart,
    has_true_cap,
    with_dart,
    with_true_cap,
)
from clothwright.changes.legs import with_legs
from clothwright.pattern.ends import end_words
from clothwright.pattern.measure import dart_legs
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece
from clothwright.units.params import param
from clothwright.words import Sentence


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
        after = with_legs(piece, dart, wanted)
    after = with_dart(after, replace(after.dart(dart.name), pressed=pressed))
    after = with_true_cap(after, dart.name)
    return Outcome(pattern=pattern.with_piece(after), said=_said(piece, after, dart, legs))


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
        f'Trued dart "{dart.name}" of {before.name}, pressed towards '
        f"{end_words(before, now.edge, now.pressed)}: its cap stands ",
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
