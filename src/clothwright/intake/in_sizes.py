"""Several sizes in one drawing: which there are, and what in them is the same piece."""

from __future__ import annotations

from dataclasses import replace

from clothwright.errors import BadInput, not_known
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Question
from clothwright.intake.candidates import Candidate
from clothwright.intake.drawing import Drawing
from clothwright.pattern.piece import Piece


def size_question(drawing: Drawing, size: str) -> Question | None:
    """Return the question which size is wanted; None when there is one, or it is answered."""
    if not drawing.sizes or size:
        return None
    return Question(
        id="size",
        words=f"it holds {len(drawing.sizes)} sizes: {', '.join(drawing.sizes)}",
        choices=drawing.sizes,
    )


def size_named(drawing: Drawing, size: str) -> str:
    """Return a size of a drawing as the drawing names it. Raises BadInput."""
    known = {s.casefold(): s for s in drawing.sizes}
    if size.strip().casefold() not in known:
        what = f'the drawing has no size "{size}"'
        raise not_known(what, size, drawing.sizes, where="--size")
    return known[size.strip().casefold()]


def of_size(drawing: Drawing, size: str) -> Drawing:
    """Return the drawing with the lines of one size and those of all sizes. Raises BadInput."""
    wanted = size_named(drawing, size)
    return replace(
        drawing, lines=tuple(x for x in drawing.lines if x.size in ("", wanted)), sizes=()
    )


def nearest(like: Candidate, name: str, left: list[Candidate], size: str) -> Candidate:
    """Take the outline whose middle is nearest out of those of a size that are left.

    like, name: what it is in the size chosen. Raises BadInput: none is left.
    """
    if not left:
        raise BadInput(what=f'size {size} has no piece "{name}"')
    middle = _middle(like)
    near = min(left, key=lambda c: _middle(c).distance(middle))
    left.remove(near)
    return near


def _middle(one: Candidate) -> Vec:
    low, high = one.outline.path.bounds()
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
