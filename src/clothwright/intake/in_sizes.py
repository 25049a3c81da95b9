"""Several sizes in one drawing: one is the pattern's own, the others are kept beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from clothwright.errors import BadInput, ClothwrightError, not_known
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers, Question
from clothwright.intake.drawing import Drawing
from clothwright.intake.recognise import Draft, propose
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.units import Unit


class Sized(NamedTuple):
    """The pieces in the size chosen, and in every size when all correspond (else None)."""

    draft: Draft
    sizes: SizeRange | None


def size_question(drawing: Drawing, size: str) -> Question | None:
    """Return the question which size is wanted; None when there is one, or it is answered."""
    if not drawing.sizes or size:
        return None
    return Question(
        id="size",
        words=f"it holds {len(drawing.sizes)} sizes: {', '.join(drawing.sizes)}",
        choices=drawing.sizes,
    )


def of_size(drawing: Drawing, size: str) -> Drawing:
    """Return the drawing with the lines of one size and those of all sizes. Raises BadInput."""
    known = {s.casefold(): s for s in drawing.sizes}
    if size.strip().casefold() not in known:
        what = f'the drawing has no size "{size}"'
        raise not_known(what, size, drawing.sizes, where="--size")
    wanted = known[size.strip().casefold()]
    return replace(
        drawing, lines=tuple(x for x in drawing.lines if x.size in ("", wanted)), sizes=()
    )


def propose_sized(drawing: Drawing, answers: Answers, *, unit: Unit) -> Sized:
    """Return the pieces of a drawing in the size asked for, and in every other size.

    The answers hold for every size. When the pieces of another size do not correspond, corner by
    corner, only the one asked for is kept, and a note says why. Raises BadInput: the size is asked
    for, or what `propose` raises.
    """
    asked = size_question(drawing, answers.size)
    if asked is not None:
        raise BadInput(
            where=drawing.name,
            what=asked.words,
            expected=f"--size {drawing.sizes[len(drawing.sizes) // 2]} (or another): the one to "
            "begin with; the others are kept too",
        )
    if not drawing.sizes:
        return Sized(propose(drawing, answers, unit=unit), None)
    own = propose(of_size(drawing, answers.size), answers, unit=unit)
    named = {s.casefold(): s for s in drawing.sizes}[answers.size.strip().casefold()]
    try:
        sets = [
            own.pieces if s == named else _alike(own.pieces, drawing, s, answers, unit)
            for s in drawing.sizes
        ]
        sizes = SizeRange(names=drawing.sizes, drawn=named, pieces=tuple(sets))
    except ClothwrightError as error:
        note = f"only size {named} is kept, since the sizes do not correspond: {error}"
        return Sized(replace(own, notes=(*own.notes, note)), None)
    note = f"all sizes are kept ({', '.join(drawing.sizes)}); {named} is the one shown"
    return Sized(replace(own, notes=(*own.notes, note)), sizes)


def _alike(
    own: Sequence[Piece], drawing: Drawing, size: str, answers: Answers, unit: Unit
) -> tuple[Piece, ...]:
    """Return the pieces of another size in the order, with the names and edge names of the first.

    Pieces are told to be the same by where they lie; edges by their order from the same corner.
    """
    made = propose(of_size(drawing, size), replace(answers, name=""), unit=unit).pieces
    left = list(made)
    out = []
    for piece in own:
        middle = _middle(piece)
        if not left:
            raise BadInput(what=f'size {size} has no piece "{piece.name}"')
        near = min(left, key=lambda p: _middle(p).distance(middle))
        left.remove(near)
        if len(near.edges) != len(piece.edges):
            raise BadInput(
                what=f'"{piece.name}" has {len(near.edges)} edges in size {size} and '
                f"{len(piece.edges)} in the size chosen",
                expected="the same corners in every size",
                try_="--corners with their number",
            )
        out.append(named_like(near, piece))
    if left:
        raise BadInput(what=f"size {size} has {len(made)} pieces, the size chosen {len(own)}")
    return tuple(out)


def _middle(piece: Piece) -> Vec:
    low, high = piece.outline.bounds()
    return (low + high) / 2


def named_like(piece: Piece, like: Piece) -> Piece:
    """Give a piece the name, the edge names, the roles and the words of the same one."""
    shift = _turn(piece, like)
    edges = [*piece.edges[shift:], *piece.edges[:shift]]
    names = {e.name: m.name for e, m in zip(edges, like.edges, strict=True)}
    named = tuple(
        replace(e, name=m.name, role=m.role, corner=m.corner, join=m.join)
        for e, m in zip(edges, like.edges, strict=True)
    )
    darts = tuple(
        replace(d, name=m.name, edge=names[d.edge])
        for d, m in zip(piece.darts, like.darts, strict=False)
    )
    return replace(piece, name=like.name, edges=named, darts=darts, cuts=like.cuts, note=like.note)


def _turn(piece: Piece, like: Piece) -> int:
    """Return the number of the edge that is the other piece's first: corners lie nearest then."""
    count = len(piece.edges)

    def away(shift: int) -> float:
        return sum(
            piece.edges[(k + shift) % count].path.start.distance(like.edges[k].path.start)
            for k in range(count)
        )

    return min(range(count), key=away)
