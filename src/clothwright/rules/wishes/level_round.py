"""What is printed stands level round the body: at the seams that run up it, and at the sleeves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clothwright.pattern.parts import front_or_back, held_together
from clothwright.pattern.pattern import Seam
from clothwright.rules.kinds.meets import Meets, Named
from clothwright.rules.order import FRONT_ARMHOLE, SIDE
from clothwright.rules.wishes.showing import Showing, noun, thing_called
from clothwright.rules.wishes.wish import Grant, Wish
from clothwright.words import listed, seam_name

STEPS = "A step in the height of what is printed is seen from across a room."
DARTED = "Matched from the hem up, what is left over falls above the dart, under the arm."


def offers(seen: Showing) -> Iterator[Wish]:
    """Yield one wish for each thing that goes round the body, where its print repeats up it."""
    names = [p.name for p in seen.body if seen.level_ways(p.name)]
    for group in held_together(seen.pattern, names, kinds=("plain",)):
        sides = [s for s in seen.sides if s.pieces <= set(group)]
        if sides:
            yield _level(seen, group, sides)


def _level(seen: Showing, group: Sequence[str], sides: Sequence[Seam]) -> Wish:
    what, where = noun(seen.print_of(group[0])), listed([seam_name(s.name) for s in sides])
    low = tuple(_meets(seen.met(s)[0]) for s in sides)
    high = tuple(_meets(seen.met(s)[-1]) for s in sides)
    darts = any(_has_dart(seen, s) for s in sides)
    ways = [(low, "matched from the hem up"), (high, "matched from the armhole down")]
    grants = [
        Grant(rules=rules, how=(how,) if darts else (), lies=axes.lies)
        for axes in seen.level_ways(group[0])
        for rules, how in ways[: 2 if darts else 1]
    ]
    return Wish(
        name=f"level round {thing_called(group)}",
        words=(f"the {what} stand level round {thing_called(group)}, at the {where}",),
        why=(DARTED if darts else STEPS,),
        without=f"the {what} may be out of level at the {where}",
        seams=tuple(s.name for s in sides),
        rank=SIDE,
        usual=True,
        grants=tuple(grants),
    )


def _has_dart(seen: Showing, seam: Seam) -> bool:
    return any(seen.pattern.piece(r.piece).darts_on(r.edge) for r in seam.refs)


def _meets(pair: tuple[Named, Named], match: str = "level") -> Meets:
    (a, at_a), (b, at_b) = pair
    return Meets(piece_a=a, point_a=at_a, piece_b=b, point_b=at_b, match=match)


def sleeve_offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each sleeve that it is level with the front, or else with the back, at a notch."""
    names = {p.name for p in seen.outer if seen.level_ways(p.name)}
    for seam in seen.pattern.seams:
        if seam.kind != "cap" or seam.b[0].piece not in names:
            continue
        ways = [
            Grant(rules=(_meets(pair),), how=(f"at the notch of the {pair[0][0]}",), lies=axes.lies)
            for axes in seen.level_ways(seam.b[0].piece)
            for side in ("front", "back")
            for pair in seen.met(seam)
            if pair[0][0] in names and "notch" in pair[0][1]
            if front_or_back(seen.pattern.piece(pair[0][0])) == side
        ]
        if ways:
            sleeve, what = seam.b[0].piece, noun(seen.print_of(seam.b[0].piece))
            yield Wish(
                name=f"level {sleeve}",
                words=(f"the {what} of the {sleeve} stand level with the body",),
                why=("Only one height of a cap can meet an armhole: the front is seen first.",),
                without=f"the {what} of the {sleeve} stand higher or lower than those of the body",
                seams=(seam.name,),
                rank=FRONT_ARMHOLE,
                usual=True,
                grants=tuple(ways),
            )
