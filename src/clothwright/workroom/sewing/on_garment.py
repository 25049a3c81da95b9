"""The print on the garment, front and back, for the pages that show it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from clothwright.drawing.wearing import has_print
from clothwright.drawing.worn import ClothDrawn, Worn, longest, worn
from clothwright.rules.weighing.laid import Laid, lay_mark
from clothwright.store import Opened
from clothwright.workroom.editing.opened import OpenBook


@dataclass(frozen=True, slots=True, kw_only=True)
class WornPlans:
    """What is cut for each plan, put together, by the plan's name. cloths: each drawn once."""

    cloths: tuple[ClothDrawn, ...]
    plans: Mapping[str, Worn]


def worn_of(opened: OpenBook, at: Opened, laid: Laid, key: str) -> Worn:
    """Return `worn` for a page, kept until the next edit. key: as for `worn`."""
    unit = at.book.unit
    return opened.once(
        f"worn {key}", at.revision, lambda: worn(laid, unit, key=key), of=lay_mark(laid.lay)
    )


def worn_by_plan(opened: OpenBook, at: Opened, laid: Sequence[Laid]) -> WornPlans:
    """Return `worn` of every plan that is laid on a printed cloth."""
    printed = [one for one in laid if has_print(one)]
    plans = {one.plan.name: worn_of(opened, at, one, f"plan{n}") for n, one in enumerate(printed)}
    return WornPlans(cloths=longest(plans.values()), plans=plans)
