"""Move a corner of a piece, or two, until the seams that meet there agree. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from clothwright.changes.change import Change, Outcome
from clothwright.changes.match_edge import SAME_MM
from clothwright.changes.move_edge import corner_moved, corner_numbered, corner_outwards
from clothwright.changes.redraw import refuse_crossing
from clothwright.errors import CannotDo
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import seams_gaining, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.refs import EdgeRef, parse_point
from clothwright.pattern.walk import walk_seam
from clothwright.units.params import param
from clothwright.words import Said, Sentence, listed, ref_name, seam_name

FAR_TIMES = 3.0
"""A corner that would have to move by more than so many times what is off was not what was changed;
our own figure."""

FLAT = 0.1
"""A way to move that tells on the seams by less than this share of another one is not taken, so
that a corner between two lines that run nearly straight on does not fly off; our own figure."""

ROOM_MM = 60.0
"""mm: a line is not drawn anew over less than that, lest it gets a hook; our own figure."""

NUDGE_MM, ROUNDS, SEEN_MM = 0.5, 12, 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class FitCorner:
    """Parameters of `fit-corner`."""

    corner: str = param(
        "point", "the corner that moves, such as the tip of a shoulder", label="Which corner"
    )
    other: str = param(
        "point",
        "another corner of the same piece that moves, too, such as the other end of its waist",
        default="",
        label="And which other corner",
    )


class _Way(NamedTuple):
    """A direction in which a corner may move; length 1."""

    corner: int
    along: Vec


def apply(pattern: Pattern, params: FitCorner) -> Outcome:
    """Move one or two corners of a piece by the least that makes every seam there agree.

    Stitching lengths count, darts folded out. A seam that agrees already keeps its difference; the
    others get their ease. The edges beside a corner are drawn anew, their bends kept, from its
    nearest notch with room to do so, and all of them where there is none; a corner on the fold
    moves along it. Raises CannotDo where no seam meets there, or no place of the corner makes them
    agree; BadInput for a corner that is not there.
    """
    texts = [t for t in (params.corner, params.other) if t]
    name = parse_point(params.corner)[0]
    piece = pattern.piece(name)
    corners = [corner_numbered(pattern.piece(n), c) for n, c in map(parse_point, texts)]
    where = listed([ref_name(t) for t in texts])
    if any(parse_point(t)[0] != name for t in texts):
        raise CannotDo(
            what=f'"{where}" cannot be moved together',
            why="they are corners of two pieces",
            nearest="one after the other",
        )
    seams = _seams(pattern, piece, corners)
    if not seams:
        raise CannotDo(
            what=f'"{where}" cannot be moved to make seams agree',
            why="no edge beside it is sewn to another edge",
            nearest="a corner at the end of a seam",
        )
    names = listed([seam_name(s.name) for s in seams])
    agreeing = f"{names} agree{'' if len(seams) > 1 else 's'}"
    wanted = np.array([_wanted(pattern, s) for s in seams])
    if float(np.abs(_lengths(pattern, seams) - wanted).max()) <= SAME_MM:
        return Outcome(pattern=pattern, said=(f"Left {where} in its place: {agreeing} already.",))
    what = (f'"{where}" cannot be moved so that the seams there agree',)
    ways = [w for i in corners for w in _ways(piece, i)]
    by = _least(_Fit(pattern, piece, seams, ways, what), wanted)
    new = _put(piece, ways, by, what)
    refuse_crossing(new, what)
    return Outcome(pattern=pattern.with_piece(new), said=_said(piece, texts, ways, by, agreeing))


def _seams(pattern: Pattern, piece: Piece, corners: list[int]) -> tuple[Seam, ...]:
    """Return the seams of the edges beside corners, each once."""
    edges = [piece.edges[i - k].name for i in corners for k in (1, 0)]
    found = {s.name: s for e in edges for s in seams_gaining(pattern, EdgeRef(piece.name, e))}
    return tuple(found.values())


def _wanted(pattern: Pattern, seam: Seam) -> float:
    """Return by how much side b is to be longer: its ease, or what it is where that is right."""
    walk = walk_seam(pattern, seam)
    unsaid = seam.kind == "cap" and not (seam.ease or seam.eased_max)
    now = walk.b.length - walk.a.length
    return now if unsaid or abs(walk.off) <= SAME_MM else seam.ease


def _lengths(pattern: Pattern, seams: tuple[Seam, ...]) -> np.ndarray:
    return np.array([side(pattern, s.b).length - side(pattern, s.a).length for s in seams])


class _Fit(NamedTuple):
    """What is to agree: seams of a pattern, when a piece's corners move in these ways."""

    pattern: Pattern
    piece: Piece
    seams: tuple[Seam, ...]
    ways: list[_Way]
    what: Said

    def lengths(self, by: np.ndarray) -> np.ndarray:
        """Return by how much side b of each seam is the longer after moves by these amounts, mm."""
        new = _put(self.piece, self.ways, by, self.what)
        return _lengths(self.pattern.with_piece(new), self.seams)


