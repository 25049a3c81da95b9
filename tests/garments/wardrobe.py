"""All our garments by name, and what they are checked with."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from clothwright.checks import CheckSettings
from clothwright.demo.body import WEARER
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

GARMENTS: dict[str, Callable[[], Pattern]] = {
    "princess": cache(princess),
    "trousers": cache(trousers),
    "blouse": cache(blouse),
    "raglan": cache(raglan),
    "shirt": cache(shirt),
    "knit top": cache(knit_top),
    "lined coat": cache(lined_coat),
    "wrap dress": cache(wrap_dress),
}

STRETCH = ("knit top",)
"""Garments of cloth that stretches."""


def settings_of(name: str) -> CheckSettings:
    """What a garment is checked with: its wearer, and whether its cloth stretches."""
    return CheckSettings(body=BODY, stretches=name in STRETCH)
