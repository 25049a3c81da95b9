"""Add a dart: take a wedge out of an edge."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import (
    find_place,
    free_name,
    inside_of,
    own_point,
    pressed_by_custom,
    with_dart,
    with_true_cap,
)
from clothwright.changes.fit_dart import fitted
from clothwright.changes.intake import check_clear, check_cut
from clothwright.changes.legs import evened
from clothwright.changes.match_edge import needed, ref_in
from clothwright.changes.partners import partners
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.vec import Vec
from clothwright.pattern.bends import bend_at_dart
from clothwright.pattern.ends import end_words
from clothwright.pattern.measure import dart_intake
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Piece
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, begun, seam_name, show_angle_deg

BENT_DEG = 5.0
"""Degrees: an edge that turns by less at a sewn dart is fair (half of what the walk tells)."""

LEAST_MM = 1.0
"""mm: a dart that takes less out is none."""

AWAY_MM = 1.0
"""mm: a dart points to no point that is nearer to where it opens."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AddDart:
    """Parameters of `add-dart`; lengths in mm."""

    edge: str = param("edge", "the edge it opens in", label="In which edge")
    width: float | None = param(
        "length",
        "how much is taken out of the edge; left out: as much as a seam takes",
        default=None,
        least=LEAST_MM,
        label="How wide at the edge",
    )
    seam: str = param(
        "seam",
        "without a width: the dart is as wide as makes both sides of this seam agree",
        default="",
        label="Or to agree in which seam",
    )
    length: float = param(
        "length", "from the edge to where it runs out", least=10.0, label="How long"
    )
    at: float | None = param(
        "length",
        "how far from that edge's start its middle lies; left out: the middle of the edge",
        default=None,
        label="How far from the start of that edge",
    )
    toward: str = param(
        "point",
        "a point of the piece, such as the bust point; left out: square to the edge",
        default="",
        label="Pointing to",
    )
    name: str = param("text", "a name for it", default="", label="Name of the dart")


def apply(pattern: Pattern, params: AddDart) -> Outcome:
    """Take a dart out of an edge: the edge is sewn shorter by its width, nothing else changes.

    With a seam instead of a width it takes as much as makes both sides of that seam equally long.

    Legs are equal and the cap is folded and cut for the way it is pressed by custom. Raises
    CannotDo where it leaves the piece, meets another dart or there is no room; BadInput for names.
    """
    ref = parse_edge(params.edge)
    piece = pattern.piece(ref.piece)
    edge, at = find_place(pattern, piece, f"{ref.piece}.{ref.edge}", params.at)
    after, name = _added(piece, edge, at, _width(pattern, edge, params), params)
    if params.width is None:
        seam = pattern.seam(params.seam)
        after = fitted(pattern.with_piece(after), after, after.dart(name), seam)
    dart = after.dart(name)
    said = (
        f'Added dart "{name}" to {edge.name} of {piece.name}, ',
        at,
        f" from {end_words(piece, edge.name, 'start')}: ",
        params.width or dart_intake(after, dart),
        " wide, ",
        params.length,
        f" long. {begun(edge.name)} is sewn shorter by its width.",
        *_bent(after, dart),
    )
    changed = pattern.with_piece(after)
    return Outcome(pattern=changed, said=(*said, *partners(pattern, changed)))


def _width(pattern: Pattern, edge: Edge, params: AddDart) -> float:
    """Return how wide a dart is drawn: as is said, or by what its edge is too long in a seam, mm.

    Raises BadInput where neither is said, CannotDo where the edge is not too long.
    """
    if params.width is not None:
        return params.width
    if not params.seam:
        raise BadInput(what="nothing says how wide the dart is", expected="a width, or a seam")
    seam = pattern.seam(params.seam)
    ref = ref_in(pattern, seam, parse_edge(params.edge))
    longer = -needed(pattern, seam, ref)
    if longer < LEAST_MM:
        raise CannotDo(
            what=f"a dart in {edge.name} of {ref.piece} cannot make {seam_name(seam.name)} agree",
            why=f"{edge.name} is not too long there",
            nearest="a width of its own, or the seam left as it is",
        )
    return longer


def _added(piece: Piece, edge: Edge, at: float, width: float, params: AddDart) -> tuple[Piece, str]:
    """Return a piece with a dart cut true, `width` mm wide, and its name. Raises CannotDo."""
    low, high = at - width / 2, at + width / 2
    _check_room(piece, edge, low, high)
    mouth = edge.path.point_at(low).lerp(edge.path.point_at(high), 0.5)
    square = edge.path.tangent_at(at).perp
    way = _way(piece, mouth, params.toward) if params.toward else square
    room = inside_of(piece, mouth, way)
    if params.length > room - 5.0:
        raise CannotDo(
            what=(f'a dart in {edge.name} of "{piece.name}" cannot be ', params.length, " long"),
            why="its point would leave the piece",
            nearest=("a dart ", AtMost(max(0.0, room - 5.0)), " long"),
        )
    name = free_name(tuple(d.name for d in piece.darts), params.name.strip() or edge.name)
    dart = Dart(name=name, edge=edge.name, a=low, b=high, point=mouth + way * params.length)
    check_cut(piece, dart, edge, at)
    after = evened(with_dart(piece, dart), name)
    dart = after.dart(name)
    path = after.edge(edge.name).path
    pressed = pressed_by_custom(after, path, dart.a, dart.b, dart.point)
    after = with_true_cap(with_dart(after, replace(dart, pressed=pressed)), name)
    check_clear(after, name)
    return after, name


def _bent(piece: Piece, dart: Dart) -> Sentence:
    """Say where an edge turns at its dart once that is sewn: there it has to be drawn fair."""
    bend = bend_at_dart(piece, dart)
    if bend is None or abs(bend.deg) < BENT_DEG:
        return ()
    turn = show_angle_deg(abs(bend.deg))
    return (
        f" With the dart sewn, {dart.edge} turns by {turn} there: smooth the line next, over the "
        "closed dart.",
    )


def _check_room(piece: Piece, edge: Edge, low: float, high: float) -> None:
    """Refuse a mouth that runs off its edge or into another dart's. Raises CannotDo."""
    what = (f'a dart in {edge.name} of "{piece.name}" cannot be ', high - low, " wide there")
    room = 2 * min((low + high) / 2, edge.length - (low + high) / 2) - 10.0
    if low < 5.0 or high > edge.length - 5.0:
        raise CannotDo(
            what=what,
            why=f"{edge.name} ends beside it",
            nearest=("a dart ", AtMost(max(0.0, room)), " wide, or another place"),
        )
    for other in piece.darts_on(edge.name):
        if low < other.b and other.a < high:
            raise CannotDo(
                what=what,
                why=f'dart "{other.name}" opens there',
                nearest=f'a place beside dart "{other.name}"',
            )


def _way(piece: Piece, mouth: Vec, toward: str) -> Vec:
    """Return the direction from a mouth to a point; CannotDo where the two are one."""
    point = own_point(piece, toward)
    way = piece.point(point) - mouth
    if way.norm < AWAY_MM:
        raise CannotDo(
            what=f'a dart of "{piece.name}" cannot point to {point}',
            why="that is where it opens",
            nearest="a point inside the piece, or none, so that it stands square to its edge",
        )
    return way.unit


CHANGE = Change(
    id="add-dart",
    title="Add a dart",
    topic="darts",
    why="Where a toile stands off at the waist, the neck or the shoulder blade, the cloth that is "
    "too much is pinched out and sewn into a dart.",
    source="plane geometry; pressing by common practice (docs/sources.md: darts)",
    params=AddDart,
    apply=apply,
)
