"""The same piece in another size: its edges, darts and marks are named as those it goes with."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Dart, Mark, Piece


def named_like(piece: Piece, like: Piece) -> Piece:
    """Give a piece the names and the words of the same one in another size.

    Edges go together by their corners, darts by their order along an edge, marks by their places. A
    dart or mark more than the other has keeps a name of its own.
    """
    shift = _turn(piece, like)
    edges = [*piece.edges[shift:], *piece.edges[:shift]]
    names = {e.name: m.name for e, m in zip(edges, like.edges, strict=True)}
    named = tuple(
        replace(e, name=m.name, role=m.role, corner=m.corner, join=m.join)
        for e, m in zip(edges, like.edges, strict=True)
    )
    darts = _darts([replace(d, edge=names[d.edge]) for d in piece.darts], like.darts)
    step = _middle(piece) - _middle(like)
    return replace(
        piece,
        name=like.name,
        edges=named,
        darts=darts,
        marks=_marks(piece.marks, like.marks, step),
        cuts=like.cuts,
        note=like.note,
    )


def in_common(sets: Sequence[Sequence[Piece]]) -> tuple[tuple[tuple[Piece, ...], ...], str]:
    """Return the pieces of each size with the marks that every size has, and what is left out."""
    told = []
    out = []
    for same in zip(*sets, strict=True):
        each = [[_kind(m) for m in piece.marks] for piece in same]
        common = set(each[0]).intersection(*each[1:])
        alone = dict.fromkeys(m for marks in each for m in marks if m not in common)
        told += [f'{name} of "{same[0].name}"' for name, _ in alone]
        out.append(
            [replace(p, marks=tuple(m for m in p.marks if _kind(m) in common)) for p in same]
        )
    kept = tuple(tuple(pieces) for pieces in zip(*out, strict=True))
    return (
        kept,
        f"not drawn in every size, and left out when another is chosen: {', '.join(told)}"
        if told
        else "",
    )


def _turn(piece: Piece, like: Piece) -> int:
    """Return the number of the edge that is the other piece's first: corners lie nearest then."""
    count = len(piece.edges)

    def away(shift: int) -> float:
        return sum(
            piece.edges[(k + shift) % count].path.start.distance(like.edges[k].path.start)
            for k in range(count)
        )

    return min(range(count), key=away)


def _darts(darts: Sequence[Dart], like: Sequence[Dart]) -> tuple[Dart, ...]:
    """Return darts, their edges named as the other piece's, in its order and with its names."""
    out: list[Dart] = []
    left = sorted(darts, key=lambda d: d.a)
    for m in sorted(like, key=lambda d: d.a):
        found = next((d for d in left if d.edge == m.edge), None)
        if found is not None:
            left.remove(found)
            out.append(replace(found, name=m.name))
    order = [d.name for d in like]
    return (*sorted(out, key=lambda d: order.index(d.name)), *left)


def _marks(marks: Sequence[Mark], like: Sequence[Mark], step: Vec) -> tuple[Mark, ...]:
    """Return marks in the order and with the names of those they lie nearest to, moved by step."""
    out: list[Mark] = []
    left = list(marks)
    for m in like:
        of_kind = [x for x in left if (x.at is None) == (m.at is None)]
        if of_kind:
            where = _place(m) + step
            found = min(of_kind, key=lambda x: _place(x).distance(where))
            left.remove(found)
            out.append(replace(found, name=m.name, note=m.note))
    taken = {m.name for m in like}
    for x in left:
        tries = (x.name if n == 1 else f"{x.name} {n}" for n in range(1, len(taken) + 2))
        out.append(replace(x, name=next(t for t in tries if t not in taken)))
        taken.add(out[-1].name)
    return tuple(out)


def _kind(mark: Mark) -> tuple[str, bool]:
    return mark.name, mark.at is None


def _place(mark: Mark) -> Vec:
    if mark.path is None:
        return mark.at or Vec(0.0, 0.0)
    return mark.path.middle


def _middle(piece: Piece) -> Vec:
    return piece.outline.bounds().middle
