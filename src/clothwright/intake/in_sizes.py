"""Several sizes in one drawing: which there are, and what in them is the same piece."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.errors import BadInput, not_known
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Question
from clothwright.intake.candidates import Candidate
from clothwright.intake.chains import JOIN_MM
from clothwright.intake.drawing import Drawing, DrawnLine
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
    """Return the drawing with the lines of one size and those of all sizes. Raises BadInput.

    Where its lines end on a line that is drawn in another size only (a centre that all share), that
    line between the two ends is its own too.
    """
    wanted = size_named(drawing, size)
    own = [x for x in drawing.lines if x.size in ("", wanted)]
    others = [x for x in drawing.lines if x.size not in ("", wanted)]
    return replace(drawing, lines=(*own, *_shared(own, others)), sizes=())


def _shared(own: Sequence[DrawnLine], others: Sequence[DrawnLine]) -> list[DrawnLine]:
    """Return the stretches of other sizes' lines between two ends that nothing of ours meets."""
    ends = [e for x in own if not x.closed for e in (x.path.start, x.path.end)]
    ends = [e for e in ends if _is_lone(e, ends)]
    out: list[DrawnLine] = []
    for line in others:
        if len(ends) < 2:
            break
        low, high = line.path.bounds()
        near = [
            (line.path.nearest(e), e)
            for e in ends
            if low.x - JOIN_MM <= e.x <= high.x + JOIN_MM
            and low.y - JOIN_MM <= e.y <= high.y + JOIN_MM
        ]
        met = sorted((at, k) for k, ((at, away), _) in enumerate(near) if away <= JOIN_MM)
        if len(met) != 2 or met[1][0] - met[0][0] <= JOIN_MM:
            continue
        out.append(DrawnLine(path=_shorter(line, met[0][0], met[1][0]), closed=False))
        gone = [near[k][1] for _, k in met]
        ends = [e for e in ends if e not in gone]
    return out


def _is_lone(e: Vec, ends: Sequence[Vec]) -> bool:
    """Tell whether an end meets none of the others."""
    return sum(e.distance(p) <= JOIN_MM for p in ends) == 1


def _shorter(line: DrawnLine, a: float, b: float) -> Path:
    """Return the stretch between two places of a line; of a closed one the shorter way round."""
    path = line.path
    if not line.closed or b - a <= path.length / 2:
        return path.between(a, b)
    rest = [
        path.between(*span) for span in ((b, path.length), (0.0, a)) if span[1] - span[0] > 1e-6
    ]
    return rest[0].joined(rest[1]) if len(rest) > 1 else rest[0]


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
