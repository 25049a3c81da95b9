"""One thing a maker weighs about a laid plan."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One thing to weigh. short: it stands on a plan's card too, not only in the whole table."""

    label: str
    words: str
    short: bool = False
