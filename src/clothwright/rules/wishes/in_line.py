"""Bars up the body that run on where a seam goes round it: at the shoulder, the nape, a yoke."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.pattern.parts import front_or_back, runs_up
from clothwright.pattern.pattern import Seam
from clothwright.rules.kinds.meets import Meets, Named
from clothwright.rules.order import COLLAR, LAST, SHOULDER
from clothwright.rules.wishes.showing import Showing, noun
from clothwright.rules.wishes.wish import Grant, Wish
from clothwright.words import seam_name


def middle_offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each collar, yoke or skirt that its middle runs on from what it is sewn to.

    It is usual for a collar; a yoke is often turned on purpose (docs/sources.md, which seams
    first).
    """
    collars = {p.name for p in seen.collars}
    middle = {p.name: seen.on_middle(p) for p in seen.outer}
    for seam in seen.pattern.seams:
        for one, other in seen.met(seam) if _goes_round(seen, seam) else ():
            low, high = (other, one) if one[0] in collars else (one, other)
            central = all(n[1] in middle.get(n[0], ()) for n in (low, high))
            if central and (grants := _in_line(seen, low, high)):
                what, nape = noun(seen.print_of(high[0])), high[0] in collars
                yield Wish(
                    name=f"{high[0]} in line with the {low[0]}",
                    words=(
                        f"the {what} of the {high[0]} run on from the {low[0]} "
                        f"in the {'nape' if nape else 'middle'}",
                    ),
                    why=("There a step to the side is seen at once.",),
                    without=f"the {what} of the {high[0]} may lie beside those of the {low[0]}",
                    rank=COLLAR if nape else LAST,
                    usual=nape,
                    grants=grants,
                )


def _goes_round(seen: Showing, seam: Seam) -> bool:
    two = len(seam.pieces) > 1
    return seam.kind == "plain" and two and not runs_up(seen.pattern, seam)


def shoulder_offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each shoulder that what runs up the front meets the back at the neck.

    It is usual on upright stripes; what goes round the body too has more to be matched before.
    """
    views = {p.name: front_or_back(p) for p in seen.body}
    for seam in seen.pattern.seams:
        if _views(seam, views) != ["back", "front"] or runs_up(seen.pattern, seam):
            continue
        one, other = seen.met(seam)[-1]
        grants, what = _in_line(seen, one, other), noun(seen.print_of(one[0]))
        where = f"the {seam_name(seam.name)} of {one[0]} and {other[0]}, at the neck"
        if grants:
            yield Wish(
                name=f"in line at the {seam_name(seam.name)}",
                words=(f"the {what} that run up the body meet at {where}",),
                why=("Further out they part as the two slopes differ.",),
                without=f"the {what} may lie beside each other at {where}",
                rank=SHOULDER,
                usual=not seen.level_ways(one[0]),
                grants=grants,
            )


def _views(seam: Seam, views: dict[str, str]) -> list[str]:
    names = seam.pieces if seam.kind == "plain" else set()
    return sorted(views.get(n, "") for n in names)


def _in_line(seen: Showing, a: Named, b: Named) -> tuple[Grant, ...]:
    """Return that two points lie in line, where the print comes again from side to side."""
    if not {a[0], b[0]} <= {p.name for p in seen.outer}:
        return ()
    design = seen.print_of(a[0])
    meets = Meets(piece_a=a[0], point_a=a[1], piece_b=b[0], point_b=b[1], match="upright")
    ways = (w for w in seen.ways_to_lie(a[0]) if design.ground_repeat(w.width))
    return tuple(Grant(rules=(meets,), lies=w.lies) for w in ways)
