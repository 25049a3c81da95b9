"""Several sizes in one drawing: one is the pattern's own, the others are kept beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import NamedTuple

from clothwright.errors import BadInput, ClothwrightError, not_known
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers, Question
from clothwright.intake.candidates import Candidate, see
from clothwright.intake.drawing import Drawing
from clothwright.intake.recognise import (
    Draft,
    allowance_question,
    as_said,
    drafted,
    propose,
)
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.units import Unit


class InSize(NamedTuple):
    """A piece in the size chosen; and what the answers about it say of an outline."""

    piece: Piece
    answers: Callable[[Candidate], Answers]


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

    def meant(one: Candidate) -> Answers:
        asked = allowance_question(one, answers, unit)
        if asked is not None:
            raise BadInput(what=asked.words)
        return answers

    def drawn(size: str) -> Sequence[Candidate]:
        left = list(as_said(see(of_size(drawing, size), answers.scale, unit), answers).candidates)
        count, pairs = len(left), zip(own.outlines, own.pieces, strict=True)
        found = [nearest(c, p.name, left, size) for c, p in pairs]
        if left:
            raise BadInput(
                what=f"size {size} has {count} pieces, the size chosen {len(own.pieces)}"
            )
        return found

    pieces = [InSize(p, meant) for p in own.pieces]
    try:
        sizes = in_every_size(pieces, drawing.sizes, named, drawn, unit)
    except ClothwrightError as error:
        note = f"only size {named} is kept, since the sizes do not correspond: {error}"
        return Sized(replace(own, notes=(*own.notes, note)), None)
    note = f"all sizes are kept ({', '.join(drawing.sizes)}); {named} is the one shown"
    return Sized(replace(own, notes=(*own.notes, note)), sizes)


def in_every_size(
    own: Sequence[InSize],
    names: Sequence[str],
    chosen: str,
    drawn: Callable[[str], Sequence[Candidate]],
    unit: Unit,
) -> SizeRange:
    """Return pieces in every size, with the names and edge names they have in the one chosen.

    drawn: the outlines of a size, one for each piece; each becomes what the answers about that one
    say, and edges are the same by their order from the same corner. Raises BadInput where sizes do
    not correspond.
    """
    sets = []
    for size in names:
        pieces = tuple(one.piece for one in own)
        if size != chosen:
            pairs = zip(own, drawn(size), strict=True)
            pieces = tuple(_in_size(one, it, size, unit) for one, it in pairs)
        sets.append(pieces)
    return SizeRange(names=tuple(names), drawn=chosen, pieces=tuple(sets))


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


def _in_size(one: InSize, drawn: Candidate, size: str, unit: Unit) -> Piece:
    """Return what an outline of another size becomes by the answers about the size chosen."""
    name, answers, edges = one.piece.name, one.answers(drawn), len(one.piece.edges)
    if answers.corners.startswith("at "):  # places in the size chosen
        answers = replace(answers, corners=str(edges))
    made = drafted(drawn, name, answers, unit=unit, where=f'size {size}, "{name}"').piece
    if len(made.edges) != edges:
        raise BadInput(
            what=f'"{name}" has {len(made.edges)} edges in size {size} and {edges} in the size '
            "chosen",
            expected="the same corners in every size",
            try_="saying how many corners it has",
        )
    return named_like(made, one.piece)


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
