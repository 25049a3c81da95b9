"""Cut a piece straight through and spread it, or fold it out, its edges redrawn over the cut.

What lengthening, widening and matching a level share. Lengths in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from clothwright.changes.darts import with_true_cap
from clothwright.changes.legs import evened
from clothwright.changes.over_cut import CutPlace, LevelCut, crossings, redrawn_edge
from clothwright.changes.redraw import redrawn, refuse_crossing
from clothwright.errors import CannotDo
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_corners, dart_legs
from clothwright.pattern.piece import Dart, Edge, Grain, Mark, Piece
from clothwright.pattern.places import held_by
from clothwright.pattern.whole import moved_mark
from clothwright.words import AtLeast, AtMost

DART_MM = 40.0
"""mm of length that a dart keeps that a cut runs through; our own figure."""

LEFT_MM = 1.0
"""mm along the grain that must be left of every run that is shortened."""


def lengthened(piece: Piece, at: Vec, by: float, *, curves: str = "smooth") -> Piece:
    """Return a piece cut through `at` square to the grain and spread by `by` mm (minus: closed).

    The same object when `by` is 0. Raises CannotDo.
    """
    return spread(piece, LevelCut(piece=piece.name, p=at, up=piece.up, by=by, curves=curves))


def spread(piece: Piece, cut: LevelCut) -> Piece:
    """Return a piece spread at a cut, or folded out there. Raises CannotDo."""
    if cut.by == 0.0:
        return piece
    _check_sides(piece, cut)
    _check_darts(piece, cut)
    places = {e.name: crossings(piece, e, cut) for e in piece.edges}
    if cut.by < 0.0:
        _check_room(piece, places, cut)
    new = {e.name: redrawn_edge(e, places[e.name], cut) for e in piece.edges}
    darts = tuple(
        replace(d, point=cut.move.apply(d.point)) if _point_below(piece, d, cut) else d
        for d in piece.darts
    )
    grain = piece.grain and Grain(
        start=cut.moved(piece.grain.start), end=cut.moved(piece.grain.end)
    )
    out = redrawn(
        replace(piece, darts=darts),
        {name: r for name, r in new.items() if r.path is not piece.edge(name).path},
        grain=grain,
        levels=tuple(replace(lv, at=cut.moved(lv.at)) for lv in piece.levels),
        marks=tuple(_moved_mark(piece, m, cut) for m in piece.marks),
    ).piece
    out = _trued(out, piece)
    refuse_crossing(out, cut.what)
    return out


def times_crossed(piece: Piece, edge: Edge, at: Vec) -> int:
    """Return how often an edge crosses the cut through `at`: at each it gains what is spread."""
    cut = LevelCut(piece=piece.name, p=at, up=piece.up, by=0.0, curves="smooth")
    return len(crossings(piece, edge, cut))


def _check_sides(piece: Piece, cut: LevelCut) -> None:
    heights = [cut.height(q) for e in piece.edges for q in e.path.flatten(1.0)]
    low, high = min(heights), max(heights)
    if low < -JOIN_MM and high > JOIN_MM:
        return
    lower = low >= -JOIN_MM
    side, other = (cut.said.below, low) if lower else (cut.said.above, high)
    raise CannotDo(
        what=cut.what,
        why=f"nothing of the piece lies {side} the cut",
        nearest=(
            "a cut at least ",
            AtLeast(abs(other) + 1),
            f" {cut.said.higher if lower else cut.said.lower}",
        ),
    )


def _check_darts(piece: Piece, cut: LevelCut) -> None:
    """Refuse a cut through a dart, but for one that runs up or down through it and stays long."""
    for dart in piece.darts:
        heights = [cut.height(q) for q in dart_corners(piece, dart)]
        low, high = min(heights), max(heights)
        if low < -JOIN_MM and high > JOIN_MM and not _runs_through(piece, dart, cut):
            raise CannotDo(
                what=cut.what,
                why=f'the cut would run through the dart "{dart.name}"',
                nearest=(
                    "a cut ",
                    AtLeast(high),
                    f" {cut.said.higher} or ",
                    AtLeast(-low),
                    f" {cut.said.lower}, clear of the dart",
                ),
            )


def _runs_through(piece: Piece, dart: Dart, cut: LevelCut) -> bool:
    """Tell whether a dart's mouth lies on one side of a cut, its point on the other, well apart."""
    a, b, point = (cut.height(q) for q in dart_corners(piece, dart))
    near = min(abs(a), abs(b))
    apart = a * point < 0.0 and b * point < 0.0
    return apart and near + abs(point) + min(cut.by, 0.0) >= DART_MM


