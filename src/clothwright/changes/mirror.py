"""Turn pieces over."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.geometry.transform import Transform, reflection
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.whole import moved
from clothwright.units.params import param


@dataclass(frozen=True, slots=True, kw_only=True)
class Mirror:
    """Parameters of `mirror`."""

    pieces: tuple[str, ...] = param(
        "pieces",
        "the pieces to turn over: drawn for one side of the body, wanted for the other",
        label="Which pieces",
    )


def apply(pattern: Pattern, params: Mirror) -> Outcome:
    """Turn pieces over about their grain line (without one: about their upright middle).

    Names stay. Seams go on meeting the same ends: the run along a turned piece is noted the other
    way round. Turned over twice, everything is as before.
    Raises BadInput for an unknown piece.
    """
    changed = pattern
    for name in params.pieces:
        piece = pattern.piece(name)
        changed = changed.with_piece(moved(piece, _axis(piece)))
    names = set(params.pieces)
    changed = replace(changed, seams=tuple(_turned(s, names) for s in changed.seams))
    listed = ", ".join(params.pieces)
    return Outcome(pattern=changed, said=(f"Turned over {listed}.",))


def _axis(piece: Piece) -> Transform:
    if piece.grain is not None:
        return reflection(piece.grain.start, piece.grain.end)
    across = piece.up.perp
    points = piece.outline.flatten(0.1)
    along = [across.dot(q) for q in points]
    middle = across * ((min(along) + max(along)) / 2)
    return reflection(middle, middle + piece.up)


def _turned(seam: Seam, names: set[str]) -> Seam:
    def turned(refs: tuple[EdgeRef, ...]) -> tuple[EdgeRef, ...]:
        return tuple(replace(r, reversed=not r.reversed) if r.piece in names else r for r in refs)

    if not names & seam.pieces:
        return seam
    return replace(seam, a=turned(seam.a), b=turned(seam.b))


CHANGE = Change(
    id="mirror",
    title="Turn pieces over",
    topic="whole pieces",
    why="A piece traced from the other side of the body, or from the back of the tissue, must be "
    "turned over before it is cut once.",
    source="plane geometry",
    params=Mirror,
    apply=apply,
)
