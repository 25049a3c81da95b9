"""All our garments by name, and what they are checked with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

from clothwright.checks import CheckSettings
from clothwright.demo.body import WEARER
from clothwright.pattern.companions import as_drawn
from clothwright.pattern.pattern import Pattern
from tests.garments.blouse import blouse
from tests.garments.knit_top import knit_top
from tests.garments.lined_coat import lined_coat
from tests.garments.princess import princess
from tests.garments.raglan import raglan
from tests.garments.shirt import shirt
from tests.garments.trousers import trousers
from tests.garments.wrap_dress import wrap_dress

BODY = (
    ("bust", WEARER.bust),
    ("waist", WEARER.waist),
    ("hip", WEARER.hip),
    ("upper-arm", WEARER.upper_arm),
)
"""The wearer they are all drafted for."""


def _as_drawn(draft: Callable[[], Pattern]) -> Callable[[], Pattern]:
    """What goes with a piece is meant to be as long beside it as it is drawn: they are correct."""

    def drawn() -> Pattern:
        pattern = draft()
        return replace(pattern, companions=tuple(as_drawn(pattern, c) for c in pattern.companions))

    return cache(drawn)


GARMENTS: dict[str, Callable[[], Pattern]] = {
    "princess": _as_drawn(princess),
    "trousers": _as_drawn(trousers),
    "blouse": _as_drawn(blouse),
    "raglan": _as_drawn(raglan),
    "shirt": _as_drawn(shirt),
    "knit top": _as_drawn(knit_top),
    "lined coat": _as_drawn(lined_coat),
    "wrap dress": _as_drawn(wrap_dress),
}

STRETCH = ("knit top",)
"""Garments of cloth that stretches."""


def settings_of(name: str) -> CheckSettings:
    """What a garment is checked with: its wearer, and whether its cloth stretches."""
    return CheckSettings(body=BODY, stretches=name in STRETCH)
