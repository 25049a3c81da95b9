"""The same change for what goes with a piece, as it is tried together with what mends it."""

from __future__ import annotations

from clothwright.changes.alike import asked_alike
from clothwright.errors import ClothwrightError
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.workbook import change_of
from clothwright.workroom.editing.mending import Mending


def with_companions(mending: Mending, before: Pattern, after: Pattern, unit: Unit) -> Pattern:
    """Return the pattern after a change with the same done to linings and facings.

    before, after: without and with the change. Where it cannot be done there, they stay.
    """
    change = change_of(mending.change)
    params = read_params(change.params, mending.params, unit=unit, where=change.title)
    try:
        for alike in asked_alike(change, before, params):
            after = change.apply(after, alike).pattern
    except ClothwrightError:
        return after
    return after
