"""A wish: what she would like the print to do, the rules that give it, the plans that have it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.rules.order import LAST
from clothwright.rules.plan import PlacingRule, Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Grant:
    """One way to have a wish.

    rules: in the order of their importance. how: what tells it from the other ways, after the
    wish's own words; empty where there is one way. lies: the way its pieces have to lie for it,
    "along" the selvedge or "across" it; "" where it does not matter.
    """

    rules: tuple[PlacingRule, ...]
    how: Sentence = ()
    lies: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """Something she would like. name: a few words, no other wish has them.

    words: a clause, lengths in mm. why: a sentence on why it is worth wishing. without: a clause,
    what it means to let it go. grants: the ways to have it, the best first. settles: what it
    decides, and how: (what, of which piece, how); two that decide one thing otherwise cannot both
    be had. seams: where it is seen how well
    the print meets. rank: its place in the usual order (`rules.order`). usual: common practice, so
    it is ticked from the start.
    """

    name: str
    words: Sentence
    grants: tuple[Grant, ...]
    why: Sentence = ()
    without: str
    settles: frozenset[tuple[str, str, str]] = frozenset()
    seams: tuple[str, ...] = ()
    rank: int = LAST
    usual: bool = False

    def against(self, other: Wish) -> bool:
        """Tell whether two wishes decide one thing otherwise."""
        its = {s[:2]: s[2] for s in other.settles}
        return any(its.get((what, piece), how) != how for what, piece, how in self.settles)

    def is_part_of(self, grant: Grant) -> bool:
        """Tell whether a grant of another wish asks all that one of its own does."""
        return any(g.rules and set(g.rules) <= set(grant.rules) for g in self.grants)


@dataclass(frozen=True, slots=True, kw_only=True)
class Had:
    """A wish that a plan grants, and how. gave_way: what of it wishes before leave no place for."""

    wish: Wish
    grant: Grant
    gave_way: tuple[Sentence, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenUp:
    """A wish that a plan does not grant, and why not: a clause."""

    wish: Wish
    why: Sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class WishedPlan:
    """A plan made of wishes: every one of them is had or given up.

    cautions: what is seen of it that nobody wished, in whole sentences.
    """

    plan: Plan
    had: tuple[Had, ...]
    given_up: tuple[GivenUp, ...]
    cautions: tuple[Sentence, ...] = ()

    def had_of(self, wish: Wish) -> Had | None:
        """Return how it has a wish, None where it is given up."""
        return next((h for h in self.had if h.wish.name == wish.name), None)

    def promise(self, wishes: Sequence[Wish]) -> tuple[int, ...]:
        """Return how well it has each wish before it is laid, the less the better.

        0: in the best way; 1: in another; 2: as near as the wishes before it leave; 3: given up.
        """
        return tuple(_state(w, self.had_of(w)) for w in wishes)


def _state(wish: Wish, had: Had | None) -> int:
    if had is None:
        return 3
    return 2 if had.gave_way else int(had.grant is not wish.grants[0])
