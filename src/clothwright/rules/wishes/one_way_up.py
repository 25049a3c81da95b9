"""All pieces with their tops one way, on cloth that has no way of its own."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.order import BORDER, LAST
from clothwright.rules.wishes.showing import Showing, bars_go_one_way
from clothwright.rules.wishes.wish import Grant, Wish

WHY = {
    True: "Turned end for end, a piece shows these bars in the other order.",
    False: "Safe where a print or a shine may have a way that is hard to see.",
}
WITHOUT = {
    True: "pieces may lie end for end, and on those the bars run in the other order",
    False: "pieces may lie either way up",
}


def offers(seen: Showing) -> Iterator[Wish]:
    """Yield one wish where a print could be turned unseen: with a top or a nap it never is.

    It is usual for bars that run in another order when a piece is turned end for end: they are
    laid as a nap is (docs/sources.md, checks and stripes).
    """
    free = {c.name: c for c in seen.cloths if not c.nap and c.print.up == "either"}
    names = [p.name for p in seen.outer if any(c.name in free for c in seen.cloths_of(p.name))]
    if len(names) < 2:
        return
    uneven = any(bars_go_one_way(c.print) for c in free.values())
    yield Wish(
        name="one way up",
        words=("all pieces lie one way up",),
        why=(WHY[uneven],),
        without=WITHOUT[uneven],
        rank=BORDER if uneven else LAST,
        usual=uneven,
        grants=(Grant(rules=(OneWay(pieces=tuple(names)),)),),
    )
