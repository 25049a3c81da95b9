"""What a cloth leaves a shape is the same for the first look, for tolerances and for the search."""

from __future__ import annotations

import pytest

from clothwright.lay.floating import Lattice, floating
from clothwright.lay.judge import judge
from clothwright.lay.lying import lie
from clothwright.lay.phases import pointed
from clothwright.lay.problem import KeepOff, LayProblem, OnLine, Region, Rule, Shape, Upright
from clothwright.lay.result import Lay

BLOCK = ((0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (0.0, 80.0))


def problem(*rules: Rule, **cloth: object) -> LayProblem:
    """Lay a block of 100 x 80 mm on a cloth 800 wide, or on another 500 wide."""
    one = Region(**{"name": "one", "width": 800.0, "length": 900.0, **cloth})  # type: ignore[arg-type]
    two = Region(name="two", width=500.0, length=900.0)
    shape = Shape(
        id="a", piece="a", copy=1, outline=BLOCK, turns_deg=(0.0,), points={"p": (0.0, 0.0)}
    )
    return LayProblem(regions=(one, two), shapes=(shape,), rules=rules)


@pytest.mark.parametrize(
    ("rule", "across"),
    [
        (KeepOff(id="1", shape="a", region="one", low=0.0, high=400.0), 560.0),
        (KeepOff(id="1", shape="a", region="two", low=0.0, high=400.0), 360.0),
        (Upright(id="1", shape="a", region="one", up_deg=180.0, low=0.0, high=400.0), 560.0),
        (Upright(id="1", shape="a", region="one", up_deg=0.0, low=0.0, high=400.0), 360.0),
    ],
)
def test_in_the_first_look_it_lies_in_the_middle_of_what_its_own_cloth_leaves(
    rule: Rule, across: float
) -> None:
    """Beside a band it keeps off; a band of the other cloth, or one it stands upright on, is none.

    By hand: 80 mm wide, in the middle of 400 to 800, or of 0 to 800.
    """
    free = Lattice((None, None), ((0.0, 0.0),), (None, None))
    found = floating(problem(rule), {"one": free, "two": free}, {"a": ("p", (0.0, 0.0))})
    assert found.lay.placements[0].y == pytest.approx(across)


def test_a_tolerance_is_used_to_stay_on_a_remnant() -> None:
    """Its line at 650 would put the block 50 mm off the end at 700; it may be missed by 100."""
    end = ((0.0, 0.0), (700.0, 0.0), (700.0, 800.0), (0.0, 800.0))
    line = OnLine(
        id="1", shape="a", points=("p",), axis="along", at=650.0, least=-100.0, most=100.0
    )
    asked = problem(line, outline=end)
    asked = LayProblem(regions=asked.regions[:1], shapes=asked.shapes, rules=asked.rules)
    exact = pointed(asked)
    (rule,), (shape,) = exact.rules, exact.shapes
    assert isinstance(rule, OnLine)
    at = rule.at - shape.points[rule.points[0]][0]
    there = lie(shape, region="one", x=at, y=10.0, turn_deg=0.0, flipped=False)
    lay = Lay(placements=(there,), used={"one": at + 100.0}, fits=True)
    assert judge(asked, lay) == ()