def _point_below(piece: Piece, dart: Dart, cut: LevelCut) -> bool:
    """Tell whether a dart's point goes along: with all of it, but for one the cut runs through."""
    through = _runs_through(piece, dart, cut)
    return any(cut.is_below(q) for q in dart_corners(piece, dart)[2 if through else 0 :])


def _trued(piece: Piece, old: Piece) -> Piece:
    """Return a piece whose darts that became longer or shorter have legs of one length, a true cap.

    old: the piece as it was, each dart's legs as long as they were.
    """
    for dart in old.darts:
        was, now = (dart_legs(p, p.dart(dart.name)) for p in (old, piece))
        if max(abs(x - y) for x, y in zip(was, now, strict=True)) > JOIN_MM:
            piece = with_true_cap(evened(piece, dart.name), dart.name)
    return piece


def darts_told(old: Piece, new: Piece) -> Iterator[str | float]:
    """Yield in words which darts a cut made longer or shorter."""
    for dart in old.darts:
        was, now = (dart_legs(p, p.dart(dart.name))[0] for p in (old, new))
        if abs(was - now) > JOIN_MM:
            yield f' Dart "{dart.name}" of {old.name} is '
            yield abs(now - was)
            yield f" {'longer' if now > was else 'shorter'}: the cut runs through it."


def _check_room(piece: Piece, places: Mapping[str, tuple[CutPlace, ...]], cut: LevelCut) -> None:
    """Refuse to take out more than the shortest of the runs that are redrawn holds."""
    rooms = [(math.inf, "")]
    for edge in piece.edges:
        for crossing in places[edge.name]:
            heights = [cut.height(edge.path.point_at(x)) for x in crossing.run]
            rooms.append((abs(heights[0] - heights[1]), edge.name))
    room, name = min(rooms)
    if -cut.by > room - LEFT_MM + JOIN_MM:
        raise CannotDo(
            what=cut.what,
            why=(f'edge "{name}" runs only ', room, f" {cut.said.way} the grain there"),
            nearest=(
                f"to {cut.said.shrink} by ",
                AtMost(max(0.0, room - LEFT_MM)),
                ", or to share it between two places",
            ),
        )


def _moved_mark(piece: Piece, mark: Mark, cut: LevelCut) -> Mark:
    """Move a mark that lies below; stretch a line mark that crosses the cut along the grain.

    Where something is sewn on moves whole, with the half that holds its middle.
    """
    held = held_by(piece, mark)
    if held is not None:
        return moved_mark(mark, cut.move) if cut.is_below(held) else mark
    at = None if mark.at is None else cut.moved(mark.at)
    if mark.path is None:
        return replace(mark, at=at)
    heights = [cut.height(q) for s in mark.path.segments for q in s.controls()]
    low, high = min(heights), max(heights)
    if low >= -JOIN_MM:
        return replace(mark, at=at)
    if high <= JOIN_MM:
        return replace(mark, at=at, path=mark.path.transformed(cut.move))
    return replace(mark, at=at, path=mark.path.transformed(_stretch(cut, low, high)))


def _stretch(cut: LevelCut, low: float, high: float) -> Transform:
    """Scale along the grain so that height `high` stays and `low` moves with what lies below."""
    factor = max(0.05, (high - low + cut.by) / (high - low))
    (ux, uy), k = cut.up, factor - 1.0
    top = cut.p + cut.up * high
    along = ux * top.x + uy * top.y
    return Transform(
        1 + k * ux * ux, k * ux * uy, k * ux * uy, 1 + k * uy * uy, -k * along * ux, -k * along * uy
    )
