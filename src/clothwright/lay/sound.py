"""Is a lay problem sound? Every mistake in it, told at once, before any search begins."""

from __future__ import annotations

import math
from collections.abc import Iterator

from shapely.geometry import LinearRing, Polygon
from shapely.validation import explain_validity

from clothwright.errors import AtLeast, BadInput, did_you_mean, one_of, raise_all
from clothwright.geometry.vec import turn_apart
from clothwright.lay.problem import (
    CLEAR,
    AtFigure,
    AtPhase,
    CutTogether,
    KeepClear,
    KeepOff,
    KeepWhole,
    LayProblem,
    OnLine,
    Pinned,
    Region,
    Ring,
    Rule,
    SamePlace,
    SameTurn,
    Shape,
    Tolerant,
    TwoPoints,
    Upright,
)
from clothwright.words import show_angle_deg

FAR = 1.0e6
"""Nothing lies farther out than this (mm): a kilometre is a slip of the unit."""


def check_problem(problem: LayProblem) -> None:
    """Raises BadInput (or Mistakes, when there are several) with a sentence for each mistake."""
    raise_all(_mistakes(problem))


def _mistakes(problem: LayProblem) -> Iterator[BadInput]:
    if not problem.regions:
        yield BadInput(what="there is no cloth to lay on", try_="adding a cloth first")
    if not (math.isfinite(problem.gap) and problem.gap >= 0.0):
        yield BadInput(where="gap", what=f"{problem.gap} is no gap", expected=(0.0, " or more"))
    yield from _twice("cloth", [region.name for region in problem.regions])
    yield from _twice("shape", [shape.id for shape in problem.shapes])
    yield from _twice("rule", [rule.id for rule in problem.rules])
    for region in problem.regions:
        yield from _region(region)
    names = [region.name for region in problem.regions]
    for shape in problem.shapes:
        yield from _shape(shape, names)
    shapes = {shape.id: shape for shape in problem.shapes}
    for rule in problem.rules:
        yield from _rule(rule, shapes, names)


def _twice(what: str, names: list[str]) -> Iterator[BadInput]:
    for name in sorted({name for name in names if names.count(name) > 1}):
        yield BadInput(
            where=f"{what} {name}",
            what="the name is used more than once",
            expected="one name each",
            try_="a name of its own for each copy",
        )


def _region(region: Region) -> Iterator[BadInput]:
    where = f"cloth {region.name}"
    sizes = [("width", region.width)]
    if region.length is not None:
        sizes.append(("length", region.length))
    for name, size in sizes:
        if not (0.0 < size < FAR):
            yield BadInput(where=where, what=("its ", name, " is ", size), expected="more than 0")
            return
    margins = (region.margin_lower, region.margin_upper, region.margin_start, region.margin_end)
    if not all(0.0 <= margin < FAR for margin in margins):
        yield BadInput(where=where, what="a margin is negative or no number", expected="0 or more")
    elif region.margin_lower + region.margin_upper >= region.width:
        yield BadInput(where=where, what="the selvedge margins leave no cloth between them")
    elif region.length is not None and region.margin_start + region.margin_end >= region.length:
        yield BadInput(where=where, what="the margins at the cut ends leave no cloth between them")
    if region.outline is not None:
        yield from _ring(where, "its outline", region.outline)
    for number, flaw in enumerate(region.keep_out, start=1):
        yield from _ring(where, f"its flaw {number}", flaw)


def _ring(where: str, what: str, ring: Ring) -> Iterator[BadInput]:
    if len(ring) < 3:
        yield BadInput(where=where, what=f"{what} has fewer than three corners")
        return
    if not all(abs(x) < FAR and abs(y) < FAR for x, y in ring):
        yield BadInput(
            where=where,
            what=f"{what} holds a coordinate that is no number, or is farther out than 1 km",
            expected="millimetres",
            try_="checking the unit",
        )
        return
    if not LinearRing(ring).is_simple:
        at = explain_validity(Polygon(ring))
        yield BadInput(
            where=where,
            what=f"{what} crosses or touches itself ({at})",
            expected="a line that goes round once",
            try_="taking out the loop or the doubled line there",
        )
    elif not Polygon(ring).area > 1e-3:
        yield BadInput(where=where, what=f"{what} encloses nothing")


def _shape(shape: Shape, regions: list[str]) -> Iterator[BadInput]:
    where = f"piece {shape.piece} copy {shape.copy} ({shape.id})"
    yield from _ring(where, "its outline", shape.outline)
    if not shape.turns_deg or not all(math.isfinite(turn) for turn in shape.turns_deg):
        yield BadInput(where=where, what="it has no allowed turn", expected="such as 0 or 180")
    if not 0.0 <= shape.tilt_deg <= 180.0:
        yield BadInput(where=where, what=f"its tilt is {shape.tilt_deg}", expected="0 to 180")
    if not shape.flips:
        yield BadInput(where=where, what="neither of its sides may lie up")
    for name in shape.regions:
        if name not in regions:
            hint = did_you_mean(name, regions)
            yield BadInput(where=where, what=f"there is no cloth {name!r}.{hint}")
    for name, (x, y) in shape.points.items():
        if not (abs(x) < FAR and abs(y) < FAR):
            yield BadInput(where=where, what=f"its point {name} is no place")


