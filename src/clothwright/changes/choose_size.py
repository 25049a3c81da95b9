"""Use another of the sizes the pattern was bought in, or one between two of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.errors import CannotDo
from clothwright.pattern.grading import graded
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.units.params import param


@dataclass(frozen=True, slots=True, kw_only=True)
class ChooseSize:
    """Parameters of `choose-size`."""

    size: str = param(
        "size",
        'a size of the pattern ("14"), a number between two ("15"), or half-way ("S/M")',
        label="Which size",
    )
    pieces: tuple[str, ...] = param(
        "pieces",
        "left out: every piece that comes in several sizes",
        default=(),
        label="Only these pieces",
    )


def apply(pattern: Pattern, params: ChooseSize) -> Outcome:
    """Put pieces into another size.

    Raises BadInput for an unknown size or piece; CannotDo beyond the range, or when a piece was
    altered by a change before this one.
    """
    sizes = sizes_of(pattern)
    at = sizes.position(params.size)
    names = params.pieces or sizes.piece_names
    changed = with_sizes(pattern, sizes, names, lambda each, _: graded(each, at))
    which = ", ".join(names) if len(names) < 3 or params.pieces else f"{len(names)} pieces"
    said = f"Size {sizes.words(at)} instead of {sizes.drawn}: {which}."
    return Outcome(pattern=changed, said=(said,))


def sizes_of(pattern: Pattern) -> SizeRange:
    """Return the sizes of a pattern. Raises CannotDo when it comes in one size only."""
    if pattern.sizes is None:
        raise CannotDo(
            what="another size cannot be chosen",
            why="the pieces came in one size only",
            nearest="add the pieces again from a drawing with several sizes, or alter this size",
        )
    return pattern.sizes


def with_sizes(
    pattern: Pattern,
    sizes: SizeRange,
    names: Sequence[str],
    make: Callable[[tuple[Piece, ...], str], Piece],
) -> Pattern:
    """Return the pattern with each named piece made anew from its sizes. Raises CannotDo.

    make: given a piece in every size and its name.
    """
    for name in names:
        each = sizes.each(name)
        if pattern.piece(name) != each[sizes.names.index(sizes.drawn)]:
            raise CannotDo(
                what=f'the size of "{name}" cannot be chosen here',
                why="a change before this one has altered the piece, and that would be lost",
                nearest="move this change up, before all others of that piece",
            )
        pattern = pattern.with_piece(make(each, name))
    return pattern


CHANGE = Change(
    id="choose-size",
    title="Use another size",
    topic="sizes",
    why="A pattern with nested sizes is cut in the size of its wearer, which may lie between two.",
    source="common practice; between two sizes every point moves along a straight line, as in "
    "grading by point shifts",
    params=ChooseSize,
    apply=apply,
)
