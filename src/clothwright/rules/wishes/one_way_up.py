"""All pieces with their tops one way, on cloth that has no way of its own."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.wishes.showing import Showing
from clothwright.rules.wishes.wish import Grant, Wish


def offers(seen: Showing) -> Iterator[Wish]:
    """Yield one wish where a print could be turned unseen: with a top or a nap it never is."""
    free = [c for c in seen.cloths if not c.nap and c.print.up == "either"]
    names = [p.name for p in seen.outer if any(c in free for c in seen.cloths_of(p.name))]
    if len(names) > 1:
        yield Wish(
            name="one way up",
            words=("all pieces lie one way up",),
            why=("Safe where a print or a shine may have a way that is hard to see.",),
            without="pieces may lie either way up",
            grants=(Grant(rules=(OneWay(pieces=tuple(names)),)),),
        )