def _least(fit: _Fit, wanted: np.ndarray) -> np.ndarray:
    """Find by Newton's way how far to move, mm each way: the least there is. Raises CannotDo."""
    by = np.zeros(len(fit.ways))
    most = float(np.abs(wanted - fit.lengths(by)).max())
    steps = np.eye(len(fit.ways)) * NUDGE_MM
    for _ in range(ROUNDS):
        off = wanted - fit.lengths(by)
        if float(np.abs(off).max()) <= SAME_MM / 100:
            return by
        slope = np.column_stack(
            [(fit.lengths(by + step) - fit.lengths(by - step)) / (2 * NUDGE_MM) for step in steps]
        )
        by = by + np.linalg.lstsq(slope, off, rcond=FLAT)[0]
        if float(np.abs(by).max()) > FAR_TIMES * most:
            break
    raise CannotDo(
        what=fit.what,
        why="no place near it does",
        nearest="another corner of these seams, or an edge changed at its end",
    )


def _moves(ways: list[_Way], by: np.ndarray) -> dict[int, Vec]:
    """Return by how much each corner moves, by its number."""
    moves: dict[int, Vec] = {}
    for way, length in zip(ways, by, strict=True):
        moves[way.corner] = moves.get(way.corner, Vec(0.0, 0.0)) + way.along * float(length)
    return moves


def _put(piece: Piece, ways: list[_Way], by: np.ndarray, what: Said) -> Piece:
    for i, move in _moves(ways, by).items():
        piece = corner_moved(piece, i, move, what, _reach(piece, i))
    return piece


def _reach(piece: Piece, index: int) -> tuple[float | None, float | None]:
    """Return how much is drawn anew of the edges beside a corner: up to the next notch, mm.

    What lies beyond was right. Where no notch leaves room, all of a curve, which keeps its
    directions at both ends and so the corners there; None for a straight line, which stays one.
    """
    before, after = piece.edges[index - 1], piece.edges[index]
    ends = [before.length - n.at for n in before.notches], [n.at for n in after.notches]
    whole = [None if e.path.is_straight else e.length for e in (before, after)]
    rooms = [min((s for s in of if s >= ROOM_MM), default=None) for of in ends]
    first, last = (room or all_ for room, all_ in zip(rooms, whole, strict=True))
    return first, last


def _ways(piece: Piece, index: int) -> list[_Way]:
    """Return in which directions a corner may move: any, or along the fold that ends there."""
    for edge in (piece.edges[index - 1], piece.edges[index]):
        if edge.role is Role.FOLD:
            return [_Way(index, (edge.path.end - edge.path.start).unit)]
    return [_Way(index, piece.up), _Way(index, piece.up.perp)]


def _said(
    piece: Piece, texts: list[str], ways: list[_Way], by: np.ndarray, agreeing: str
) -> Sentence:
    said: list[str | float] = []
    for text, (index, move) in zip(texts, _moves(ways, by).items(), strict=True):
        said += [", and " if said else "Moved ", ref_name(text), " "]
        said += _moved_words(piece, index, move)
    return (*said, f", so that {agreeing}.")


def _moved_words(piece: Piece, index: int, by: Vec) -> Sentence:
    """Say how far a corner went along the grain and square to it."""
    up, side_ = by.dot(piece.up), piece.up.perp * by.dot(piece.up.perp)
    away = side_.dot(corner_outwards(piece, index)) > 0
    along: Sentence = (abs(up), " up" if up > 0 else " down")
    way = "away from" if away else "towards"
    across: Sentence = (side_.norm, f" across the grain, {way} the piece")
    if side_.norm < SEEN_MM <= abs(up):
        return along
    return across if abs(up) < SEEN_MM <= side_.norm else (*along, " and ", *across)


CHANGE = Change(
    id="fit-corner",
    title="Fit a corner to its seams",
    topic="edges and seams",
    why="A corner that was moved spoils both edges that end there. Put where both agree with what "
    "they are sewn to, it mends in one what would otherwise be bent twice.",
    source="docs/sources.md: walking seams; plane geometry",
    params=FitCorner,
    apply=apply,
)
