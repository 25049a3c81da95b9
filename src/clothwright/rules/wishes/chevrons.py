"""Stripes on the bias that meet as chevrons where two halves, or front and back, are sewn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clothwright.cloth.motions import ground
from clothwright.pattern.parts import held_together, is_pair
from clothwright.pattern.pattern import Seam
from clothwright.rules.kinds.chevron import Chevron
from clothwright.rules.order import CENTRE_FRONT
from clothwright.rules.wishes.showing import Showing, thing_called
from clothwright.rules.wishes.wish import Grant, Wish
from clothwright.words import listed, seam_name


def offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each thing made of pairs with centre seams, on a print that has a mirror."""
    names = [p.name for p in seen.body if is_pair(p) and _mirrors(seen, p.name)]
    twins = {n: seam for n in names if (seam := seen.twin_seam(n)) is not None}
    for group in held_together(seen.pattern, list(twins), kinds=("plain",)):
        sides = [s for s in seen.sides if s.pieces <= set(group)]
        yield _chevrons(seen, group, tuple(twins[n] for n in group), sides)


def _mirrors(seen: Showing, piece: str) -> bool:
    design = seen.print_of(piece)
    barred = (design.repeat_along or design.repeat_across) and not design.figures
    return bool(barred) and any(m.mirrors for m in ground(design).operations)


def _chevrons(
    seen: Showing, group: Sequence[str], centres: Sequence[Seam], sides: Sequence[Seam]
) -> Wish:
    where, also = (listed([seam_name(s.name) for s in of]) for of in (centres, sides))
    middle = tuple(_chevron(seen, s) for s in centres)
    whole = (*middle, *(_chevron(seen, s) for s in sides))
    both = Grant(rules=whole, how=(f"at the {where}, and at the {also}",))
    ways = (both, Grant(rules=middle, how=(f"at the {where} alone",)))
    return Wish(
        name=f"chevrons round {thing_called(group)}",
        words=(f"the bars meet as chevrons at the {where}, on the bias",),
        why=("Cloth on the bias gives and drops: let it hang before it is hemmed.",),
        without=f"the bars make no chevron at the {where}",
        rank=CENTRE_FRONT,
        usual=all(seen.on_bias(n) for n in group),
        settles=frozenset(("middle", n, "chevrons") for n in group),
        seams=tuple(s.name for s in centres),
        grants=ways if sides else (Grant(rules=middle),),
    )


def _chevron(seen: Showing, seam: Seam) -> Chevron:
    (a, at_a), (b, at_b) = seen.met(seam)[0]
    return Chevron(piece_a=a, point_a=at_a, piece_b=b, point_b=at_b, bias=True)
