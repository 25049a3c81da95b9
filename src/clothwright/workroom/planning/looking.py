"""The first look at a plan: its print on the garment before anything is laid, to be slid."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from clothwright.drawing.assembled import assembled
from clothwright.drawing.garment import meeting_words
from clothwright.drawing.wearing import has_print
from clothwright.drawing.worn import Worn, worn
from clothwright.errors import BadInput, Mistakes
from clothwright.rules.first_look import FirstLook, Slide, first_look, looked_at, slid
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.words import begun, listed, say, show_length, told
from clothwright.workbook import Replay, Workbook, replay
from clothwright.workroom.editing.edits.plans import PutPlans
from clothwright.workroom.editing.opened import Looked

PLAIN = "Nothing is printed on the cloth of this plan."
WAYS: Mapping[int | str, tuple[str, str, str]] = {
    "up": ("up and down", "up", "down"),
    "side": ("to the sides", "to the right", "to the left"),
    1: ("slantwise, up to the right", "up to the right", "down to the left"),
    2: ("slantwise, left and right mirrored", "up", "down"),
    -1: ("slantwise, up to the left", "up to the left", "down to the right"),
}
"""What a slide is called, and which way it is moved; by its slant, or by the way it goes."""
STEP_MM = {Unit.inch: 25.4 / 16.0}
"""mm of one step of a slide, 1 mm where nothing else is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlideShown:
    """One slide on the page. name: of its field; words: its label; mm: how far it is slid now.

    least, most, step: mm. told: how far, in words. moves: by the shape, mm along and across that it
    moves on the cloth for 1 mm of the slide.
    """

    name: str
    words: str
    mm: float
    most: float
    step: float
    told: str
    moves: Mapping[str, tuple[float, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class LookShown:
    """The look at one plan. trouble: why there is none, "" when there is one.

    lies: by the shape, mm along and across and its turn in degrees. before: what is known of the
    rules, whole sentences.
    """

    plan: str
    trouble: str = ""
    worn: Worn | None = None
    slides: tuple[SlideShown, ...] = ()
    lies: Mapping[str, tuple[float, float, float]] = field(default_factory=dict)
    before: tuple[str, ...] = ()


def look_of(asked: Looked, name: str, filled: Mapping[str, str]) -> LookShown | None:
    """Return the look at a plan, slid as the fields say; None when there is no such plan."""
    book = asked.book
    if name not in ({p.name for p in book.plans} or {book.plan().name}):
        return None
    try:
        look = _first(asked, name)
        amounts = _amounts(look, filled)
        now = _slid(book, asked.replayed, look, amounts)
    except (BadInput, Mistakes) as error:
        return LookShown(plan=name, trouble=told(error, book.unit))
    laid = _laid(book, asked.replayed, now)
    if not has_print(laid):
        return LookShown(plan=name, trouble=PLAIN)
    shown = worn(laid, book.unit, key="look", prints="look-print")
    seen = {p.shape for g in shown.garments for v in g.views for p in v.parts}
    return LookShown(
        plan=name,
        worn=shown,
        slides=tuple(
            _shown(s, look, seen, amounts.get(s.key, 0.0), book.unit)
            for s in look.slides
            if seen & set(s.moves)
        ),
        lies={p.shape: (p.x, p.y, p.turn_deg) for p in now.seen.lay.placements},
        before=tuple(say(words, book.unit) for words in now.compiled.foreseen),
    )


def lay_it_so(asked: Looked, name: str, filled: Mapping[str, str]) -> PutPlans:
    """Return the edit that gives a plan the places it is slid to. Raises BadInput, Mistakes."""
    look = _first(asked, name)
    amounts = _amounts(look, filled)
    if not any(amounts.values()):
        raise BadInput(
            what="nothing is slid yet", expected="a slide moved first, or the plan laid as it is"
        )
    plan = slid(asked.replayed.pattern, look, amounts)
    return PutPlans(plans=(plan,), chosen="" if asked.book.plans else plan.name)


def first_of(book: Workbook, name: str) -> Laid:
    """Return a plan as its rules alone put it on the print. Raises BadInput, Mistakes."""
    plan, replayed = book.plan(name), replay(book)
    return _laid(book, replayed, looked_at(replayed.pattern, book.cloths, plan))


def first_lines(laid: Laid, unit: Unit) -> tuple[str, ...]:
    """Say how the print meets at every seam of a plan that is only looked at, lengths in `unit`."""
    if not has_print(laid):
        return (PLAIN,)
    garments = assembled(laid.pattern, laid.compiled)
    return tuple(words for g in garments for _, words in meeting_words(g, laid, unit))


def _first(asked: Looked, name: str) -> FirstLook:
    book = asked.book
    return asked.opened.once(
        f"look {name}",
        asked.revision,
        lambda: first_look(asked.replayed.pattern, book.cloths, book.plan(name)),
    )


def _slid(
    book: Workbook, replayed: Replay, look: FirstLook, amounts: Mapping[str, float]
) -> FirstLook:
    if not any(amounts.values()):
        return look
    plan: Plan = slid(replayed.pattern, look, amounts)
    return looked_at(replayed.pattern, book.cloths, plan)


def _laid(book: Workbook, replayed: Replay, look: FirstLook) -> Laid:
    return Laid(
        plan=look.plan,
        pattern=replayed.pattern,
        cloths=book.cloths,
        compiled=look.compiled,
        lay=look.seen.lay,
    )


# --- slides ---------------------------------------------------------------------------------------


def _name(slide: Slide) -> str:
    return f"slide {slide.key}".replace(" ", "-")


def _amounts(look: FirstLook, filled: Mapping[str, str]) -> dict[str, float]:
    """Return how far each slide is moved, mm; what is no number is not moved."""
    out = {}
    for slide in look.slides:
        try:
            mm = float(filled.get(_name(slide), "0"))
        except ValueError:
            mm = 0.0
        if math.isfinite(mm):
            out[slide.key] = min(max(mm, -slide.most), slide.most)
    return out


def _shown(slide: Slide, look: FirstLook, seen: set[str], mm: float, unit: Unit) -> SlideShown:
    names = dict.fromkeys(look.compiled.copy(s).piece.name for s in slide.moves if s in seen)
    step = STEP_MM.get(unit, 1.0)
    way, *ways = WAYS[slide.slant or ("up" if slide.upright else "side")]
    far = f"{show_length(abs(mm), unit)} {ways[mm < 0]}" if abs(mm) >= step / 2 else "not moved"
    return SlideShown(
        name=_name(slide),
        words=f"{begun(listed(tuple(names)))}: {way}",
        mm=mm,
        most=step * math.floor(slide.most / step + 1e-6),
        step=step,
        told=far,
        moves=slide.moves,
    )
