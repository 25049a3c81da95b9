"""Say anew how a piece is cut: once, as a pair or on the fold, and how many times."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.errors import CannotDo
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import INTERFACING, Cut, Piece
from clothwright.units.params import param
from clothwright.words import listed


@dataclass(frozen=True, slots=True, kw_only=True)
class SetCut:
    """Parameters of `set-cut`."""

    pieces: tuple[str, ...] = param("pieces", "the pieces to be cut so", label="Which pieces")
    how: str = param(
        "choice",
        "",
        default="once",
        choices={
            "once": "as it is drawn",
            "pair": "a left and a right one, the second turned over",
            "fold": "on the fold, half of it drawn",
        },
        label="How they are cut",
    )
    count: int = param(
        "count",
        "a pair twice is two lefts and two rights; an interfacing is cut as often as before",
        default=1,
        least=1,
        most=20,
        label="How many times",
    )


def apply(pattern: Pattern, params: SetCut) -> Outcome:
    """Say how pieces are cut, from every material they are cut from.

    Raises CannotDo for the fold where a piece has none, and for a half piece without it; BadInput
    for an unknown piece.
    """
    changed = pattern
    for name in params.pieces:
        piece = pattern.piece(name)
        _refuse(piece, params.how)
        own = piece.cuts or (Cut(),)
        cuts = tuple(
            replace(c, how=params.how, count=c.count if c.material == INTERFACING else params.count)
            for c in own
        )
        if cuts != piece.cuts:
            changed = changed.with_piece(replace(piece, cuts=cuts))
    names, how = listed(list(params.pieces)), _how(params.how, params.count)
    if changed is pattern:
        return Outcome(pattern=pattern, said=(f"Left {names} to be cut {how}.",))
    return Outcome(pattern=changed, said=(f"Set {names} to be cut {how}.",))


def _refuse(piece: Piece, how: str) -> None:
    if (how == "fold") is (piece.fold is not None):
        return
    half = piece.fold is not None
    raise CannotDo(
        what=f"{piece.name} cannot be cut {_how(how, 1)}",
        why="half of it is drawn, up to its fold" if half else "none of its edges is a fold",
        nearest="to cut it on the fold, or unfold it first" if half else "once, or as a pair",
    )


def _how(how: str, count: int) -> str:
    times = {1: "once", 2: "twice"}.get(count, f"{count} times")
    if how == "once":
        return times
    way = {"pair": "as a pair", "fold": "on the fold"}[how]
    return way if count == 1 else f"{way}, {times}"


CHANGE = Change(
    id="set-cut",
    title="Say how a piece is cut",
    topic="whole pieces",
    why="A sleeve marked to be cut once, or a whole binding marked for the fold: the pieces are "
    "right, and yet too few, too many or half ones would be cut.",
    source="common practice: a pair is a left and a right piece, the second one turned over",
    params=SetCut,
    apply=apply,
)
