"""Pieces turned as those that a border turns, so that the print runs one way on all of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from clothwright.pattern.parts import worn_together
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.order import BORDER
from clothwright.rules.wishes.border_round import Ring, is_usual, on_borders
from clothwright.rules.wishes.showing import ACROSS, Showing, noun
from clothwright.rules.wishes.two_ways import looks_turned
from clothwright.rules.wishes.wish import Wish
from clothwright.words import listed


def offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each garment with a border that the pieces beside its hem lie as those with it.

    Where the print has a top they have to; where it looks the same turned, it does not matter.
    """
    taken: set[str] = set()
    for ring in seen.rings:
        mine = tuple(n for n in _beside(seen, ring) if n not in taken)
        design = seen.print_of(ring[0][0].name)
        ways = on_borders(seen, ring)
        if not (mine and ways and looks_turned(design)):
            continue
        taken |= {*mine, *(p.name for p, _ in ring)}
        turned = tuple(OnGrain(piece=n, grain=ACROSS.lies) for n in mine)
        others, one = listed([f"the {n}" for n in mine]), len(mine) == 1
        body = listed(list(dict.fromkeys(p.name for p, _ in ring)))
        yield Wish(
            name=f"{listed(mine)} turned as the {body}",
            words=(f"the {noun(design)} run the same way on {others} as on the {body}",),
            why=(f"The border turns the {body}, and {others} {'goes' if one else 'go'} with it.",),
            without=f"the {noun(design)} run another way on {others} than on the {body}",
            rank=BORDER,
            usual=is_usual(seen, ring),
            grants=tuple(replace(g, rules=(*g.rules, *turned)) for _, g in ways),
        )


def _beside(seen: Showing, ring: Ring) -> tuple[str, ...]:
    """Return the pieces worn with a hem that no plan of hers and no usual border turns."""
    own = {p.name for p, _ in ring}
    usual = {p.name for r in seen.rings if is_usual(seen, r) and on_borders(seen, r) for p, _ in r}
    groups = worn_together(seen.pattern, [p.name for p in seen.outer])
    found = (n for group in groups if own & set(group) for n in group)
    return tuple(n for n in found if n not in own | usual and ACROSS in seen.ways_to_lie(n))
