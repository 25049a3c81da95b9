"""The print on the garment, front and back, for the pages that show it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from clothwright.web.page import Asked
from clothwright.workroom.searching.laying import Laid, lay_mark
from clothwright.workroom.sewing.wearing import has_print
from clothwright.workroom.sewing.worn import Worn, longest, worn


def worn_of(asked: Asked, laid: Laid, key: str) -> Worn:
    """Return `worn` for a page, kept until the next edit. key: as for `worn`."""
    return asked.opened.once(
        f"worn {key}",
        asked.revision,
        lambda: worn(laid, asked.book.unit, key=key),
        of=lay_mark(laid.lay),
    )


def worn_by_plan(asked: Asked, laid: Sequence[Laid]) -> Mapping[str, object]:
    """Return `worn` of every plan that is laid on a printed cloth; each cloth is drawn once."""
    printed = [one for one in laid if has_print(one)]
    plans = {one.plan.name: worn_of(asked, one, f"plan{n}") for n, one in enumerate(printed)}
    return {"cloths": longest(plans.values()), "plans": plans}
