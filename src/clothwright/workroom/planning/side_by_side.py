"""Where does the print go? Every plan of a workbook side by side, as it is laid while one looks."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.picture.document import Table
from clothwright.rules.weighing.laid import Laid, lay_mark
from clothwright.store import Opened
from clothwright.words import counted
from clothwright.workroom.planning.cards import Card, cards
from clothwright.workroom.planning.facts import RankedPlan, compare_table, ranked_plans
from clothwright.workroom.planning.ways_shown import ShownWays, ways_shown
from clothwright.workroom.searching.lays import Lays, WaysState


@dataclass(frozen=True, slots=True, kw_only=True)
class Ways:
    """How to make one plan fit: how far the search is, and what it found."""

    state: WaysState
    shown: ShownWays


@dataclass(frozen=True, slots=True, kw_only=True)
class Plans:
    """Every plan, laid as well as it is by now.

    laid: their lays, of those that are laid. ways: for those that do not fit. table: everything to
    weigh, a column for each plan, and ranked: the best first; None and empty while fewer than two
    are laid. busy: something is searched.
    """

    cards: tuple[Card, ...] = ()
    laid: tuple[Laid, ...] = ()
    ways: tuple[tuple[str, Ways], ...] = ()
    table: Table | None = None
    ranked: tuple[RankedPlan, ...] = ()
    busy: bool = False

    @property
    def told(self) -> str:
        """How many that are laid fit, or come near, and how many are not laid: a sentence."""
        laid, left = len(self.laid), len(self.cards) - len(self.laid)
        if not laid:
            return "No plan is laid yet."
        fit = sum(1 for c in self.cards if c.fits)
        of = counted(laid, "plan") + (" laid" if left else "")
        near = sum(1 for one in self.laid if one.comes_near)
        but = f", {near} of them without a rule of yours" if near else ""
        yet = f"; {left} {'is' if left == 1 else 'are'} not laid yet" if left else ""
        return f"{f'{fit} of' if fit else 'Of'} {of} {_fit(fit)}{but}{yet}."


def _fit(fit: int) -> str:
    return ("none fits yet", "fits")[fit] if fit < 2 else "fit"


def plans_of(lays: Lays, at: Opened) -> Plans:
    """Return the plans of a workbook in its order. at: the workbook as it is looked at."""
    states = lays.states()
    shown = cards(lays, at, states)
    laid = tuple(s.laid for s in states if s.laid is not None)
    ways = tuple((c.name, _ways(lays, at, c)) for c in shown if c.fails)
    return Plans(
        cards=shown,
        laid=laid,
        ways=ways,
        table=compare_table(at.book, laid) if len(laid) > 1 else None,
        ranked=_ranked(lays, at, laid) if len(laid) > 1 else (),
        busy=any(c.busy for c in shown) or any(w.state.busy for _, w in ways),
    )


def _ranked(lays: Lays, at: Opened, laid: tuple[Laid, ...]) -> tuple[RankedPlan, ...]:
    marks = tuple((one.plan.name, lay_mark(one.lay)) for one in laid)
    return lays.opened.once(
        "ranked plans", at.revision, lambda: ranked_plans(at.book, laid), of=marks
    )


def _ways(lays: Lays, at: Opened, card: Card) -> Ways:
    state = lays.ways(card.name)
    return Ways(state=state, shown=ways_shown(state.ways or (), card.short_by, at.book.unit))
