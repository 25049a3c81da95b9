"""Bars that meet below a dart or above it, measured on the cloth with numpy alone.

Held against plane geometry: a dart that takes up i in a repeat of R leaves the far side out by the
distance of i from the nearest whole repeat (4 in 6: 2; 4 in 4: 0; 7 in 6: 1; 2.5 in 8: 2.5).
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Print
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.lay.judge import judge
from clothwright.lay.solve import solve
from clothwright.pattern.piece import Dart
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.meets_dart import MeetsDart
from clothwright.rules.plan import Plan
from clothwright.rules.stating import stated
from clothwright.units import Unit
from clothwright.words import say
from tests.lay.panels import skirt

FROM_HEM = 300.0


def darted(intake):
    """The front's side is longer by what the dart takes up; without it both sides are 500 mm."""
    pattern = skirt()
    front = pattern.piece("front")
    tall = 500.0 + intake
    corners = [(0, 0), (200, 0), (200, tall), (0, tall), (0, 0)]
    edges = tuple(
        replace(e, path=polyline(corners[k : k + 2]), notches=()) for k, e in enumerate(front.edges)
    )
    dart = Dart(
        name="dart",
        edge="right",
        a=FROM_HEM,
        b=FROM_HEM + intake,
        point=Vec(110.0, FROM_HEM + intake / 2),
    )
    return pattern.with_piece(replace(front, edges=edges, darts=(dart,)))


def checks(repeat):
    return Cloth(
        name="c", width=1300.0, length=3000.0, print=Print(repeat_along=repeat, origin_along=7.0)
    )


def rule(side):
    return MeetsDart(piece="front", point="dart point", side=side)


def height(compiled, lay, shape, x, y):
    """Where a point of a piece's own frame lies along the cloth, by the placement alone."""
    place = next(p for p in lay.placements if p.shape == shape)
    q = compiled.copy(shape).frame_point((x, y))
    a = math.radians(place.turn_deg)
    side = -q.y if place.flipped else q.y
    return math.cos(a) * q.x - math.sin(a) * side + place.x


@pytest.mark.parametrize(
    ("intake", "repeat", "off"),
    [(40.0, 60.0, 20.0), (40.0, 40.0, 0.0), (70.0, 60.0, 10.0), (25.0, 80.0, 25.0)],
)
@pytest.mark.parametrize("side", ["below", "above"])
def test_the_chosen_side_meets_and_the_other_is_out_by_the_dart(intake, repeat, off, side):
    """Every 20 mm along the seam, sewn from the hem up to the dart and from the dart up."""
    pattern, cloth = darted(intake), checks(repeat)
    compiled = compile_lay(pattern, (cloth,), Plan(name="p", rules=(rule(side),)))
    lay = solve(compiled.problem, seconds=1.0, rounds=1)
    assert judge(compiled.problem, lay) == ()

    def apart(sewn):
        front = sewn if sewn < FROM_HEM else sewn + intake
        mine = height(compiled, lay, "front", 200.0, front)
        its = height(compiled, lay, "back 1", 0.0, sewn)
        return abs((mine - its + repeat / 2) % repeat - repeat / 2)

    below = [apart(s) for s in range(0, 300, 20)]
    above = [apart(s) for s in range(301, 500, 20)]
    near, far = (below, above) if side == "below" else (above, below)
    assert max(near) <= 0.1
    assert far == pytest.approx([off] * len(far), abs=0.1)


def test_what_is_out_beyond_the_dart_is_said_before():
    plan = Plan(name="p", rules=(rule("below"),))
    ((foreseen,),) = stated(darted(40.0), (checks(60.0),), plan).foreseen.values()
    assert say(foreseen.words, Unit.cm) == (
        "Above the dart the print is 2 cm apart: the dart takes up 4 cm, and the print repeats "
        "every 6 cm."
    )
    ((foreseen,),) = stated(darted(40.0), (checks(40.0),), plan).foreseen.values()
    assert "meet as well" in say(foreseen.words, Unit.cm)


def test_an_eased_side_is_counted_from_the_end_that_is_matched():
    """The back is 15 mm longer: below the dart is counted from the hem, above it from the top."""
    pattern = darted(40.0)
    back = pattern.piece("back")
    corners = [(0, 0), (220, 0), (220, 515), (0, 515), (0, 0)]
    edges = tuple(
        replace(e, path=polyline(corners[k : k + 2]), notches=()) for k, e in enumerate(back.edges)
    )
    pattern = pattern.with_piece(replace(back, edges=edges))
    for side, on_back in (("below", 300.0), ("above", 315.0)):
        compiled = compile_lay(pattern, (checks(60.0),), Plan(name="p", rules=(rule(side),)))
        shape = next(s for s in compiled.problem.shapes if s.id == "back 1")
        low = shape.points["lower left"][0]
        assert shape.points[f"{side} dart"][0] - low == pytest.approx(on_back)