def _rule(rule: Rule, shapes: dict[str, Shape], regions: list[str]) -> Iterator[BadInput]:
    where = f"rule {rule.id}"
    for name, points in _spoken_of(rule):
        if name not in shapes:
            hint = did_you_mean(name, shapes)
            yield BadInput(where=where, what=f"it names {name!r}, which is not to be cut.{hint}")
            continue
        known = shapes[name].points
        for point in points:
            if point not in known:
                hint = did_you_mean(point, known)
                yield BadInput(where=where, what=f"{name} has no point {point!r}.{hint}")
    axis = getattr(rule, "axis", "along")
    if axis not in ("along", "across"):
        yield BadInput(where=where, what=f"its axis is {axis!r}", expected="along or across")
    yield from _numbers(rule, where)
    if isinstance(rule, Tolerant) and rule.least > rule.most:
        yield BadInput(
            where=where,
            what=("it may be missed by ", rule.least, " to ", rule.most),
            expected="the smaller one first",
        )
    if isinstance(rule, OnLine) and not rule.points:
        yield BadInput(where=where, what="it names no point to lie on the line")
    if () in (getattr(rule, "centres", None), getattr(rule, "shifts", None)):
        yield BadInput(where=where, what="it names no place of the print for its point to lie on")
    if isinstance(rule, KeepWhole):
        yield from _parts(rule, where)
    if isinstance(rule, KeepOff | Upright):
        yield from _band(rule, regions, where)
    if isinstance(rule, Pinned):
        yield from _pin(rule, shapes, regions, where)


def _parts(rule: KeepWhole, where: str) -> Iterator[BadInput]:
    if not rule.parts:
        yield BadInput(where=where, what="it names nothing that could cut a figure")
    if not all(1 <= len(part) <= 3 for part in rule.parts):
        yield BadInput(where=where, what="one of its parts has more than three corners, or none")


def _spoken_of(rule: Rule) -> tuple[tuple[str, tuple[str, ...]], ...]:
    if isinstance(rule, OnLine):
        return ((rule.shape, rule.points),)
    if isinstance(rule, AtPhase | KeepClear | AtFigure):
        return ((rule.shape, (rule.point,)),)
    if isinstance(rule, TwoPoints | SamePlace):
        return ((rule.shape_a, (rule.point_a,)), (rule.shape_b, (rule.point_b,)))
    if isinstance(rule, CutTogether):
        return ((rule.shape_a, ()), (rule.shape_b, ()))
    if isinstance(rule, SameTurn):
        return tuple((name, ()) for name in rule.shapes)
    return ((rule.shape, ()),)


NUMBERS = (
    *("at", "low", "high", "phase", "shift", "about", "least", "most", "x", "y"),
    *("turn_deg", "up_deg", "within_deg", "by_deg"),
)


def _numbers(rule: Rule, where: str) -> Iterator[BadInput]:
    for name in NUMBERS:
        value = getattr(rule, name, None)
        if value is not None and not abs(value) < FAR:
            yield BadInput(where=where, what=f"its {name} is {value}", expected="a finite length")
    for name in ("repeat", "repeat_along", "repeat_across"):
        repeat = getattr(rule, name, None)
        once = repeat == 0.0 and isinstance(rule, TwoPoints)
        if repeat is not None and not once and not 1.0 <= repeat < FAR:
            yield BadInput(
                where=where, what=f"its repeat is {repeat}", expected=(AtLeast(1.0), " or more")
            )
    if isinstance(rule, CLEAR) and not 0.0 <= rule.radius < FAR:
        yield BadInput(where=where, what=f"its radius is {rule.radius}", expected=(0.0, " or more"))


def _band(rule: KeepOff | Upright, regions: list[str], where: str) -> Iterator[BadInput]:
    if rule.region not in regions:
        hint = did_you_mean(rule.region, regions)
        yield BadInput(where=where, what=f"there is no cloth {rule.region!r}.{hint}")
    if rule.low is not None and rule.high is not None and not rule.low < rule.high:
        yield BadInput(
            where=where,
            what=("its band goes from ", rule.low, " to ", rule.high),
            expected="a band whose low edge lies under its high edge",
        )


def _pin(
    rule: Pinned, shapes: dict[str, Shape], regions: list[str], where: str
) -> Iterator[BadInput]:
    if rule.region not in regions:
        yield BadInput(where=where, what=f"there is no cloth {rule.region!r}")
    shape = shapes.get(rule.shape)
    if shape is None:
        return
    if shape.regions and rule.region not in shape.regions:
        yield BadInput(where=where, what=f"{shape.id} may not be cut from {rule.region!r}")
    off = [turn_apart(rule.turn_deg, turn) for turn in shape.turns_deg]
    if off and min(off) > shape.tilt_deg + 1e-6:
        yield BadInput(
            where=where,
            what=f"{shape.id} is pinned at {show_angle_deg(rule.turn_deg)}, which its grain or "
            "the nap does not allow",
            expected=one_of(map(show_angle_deg, shape.turns_deg)),
            try_="allowing more tilt on the grain, or turning the piece",
        )
    if rule.flipped not in shape.flips:
        side = "turned over" if rule.flipped else "right side up"
        yield BadInput(where=where, what=f"{shape.id} is pinned {side}, which it may not lie")
