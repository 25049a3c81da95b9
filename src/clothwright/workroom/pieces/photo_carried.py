"""What was said about photos, carried over to where the sheets lie when all is seen anew."""

from __future__ import annotations

from dataclasses import replace

from clothwright.geometry.transform import Transform
from clothwright.photo.correct import Correction
from clothwright.workroom.pieces.photo_said import DoubtTick, Frame, Moves, Photos
from clothwright.workroom.pieces.photographing import Photographed

SAME_MM = 12.0
"""A doubt found anew this near to one that was looked at is the same."""


def carried(photos: Photos, found: Photographed, share: float) -> Photos:
    """What was said, with places (mm as printed) as the sheets lie in what is found now."""
    frame = {n: tuple(p * (1 / share) for p in at) for n, at in found.sheets.items()}
    move = between(photos.frame, frame)
    if move is None:
        return replace(photos, frame=frame)

    def moved(moves: Moves) -> Moves:
        return tuple(Correction(move.apply(m.at), m.to and move.apply(m.to)) for m in moves)

    return replace(
        photos,
        moves=moved(photos.moves),
        before=tuple(map(moved, photos.before)),
        after=tuple(map(moved, photos.after)),
        ticks=tuple(t._replace(at=move.apply(t.at)) for t in photos.ticks),
        frame=frame,
    )


def between(old: Frame, new: Frame) -> Transform | None:
    """Return the shift and turn (mm) that lays sheets where they lie now; None when they do."""
    pairs = [(p, q) for n in old if n in new for p, q in zip(old[n], new[n], strict=True)]
    if not pairs or all(p.distance(q) < 1e-6 for p, q in pairs):
        return None
    here = sum((complex(*p) for p, _ in pairs), 0j) / len(pairs)
    there = sum((complex(*q) for _, q in pairs), 0j) / len(pairs)
    turn = sum((complex(*q) - there) * (complex(*p) - here).conjugate() for p, q in pairs)
    turn /= abs(turn)
    shift = there - turn * here
    return Transform(turn.real, turn.imag, -turn.imag, turn.real, shift.real, shift.imag)


def scaled_moves(moves: Moves, share: float) -> Moves:
    """Return corrections with all places grown by a factor."""
    if share == 1.0:
        return moves
    return tuple(Correction(m.at * share, None if m.to is None else m.to * share) for m in moves)


def same_doubt(a: DoubtTick, b: DoubtTick) -> bool:
    """Tell whether two ticks are about one doubt."""
    return a.code == b.code and a.at.distance(b.at) < SAME_MM
