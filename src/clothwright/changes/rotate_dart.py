"""Rotate a dart: close it, wholly or in part, and open as much at another place of the outline.

The piece is cut from what the dart turns about (the bust point that it points to, else its own
point) to the new place, and the part between turns about that.
All lengths in mm, angles in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import find_dart, find_place, free_name
from clothwright.changes.intake import Moved, check_clear, move_intake
from clothwright.changes.pivot import drawn_to, pivot_of, set_back
from clothwright.errors import BadInput
from clothwright.pattern.ends import end_words
from clothwright.pattern.measure import dart_angle_deg, dart_intake
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece
from clothwright.units.params import param
from clothwright.words import Sentence, show_angle_deg, show_fraction

AT_MM = 0.5
"""mm: a dart's point nearer than this to the bust point lies on it."""


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
    name = dart.name
    if not whole:
        name = free_name(tuple(d.name for d in piece.darts), params.name or name)
    pivot = pivot_of(piece, dart)
    short = pivot.distance(dart.point)
    drawn = piece if short < AT_MM else drawn_to(piece, dart, pivot)
    edge = drawn.edge(edge.name)
    moved = move_intake(
        drawn,
        drawn.dart(dart.name),
        edge=edge,
        at=edge.path.nearest(piece.edge(edge.name).path.point_at(at))[0],
        share=params.share,
        name=name,
        pressed=params.pressed,
    )
    return _told(pattern, piece, dart, moved, short)


def _told(pattern: Pattern, piece: Piece, dart: Dart, moved: Moved, short: float) -> Outcome:
    """Set the darts back as far as the dart was before its pivot, and say what became of it."""
    opened, after = moved.opened, moved.piece
    angles = show_angle_deg(dart_angle_deg(after, opened))
    left = () if opened.name == dart.name else (dart.name,)
    rests = [show_angle_deg(dart_angle_deg(after, after.dart(n))) for n in left]
    for name in (opened.name, *left) if short >= AT_MM else ():
        after = set_back(after, name, short)
    check_clear(after, opened.name)
    opened, before = after.dart(opened.name), dart_intake(piece, dart)
    at = opened.a
    wide = dart_intake(after, opened)
    stops: Sentence = ("; it stops ", short, " before the bust point") if short >= AT_MM else ()
    way = f'of dart "{dart.name}" of {piece.name} from {dart.edge} to {opened.edge}, '
    start = end_words(after, opened.edge, "start")
    if not left:
        said: Sentence = (
            f"Moved {way.removeprefix('of ')}", at, f" from {start}. Its angle stays {angles}; "
            "its width was ", before, " and is now ", wide, *stops, ".",
        )  # fmt: skip
    else:
        said = (
            f"Moved {angles} {way}", at, f' from {start}, as dart "{opened.name}", ', wide,
            f" wide. {rests[0]} stay where they were, ", dart_intake(after, after.dart(dart.name)),
            " wide (it was ", before, ")", *stops, ".",
        )  # fmt: skip
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
