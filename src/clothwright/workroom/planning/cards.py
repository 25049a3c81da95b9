"""One plan as a card: does it fit, what is used, how the print meets, its lay drawn small."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwright.drawing.lay import ROOM_MM
from clothwright.drawing.small_lay import SmallLay, shown_small
from clothwright.rules.weighing.fact import Fact
from clothwright.rules.weighing.facts import facts, fit_and_spare
from clothwright.rules.weighing.laid import Laid
from clothwright.store import Opened
from clothwright.units import Unit
from clothwright.words import begun
from clothwright.workroom.searching.lays import Lays, LayState

AGAIN = "The pieces, the cloth or its rules have changed. Lay it again."


@dataclass(frozen=True, slots=True, kw_only=True)
class Looks:
    """What a laid plan looks like: its lays drawn small, facts to weigh, faults in sentences."""

    lays: tuple[SmallLay, ...] = ()
    facts: tuple[Fact, ...] = ()
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One plan. kind: "good", "notice" or "bad"; verdict: the same in words.

    share: how much of its search is done, 0 to 1. short_by: mm that are missing, None for a plan
    that fits, is not laid, or cannot tell. fails: it is laid and does not fit.
    """

    name: str
    why: str
    chosen: bool
    busy: bool
    share: float
    kind: str
    verdict: str
    fits: bool
    fails: bool
    short_by: float | None
    looks: Looks


def cards(lays: Lays, at: Opened, states: Sequence[LayState]) -> tuple[Card, ...]:
    """Return the plans as cards; lays on one cloth are drawn to one scale.

    at: the workbook as it is looked at. Words are in its unit.
    """
    longest: dict[str, float] = {}
    for state in states:
        if state.laid is not None:
            for cloth in state.laid.laid_cloths:
                room = 0.0 if cloth.length is not None else ROOM_MM
                ends = (longest.get(cloth.name, 0.0), cloth.length or 0.0)
                longest[cloth.name] = max(*ends, state.laid.lay.used[cloth.name] + room)
    return tuple(_card(lays, at, s, tuple(longest.items())) for s in states)


def _card(lays: Lays, at: Opened, state: LayState, longest: tuple[tuple[str, float], ...]) -> Card:
    book, laid = at.book, state.laid
    kind, verdict = _verdict(state, book.unit)
    looks = Looks()
    if laid is not None:
        looks = lays.opened.once(
            f"card {state.plan}",
            at.revision,
            lambda: _looks(at, laid, dict(longest)),
            of=(laid.lay, laid.folds, longest),
        )
    return Card(
        name=state.plan,
        why=next((p.why for p in book.plans if p.name == state.plan), ""),
        chosen=bool(book.plans) and state.plan == book.plan().name,
        busy=state.busy,
        share=state.spent / state.seconds if state.seconds else 0.0,
        kind=kind,
        verdict=verdict,
        fits=laid is not None and laid.lay.fits and not laid.faults,
        fails=laid is not None and not laid.lay.fits,
        short_by=None if laid is None else laid.lay.short_by,
        looks=looks,
    )


def _looks(at: Opened, laid: Laid, longest: dict[str, float]) -> Looks:
    unit = at.book.unit
    small = (shown_small(laid, c, unit, longest[c.name]) for c in laid.laid_cloths)
    return Looks(
        lays=tuple(sorted(small, key=lambda one: not one.large)),
        facts=tuple(f for f in facts(laid, unit, at.book.settings.currency) if f.short),
        faults=laid.fault_words(unit),
    )


def _verdict(state: LayState, unit: Unit) -> tuple[str, str]:
    """Return how a plan stands, as a kind and a sentence."""
    laid = state.laid
    if state.stage == "failed":
        return "bad", f"It cannot be laid. {state.trouble}"
    so_far = fit_and_spare(laid, unit) if laid is not None else ""
    if state.stage == "waiting":
        return "notice", "It waits for its turn." + (f" So far: {so_far}." if so_far else "")
    if state.stage == "laying":
        return "notice", f"Being laid. So far: {so_far or 'the first lay is being made'}."
    if laid is None:
        return "notice", AGAIN if state.stage == "stale" else "Not laid yet."
    good = laid.lay.fits and not laid.faults
    told = laid.compiled.notes or laid.compiled.gave_way or laid.compiled.of_cut
    kind = "bad" if not good else "notice" if told else "good"
    return kind, f"{begun(so_far)}."
