"""All our garments by name, and what they are checked with."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from clothwright.checks import CheckSettings
from clothwright.demo.body import WEARER
from clothwright.pattern.pattern import Pattern
from tests.garments.princess import princess
from tests.garments.trousers import trousers

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
}

STRETCH = ("knit top",)
"""Garments of cloth that stretches."""


def settings_of(name: str) -> CheckSettings:
    """What a garment is checked with: its wearer, and whether its cloth stretches."""
    return CheckSettings(body=BODY, stretches=name in STRETCH)
