"""Put one dart into another: two become one, and their angles add up."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import find_dart
from clothwright.changes.pivot import drawn_to, merged, pivot_of, refuse_own_points, set_back
from clothwright.errors import BadInput
from clothwright.pattern.measure import dart_angle_deg, dart_intake
from clothwright.pattern.pattern import Pattern
from clothwright.units.params import param
from clothwright.words import Sentence, show_angle_deg


@dataclass(frozen=True, slots=True, kw_only=True)
class MergeDarts:
    """The dart that goes, and the one it goes into."""

    dart: str = param("dart", "the dart that is closed", label="Which dart goes")
    into: str = param(
        "dart", "the dart of the same piece that takes it up", label="Into which dart"
    )


def apply(pattern: Pattern, params: MergeDarts) -> Outcome:
    """Close one dart and open another by as much about the point that both turn about.

    That is the bust point, where both point to it; both are drawn on to it first and the one that
    is left stops as far short of it as before. Angles add up, widths do not. Raises CannotDo where
    the darts shape two places, as those of a back do; BadInput for names that are not there.
    Source: docs/sources.md, darts.
    """
    piece, dart = find_dart(pattern, params.dart)
    other, into = find_dart(pattern, params.into)
    if other.name != piece.name or into.name == dart.name:
        raise BadInput(
            what="two darts of one piece are wanted",
            expected=f'another dart of "{piece.name}"',
        )
    refuse_own_points(piece, dart, into)
    pivot = pivot_of(piece, into)
    drawn = drawn_to(drawn_to(piece, dart, pivot), into, pivot)
    angles = [dart_angle_deg(drawn, drawn.dart(d.name)) for d in (dart, into)]
    after = merged(drawn, dart.name, into.name)
    width = dart_intake(after, after.dart(into.name))
    short = pivot.distance(into.point)
    after = set_back(after, into.name, short)
    stops: Sentence = ("; it stops ", short, " before the bust point") if short > 0.5 else ()
    said = (
        f'Put dart "{dart.name}" of {piece.name} into dart "{into.name}": '
        f"{show_angle_deg(angles[0])} and {show_angle_deg(angles[1])} make "
        f"{show_angle_deg(sum(angles))}, and it is ",
        width,
        " wide",
        *stops,
        ".",
    )
    return Outcome(pattern=pattern.with_piece(after), said=said)


CHANGE = Change(
    id="merge-darts",
    title="Put one dart into another",
    topic="darts",
    why="One deep dart shows less than two in a print. The angles add up; the width that comes of "
    "it depends on how long the dart is, so it is never simply both widths together.",
    source="angles add up: plane geometry; back darts are not merged: textbook on dart control "
    "(docs/sources.md: darts)",
    params=MergeDarts,
    apply=apply,
)
