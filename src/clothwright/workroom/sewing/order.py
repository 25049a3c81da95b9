"""The order of sewing in the maker's words, with what she has ticked."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.pattern.pattern import Pattern
from clothwright.sewing import order_of_work
from clothwright.units import Unit
from clothwright.words import say


@dataclass(frozen=True, slots=True, kw_only=True)
class SewStep:
    """One step as it is shown. key: of its tick, not shown. more: what to mind, "" for nothing."""

    key: str
    words: str
    more: str


def sew_steps(pattern: Pattern, unit: Unit) -> tuple[SewStep, ...]:
    """Return the steps of sewing in words, lengths in `unit`: darts, seams by kind, hems."""
    return tuple(
        SewStep(key=s.key, words=say(s.words, unit), more=say(s.more, unit).strip())
        for s in order_of_work(pattern)
    )
