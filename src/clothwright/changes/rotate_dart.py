"""Rotate a dart: close it, wholly or in part, and open as much at another place of the outline.

The piece is cut from the dart's point to the new place and the part between turns about the point.
All lengths in mm, angles in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import find_dart, find_place, free_name
from clothwright.changes.intake import check_clear, move_intake
from clothwright.errors import BadInput
from clothwright.pattern.measure import dart_angle_deg, dart_intake
from clothwright.pattern.pattern import Pattern
from clothwright.units.params import param
from clothwright.words import show_angle_deg, show_fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class RotateDart:
    """What to move, where to, how much of it.

    share: part of the dart's angle, 0 to 1 (1 closes the old dart). Widths follow from the angle
    and the length of the legs, so they do not add up; angles do.
    """

    dart: str = param("dart", "the dart that moves, whole or in part", label="Which dart")
    to: str = param("place", "where it goes: an edge, or a point on one", label="Where it goes")
    at: float | None = param(
        "length",
        "how far from that edge's start; left out: its middle",
        default=None,
        label="How far from the start of that edge",
    )
    share: float = param(
        "share",
        "how much of the dart's angle moves: 100 % is all",
        default=1.0,
        label="How much of it moves",
    )
    name: str = param(
        "text",
        "a name for the new dart when only a part moves",
        default="",
        label="Name of the new dart",
    )
    pressed: str = param(
        "choice",
        "",
        default="",
        choices={
            "": "down, or to the centre",
            "start": "the start of the edge",
            "end": "the end of the edge",
        },
        label="Pressed towards",
    )


def apply(pattern: Pattern, params: RotateDart) -> Outcome:
    """Move a dart's intake to another place; the fit stays.

    Raises BadInput for names that are not there, CannotDo where the cut is impossible.
    """
    piece, dart = find_dart(pattern, params.dart)
    edge, at = find_place(pattern, piece, params.to, params.at)
    if not 0.0 <= params.share <= 1.0:
        raise BadInput(
            what=f"{show_fraction(params.share)} of a dart cannot be moved",
            expected="a share from 0 to 100 %",
        )
    if params.share == 0.0:
        return Outcome(pattern=pattern, said=(f'Dart "{dart.name}" of {piece.name} stays.',))
    whole = params.share == 1.0
    taken = tuple(d.name for d in piece.darts)
    name = dart.name if whole else free_name(taken, params.name or dart.name)
    moved = move_intake(
        piece, dart, edge=edge, at=at, share=params.share, name=name, pressed=params.pressed
    )
    after = moved.piece
    check_clear(after, name)
    angle = show_angle_deg(dart_angle_deg(after, moved.opened))
    before = dart_intake(piece, dart)
    lead = (
        f'Moved dart "{dart.name}" of {piece.name} from {dart.edge} to {edge.name}, ',
        at,
        f" from its start. Its angle stays {angle}; its width was ",
        before,
        " and is now ",
        dart_intake(after, moved.opened),
    )
    if whole:
        return Outcome(pattern=pattern.with_piece(after), said=(*lead, "."))
    rest = after.dart(dart.name)
    left = show_angle_deg(dart_angle_deg(after, rest))
    said = (
        f'Moved {angle} of dart "{dart.name}" of {piece.name} from {dart.edge} to {edge.name}, ',
        at,
        f' from its start, as dart "{name}", ',
        dart_intake(after, moved.opened),
        f" wide. {left} stay where they were, ",
        dart_intake(after, rest),
        " wide (it was ",
        before,
        ").",
    )
    return Outcome(pattern=pattern.with_piece(after), said=said)


CHANGE = Change(
    id="rotate-dart",
    title="Move a dart to another edge, wholly or in part",
    topic="darts",
    why="The fit comes from the dart's angle and point, not from the edge it leaves by. Move it "
    "where a seam, a print or the style hides it best, or share it between two places.",
    source="angle, not width: encyclopaedia article on darts; order of slashing: agricultural "
    "university course; amounts: plane geometry (docs/changes/rotate-dart.md)",
    params=RotateDart,
    apply=apply,
)
