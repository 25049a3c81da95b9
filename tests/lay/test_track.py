"""What rules leave of a line for one shape, held against the judge: none is missed by too much."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.lay.fit import RULE_SLACK
from clothwright.lay.judge import RULE, judge, residuals
from clothwright.lay.lying import lie
from clothwright.lay.problem import (
    AtFigure,
    AtPhase,
    LayProblem,
    MirrorPhase,
    OnLine,
    Region,
    Rule,
    SamePhase,
    Shape,
)
from clothwright.lay.result import Lay
from clothwright.lay.solve import solve
from clothwright.lay.track import LaidShape, TriedShape, track

SOME = ((116.4, 0.0), (0.0, 145.0), (-114.5, 0.0), (0.0, -88.6))
BLOCK = ((0.0, 0.0), (90.0, 0.0), (90.0, 80.0), (0.0, 80.0))
AT = (300.0, 200.0)
"""Where the shape that asks would lie if every rule had its way."""


def shape(name: str, ring: tuple[tuple[float, float], ...], turn: float = 0.0) -> Shape:
    """Hold "r" within a hair of "p", as two marks on one line of a drawing are."""
    points = {"p": ring[0], "q": ring[2], "r": (ring[0][0] + 0.13, ring[0][1] - 0.13)}
    return Shape(id=name, piece=name, copy=1, outline=ring, turns_deg=(turn,), points=points)


@pytest.mark.parametrize("hair", [-0.08, -0.06, 0.0, 0.06, 0.08])
def test_a_miss_of_what_mirrors_itself_counts_twice(hair: float) -> None:
    """Two repeats on one shape: by a hair it lies on the one, and by twice that off the other."""
    asked = LayProblem(
        regions=(Region(name="cloth", width=450.0, length=None),),
        shapes=(shape("a", SOME, 90.0), shape("b", BLOCK)),
        rules=(
            SamePhase(
                id="1", shape_a="a", point_a="p", shape_b="b", point_b="q", axis="along",
                repeat=35.0, shift=3.125,
            ),
            MirrorPhase(
                id="2", shape_a="b", point_a="p", shape_b="b", point_b="p", axis="along",
                repeat=64.0, about=39.875 + hair,
            ),
        ),
    )  # fmt: skip
    lay = solve(asked, seconds=30.0, rounds=0)
    assert judge(asked, lay) == ()
    assert len(lay.placements) == 2


@st.composite
def asking(draw: st.DrawFn, number: int) -> Rule:
    """Ask for a place within a hair of `AT`, of the shape alone or beside "b", which lies at 0."""
    name, k = f"{number}", draw(st.integers(0, 1))
    point, repeat = draw(st.sampled_from(["p", "q", "r"])), draw(st.sampled_from([30.0, 60.0]))
    axis = ("along", "across")[k]
    here = dict(shape("a", BLOCK).points)
    at = AT[k] + draw(st.sampled_from([-0.15, -0.07, 0.0, 0.0, 0.05, 0.09]))
    kind = draw(st.integers(0, 5))
    if kind == 0:
        points = draw(st.sampled_from([("p",), ("p", "r")]))
        return OnLine(id=name, shape="a", points=points, axis=axis, at=here["p"][k] + at)
    if kind == 1:
        return AtPhase(
            id=name, shape="a", point=point, axis=axis, phase=here[point][k] + at, repeat=repeat
        )
    if kind == 2:
        return AtFigure(
            id=name, shape="a", point="p", centres=((at - AT[k] + AT[0], at - AT[k] + AT[1]),),
            repeat_along=repeat, repeat_across=draw(st.sampled_from([None, 60.0])),
        )  # fmt: skip
    two = {"id": name, "shape_a": "a", "point_a": point, "axis": axis, "repeat": repeat}
    if kind == 3:
        return MirrorPhase(shape_b="a", point_b=point, about=here[point][k] + at, **two)
    if kind == 4:
        return MirrorPhase(shape_b="b", point_b="p", about=(here[point][k] + at) / 2.0, **two)
    return SamePhase(shape_b="b", point_b="p", shift=here[point][k] + at, **two)


@settings(max_examples=120, deadline=None)
@given(st.integers(1, 4).flatmap(lambda n: st.tuples(*map(asking, range(n)))))
def test_wherever_rules_let_a_shape_lie_none_is_missed_by_more_than_the_judge_allows(
    rules: tuple[Rule, ...],
) -> None:
    """Places that are tried, and those let pass at the last look, beside the judge's measure."""
    asks, other = shape("a", BLOCK), shape("b", BLOCK)
    asked = LayProblem(
        regions=(Region(name="cloth", width=900.0, length=None),),
        shapes=(asks, other),
        rules=rules,
    )
    found = []
    for axis in (0, 1):
        laid = {"b": LaidShape(points=other.points)}
        tried = TriedShape(shape="a", points=asks.points, laid=laid, axis=axis)
        found.append(track(tried, rules))
    along, across = found
    if along is None or across is None:
        return
    for x in [AT[0]] if along.free else along.teeth(200.0, 320.0):
        for y in [AT[1]] if across.free else across.teeth(150.0, 220.0):
            for aside in (-0.06, 0.0, 0.09):
                if not (along.takes(x + aside, RULE_SLACK) and across.takes(y + aside, RULE_SLACK)):
                    assert aside
                    continue
                places = [
                    lie(
                        asks, region="cloth", x=x + aside, y=y + aside, turn_deg=0.0, flipped=False
                    ),
                    lie(other, region="cloth", x=0.0, y=0.0, turn_deg=0.0, flipped=False),
                ]
                missed = residuals(asked, Lay(placements=tuple(places)))
                assert max(missed.values()) <= RULE
