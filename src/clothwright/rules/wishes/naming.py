"""What plans made of wishes are called: a few words, what sets each apart from the first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from clothwright.rules.names import pieces_in
from clothwright.rules.wishes.wish import Grant, Had, Wish, WishedPlan
from clothwright.units import Unit
from clothwright.words import counted, listed, say

EVERYTHING = "everything wished"
MOST = "as much as goes together"
NOTHING = "nothing wished"
MOST_LETTERS = 64
"""A longer name is no name."""


def named(found: Sequence[WishedPlan], wishes: Sequence[Wish], unit: Unit) -> Iterator[WishedPlan]:
    """Yield the plans with a name each, at most `MOST_LETTERS` long; no two have the same.

    found: the first one is what the others are told from. wishes: in her order.
    """
    taken: set[str] = set()
    for one in found:
        ways = (w for w in _names(one, found[0], wishes, unit) if len(w) <= MOST_LETTERS)
        name = plain = next(ways)
        while name in taken:
            name = f"{plain} ({len(taken) + 1})"
        taken.add(name)
        yield replace(one, plan=replace(one.plan, name=name))


def _names(one: WishedPlan, first: WishedPlan, wishes: Sequence[Wish], unit: Unit) -> Iterator[str]:
    """Yield what a plan may be called, what says most first."""
    if one is first:
        near = any(h.gave_way for h in one.had)
        yield MOST if one.given_up or near else EVERYTHING
        return
    lost = [w for w in wishes if first.had_of(w) and not one.had_of(w)]
    kept = [h.wish for h in one.had]
    if lost and not kept:
        yield NOTHING
    missing = [w for w in wishes if not one.had_of(w)]
    if lost:
        whole = len(lost) == len(missing) and not any(h.gave_way for h in one.had)
        but = "all but " if whole else "without "
        ways = ((but, lost), ("only ", kept))
        for start, some in sorted(ways, key=lambda way: len(way[1])):
            yield start + listed([w.name for w in some])
            yield start + listed([_called(w) for w in some])
        also = f" and {len(missing) - 1} more" if len(lost) > 1 else ""
        yield f"{but}{_called(lost[0])}{also}"
        yield f"{but}{counted(len(missing), 'wish', 'wishes')}"
    more = [h.wish for h in one.had if first.had_of(h.wish) is None]
    if more:
        yield f"with {listed([w.name for w in more])}"
        yield f"with {listed([_called(w) for w in more])}"
        yield f"with {counted(len(more), 'wish', 'wishes')} more"
    other = [h for h in one.had if h.grant is not _grant(first, h.wish)]
    other = [h for h in other if not any(_comes_with(h, o) for o in other)]
    hows = [say(h.grant.how, unit) or f"lying {h.grant.lies} the cloth" for h in other]
    yield listed([f"{h.wish.name} {how}" for h, how in zip(other, hows, strict=True)])
    yield listed([f"{_called(h.wish)} {how}" for h, how in zip(other, hows, strict=True)])
    yield listed([f"{_called(h.wish)} in another way" for h in other])
    yield f"{counted(len(other), 'wish', 'wishes')} in another way"


def _comes_with(had: Had, other: Had) -> bool:
    """Tell whether a wish is had in another way only because what it brings along is."""
    return set(other.grant.rules) < set(had.grant.rules)


def _called(wish: Wish) -> str:
    """Return what a wish is called in short: by its pieces where its name is a sentence."""
    pieces = sorted(pieces_in(r for g in wish.grants for r in g.rules))
    about = f"the wish for {listed([f'the {n}' for n in pieces])}"
    return wish.name if len(wish.name) <= MOST_LETTERS // 2 else about


def _grant(plan: WishedPlan, wish: Wish) -> Grant | None:
    had = plan.had_of(wish)
    return had.grant if had else None
