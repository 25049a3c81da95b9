"""What is said about the photos of a piece: which count, the bar, corrections, doubts looked at.

Places are where the sheets lay when it was said; when all is seen anew they are carried over.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Annotated, ClassVar, NamedTuple

from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.photo.correct import Correction
from clothwright.photo.photographed import Photographed, bar_length
from clothwright.photo.sheet import BAR_MM
from clothwright.units.kinds import NoFewer

SAME_MM = 12.0
"""A doubt found anew this near to one that was looked at is the same."""
Moves = tuple[Correction, ...]
Frame = Mapping[int, tuple[Vec, ...]]
"""Where sheets lie: the corners of each."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A photo. file: in the folder. name: as it was called. used: False when it is left out."""

    file: str
    name: str
    used: bool


class DoubtTick(NamedTuple):
    """What was said of a doubt at a place (mm as printed): "right" or "moved"."""

    code: str
    at: Vec
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Photos:
    """What was said about the photos of a piece. All places as printed (bar of 200 mm), mm.

    bar: as typed, "" while it is not measured. before, after: corrections to go back to, and to do
    again. frame: where the sheets lay when places were said. inside: a place in the piece that is
    meant, on the whole table, and where the sheets lay there; None for the largest. follow: "line"
    or "edge" when she said which the outline is, "" for whichever is there.
    """

    FORMAT: ClassVar[str] = "clothwright-photos/1"
    KEYS: ClassVar[Mapping[str, str]] = {"taken": "photos"}
    taken: Annotated[tuple[Taken, ...], NoFewer(1)]
    bar: str = ""
    moves: Moves = ()
    before: tuple[Moves, ...] = ()
    after: tuple[Moves, ...] = ()
    ticks: tuple[DoubtTick, ...] = ()
    frame: Frame = field(default_factory=dict)
    inside: tuple[Vec, Frame] | None = None
    follow: str = ""

    @property
    def used(self) -> tuple[Taken, ...]:
        """The photos that count."""
        return tuple(t for t in self.taken if t.used)

    @property
    def share(self) -> float:
        """What one mm as printed is by the measured bar."""
        return bar_length(self.bar) / BAR_MM


def carried(photos: Photos, found: Photographed, share: float) -> Photos:
    """Return what was said, with places (mm as printed) as the sheets lie in what is found now.

    share: what one mm as printed is in `found`.
    """
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
