"""Fit a band to its seam: each part from notch to notch as long as what it is sewn to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from clothwright.changes.change import Change, Outcome
from clothwright.changes.partners import partners
from clothwright.changes.redraw import refuse_crossing
from clothwright.changes.stretched import PartsShifted, stretched
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.bands import band_side
from clothwright.pattern.measure import net_length, run_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import run_name, walk_seam
from clothwright.units.params import param
from clothwright.words import Sentence, listed, seam_name

SAME_MM = 1e-3
"""mm: a part that is off by less stays as it is."""

STEEP = 0.5
"""The least that a band's edge may run along the way it is made longer, as a cosine: 60 degrees."""

KEPT = 0.5
"""Share of its first and last part in which a band's end is kept as it is drawn; our own figure."""

ROUNDS = 60
"""Rounds until each part of a curve is as long as it should be; each leaves half at the most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FitBand:
    """Parameters of `fit-band`."""

    seam: str = param("seam", "the seam of a band, a cuff or a collar", label="Along which seam")
    other: str = param(
        "seam",
        "a seam of what is sewn to that band, which follows it: a collar on its stand, an upper "
        "collar",
        default="",
        label="And then along which seam",
    )
    piece: str = param(
        "piece",
        "left out: of two bands the one that goes with the other, such as a collar with its stand",
        default="",
        label="Which band gives",
    )


class _Parts(NamedTuple):
    """Where the marks of an edge lie, mm as its seam runs, and where they should lie."""

    at: tuple[float, ...]
    wanted: tuple[float, ...]


def apply(pattern: Pattern, params: FitBand) -> Outcome:
    """Make a band longer or shorter part by part, and what is marked on it with it.

    Every part between two marks that meet gives what that part is off by, ease allowed for: evenly,
    along the edge, or at right angles to the fold where a curved collar has one. Its ends and the
    fold stay as they are drawn; its width stays. Raises CannotDo for a seam without a band on one
    side, a band of which no part would be left, or one that bends by more than 60 degrees; BadInput
    for an unknown name.
    """
    if params.piece:
        pattern.piece(params.piece)
    changed, said = pattern, list[str | float]()
    done: tuple[str, ...] = ()
    for name in filter(None, (params.seam, params.other)):
        seam = changed.seam(name)
        side = _side(changed, seam, done, "" if done else params.piece)
        fitted = _fitted(changed, seam, side)
        said += [" " if said else "", *_said(changed, fitted, seam, side)]
        changed, done = fitted, (*done, *(r.piece for r in side))
    return Outcome(pattern=changed, said=(*said, *partners(pattern, changed)))


def _side(pattern: Pattern, seam: Seam, done: tuple[str, ...], piece: str) -> tuple[EdgeRef, ...]:
    """Return the edges of the band in a seam, those of a piece if one is named. Raises CannotDo."""
    stay = done
    while side := band_side(pattern, seam, stay):
        pieces = [r.piece for r in side]
        if piece in ("", *pieces):
            return side
        stay = (*stay, *pieces)
    raise CannotDo(
        what=f'seam "{seam.name}" has no band to be fitted',
        why="neither side is a strip, a cuff, a collar or what else goes along the other",
        nearest="one of its edges made to match at one end",
    )


def _said(before: Pattern, after: Pattern, seam: Seam, side: tuple[EdgeRef, ...]) -> Sentence:
    bands = listed(list(dict.fromkeys(r.piece for r in side)))
    other = run_name(seam.a if side is seam.b else seam.b)
    if after is before:
        return (f"Left {bands} as long as {other}.",)
    old, new = run_length(before, side), run_length(after, side)
    how = f"Fitted {bands} to {other}, each part from notch to notch: "
    if abs(new - old) <= SAME_MM:
        return (f"{how}it stays ", old, " long.")
    return (f"{how}from ", old, " to ", new, ".")


def _fitted(pattern: Pattern, seam: Seam, side: tuple[EdgeRef, ...]) -> Pattern:
    """Return the pattern with the bands of one side of a seam fitted to the other."""
    changed, run = pattern, 0.0
    at, wanted = _stations(pattern, seam, on_b=side is seam.b)
    for ref in side:
        piece = pattern.piece(ref.piece)
        length = net_length(piece, ref.edge)
        inner = [x for x in at if run + SAME_MM < x < run + length - SAME_MM]
        places = (run, *inner, run + length)
        first = float(np.interp(run, at, wanted))
        parts = _Parts(
            tuple(x - run for x in places),
            tuple(float(np.interp(x, at, wanted)) - first for x in places),
        )
        if changed.piece(ref.piece) is piece and _is_off(parts):
            changed = changed.with_piece(_remade(piece, ref, parts))
        run += length
    again = _Parts(*_stations(changed, seam, on_b=side is seam.b))
    if changed is not pattern and _is_off(again, 10 * SAME_MM):
        raise CannotDo(
            what=f"{seam_name(seam.name)} cannot be fitted part by part",
            why="a band that lies along it twice would need two lengths",
            nearest="what it is sewn to changed alike on both sides",
        )
    return changed


def _is_off(parts: _Parts, within: float = SAME_MM) -> bool:
    return max(abs(w - a) for a, w in zip(*parts, strict=True)) > within


def _stations(pattern: Pattern, seam: Seam, *, on_b: bool) -> _Parts:
    """Return where the marks of a band's side lie, from the seam's start to its end."""
    at, wanted = [0.0], [0.0]
    for section in walk_seam(pattern, seam).sections:
        long = section.b if on_b else section.a
        off = section.off if on_b else -section.off
        at.append(at[-1] + long)
        wanted.append(wanted[-1] + long - off)
    return _Parts(tuple(at), tuple(wanted))


def _remade(piece: Piece, ref: EdgeRef, parts: _Parts) -> Piece:
    """Return a band of which each part of an edge has the length that it should have."""
    what = f'"{piece.name}" cannot be fitted to what it is sewn to'
    if piece.darts or min(b - a for a, b in pairwise(parts.wanted)) <= SAME_MM:
        why = "it has a dart" if piece.darts else "nothing would be left of one of its parts"
        raise CannotDo(what=what, why=why, nearest="the notches of the seam put right first")
    path = piece.edge(ref.edge).path
    line = path.reversed() if ref.reversed else path
    along = _along(piece, line)
    steps = line.flatten()
    if any((b - a).unit.dot(along) < STEEP for a, b in pairwise((line.start, *steps[1:]))):
        raise CannotDo(what=what, why="its edge bends too much", nearest="the band drafted anew")
    new = stretched(piece, _stretch(piece, line, along, parts))
    refuse_crossing(new, what)
    return new


def _along(piece: Piece, line: Path) -> Vec:
    """Return which way a band is made longer: away from its fold, else from end to end."""
    way = (line.end - line.start).unit
    if piece.fold is None:
        return way
    square = (piece.fold.path.end - piece.fold.path.start).unit.perp
    return square if square.dot(way) > 0 else -square


def _stretch(piece: Piece, line: Path, along: Vec, parts: _Parts) -> PartsShifted:
    """Return how places along a band are shifted so that its edge has the parts wanted.

    On a straight edge that is so at once; on a curve what a part lacks is added again and again.
    """
    spots = [line.point_at(at) for at in parts.at]
    xs = [along.dot(p - line.start) for p in spots]
    wanted = np.diff(parts.wanted)
    gains = wanted - np.diff(parts.at)
    inside = _inside(piece, line, along, xs)

    def stretch() -> PartsShifted:
        to = np.array([0.0, *np.cumsum(gains)]) + xs
        first = [(xs[0], to[0]), (inside[0], to[0] + inside[0] - xs[0])]
        last = [(inside[1], to[-1] + inside[1] - xs[-1]), (xs[-1], to[-1])]
        known = dict([*first, *zip(xs[1:-1], to[1:-1], strict=True), *last])
        return PartsShifted(line.start, along, tuple(known), tuple(map(float, known.values())))

    for _ in range(ROUNDS):
        by = stretch()
        drawn = by.path(line)
        lack = wanted - np.diff([drawn.nearest(by.point(p))[0] for p in spots])
        if float(np.max(np.abs(lack))) <= SAME_MM / 10:
            break
        gains = gains + lack
    return stretch()


def _inside(piece: Piece, line: Path, along: Vec, xs: Sequence[float]) -> tuple[float, float]:
    """Return between which places (mm along) a band is stretched: what slants at its ends stays."""

    def reach(end: Vec, other: Vec) -> list[float]:
        beside = [e.path for e in piece.edges if end in e.path.ends and other not in e.path.ends]
        return [along.dot(p - line.start) for path in beside for p in path.flatten()]

    low, high = (
        max((xs[0], *reach(line.start, line.end))),
        min((xs[-1], *reach(line.end, line.start))),
    )
    first, last = (KEPT * (b - a) for a, b in (xs[:2], xs[-2:]))
    return min(low, xs[0] + first), max(high, xs[-1] - last)


CHANGE = Change(
    id="fit-band",
    title="Fit a band to its seam",
    topic="edges and seams",
    why="A waist that was taken in, a neck that was lowered: the band has to be shorter or longer "
    "between the same notches, or its marks meet no seam any more.",
    source="common practice: a band is cut as long as what it is sewn to, from mark to mark",
    params=FitBand,
    apply=apply,
)
