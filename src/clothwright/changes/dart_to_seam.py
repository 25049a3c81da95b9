"""Turn darts into a seam: a panel seam over the bust point, or a yoke seam."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import find_dart, find_place
from clothwright.changes.in_two import NewSeam, halves, sewn_again
from clothwright.changes.intake import check_way
from clothwright.changes.pivot import bust_at, drawn_to, pivot_of, refuse_own_points
from clothwright.changes.slash import Opening, Slash, cut_in_two
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.level_spots import with_levels_kept
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.trail import trail_to
from clothwright.units.params import param
from clothwright.words import Sentence

SMOOTH_MM = 50.0
"""mm: the seam is drawn in one curve from 5 cm above the bust point to 5 cm below it, where its
notches lie (custom)."""
HOLDS_MM = 25.4
"""mm: a seam that passes within 1 in of the bust point holds the whole dart (textbook)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DartToSeam:
    """Parameters of `dart-to-seam`; lengths in mm."""

    dart: str = param("dart", "the seam starts where this dart opens", label="Which dart")
    other: str = param(
        "dart", "and ends where this one opens, of the same piece", default="", label="Other dart"
    )
    to: str = param(
        "place",
        "or it ends on this edge, or at this point of the outline",
        default="",
        label="Or to which place",
    )
    at: float | None = param(
        "length",
        "how far from that edge's start; left out: its middle",
        default=None,
        label="How far from the start of that edge",
    )
    smooth: float = param(
        "length",
        "how far to each side of the dart's point the seam is drawn in one curve",
        default=SMOOTH_MM,
        least=0.0,
        label="How far the seam is rounded",
    )
    turns: str = param(
        "choice",
        "",
        default="bust",
        choices={
            "bust": "over the bust point, where the darts point to it",
            "own": "over the dart's point as drawn",
        },
        label="Where the seam runs",
    )
    allowance: float = param(
        "length", "on both sides of it", default=15.875, least=0.0, label="Allowance of the seam"
    )
    names: str = param(
        "text",
        '"INNER, OUTER" or "UPPER, LOWER"',
        default="",
        label="Names of the two parts",
    )


def apply(pattern: Pattern, params: DartToSeam) -> Outcome:
    """Cut a piece in two from a dart's mouth over its point to another dart, or to an edge.

    What the darts held is held by the shape of both parts. Each side of the seam is as long as the
    legs it comes from; rounding the corner makes them differ a little, which is eased between the
    notches. The darts are gone, the parts are sewn together again. Raises CannotDo where the darts
    shape places of their own or the cut leaves the piece; BadInput for names.
    Source: docs/sources.md, darts.
    """
    if bool(params.other) == bool(params.to):
        raise BadInput(
            what="the seam has no other end, or two of them",
            expected="another dart, or a place where it ends",
        )
    piece, dart = find_dart(pattern, params.dart)
    slash = _between(pattern, params) if params.other else _to_place(pattern, params)
    notches = (f"{dart.name} 1", f"{dart.name} 2")
    seam = NewSeam(allowance=params.allowance, smooth=params.smooth, notches=notches)
    inner, outer = halves(pattern, slash, params.names, seam)
    parts = (with_levels_kept(piece, inner), with_levels_kept(piece, outer))
    long = [part.edges[-1].length for part in parts]
    eased: Sentence = ()
    if abs(long[0] - long[1]) >= 0.5:
        longer = parts[0] if long[0] > long[1] else parts[1]
        eased = (f"; {longer.name} is eased by ", abs(long[0] - long[1]), " between the notches")
    said = (
        f'Turned dart "{dart.name}" of {piece.name} into a seam ',
        min(long),
        f" long between {parts[0].name} and {parts[1].name}",
        *eased,
        ".",
        *_too_far(parts, piece),
    )
    changed = sewn_again(pattern, piece, *parts)
    return Outcome(pattern=changed, said=said, trail=trail_to(piece, parts))


def _between(pattern: Pattern, params: DartToSeam) -> Slash:
    """Return the cut from one dart over the point that both turn about to another."""
    piece, dart = find_dart(pattern, params.dart)
    owner, other = find_dart(pattern, params.other)
    if owner.name != piece.name or other.name == dart.name:
        raise BadInput(
            what="two darts of one piece are wanted", expected=f'another dart of "{piece.name}"'
        )
    if other.edge == dart.edge:
        raise CannotDo(
            what=f'"{piece.name}" cannot be cut there',
            why=f'both darts open in its edge "{dart.edge}"',
            nearest="moving one of them to another edge first",
        )
    pivot = pivot_of(piece, dart) if params.turns == "bust" else dart.point
    refuse_own_points(piece, dart, other)
    for name in (dart.name, other.name):
        piece = drawn_to(piece, piece.dart(name), pivot)
    dart, other = piece.dart(dart.name), piece.dart(other.name)
    openings = [Opening(d.edge, d.a, d.b) for d in (dart, other)]
    return cut_in_two(piece, openings[0], openings[1], (pivot,))


def _to_place(pattern: Pattern, params: DartToSeam) -> Slash:
    """Return the cut from a dart over its point to a place on another edge."""
    piece, dart = find_dart(pattern, params.dart)
    edge, at = find_place(pattern, piece, params.to, params.at)
    if edge.name == dart.edge:
        raise CannotDo(
            what=f'"{piece.name}" cannot be cut there',
            why=f'the seam would start and end in its edge "{edge.name}"',
            nearest="a place on another edge",
        )
    pivot = pivot_of(piece, dart) if params.turns == "bust" else dart.point
    piece = drawn_to(piece, dart, pivot)
    dart, edge = piece.dart(dart.name), piece.edge(edge.name)
    what = f'a seam from dart "{dart.name}" of "{piece.name}" cannot end there'
    check_way(piece, dart, edge, at, what)
    first, second = Opening(dart.edge, dart.a, dart.b), Opening(edge.name, at, at)
    return cut_in_two(piece, first, second, (pivot,))


def _too_far(parts: tuple[Piece, Piece], piece: Piece) -> Sentence:
    """Warn where a seam passes too far from the bust point to hold what a bust dart held."""
    bust = bust_at(piece)
    sides = [part.edges[-1].path for part in parts]
    off = 0.0 if bust is None else min(side.nearest(bust)[1] for side in sides)
    if off <= HOLDS_MM:
        return ()
    more = " of it: the bust may not be shaped as the dart shaped it."
    return (" It passes ", off, " from the bust point; a bust seam passes within ", HOLDS_MM, more)


CHANGE = Change(
    id="dart-to-seam",
    title="Turn darts into a seam: a panel or a yoke",
    topic="darts",
    why="Two darts that meet over the bust become a panel seam, one that opens at a yoke line "
    "becomes the yoke seam: the shape is the same, and a print is cut once, not folded twice.",
    source="a seam within 1 in of the bust point holds its darts: textbook on dart control; "
    "notches by custom; lengths: plane geometry (docs/sources.md: darts)",
    params=DartToSeam,
    apply=apply,
)
