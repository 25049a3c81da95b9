"""A wish: what she would like the print to do, and the rules that would give it."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.rules.order import LAST
from clothwright.rules.plan import PlacingRule


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
    decides; two wishes that decide one thing cannot both be had. seams: where it is seen how well
    the print meets. rank: its place in the usual order (`rules.order`). usual: common practice, so
    it is ticked from the start.
    """

    name: str
    words: Sentence
    grants: tuple[Grant, ...]
    why: Sentence = ()
    without: str
    settles: frozenset[tuple[str, str]] = frozenset()
    seams: tuple[str, ...] = ()
    rank: int = LAST
    usual: bool = False
