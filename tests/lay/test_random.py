"""Random small problems: whatever is asked, the lay that comes is sound or says why not."""

from __future__ import annotations

import math
import os

import shapely
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from shapely.geometry import LinearRing, Polygon

from clothwright.lay.judge import judge
from clothwright.lay.problem import (
    AtPhase,
    KeepClear,
    KeepOff,
    LayProblem,
    MirrorPhase,
    OnLine,
    Pinned,
    Region,
    Ring,
    Rule,
    SamePhase,
    SamePlace,
    SameTurn,
    Shape,
    Upright,
)
from clothwright.lay.result import Lay
from clothwright.lay.solve import solve
from clothwright.pattern.finding import Severity

EXAMPLES = int(os.environ.get("LAY_EXAMPLES", "60"))
"""Set LAY_EXAMPLES=500 for the long run."""
SHRINKS = {Phase.shrink} if "LAY_SHRINKS" in os.environ else set()
"""Set LAY_SHRINKS=1 to have what is found made smaller: each step lays anew, for minutes in all."""
WITH_CHILD = max(4, EXAMPLES // 15)

SIZES = st.integers(4, 30).map(lambda n: n * 10.0)


@st.composite
def rings(draw: st.DrawFn) -> Ring:
    """Blocks, and star-shaped polygons that may be hollow."""
    length, width = draw(SIZES), draw(SIZES)
    if draw(st.booleans()):
        return ((0, 0), (length, 0), (length, width), (0, width))
    count = draw(st.integers(4, 9))
    reach = draw(st.lists(st.floats(0.35, 1.0), min_size=count, max_size=count))
    ring = tuple(
        (
            length / 2 * r * math.cos(2 * math.pi * k / count),
            width / 2 * r * math.sin(2 * math.pi * k / count),
        )
        for k, r in enumerate(reach)
    )
    sound = LinearRing(ring).is_simple and Polygon(ring).area > 100
    return ring if sound else ((0, 0), (length, 0), (length, width), (0, width))


@st.composite
def shapes(draw: st.DrawFn, name: str, regions: list[str]) -> Shape:
    ring = draw(rings())
    turns = draw(st.sampled_from([(0.0,), (0.0, 180.0), (90.0,), (0.0, 90.0, 180.0, 270.0)]))
    return Shape(
        id=name,
        piece=name,
        copy=1,
        outline=ring,
        turns_deg=turns,
        tilt_deg=draw(st.sampled_from([0.0, 0.0, 2.0, 5.0])),
        flips=draw(st.sampled_from([(False,), (True,), (False, True)])),
        regions=tuple(draw(st.lists(st.sampled_from(regions), unique=True, max_size=2))),
        points={"p": ring[0], "q": ring[2]},
    )


@st.composite
def regions(draw: st.DrawFn, name: str) -> Region:
    width = draw(st.sampled_from([300.0, 450.0, 800.0]))
    length = draw(st.sampled_from([None, 400.0, 900.0]))
    outline = None
    if length is not None and draw(st.integers(0, 3)) == 0:
        outline = ((0.0, 0.0), (length, 30.0), (length * 0.8, width), (20.0, width * 0.9))
    flaws: tuple[Ring, ...] = ()
    if draw(st.integers(0, 3)) == 0:
        x, y = draw(st.floats(0, 300)), draw(st.floats(0, 250))
        flaws = (((x, y), (x + 40, y), (x + 40, y + 30), (x, y + 30)),)
    margin = draw(st.sampled_from([0.0, 12.5]))
    return Region(
        name=name,
        width=width,
        length=length,
        margin_lower=margin,
        margin_upper=margin,
        margin_start=draw(st.sampled_from([0.0, 7.0])),
        margin_end=draw(st.sampled_from([0.0, 9.0])),
        outline=outline,
        keep_out=flaws,
    )


@st.composite
def rules(draw: st.DrawFn, number: int, names: list[str], cloths: list[str]) -> Rule:
    name = f"rule {number}"
    one, two = draw(st.sampled_from(names)), draw(st.sampled_from(names))
    axis = draw(st.sampled_from(["along", "across"]))
    repeat = draw(st.sampled_from([35.0, 64.0, 120.0]))
    kind = draw(st.integers(0, 9))
    if kind == 0:
        at = draw(st.floats(0, 300))
        return OnLine(id=name, shape=one, points=("p",), axis=axis, at=at)
    if kind == 1:
        phase = draw(st.floats(0, 100))
        return AtPhase(id=name, shape=one, point="p", axis=axis, phase=phase, repeat=repeat)
    if kind == 2:
        return SamePhase(
            id=name, shape_a=one, point_a="p", shape_b=two, point_b="q", axis=axis, repeat=repeat,
            shift=draw(st.floats(-50, 50)),
        )  # fmt: skip
    if kind == 3:
        return MirrorPhase(
            id=name, shape_a=one, point_a="p", shape_b=two, point_b="p", axis=axis, repeat=repeat,
            about=draw(st.floats(0, 100)),
        )  # fmt: skip
    if kind == 4:
        return KeepClear(
            id=name, shape=one, point="p", radius=draw(st.floats(5, 40)), centre=(50.0, 50.0),
            repeat_along=draw(st.sampled_from([None, 150.0])), repeat_across=150.0,
        )  # fmt: skip
    if kind == 5:
        return SameTurn(id=name, shapes=tuple(dict.fromkeys((one, two))))
    if kind == 6:
        low = draw(st.floats(-20, 250))
        return KeepOff(
            id=name, shape=one, region=draw(st.sampled_from(cloths)), low=low,
            high=low + draw(st.floats(1, 150)),
        )  # fmt: skip
    if kind == 7:
        low = draw(st.one_of(st.none(), st.floats(-20, 250)))
        return Upright(
            id=name, shape=one, region=draw(st.sampled_from(cloths)),
            up_deg=draw(st.sampled_from([0.0, 90.0, 180.0])), low=low,
            high=None if low is None else low + draw(st.floats(1, 150)),
        )  # fmt: skip
    if kind == 8:
        return SamePlace(
            id=name, shape_a=one, point_a="p", shape_b=two, point_b="q",
            signs=draw(st.sampled_from([(1, 1), (-1, 1), (1, -1), (-1, -1)])),
            shifts=((5.0, 0.0), (5.0 + repeat / 2, 20.0)), repeat_along=repeat, repeat_across=40.0,
        )  # fmt: skip
    return Pinned(
        id=name, shape=one, region=draw(st.sampled_from(cloths)), x=150.0, y=150.0, turn_deg=0.0,
        flipped=False,
    )  # fmt: skip


@st.composite
def problems(draw: st.DrawFn) -> LayProblem:
    cloths = ["one", "two"][: draw(st.sampled_from([1, 1, 2]))]
    names = [f"s{k}" for k in range(draw(st.integers(1, 7)))]
    made = tuple(draw(shapes(name, cloths)) for name in names)
    asked = [draw(rules(k, names, cloths)) for k in range(draw(st.sampled_from([0, 0, 1, 2, 4])))]
    by_name = {shape.id: shape for shape in made}
    pinned: set[str] = set()
    kept: list[Rule] = []
    for rule in asked:
        if isinstance(rule, Pinned):
            shape = by_name[rule.shape]
            wrong = rule.region not in (shape.regions or cloths) or False not in shape.flips
            if wrong or 0.0 not in shape.turns_deg or shape.id in pinned:
                continue
            pinned.add(shape.id)
        kept.append(rule)
    return LayProblem(
        regions=tuple(draw(regions(name)) for name in cloths),
        shapes=made,
        rules=tuple(kept),
        gap=draw(st.sampled_from([0.0, 0.0, 3.0])),
    )


def sound(asked: LayProblem, lay: Lay) -> None:
    """No fault by the judge, a reason for whatever is not laid, and shapely alone agrees."""
    assert [f for f in judge(asked, lay) if f.severity is Severity.FAULT] == []
    assert all(reason for reason in lay.unplaced.values())
    assert {p.shape for p in lay.placements} | set(lay.unplaced) == {s.id for s in asked.shapes}
    for region in asked.regions:
        here = [Polygon(p.outline) for p in lay.placements if p.region == region.name]
        shared = sum(p.area for p in here) - shapely.union_all(here).area
        assert shared < 0.05 * max(1, len(here)) ** 2


RELAXED = settings(
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.reuse, Phase.generate, *SHRINKS],
)


@settings(RELAXED, max_examples=EXAMPLES)
@given(problems())
def test_every_delivered_lay_passes_the_judge(asked: LayProblem) -> None:
    """Counted rounds: each lay told, and the last, is sound or says what has no place and why."""
    lay = solve(asked, seconds=30.0, rounds=4, on_better=lambda each: sound(asked, each))
    sound(asked, lay)


@settings(RELAXED, max_examples=WITH_CHILD)
@given(problems())
def test_lays_with_the_packer_pass_too(asked: LayProblem) -> None:
    """By time, with the packer's child at work: the same promises."""
    lay = solve(asked, seconds=0.5, on_better=lambda each: sound(asked, each))
    sound(asked, lay)
