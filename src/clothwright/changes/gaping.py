"""Gaping neckline or armhole: pinched out there, and the dart that points to the bust grows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.alike import edges_alike
from clothwright.changes.change import Change, Outcome
from clothwright.changes.closed_across import (
    across_from,
    bust_for,
    closed_across,
    fair_at,
    just_by,
    lies_beyond,
    ran_fair,
)
from clothwright.changes.darts import find_place, free_name, with_dart
from clothwright.changes.intake import check_cut, in_order
from clothwright.changes.legs import evened
from clothwright.changes.partners import partners
from clothwright.changes.pivot_dart import Mouth, mouth_at, with_mouth
from clothwright.changes.rejoin import rejoined
from clothwright.changes.slash import Opening, cut_in_two, part_that_stays
from clothwright.changes.upper import is_facing
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.transform import IDENTITY, rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.pattern.companions import EdgeKey
from clothwright.pattern.ends import end_words
from clothwright.pattern.measure import dart_angle_deg, dart_intake, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Piece
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, show_angle_deg

MOST_MM = 15.0
"""mm a side: beyond it the cut or the size is wrong (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gaping:
    """Parameters of `gaping`; lengths in mm."""

    at: str = param(
        "place",
        "the place where it stands off; an edge means where it faces the bust point",
        label="Where it gapes",
    )
    by: float = param("length", "what is pinched out on this side", least=0.0, label="By how much")
    into: str = param(
        "place",
        "the dart's edge, or a place where a new dart opens",
        label="Where the dart is",
    )
    point: str = param(
        "point",
        "the fullest place; left out: the mark or the dart that is called bust",
        default="",
        label="The bust point",
    )


def apply(pattern: Pattern, params: Gaping) -> Outcome:
    """Close a wedge from an edge to the bust point and open as much at another edge.

    The edge is sewn shorter by `by` mm; every other keeps its length, darts folded out. A dart that
    points to the bust grows, else a new one opens. Raises CannotDo, BadInput. Source: plane
    geometry (docs/changes/gaping.md).
    """
    piece = pattern.piece(params.at.partition(".")[0].strip())
    edge, at = find_place(pattern, piece, params.at, None)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {edge.name} of {piece.name} as long.",))
    bust = bust_for(pattern, piece, params.point)
    if edge.name == params.at.partition(".")[2].strip():
        at = _facing(edge, bust)
    target, to = find_place(pattern, piece, params.into, None)
    if target.name == edge.name:
        raise BadInput(
            what=f'the dart is to open in "{edge.name}", where it gapes',
            expected="another edge of the piece, such as its side",
        )
    place = _Place(edge, at, bust, target, to)
    if lies_beyond(piece, bust):
        return _across(pattern, piece, place, params.by)
    after, dart, turn = _moved(piece, place, params.by)
    changed = pattern.with_piece(after)
    lot: Sentence = ()
    if params.by > MOST_MM:
        lot = (" More than ", MOST_MM, " a side is rather a matter of size, or of the cut.")
    said: Sentence = (
        "Pinched ",
        params.by,
        f" out of {edge.name} of {piece.name}, ",
        at,
        f" from {end_words(piece, edge.name, 'start')}, to nothing at the bust point. The "
        f'{show_angle_deg(turn)} go to dart "{dart}" in {target.name}, which is ',
        dart_intake(after, after.dart(dart)),
        " wide now.",
    )
    return Outcome(pattern=changed, said=(*said, *partners(pattern, changed), *lot))


class _Place(NamedTuple):
    """Where a piece gapes, its bust point, and where the dart is: edges, and mm along them."""

    edge: Edge
    at: float
    bust: Vec
    target: Edge
    to: float


def _moved(piece: Piece, place: _Place, by: float) -> tuple[Piece, str, float]:
    """Close the wedge and open it at another edge; also the dart's name and the turn, degrees.

    The line runs fair where it is closed, and is sewn just `by` mm shorter.
    """
    edge, at, long = place.edge.name, place.at, net_length(piece, place.edge.name)
    fair = ran_fair(piece, Opening(edge, at - by / 2, at + by / 2))
    return just_by(
        by,
        lambda wide: _once(piece, place, wide, fair=fair),
        lambda found: long - net_length(found[0], edge),
    )


def _once(piece: Piece, place: _Place, wide: float, *, fair: bool) -> tuple[Piece, str, float]:
    pinched, name = _pinched(piece, place.edge, place.at, wide, place.bust)
    pinch = pinched.dart(name)
    mouth = mouth_at(pinched, place.target.name, place.to, place.bust)
    if mouth.dart is None:
        _check(pinched, pinch, place.target, place.to, wide)
    after, dart, closed = _given(pinched, pinch, mouth)
    after = in_order(fair_at(after, closed) if fair else after, piece)
    return after, dart, dart_angle_deg(pinched, pinch)


def _across(pattern: Pattern, piece: Piece, place: _Place, by: float) -> Outcome:
    """Close the wedge wholly across a facing, which the bust point lies beyond. BadInput."""
    edge, at, bust, target, _ = place
    other, _ = across_from(piece, edge, at, bust)
    if target.name != other.name:
        raise BadInput(
            what=f'"{piece.name}" has no bust point, and is closed across to its {other.name}',
            expected=f"{other.name}, not {target.name}, as where the dart would be",
        )
    after = closed_across(piece, edge, at, by, bust)
    changed = pattern.with_piece(after)
    said: Sentence = (
        "Closed ",
        by,
        f" of {edge.name} of {piece.name}, ",
        at,
        f" from {end_words(piece, edge.name, 'start')}, across to {other.name}, which is ",
        net_length(piece, other.name) - net_length(after, other.name),
        " shorter.",
    )
    return Outcome(pattern=changed, said=(*said, *partners(pattern, changed)))


def alike(pattern: Pattern, params: Gaping) -> tuple[Gaping, ...]:
    """Return the same for the facings of the edge, and for the lining that is sewn to one of them.

    A facing is closed across; what its inner edge loses is pinched out of the lining there, whose
    dart takes it.
    """
    piece = pattern.piece(params.at.partition(".")[0].strip())
    edge, _ = find_place(pattern, piece, params.at, None)
    target, _ = find_place(pattern, piece, params.into, None)
    found: list[Gaping] = []
    along_it = edges_alike(pattern, piece.name, edge.name)
    for own in (k for k in along_it if is_facing(pattern, pattern.piece(k[0]))):
        facing, bust = pattern.piece(own[0]), bust_for(pattern, pattern.piece(own[0]), params.point)
        along = facing.edge(own[1])
        other, _ = across_from(facing, along, _facing(along, bust), bust)
        asked = replace(params, at=".".join(own), into=f"{facing.name}.{other.name}")
        after = apply(pattern, asked).pattern.piece(facing.name)
        lost = net_length(facing, other.name) - net_length(after, other.name)
        found.append(asked)
        found += _of_lining(
            pattern, params, (piece.name, target.name), (facing.name, other.name), lost
        )
    return tuple(found)


def _of_lining(
    pattern: Pattern, params: Gaping, dart: EdgeKey, inner: EdgeKey, lost: float
) -> Iterator[Gaping]:
    """Yield what is asked of a lining sewn to a facing's inner edge, with the dart's edge, too."""
    into = dict(edges_alike(pattern, *dart))
    for seam in pattern.seams_of(*inner):
        for ref in (r for r in seam.refs if r.piece != inner[0] and r.piece in into):
            at, to = f"{ref.piece}.{ref.edge}", f"{ref.piece}.{into[ref.piece]}"
            yield replace(params, at=at, by=lost, into=to, point="")


def _facing(edge: Edge, bust: Vec) -> float:
    """Return the place of an edge, clear of its ends, that runs most squarely to the bust point."""
    path, long = edge.path, edge.length
    ats = [long * k / 100 for k in range(15, 86)]
    return min(
        ats, key=lambda at: round(abs(path.tangent_at(at).dot((path.point_at(at) - bust).unit)), 9)
    )


def _pinched(piece: Piece, edge: Edge, at: float, by: float, bust: Vec) -> tuple[Piece, str]:
    """Return the piece with what is pinched out as a dart to the bust point, and its name.

    Its legs are equal; the edge, the pinch folded out, is just `by` mm shorter. Raises CannotDo.
    """
    low, high = at - by / 2, at + by / 2
    if low < 1.0 or high > edge.length - 1.0:
        low, high = (1.0, 1.0 + by) if low < 1.0 else (edge.length - 1.0 - by, edge.length - 1.0)
    if low < 0.0 or high - low > edge.length / 2:
        raise CannotDo(
            what=(f'"{piece.name}" cannot lose ', by, f" of its {edge.name}"),
            why=("that edge is ", edge.length, " long"),
            nearest=("at most ", AtMost(edge.length / 2)),
        )
    name = free_name(tuple(d.name for d in piece.darts), "pinch")
    wide, long = by, net_length(piece, edge.name)
    out = piece
    for _ in range(60):
        a = low + (by - wide) / 2
        dart = Dart(name=name, edge=edge.name, a=a, b=a + wide, point=bust)
        _check(piece, dart, edge, (low + high) / 2, by)
        out = evened(with_dart(piece, dart), name)
        off = by - (long - net_length(out, edge.name))
        if abs(off) < 1e-7:
            return out, name
        wide += off
    raise CannotDo(
        what=(f'"{piece.name}" cannot lose ', by, f" of its {edge.name} there"),
        why="that edge runs too slantingly to the bust point",
        nearest="another place of it, or a smaller amount",
    )


def _check(piece: Piece, pinch: Dart, to: Edge, at: float, by: float) -> None:
    """Refuse a cut from the bust point to a place (mm) that is not to be had. Raises CannotDo."""
    try:
        check_cut(piece, pinch, to, at)
    except CannotDo as error:
        where = "" if to.name == pinch.edge else f" into its {to.name}"
        what = (f'"{piece.name}" cannot lose ', by, f" of its {pinch.edge}{where}")
        raise CannotDo(what=what, why=error.why, nearest=error.nearest) from None


def _given(piece: Piece, pinch: Dart, mouth: Mouth) -> tuple[Piece, str, Opening]:
    """Close the pinch and open the mouth by as much; also the dart that has it, and the place."""
    own = (pinch, mouth.dart)
    slash = cut_in_two(
        replace(piece, darts=tuple(d for d in piece.darts if d not in own)),
        Opening(pinch.edge, pinch.a, pinch.b),
        mouth.opening,
        (mouth.pivot,),
    )
    turn, rests = dart_angle_deg(piece, pinch), part_that_stays(slash)
    move = rotation_deg(turn if rests == 0 else -turn, mouth.pivot)
    found = rejoined(slash, (IDENTITY, move) if rests == 0 else (move, IDENTITY))
    after = with_mouth(found.piece, mouth, found.openings[1], mouth.pivot)
    name = mouth.dart.name if mouth.dart else after.darts[-1].name
    return after, name, found.openings[0]


CHANGE = Change(
    id="gaping",
    title="Gaping neckline or armhole",
    topic="bust, back and shoulder",
    why="Where a neckline or an armhole stands off, what is too long there is pinched out towards "
    "the bust, and a dart takes the fullness.",
    source="plane geometry (docs/changes/gaping.md)",
    params=Gaping,
    apply=apply,
    alike=alike,
)
