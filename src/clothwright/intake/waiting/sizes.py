"""The other sizes of a drawing in the sitting: answered as the size that is shown was."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from clothwright.errors import BadInput, ClothwrightError
from clothwright.geometry.vec import Vec
from clothwright.intake.candidates import Candidate
from clothwright.intake.drafting import draft
from clothwright.intake.in_sizes import named_like
from clothwright.intake.waiting.seen import (
    Outline,
    SeenDrawing,
    shown_answers,
    size_shown,
    whole_answers,
)
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.units import Unit
from clothwright.words import told

Sizes = Callable[[str], Sequence[Candidate]]
"""From the name of a size to its outlines."""


def sizes_of(one: SeenDrawing, unit: Unit, drawn: Sizes) -> tuple[SizeRange | None, str]:
    """Return the wanted pieces in every size of the drawing, or None and why, in words.

    drawn: the outlines of any size. Each of another size is taken for the piece whose middle is
    nearest; what was answered about that piece holds for it. (None, "") for a drawing of one size.
    """
    wanted = [o for o in one.outlines if o.wanted and o.piece is not None]
    if not one.sizes or not wanted:
        return None, ""
    shown = size_shown(one.waiting, one.sizes)
    own = tuple(o.piece for o in wanted if o.piece is not None)
    try:
        sets = [
            own if size == shown else _in_size(wanted, size, unit, drawn(size))
            for size in one.sizes
        ]
        return SizeRange(names=one.sizes, drawn=shown, pieces=tuple(sets)), ""
    except ClothwrightError as error:
        return (
            None,
            f"Only size {shown} is added, since the sizes do not correspond: {told(error, unit)}",
        )


def _in_size(
    wanted: Sequence[Outline], size: str, unit: Unit, drawn: Sequence[Candidate]
) -> tuple[Piece, ...]:
    left = list(drawn)
    return tuple(_as(o, _nearest(o, left, size), unit) for o in wanted)


def _nearest(outline: Outline, left: list[Candidate], size: str) -> Candidate:
    if outline.candidate is None or not left:
        raise BadInput(what=f'size {size} has no piece "{outline.name}"')
    middle = _middle(outline.candidate)
    near = min(left, key=lambda c: _middle(c).distance(middle))
    left.remove(near)
    return near


def _middle(candidate: Candidate) -> Vec:
    low, high = candidate.outline.path.bounds()
    return (low + high) / 2


def _as(outline: Outline, candidate: Candidate, unit: Unit) -> Piece:
    """Return what an outline of another size becomes by the answers about the size shown."""
    piece = outline.piece
    if piece is None:
        raise BadInput(what=f'"{outline.name}" is no piece yet')
    answers = whole_answers(outline.said, shown_answers(outline.said, candidate))
    if answers.corners.startswith("at "):  # places in the size shown
        answers = replace(answers, corners=str(len(piece.edges)))
    made = draft(candidate, outline.name, answers, unit=unit, where=outline.name).piece
    if len(made.edges) != len(piece.edges):
        raise BadInput(
            what=f'"{outline.name}" has {len(made.edges)} edges in one size and '
            f"{len(piece.edges)} in the one shown",
            expected="the same corners in every size",
        )
    return named_like(made, piece)
