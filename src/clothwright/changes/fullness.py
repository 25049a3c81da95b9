"""Let a dart's width be fullness: its seam is eased, gathered or laid in a fold between notches.

Lengths in mm of stitching line along a seam's run, darts folded out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import count

from clothwright.changes.darts import with_path_between
from clothwright.changes.redraw import Redrawn, as_long, redrawn
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.pattern.level_spots import with_levels_kept
from clothwright.pattern.measure import (
    dart_mouth,
    gross_at,
    net_at,
    net_length,
    place_on,
    runs_at,
    side,
)
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Dart, Notch, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import ease_bounds
from clothwright.pattern.ways_round import swapped
from clothwright.words import AtMost

FAIR_MM = 40.0
"""mm to each side of a dart that is not sewn over which its edge is drawn anew (a curved ruler)."""
SHORT_MM = 4.0
"""mm: a curve that loses more than this of a corner is not drawn by itself."""
FULLEST = 0.85
"""Handles of that curve, as a share of its chord: it is to be no shorter than the corner was."""
WAYS = {"eased": "ease", "gathered": "gathers", "pleated": "a pleat"}
"""What fullness is called by the way its seam is sewn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fullness:
    """How a dart's width is sewn in. join: as in `Seam`; reach: mm to each side of the dart.

    stem: what the two notches are called that bound it, with a number.
    """

    stem: str
    reach: float
    join: str = "eased"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sewn:
    """The seam that a darted edge is in; its own run of edges, and the run of the other side."""

    seam: Seam
    mine: tuple[EdgeRef, ...]
    others: tuple[EdgeRef, ...]
    mine_is_b: bool


def eased_in(
    pattern: Pattern, piece: Piece, dart: Dart, fullness: Fullness
) -> tuple[Pattern, float]:
    """Drop a dart's legs and have its seam take up its width between two new notches a side.

    Returns the width, too. In a seam that has fullness between notches already, it then lies
    between the outermost; in one that goes along the edge twice (half a waist to a whole band), it
    is twice as much, from end to end. Raises CannotDo when the edge is in no seam that leaves it to
    itself, or the notches would run off the seam.
    """
    sewn = _sewn(pattern, piece, dart, fullness)
    places = tuple(runs_at(pattern, sewn.mine, piece.name, dart.edge, dart.a))
    for where, _ in places:
        _check_room(pattern, sewn, (piece, dart, where), fullness)
    names = tuple(_names(pattern, sewn, fullness.stem))
    reach = 0.0 if fullness.join == "pleated" else FAIR_MM
    bare = without_dart(piece, dart, reach)
    width = round(net_length(bare, dart.edge) - net_length(piece, dart.edge), 6)
    if fullness.join != "pleated" and len(places) == 1:
        bare = _shared_out(piece, bare, dart, fullness.reach, width)
    bare = with_levels_kept(
        piece, bare, lambda at: bare.outline.point_at(bare.outline.nearest(at)[0])
    )
    after = pattern.with_piece(bare)
    low, high = places[0][0] - fullness.reach, places[0][0] + fullness.reach
    for at, name in zip((low, high + width), names, strict=True):
        after = _notched(after, sewn.mine, at, name)
    for where, ref in places:
        order = names if ref.reversed is places[0][1].reversed else names[::-1]
        for at, name in zip((where - fullness.reach, where + fullness.reach), order, strict=True):
            after = _notched(after, sewn.others, _met_at(pattern, sewn, at), name)
    bounds = names if len(places) == 1 else ("", "")
    seam = _eased(after, sewn, width * len(places), bounds, fullness.join)
    return after.with_seam(seam), width


def without_dart(piece: Piece, dart: Dart, reach: float = FAIR_MM) -> Piece:
    """Return the piece with a dart not sewn, its edge in one curve from `reach` mm before to after.

    The curve is as long as the edge with a straight cap was, or so little shorter as a fair curve
    has to be. Where none is fair, and with a reach of 0, the cap runs straight across.
    """
    straight = polyline(dart_mouth(piece, dart))
    bare = with_path_between(piece, dart.edge, dart.a, dart.b, straight)
    bare = replace(bare, darts=tuple(d for d in bare.darts if d.name != dart.name))
    edge, end = bare.edge(dart.edge), dart.a + straight.length
    others = bare.darts_on(dart.edge)
    low = max(1.0, dart.a - reach, *(d.b for d in others if d.b <= dart.a + JOIN_MM))
    high = min(edge.length - 1.0, end + reach, *(d.a for d in others if d.a >= end - JOIN_MM))
    if min(dart.a - low, high - end) < reach / 2 or not reach:
        return bare
    before, after = edge.path.between(0.0, low), edge.path.between(high, edge.length)
    curve = as_long(before, after, high - low, most=FULLEST)
    if abs(curve.length - high + low) > SHORT_MM:
        return bare
    drawn = join_all((before, Path((curve,)), after))
    share = curve.length / (high - low)

    def place(at: float) -> float:
        return at + (share - 1.0) * (min(max(at, low), high) - low)

    return redrawn(bare, {edge.name: Redrawn(drawn, place)}).piece


