"""One plan as a card: does it fit, what is used, how the print meets, its lay drawn small."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.lay import ROOM_MM
from clothwright.drawing.small_lay import small_lay
from clothwright.geometry.vec import Vec
from clothwright.picture.picture import Picture
from clothwright.rules.facts import Fact, facts
from clothwright.rules.laid import Laid
from clothwright.store import Opened
from clothwright.units import Unit
from clothwright.words import listed, show_length, to_buy
from clothwright.workroom.searching.lays import Lays, LayState

WHOLE = "\u00a0"
"""A space that a line is not broken at."""
AGAIN = "The pieces, the cloth or its rules have changed. Lay it again."


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallLay:
    """One cloth of a lay, drawn small.

    alt: what is drawn, in words. within: the corners shown, mm, one scale for all lays on a cloth.
    large: in hand, printed or folded, so it is what decides.
    """

    cloth: str
    words: str
    alt: str
    picture: Picture
    within: tuple[Vec, Vec]
    large: bool


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
    small = (_small(laid, c, unit, longest[c.name]) for c in laid.laid_cloths)
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
    so_far = _fit(laid, unit) if laid is not None else ""
    if state.stage == "waiting":
        return "notice", "It waits for its turn." + (f" So far: {so_far}." if so_far else "")
    if state.stage == "laying":
        return "notice", f"Being laid. So far: {so_far or 'the first lay is being made'}."
    if laid is None:
        return "notice", AGAIN if state.stage == "stale" else "Not laid yet."
    good = laid.lay.fits and not laid.faults
    return "good" if good else "bad", f"{so_far[:1].upper()}{so_far[1:]}."


def _fit(laid: Laid, unit: Unit) -> str:
    """Say whether it fits, and with how much to spare."""
    if laid.faults:
        return "not to be cut by: the lay has faults"
    words = laid.fit_words(unit)
    if laid.lay.fits:
        left = [(show_length(v, unit), f"of {n} left") for n, v in laid.left_over.items()]
        left = left or [(to_buy(v, unit), f"of {n} to buy") for n, v in laid.buy.items()]
        # a length is not broken at the end of a line
        return ", ".join((words, *(f"{v.replace(' ', WHOLE)} {rest}" for v, rest in left)))
    return words if words.startswith("does not") else f"does not fit: {words}"


# --- the small drawing ----------------------------------------------------------------------------


def _small(laid: Laid, cloth: Cloth, unit: Unit, longest: float) -> SmallLay:
    """Return one cloth with its pieces, to the scale of the longest lay on that cloth."""
    used = laid.lay.used[cloth.name]
    end = cloth.length if cloth.length is not None else used + ROOM_MM
    folds = [f for f in laid.folds if f.cloth == cloth.name]
    words = f"{show_length(used, unit)} used"
    if cloth.length is not None:
        words += f" of {show_length(cloth.length, unit)}"
    words += "".join(f"; folded {f.way}, drawn opened out" for f in folds)
    names = listed([p.shape for p in laid.lay.placements if p.region == cloth.name])
    return SmallLay(
        cloth=cloth.name,
        words=words,
        alt=f"{cloth.name}: {words}. On it: {names}.",
        picture=small_lay(laid.compiled, laid.lay, cloth, longest, folds),
        within=(Vec(0.0, 0.0), Vec(max(longest, end), cloth.width)),
        large=cloth.length is not None or cloth.print.has_design or bool(folds),
    )
