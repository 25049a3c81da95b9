"""From wishes in their order to a few plans: whole ones, none against itself, none in silence."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from clothwright.cloth.cloth import Cloth
from clothwright.errors import Sentence, joined
from clothwright.pattern.pattern import Pattern
from clothwright.rules.kinds.on_grain import TURNS
from clothwright.rules.known import kind_of
from clothwright.rules.names import pieces_in
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.stating import Stated, asking, stated
from clothwright.rules.wishes.asked import Demands
from clothwright.rules.wishes.naming import named
from clothwright.rules.wishes.two_ways import order_is_open, runs_two_ways
from clothwright.rules.wishes.wish import GivenUp, Grant, Had, Wish, WishedPlan
from clothwright.units import Unit
from clothwright.words import listed

MOST_PLANS = 12
"""More plans than these nobody weighs against each other."""
LET_GO: Sentence = ("it is let go here, to see what it costs",)
Rules = tuple[PlacingRule, ...]


def plans_from(
    pattern: Pattern, cloths: Sequence[Cloth], wishes: Sequence[Wish], carried: Rules, unit: Unit
) -> tuple[WishedPlan, ...]:
    """Return the plans worth laying, at most `MOST_PLANS`, the most promising first.

    wishes: what matters most first. carried: rules that are in every plan. The first plan grants
    every wish in its best way, as far as they go together. The others have one of them in another
    way, or let go of one, or of the last ones; one of them does without her first.
    """
    making = _Making(
        pattern=pattern,
        cloths=tuple(cloths),
        wishes=tuple(wishes),
        carried=carried,
        demands=Demands(pattern=pattern, cloths=tuple(cloths)),
    )
    found: dict[frozenset[PlacingRule], WishedPlan] = {}
    for ways in _ways(wishes):
        one = making.plan(ways)
        found.setdefault(frozenset(one.plan.rules), one)
        if len(found) >= 2 * MOST_PLANS:
            break
    best = sorted(found.values(), key=lambda one: one.promise(wishes))
    return tuple(named(_worth_laying(best, wishes), wishes, unit))


def _worth_laying(best: Sequence[WishedPlan], wishes: Sequence[Wish]) -> Sequence[WishedPlan]:
    """Return the most promising plans, and one without her first wish, which often costs most."""
    first = list(best[:MOST_PLANS])
    without = [one for one in best if not all(map(one.had_of, wishes[:1]))]
    if without and without[0] not in first:
        first[-1] = without[0]
    return first


Ways = Mapping[str, int | None]
"""By the name of a wish: which way it is had at the best, None to let it go; 0 where not said."""


def _ways(wishes: Sequence[Wish]) -> Iterator[Ways]:
    """Yield what is tried: each other way, each wish let go, and the last ones together."""
    yield {}
    yield from ({w.name: None} for w in wishes[:1])
    for wish in reversed(wishes):
        yield from ({wish.name: n} for n in range(1, len(wish.grants)))
        yield {wish.name: None}
    for first in range(len(wishes) - 1, -1, -1):
        yield {w.name: None for w in wishes[first:]}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Making:
    """Plans made of wishes one after another; what rules state is found out once."""

    pattern: Pattern
    cloths: tuple[Cloth, ...]
    wishes: tuple[Wish, ...]
    carried: Rules
    demands: Demands
    known: dict[Rules, Stated] = field(default_factory=dict)

    def plan(self, ways: Ways) -> WishedPlan:
        """Return the plan of the wishes in these ways; what cannot be had so, in the next way."""
        let_go = [w for w in self.wishes if ways.get(w.name, 0) is None]
        had: list[Had] = []
        given_up: list[GivenUp] = []
        rules = self.carried
        for wish in self.wishes:
            way = ways.get(wish.name, 0)
            found = LET_GO if way is None else self.grant(wish, way, rules, had, let_go)
            if isinstance(found, Grant):
                had.append(Had(wish=wish, grant=found))
                rules = with_more(rules, found.rules)
            else:
                given_up.append(GivenUp(wish=wish, why=found))
        for lost in tuple(given_up):
            if (grant := self.implied(lost.wish, rules)) is not None:
                had.append(Had(wish=lost.wish, grant=grant))
                given_up.remove(lost)
                rules = with_more(rules, grant.rules)
        told, whole = self.gave_way(rules), self.stated(rules)
        order = [w.name for w in self.wishes]
        return WishedPlan(
            plan=Plan(name="", rules=rules),
            had=tuple(
                replace(h, gave_way=tuple(told[r] for r in h.grant.rules if r in told))
                for h in sorted(had, key=lambda h: order.index(h.wish.name))
            ),
            given_up=tuple(given_up),
            cautions=(*runs_two_ways(whole.table), *order_is_open(whole)),
        )

    def grant(
        self, wish: Wish, way: int, rules: Rules, had: Sequence[Had], let_go: Sequence[Wish]
    ) -> Grant | Sentence:
        """Return how a wish can be had beside those before it, or why it cannot.

        let_go: what this plan does without, and so all that asks it too.
        """
        other = next((h.wish for h in had if h.wish.against(wish)), None)
        if other is not None:
            return ("what comes before it settles this otherwise: ", *other.words)
        why: Sentence = ()
        for grant in (*wish.grants[way:], *wish.grants[:way]):
            if gone := next((w for w in let_go if w.is_part_of(grant)), None):
                why = ("it goes with what is let go: ", *gone.words)
                continue
            together = with_more(rules, grant.rules)
            if names := self.otherwise(grant, together):
                why = why or _would_lie(names, grant.lies)
                continue
            wrong = self.wrong(together)
            if wrong is None:
                return grant
            why = wrong
        return why

    def implied(self, wish: Wish, rules: Rules) -> Grant | None:
        """Return how a wish is had by what others ask already, in whatever words."""
        kinds = {type(r) for r in rules}
        for grant in (g for g in wish.grants if g.rules and kinds >= {type(r) for r in g.rules}):
            if self.lies(grant, rules):
                places = [self.demands.places((r,), grant.lies) for r in grant.rules]
                if all(places) and frozenset().union(*places) <= self.demands.places(rules, ""):
                    return grant
        return None

    def lies(self, grant: Grant, rules: Rules) -> bool:
        """Tell whether the pieces of a grant lie by these rules as it needs."""
        return not self.otherwise(grant, rules)

    def otherwise(self, grant: Grant, rules: Rules) -> tuple[str, ...]:
        """Return those of its pieces that do not."""
        pieces = pieces_in(grant.rules) if grant.lies else ()
        turning = tuple(r for r in rules if kind_of(r).turns or kind_of(r).home)
        table = self.stated(turning).table
        lying = (e for e in table.lying.values() if e.copy.piece.name in pieces)
        ways = set(TURNS.get(grant.lies, ()))
        other = [e.copy.piece.name for e in lying if not {t % 360.0 for t in e.turns_deg} <= ways]
        return tuple(dict.fromkeys(other))

    def wrong(self, rules: Rules) -> Sentence | None:
        """Return why rules cannot be together, None when they can."""
        found = asking(self.pattern, self.cloths, Plan(name="", rules=rules)).mistaken
        return joined(found[-1].wrong[0].error.what) if found else None

    def gave_way(self, rules: Rules) -> Mapping[PlacingRule, Sentence]:
        """Return what is said of the rules that come only near."""
        missed = self.stated(rules).gave_way
        return {rules[n - 1]: seen.words for n, seen in missed.items()}

    def stated(self, rules: Rules) -> Stated:
        if rules not in self.known:
            self.known[rules] = stated(self.pattern, self.cloths, Plan(name="", rules=rules))
        return self.known[rules]


def with_more(rules: Rules, more: Rules) -> Rules:
    """Return rules with those of others that are not among them."""
    return (*rules, *(r for r in more if r not in rules))


def _would_lie(names: Sequence[str], lies: str) -> Sentence:
    """Say that some pieces lie the wrong way for a wish."""
    way = {"across": "across the cloth", "along": "along the selvedge", "bias": "on the bias"}
    return (f"for it {listed(names)} would have to lie {way[lies]}",)
