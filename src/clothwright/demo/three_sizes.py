"""A panel skirt in three nested sizes, for a wearer who is one size at the waist, another below.

The figures of the three sizes are waist and hip of purchased-pattern misses sizes 12, 14 and 16
(docs/sources.md); the pieces are our own draft, and the wearer is nobody.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from clothwright.body.body import Body, body_with
from clothwright.body.charts import EXAMPLES
from clothwright.cloth.cloth import Cloth
from clothwright.demo.body import WEARER, SkirtStyle
from clothwright.demo.coat_and_skirt import skirt_seams
from clothwright.demo.skirt import draft_skirt_back, draft_skirt_front, draft_waistband
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Level, Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.plan import Plan
from clothwright.units import INCH, Unit
from clothwright.workbook import Settings, Step, Workbook

MISSES = {"12": (26.5, 36.0), "14": (28.0, 38.0), "16": (30.0, 40.0)}
"""Waist and hip in inches of three purchased-pattern misses sizes."""
DRAWN = "14"
HERS = {"bust": "35 in", "waist": "26 1/2 in", "hip": "38 in", "note": "demo data"}


@cache
def three_sizes() -> Workbook:
    """Return the workbook of a skirt in three sizes, cut as a 12 at the waist and a 14 below."""
    return Workbook(
        title="Skirt in three sizes",
        unit=Unit.inch,
        settings=Settings(currency="EUR"),
        bought=nested_skirt(),
        steps=(
            Step(
                change="blend-sizes",
                params={"at": "waist 12, hip 14, waistband 12"},
                why="her waist is a 12, her hip a 14",
            ),
        ),
        cloths=(plain_cloth(),),
        plans=(
            Plan(
                name="tops one way",
                why="A brushed flannel: all tops the same way.",
                rules=(OneWay(pieces=("skirt front", "skirt back")),),
            ),
        ),
        chosen_plan="tops one way",
        notes="Demo data: pieces, cloth and wearer are our own invention.",
        body=body_with(Body(), HERS, unit=Unit.inch),
        chart=EXAMPLES[0],
    )


def nested_skirt() -> Pattern:
    """Return front, back and waistband in sizes 12, 14 and 16; the 14 is the pattern's own."""
    sets = tuple(draft_size(size) for size in MISSES)
    sizes = SizeRange(names=tuple(MISSES), drawn=DRAWN, pieces=sets)
    own = sets[sizes.names.index(DRAWN)]
    return Pattern(pieces=own, seams=skirt_seams(), sizes=sizes)


def draft_size(size: str) -> tuple[Piece, ...]:
    """Return the pieces of one size: front and back with waist and hip levels, waistband."""
    waist, hip = MISSES[size]
    body = replace(WEARER, waist=waist * INCH, hip=hip * INCH)
    style = SkirtStyle(hip_ease=50.0)
    front, back = draft_skirt_front(body, style), draft_skirt_back(body, style)
    band = draft_waistband(front, back, style)
    return (_with_waist(front), _with_waist(back), band)


def _with_waist(piece: Piece) -> Piece:
    level = Level(name="waist", at=Vec(piece.level("hip").at.x, 0.0))
    return replace(piece, levels=(level, *piece.levels))


def plain_cloth() -> Cloth:
    """Return a flannel, still to be bought."""
    return Cloth(name="flannel", width=1500.0, nap=True, price_per_m=18.0, note="demo data")
