"""Several sizes in one drawing: which there are, and what in them is the same piece."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.errors import BadInput, not_known
from clothwright.geometry.box import Box, box_of_all
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Question
from clothwright.intake.candidates import Candidate
from clothwright.intake.chains import JOIN_MM
from clothwright.intake.drawing import Drawing, DrawnLine
from clothwright.intake.shared_stretches import shared_stretches
from clothwright.intake.size_names import size_in

LONG_MM = 10.0
"""mm: a straight edge as long tells where a piece lies on its other sizes."""
MOST_LINES = 40


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

    Words that say a size are left out: they are one of several. Where its lines end on a line that
    is drawn in another size only (a centre that all share), that line between the two ends is its
    own too.
    """
    wanted = size_named(drawing, size)
    own = [x for x in drawing.lines if x.size in ("", wanted)]
    texts = tuple(t for t in drawing.texts if t.size in ("", wanted) and not size_in(t.words))
    others = [x for x in drawing.lines if x.size not in ("", wanted)]
    return replace(drawing, lines=(*own, *shared_stretches(own, others)), texts=texts, sizes=())


def same_one(like: Candidate, name: str, left: list[Candidate], size: str, step: Vec) -> Candidate:
    """Take the outline that is the same piece out of those of a size that are left.

    like, name: what it is in the size chosen. It is the one of that name, the nearest and most
    alike of them; step: mm from the chosen size to this one, where each is drawn at its own place.
    Where it lies beside the other, it is laid on it. Raises BadInput: none is left.
    """
    if not left:
        raise BadInput(what=f'size {size} has no piece "{name}"')
    called = like.words.name
    named = [c for c in left if c.words.name == called] if called else []
    found = min(named or left, key=lambda c: _unlike(c, like, step))
    left.remove(found)
    return _laid_on(found, like)


def step_between(chosen: Sequence[Candidate], other: Sequence[Candidate]) -> Vec:
    """Return how far all outlines of a size lie from those of the one chosen, mm."""
    if not chosen or not other:
        return Vec(0.0, 0.0)
    old, new = (box_of_all(c.outline.path.bounds() for c in some) for some in (chosen, other))
    return new.low - old.low


def _unlike(one: Candidate, like: Candidate, step: Vec) -> float:
    mine, other = one.outline.path.bounds(), like.outline.path.bounds()
    away, grown = mine.middle - other.middle, mine.size - other.size
    return min(away.norm, (away - step).norm) + abs(grown.x) + abs(grown.y)


def _laid_on(one: Candidate, like: Candidate) -> Candidate:
    """Return an outline that lies beside another laid on it, most of its straight edges on its."""
    mine, other = one.outline.path.bounds(), like.outline.path.bounds()
    if over(mine, other):
        return one
    low, high = other.low - mine.low, other.high - mine.high
    shifts = [Vec(x, y) for x in (low.x, high.x) for y in (low.y, high.y)]
    lines = [s for s in one.outline.path.segments if isinstance(s, Line) and s.length > LONG_MM]
    longest = sorted(lines, key=lambda s: -s.length)[:MOST_LINES]

    def shared(by: Vec) -> float:
        return sum(
            s.length
            for s in longest
            if all(like.outline.path.nearest(p + by)[1] <= JOIN_MM for p in (s.start, s.end))
        )

    return _moved(one, max(shifts, key=shared))


def over(one: Box, other: Box) -> bool:
    """Tell whether two boxes (mm) lie on each other: the middle of each in the other."""
    return one.holds(other.middle) and other.holds(one.middle)


def _moved(one: Candidate, by: Vec) -> Candidate:
    move = translation(by)

    def lines(some: Sequence[DrawnLine]) -> tuple[DrawnLine, ...]:
        return tuple(replace(x, path=x.path.transformed(move)) for x in some)

    return Candidate(
        outline=lines([one.outline])[0],
        nested=lines(one.nested),
        inner=lines(one.inner),
        texts=tuple(replace(t, at=t.at + by) for t in one.texts),
        kept=lines(one.kept),
    )
