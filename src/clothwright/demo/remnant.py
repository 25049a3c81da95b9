"""A short skirt from a corduroy remnant: a ragged end, a torn corner, a hole."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

from clothwright.cloth.cloth import Cloth, Flaw, Ring
from clothwright.demo.body import WEARER, SkirtStyle
from clothwright.demo.coat_and_skirt import interfacing, skirt_seams
from clothwright.demo.skirt import draft_skirt_back, draft_skirt_front, draft_waistband
from clothwright.pattern.pattern import Pattern
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from clothwright.workbook import Settings, Workbook


@cache
def remnant() -> Workbook:
    """Return the workbook of a short skirt on a remnant."""
    style = SkirtStyle(length=430.0, hem=40.0)
    front, back = draft_skirt_front(WEARER, style), draft_skirt_back(WEARER, style)
    band = draft_waistband(front, back, style)
    return Workbook(
        title="Short skirt from a remnant",
        unit=Unit.cm,
        settings=Settings(currency="EUR"),
        bought=Pattern(pieces=(front, back, band), seams=skirt_seams()),
        cloths=(remnant_cloth(), interfacing()),
        plans=plans(),
        chosen_plan="pile up",
        notes="Demo data: pieces, measurements and cloth are our own invention.",
    )


def remnant_cloth() -> Cloth:
    """Return the remnant: 112 cm wide, under 1.2 m long, torn across at its far end."""
    outline: Ring = (
        (0.0, 0.0),
        (1188.0, 0.0),
        (1176.0, 74.0),
        (1132.0, 150.0),
        (1144.0, 236.0),
        (1110.0, 330.0),
        (1068.0, 402.0),
        (1079.0, 505.0),
        (1022.0, 588.0),
        (1036.0, 690.0),
        (1088.0, 770.0),
        (1071.0, 846.0),
        (1110.0, 960.0),
        (1102.0, 1040.0),
        (1125.0, 1120.0),
        (64.0, 1120.0),
        (22.0, 1072.0),
        (0.0, 1004.0),
    )
    return Cloth(
        name="corduroy remnant",
        width=1120.0,
        length=1188.0,
        outline=outline,
        flaws=(
            Flaw(name="hole", ring=_blot(392.0, 596.0, 17.0), margin=8.0),
            Flaw(name="faded mark", ring=_blot(962.0, 238.0, 24.0), margin=5.0),
        ),
        nap=True,
        note="demo data: what was left on the roll",
    )


def _blot(x: float, y: float, radius: float) -> Ring:
    """Return an uneven round ring."""
    wobble = (1.0, 0.86, 1.1, 0.94, 1.18, 0.9, 1.05, 0.82, 1.12, 0.97)
    n = len(wobble)
    return tuple(
        (
            x + radius * w * math.cos(2 * math.pi * k / n),
            y + radius * w * math.sin(2 * math.pi * k / n),
        )
        for k, w in enumerate(wobble)
    )


def plans() -> tuple[Plan, ...]:
    """Return two plans: the pile one way, and the waistband turned across to save length."""
    tops = OneWay(pieces=("skirt front", "skirt back"))
    return (
        Plan(
            name="pile up",
            why="All tops one way; the waistband along the grain.",
            rules=(tops, OnGrain(piece="waistband", grain="along")),
        ),
        Plan(
            name="band across",
            why="The waistband lies across, to save length.",
            rules=(
                replace(tops, outside=("waistband",)),
                OnGrain(piece="waistband", grain="across"),
            ),
        ),
    )