def _shared_out(piece: Piece, bare: Piece, dart: Dart, reach: float, width: float) -> Piece:
    """Return the bare piece with its notches inside the zone put where the fullness is even.

    Else all of it would lie on one side of a notch beside the dart that is not sewn any more.
    """
    old, new = piece.edge(dart.edge), bare.edge(dart.edge)
    low = net_at(piece, dart.edge, dart.a) - reach

    def place(was: Notch, now: Notch) -> Notch:
        along = net_at(piece, dart.edge, was.at) - low
        if not 0.0 < along < 2 * reach:
            return now
        return replace(now, at=gross_at(bare, new.name, low + along * (1 + width / reach / 2)))

    notches = tuple(place(a, b) for a, b in zip(old.notches, new.notches, strict=True))
    return bare.with_edge(replace(new, notches=notches))


def _sewn(pattern: Pattern, piece: Piece, dart: Dart, fullness: Fullness) -> _Sewn:
    """Return the seam of the darted edge, which is on one side of it."""
    what = f'dart "{dart.name}" of "{piece.name}" cannot become {WAYS[fullness.join]}'
    for seam in pattern.seams_of(piece.name, dart.edge):
        for mine, others in ((seam.a, seam.b), (seam.b, seam.a)):
            here = [r for r in mine if (r.piece, r.edge) == (piece.name, dart.edge)]
            there = [r for r in others if (r.piece, r.edge) == (piece.name, dart.edge)]
            if not here or there:
                continue
            if (seam.ease or seam.eased_max) and seam.join != fullness.join:
                raise CannotDo(
                    what=what,
                    why=f"its seam is {seam.join} already",
                    nearest=WAYS.get(seam.join, "moving the dart to another edge"),
                )
            return _Sewn(seam=seam, mine=mine, others=others, mine_is_b=mine == seam.b)
    raise CannotDo(
        what=what,
        why=f'its edge "{dart.edge}" is not sewn to another edge, or is sewn to itself',
        nearest="a seam to another edge, or moving the dart to another edge",
    )


def _check_room(
    pattern: Pattern, sewn: _Sewn, at: tuple[Piece, Dart, float], fullness: Fullness
) -> None:
    piece, dart, where = at
    length = min(side(pattern, refs).length for refs in (sewn.mine, sewn.others))
    if fullness.reach < where - 1.0 and where + fullness.reach < length - 1.0:
        return
    raise CannotDo(
        what=(
            f'the {WAYS[fullness.join].removeprefix("a ")} of dart "{dart.name}" of '
            f'"{piece.name}" cannot be spread ',
            fullness.reach,
            " to each side",
        ),
        why=("the seam is ", length, " long and the dart lies at ", where, " of it"),
        nearest=("a reach of ", AtMost(max(0.0, min(where, length - where) - 1))),
    )


def _met_at(pattern: Pattern, sewn: _Sewn, at: float) -> float:
    """Return the place on the partner's run that a place on the darted run is sewn to.

    What the seam eases already is shared out evenly between the notches that bound it.
    """
    seam = sewn.seam
    longer = seam.ease if sewn.mine_is_b else -seam.ease
    run = side(pattern, sewn.mine)
    start, end = ease_bounds(seam, run)
    if end - start <= abs(longer):
        return at
    return at - longer * min(1.0, max(0.0, (at - start) / (end - start)))


def _names(pattern: Pattern, sewn: _Sewn, stem: str) -> Iterator[str]:
    """Yield two names for notches that neither side of the seam has yet."""
    taken = {n.name for ref in (*sewn.mine, *sewn.others) for n in pattern.edge(ref).notches}
    free = (name for n in count(1) if (name := f"{stem} {n}") not in taken)
    yield next(free)
    yield next(free)


def _notched(pattern: Pattern, run: tuple[EdgeRef, ...], at: float, name: str) -> Pattern:
    """Put a named notch at a place of a seam's run."""
    ref, drawn = place_on(pattern, run, at)
    piece = pattern.piece(ref.piece)
    edge = piece.edge(ref.edge)
    new = Notch(at=drawn, name=name)
    return pattern.with_piece(piece.with_edge(edge.with_notches((*edge.notches, new))))


def _eased(after: Pattern, sewn: _Sewn, width: float, names: tuple[str, ...], join: str) -> Seam:
    """Return the seam with the darted side as side b, longer by the width between the notches.

    What was meant before is kept, and so is what is accepted at most. It stays within the bounds:
    they are then the outermost of old and new, or the seam's own end where that was meant.
    """
    now = sewn.seam if sewn.mine_is_b else swapped(sewn.seam)
    was_eased = bool(now.ease or now.eased_max)
    most = now.eased_max + width if now.eased_max else 0.0
    folds = now.folds + 1 if join == "pleated" else now.folds
    now = replace(now, ease=now.ease + width, eased_max=most, join=join, folds=folds)
    if not was_eased:
        return replace(now, ease_from=names[0], ease_to=names[1])
    run = [station.name for station in side(after, sewn.mine).stations]
    low, high = (now.ease_from, names[0]), (now.ease_to, names[1])
    return replace(
        now,
        ease_from=min(low, key=run.index) if set(low) <= set(run) else "",
        ease_to=max(high, key=run.index) if set(high) <= set(run) else "",
    )
