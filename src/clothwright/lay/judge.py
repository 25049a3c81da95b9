"""The judge of a lay: every promise of a delivered lay re-checked from the problem alone.

It shares no code with the search: it knows the problem, the result, shapely and numpy. Every
placement is moved again from the shape's own outline, and all that follows (overlap, gap, cloth,
flaws, rules, claims) is measured on what it moved itself.

Tolerances, in mm, are stated here once:

* `THICKNESS` 0.01: two cutting lines overlap when what they share holds a disc of this diameter;
  the same holds for what lies off the cloth or on a flaw.
* `GAP` 0.01: pieces may be this much nearer than the gap asked for.
* `EDGE` 0.01: a point may lie this far past a margin or a cut end.
* `OUTLINE` 0.01: a stated outline may differ this much from the shape under its stated move.
* `CLAIM` 0.01: `used` and `short_by` may differ this much from what was measured.
* `RULE` 0.1: the largest residual a placing rule may keep, beyond its own tolerance.
* `TURN` 0.001 degree: a turn may differ this much from an allowed one, beyond the tilt.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Container, Iterator

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from clothwright.errors import Sentence, joined
from clothwright.lay.naming import words_of
from clothwright.lay.problem import (
    AtFigure,
    AtPhase,
    CutTogether,
    KeepClear,
    KeepOff,
    KeepWhole,
    LayProblem,
    MirrorPhase,
    OnLine,
    Pinned,
    Point,
    Region,
    Ring,
    Rule,
    SamePhase,
    SamePlace,
    SameTurn,
    Shape,
    Tolerant,
    Upright,
    cut_of,
    names_of,
)
from clothwright.lay.result import Lay, Placement
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.words import listed, show_angle_deg

THICKNESS = 0.01
GAP = 0.01
EDGE = 0.01
OUTLINE = 0.01
CLAIM = 0.01
RULE = 0.1
TURN = 0.001
ARM = 100.0
"""Turns are told in mm at this distance from the centre, so that every residual is a length."""
FLIP = 1000.0
"""A wrong side or a wrong cloth counts as this many mm for a pinned shape."""


def judge(problem: LayProblem, lay: Lay) -> tuple[Finding, ...]:
    """Everything wrong with a lay, or nothing: an empty tuple is a lay one may cut by.

    Faults are breaches of the problem or false claims. A shape that the lay itself calls unplaced
    is a notice, and a rule that cannot be measured because its shape is unplaced is skipped.
    A cloth of fixed length may be overrun by a lay that says so (`fits` False, `short_by` > 0).
    What is cut has to lie where it was cut; how it lies there on the cloth, and beside other
    things that are cut, is nothing that a lay could mend, and no breach of it.
    """
    cut = cut_of(problem)
    known = {shape.id: shape for shape in problem.shapes}
    regions = {region.name: region for region in problem.regions}
    moved = {p.shape: _moved(known[p.shape], p) for p in lay.placements if p.shape in known}
    sound = {key: poly for key, poly in moved.items() if poly is not None}
    return (
        *_counts(problem, lay),
        *_each(lay, known, regions, moved),
        *_pairs(problem, lay, sound, cut),
        *_on_cloth(lay, regions, {n: poly for n, poly in sound.items() if n not in cut}),
        *_claims(problem, lay, regions, sound),
        *_rules(problem, lay),
    )


def residuals(problem: LayProblem, lay: Lay) -> dict[str, float]:
    """By how many mm each rule is missed: rule id to residual.

    A rule whose shape is not placed has no residual and is left out; one that names an unknown
    shape or point is infinite.
    """
    known = {shape.id: shape for shape in problem.shapes}
    placed = {p.shape: p for p in lay.placements if p.shape in known}
    found: dict[str, float] = {}
    for rule in problem.rules:
        measured = _residual(rule, known, placed)
        if measured is not None:
            found[rule.id] = measured
    return found


# --- moving -------------------------------------------------------------------------------------


def _move(points: tuple[Point, ...], place: Placement) -> np.ndarray:
    """Points of the shape's own frame as they lie: mirrored, turned, shifted."""
    array = np.asarray(points, dtype=float).reshape(-1, 2)
    if place.flipped:
        array = array * (1.0, -1.0)
    angle = math.radians(place.turn_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    x = cos * array[:, 0] - sin * array[:, 1] + place.x
    y = sin * array[:, 0] + cos * array[:, 1] + place.y
    moved: np.ndarray = np.column_stack((x, y))
    return moved


def _moved(shape: Shape, place: Placement) -> BaseGeometry | None:
    ring = _move(shape.outline, place)
    return _polygon(ring) if bool(np.isfinite(ring).all()) else None


def _polygon(ring: np.ndarray | Ring) -> BaseGeometry:
    poly: BaseGeometry = Polygon(ring)
    return poly if poly.is_valid else poly.buffer(0)


def _thick(part: BaseGeometry) -> float:
    """The diameter of the largest disc in a part, 0 when it is thinner than the tolerance."""
    if part.is_empty or part.area == 0.0 or part.buffer(-THICKNESS / 2).is_empty:
        return 0.0
    return max(2.0 * _inscribed(piece) for piece in shapely.get_parts(part) if piece.area > 0.0)


def _inscribed(part: BaseGeometry) -> float:
    if part.geom_type != "Polygon":
        return 0.0
    return float(shapely.maximum_inscribed_circle(part).length)


def _fault(
    code: str,
    shape: str,
    words: tuple[str | float, ...],
    *,
    measured: float | None = None,
    expected: float | None = None,
    unit: str = "mm",
    severity: Severity = Severity.FAULT,
    other: str = "",
    rule: str = "",
) -> Finding:
    return Finding(
        code=code,
        severity=severity,
        where=Where(point=shape, other=other, rule=rule),
        measured=measured,
        expected=expected,
        unit=unit if measured is not None else "",
        words=words,
    )


# --- counts, turns, sides, outlines -------------------------------------------------------------


def _counts(problem: LayProblem, lay: Lay) -> Iterator[Finding]:
    times: dict[str, int] = {}
    for place in lay.placements:
        times[place.shape] = times.get(place.shape, 0) + 1
    for shape in problem.shapes:
        count = times.pop(shape.id, 0)
        said = shape.id in lay.unplaced
        if count == 0 and not said:
            words: tuple[str | float, ...] = (f"{shape.id} is missing from the lay.",)
            yield _fault("lay-missing", shape.id, words, measured=0, expected=1, unit="count")
        elif count == 0:
            words = joined(f"{shape.id} found no place: ", lay.unplaced[shape.id])
            yield _fault("lay-unplaced", shape.id, words, severity=Severity.NOTICE)
        elif count + said > 1:
            words = (f"{shape.id} is laid more often than once, or laid and called unplaced.",)
            yield _fault("lay-duplicate", shape.id, words, measured=count, expected=1, unit="count")
    for name, count in times.items():
        words = (f"{name} is laid, but nothing of that name is to be cut.",)
        yield _fault("lay-extra", name, words, measured=count, expected=0, unit="count")


def _each(
    lay: Lay,
    known: dict[str, Shape],
    regions: dict[str, Region],
    moved: dict[str, BaseGeometry | None],
) -> Iterator[Finding]:
    for place in lay.placements:
        shape = known.get(place.shape)
        if shape is None:
            continue
        off = min((_turn_apart(place.turn_deg, turn) for turn in shape.turns_deg), default=0.0)
        if not off <= shape.tilt_deg + TURN:
            words: tuple[str | float, ...] = (
                f"{shape.id} is turned {show_angle_deg(off)} off the turns its grain allows.",
            )
            yield _fault(
                "lay-turn", shape.id, words, measured=off, expected=shape.tilt_deg, unit="deg"
            )
        if place.flipped not in shape.flips:
            side = "turned over" if place.flipped else "right side up"
            yield _fault("lay-flip", shape.id, (f"{shape.id} may not lie {side}.",))
        allowed = shape.regions or tuple(regions)
        if place.region not in regions or place.region not in allowed:
            words = (f"{shape.id} may not be cut from {place.region!r}.",)
            yield _fault("lay-region", shape.id, words)
        yield from _outline(shape, place, moved[shape.id])


def _outline(shape: Shape, place: Placement, moved: BaseGeometry | None) -> Iterator[Finding]:
    ring = np.asarray(place.outline, dtype=float)
    apart = math.inf
    if moved is not None and len(ring) == len(shape.outline) and bool(np.isfinite(ring).all()):
        there = shapely.LinearRing(ring)
        here = shapely.LinearRing(_move(shape.outline, place))
        apart = float(there.hausdorff_distance(here))
    if not apart <= OUTLINE:
        words = (f"the outline stated for {shape.id} is not its own under the stated move.",)
        yield _fault("lay-outline", shape.id, words, measured=apart, expected=0.0)


def _turn_apart(a: float, b: float) -> float:
    return abs((a - b + 180.0) % 360.0 - 180.0)


# --- pieces among each other --------------------------------------------------------------------


def _pairs(
    problem: LayProblem, lay: Lay, sound: dict[str, BaseGeometry], cut: Container[str]
) -> Iterator[Finding]:
    placed = [place for place in lay.placements if place.shape in sound]
    for index, first in enumerate(placed):
        for second in placed[index + 1 :]:
            if first.shape in cut and second.shape in cut:
                continue
            if first.region == second.region and first.shape != second.shape:
                yield from _pair(problem.gap, first, second, sound)


def _pair(
    gap: float, first: Placement, second: Placement, sound: dict[str, BaseGeometry]
) -> Iterator[Finding]:
    a, b = sound[first.shape], sound[second.shape]
    if not _near(a, b, gap):
        return
    depth = _thick(a.intersection(b)) if a.intersects(b) else 0.0
    if depth > 0.0:
        words: tuple[str | float, ...] = (f"{first.shape} and {second.shape} overlap by ", depth)
        yield _fault(
            "lay-overlap", second.shape, words, measured=depth, expected=0.0, other=first.shape
        )
    elif gap > 0.0 and (apart := float(a.distance(b))) < gap - GAP:
        words = (f"{first.shape} and {second.shape} lie nearer than the gap: ", apart)
        yield _fault(
            "lay-gap", second.shape, words, measured=apart, expected=gap, other=first.shape
        )


def _near(a: BaseGeometry, b: BaseGeometry, gap: float) -> bool:
    ax, ay, au, av = a.bounds
    bx, by, bu, bv = b.bounds
    return bool(ax <= bu + gap and bx <= au + gap and ay <= bv + gap and by <= av + gap)


# --- pieces on the cloth ------------------------------------------------------------------------


def _on_cloth(
    lay: Lay,
    regions: dict[str, Region],
    sound: dict[str, BaseGeometry],
) -> Iterator[Finding]:
    told = not lay.fits and (lay.short_by is None or lay.short_by > 0.0)
    for place in lay.placements:
        region = regions.get(place.region)
        poly = sound.get(place.shape)
        if region is None or poly is None:
            continue
        past = _past_margins(region, poly, told)
        if region.outline is not None:
            past = max(past, _thick(poly.difference(_polygon(region.outline))))
        if past > 0.0:
            words: tuple[str | float, ...] = (
                f"{place.shape} lies off the usable cloth of {region.name} by ",
                past,
            )
            yield _fault("lay-off-cloth", place.shape, words, measured=past, expected=0.0)
        for flaw in region.keep_out:
            on = _thick(poly.intersection(_polygon(flaw)))
            if on > 0.0:
                words = (f"{place.shape} lies on a place of {region.name} to keep out of by ", on)
                yield _fault("lay-keep-out", place.shape, words, measured=on, expected=0.0)


def _past_margins(region: Region, poly: BaseGeometry, told: bool) -> float:
    """How many mm past the margins; an overrun of the far end is none when the lay tells of it."""
    left, low, right, high = poly.bounds
    end = _end(region)
    past = max(
        region.margin_start - left,
        region.margin_lower - low,
        high - (region.width - region.margin_upper),
    )
    if end is not None and not (told and region.outline is None):
        past = max(past, right - end)
    return past if past > EDGE else 0.0


def _end(region: Region) -> float | None:
    """The far end of what may be used, mm from the cut end; None for an open end."""
    length = region.length
    if length is None and region.outline is not None:
        length = max(x for x, _ in region.outline)
    return None if length is None else length - region.margin_end


# --- what the lay claims ------------------------------------------------------------------------


def _claims(
    problem: LayProblem,
    lay: Lay,
    regions: dict[str, Region],
    sound: dict[str, BaseGeometry],
) -> Iterator[Finding]:
    used = dict.fromkeys(regions, 0.0)
    for place in lay.placements:
        if place.region in used and place.shape in sound:
            used[place.region] = max(used[place.region], sound[place.shape].bounds[2])
    for name in regions:
        claimed = lay.used.get(name, 0.0)
        if not abs(claimed - used[name]) <= CLAIM:
            words: tuple[str | float, ...] = (f"the length used of {name} is said to be ", claimed)
            yield _fault("lay-used", "", words, measured=used[name], expected=claimed)
    over = max((_overrun(regions[name], used[name]) for name in regions), default=0.0)
    whole = {p.shape for p in lay.placements} >= {shape.id for shape in problem.shapes}
    fits = whole and not lay.unplaced and over <= CLAIM
    if lay.fits != fits:
        said, true = ("fits", "does not") if lay.fits else ("does not fit", "does")
        yield _fault("lay-fits", "", (f"the lay says it {said}; it {true}.",))
    yield from _short_by(lay, over, whole)


def _overrun(region: Region, used: float) -> float:
    end = _end(region)
    return 0.0 if end is None else max(0.0, used - end)


def _short_by(lay: Lay, over: float, whole: bool) -> Iterator[Finding]:
    if lay.short_by is None:
        if whole and not lay.unplaced:
            words: tuple[str | float, ...] = ("everything is placed, so the shortfall is ", over)
            yield _fault("lay-short-by", "", words, measured=over)
    elif not abs(lay.short_by - over) <= CLAIM:
        words = ("the lay is said to be short by ", lay.short_by, " but it is ", over)
        yield _fault("lay-short-by", "", words, measured=over, expected=lay.short_by)


# --- the rules ----------------------------------------------------------------------------------


def _rules(problem: LayProblem, lay: Lay) -> Iterator[Finding]:
    measured, laid = residuals(problem, lay), {p.shape for p in lay.placements}
    for rule in problem.rules:
        shape = names_of(rule)[0] if names_of(rule) else ""
        if rule.id not in measured:
            gone = listed([n for n in names_of(rule) if n not in laid])
            words = joined("“", words_of(problem, rule), f"” is not known: {gone} found no place.")
            yield _fault("lay-rule-skipped", shape, words, severity=Severity.SKIPPED, rule=rule.id)
        elif not measured[rule.id] <= RULE:
            missed = measured[rule.id]
            words = _missed(problem, rule, missed)
            yield _fault("lay-rule", shape, words, measured=missed, expected=0.0, rule=rule.id)


def _missed(problem: LayProblem, rule: Rule, residual: float) -> Sentence:
    if isinstance(rule, Upright) and rule.of == "tops":
        return (f"{rule.shape} lies with its top another way than the rest on {rule.region}.",)
    if isinstance(rule, Upright):
        return (f"{rule.shape} is laid against the print of {rule.region}, which has a top.",)
    if isinstance(rule, KeepOff):
        return (f"{rule.shape} runs into a border of {rule.region} by ", residual)
    first = f"{names_of(rule)[0]}: “"
    return joined(first, words_of(problem, rule), "” is missed by ", (residual, "."))


_Shapes = dict[str, Shape]
_Placed = dict[str, Placement]


def _residual(rule: Rule, known: _Shapes, placed: _Placed) -> float | None:
    names = names_of(rule)
    if any(name not in known for name in names):
        return math.inf
    if any(name not in placed for name in names):
        return None
    measure = _MEASURES[type(rule)]
    found = measure(rule, known, placed)
    return found if math.isfinite(found) else math.inf


def _at(name: str, point: str, known: _Shapes, placed: _Placed) -> Point:
    """A named point as it lies; not a number when the shape has no such point."""
    if point not in known[name].points:
        return (math.nan, math.nan)
    x, y = _move((known[name].points[point],), placed[name])[0]
    return (float(x), float(y))


def _axis(point: Point, axis: str) -> float:
    return {"along": point[0], "across": point[1]}.get(axis, math.nan)


def _circular(value: float, repeat: float) -> float:
    """How far a value is from the nearest whole repeat, mm; without a repeat, from zero."""
    if not repeat > 0.0:
        return abs(value)
    return abs((value + repeat / 2) % repeat - repeat / 2)


def _on_line(rule: OnLine, known: _Shapes, placed: _Placed) -> float:
    ends = [_axis(_at(rule.shape, point, known, placed), rule.axis) for point in rule.points]
    away = [_past(rule, placed[rule.shape], rule.axis, value - rule.at) for value in ends]
    return math.inf if any(math.isnan(value) for value in away) else max(away, default=0.0)


def _at_phase(rule: AtPhase, known: _Shapes, placed: _Placed) -> float:
    value = _axis(_at(rule.shape, rule.point, known, placed), rule.axis)
    return _past(rule, placed[rule.shape], rule.axis, value - rule.phase, rule.repeat)


def _same_phase(rule: SamePhase, known: _Shapes, placed: _Placed) -> float:
    a = _axis(_at(rule.shape_a, rule.point_a, known, placed), rule.axis)
    b = _axis(_at(rule.shape_b, rule.point_b, known, placed), rule.axis)
    return _past(rule, placed[rule.shape_a], rule.axis, a - b - rule.shift, rule.repeat)


def _mirror_phase(rule: MirrorPhase, known: _Shapes, placed: _Placed) -> float:
    a = _axis(_at(rule.shape_a, rule.point_a, known, placed), rule.axis)
    b = _axis(_at(rule.shape_b, rule.point_b, known, placed), rule.axis)
    return _past(rule, placed[rule.shape_a], rule.axis, a + b - 2.0 * rule.about, rule.repeat)


def _same_place(rule: SamePlace, known: _Shapes, placed: _Placed) -> float:
    """The worse axis, at the place of the print that is nearest."""
    a = _at(rule.shape_a, rule.point_a, known, placed)
    b = _at(rule.shape_b, rule.point_b, known, placed)
    repeats = {"along": rule.repeat_along, "across": rule.repeat_across}
    tried = [
        max(
            _past(rule, placed[rule.shape_a], axis, a[k] - rule.signs[k] * b[k] - shift[k], repeat)
            for k, (axis, repeat) in enumerate(repeats.items())
        )
        for shift in rule.shifts
    ]
    return min(tried, default=math.inf)


def _past(rule: Tolerant, by: Placement, axis: str, off: float, repeat: float = 0.0) -> float:
    """How far a place that is missed by `off` mm on the rule's axis is past what may be missed."""
    own = _own(by, axis)
    ends = (own * rule.least, own * rule.most)
    past = _circular(off - sum(ends) / 2.0, repeat) - abs(ends[1] - ends[0]) / 2.0
    return past if math.isnan(past) else max(0.0, past)


def _own(place: Placement, axis: str) -> float:
    """By how many mm a point comes on along a cloth's axis that goes 1 mm along the shape's own.

    The shape's own is its grain, unless its other axis lies nearer to the cloth's.
    """
    up, side = np.subtract(_move(((1.0, 0.0), (0.0, 1.0)), place), (place.x, place.y))
    ways = [_axis((float(x), float(y)), axis) for x, y in (up, side)]
    return ways[0] if abs(ways[0]) >= abs(ways[1]) - 1e-9 else ways[1]


def _keep_clear(rule: KeepClear, known: _Shapes, placed: _Placed) -> float:
    x, y = _at(rule.shape, rule.point, known, placed)
    along = x - rule.centre[0]
    across = y - rule.centre[1]
    if rule.repeat_along is not None:
        along = _circular(along, rule.repeat_along)
    if rule.repeat_across is not None:
        across = _circular(across, rule.repeat_across)
    away = math.hypot(along, across)
    return math.inf if math.isnan(away) else max(0.0, rule.radius - away)


def _keep_whole(rule: KeepWhole, _: _Shapes, placed: _Placed) -> float:
    """By how many mm the nearest figure comes too near to what would cut it."""
    place = placed[rule.shape]
    lines = [_move(part, place) for part in rule.parts]
    if not all(bool(np.isfinite(line).all()) for line in lines):
        return math.inf
    cuts = shapely.GeometryCollection([shapely.MultiPoint(line).convex_hull for line in lines])
    if cuts.is_empty:
        return 0.0
    left, low, right, high = cuts.bounds
    xs = _copies(rule.centre[0], rule.repeat_along, left - rule.radius, right + rule.radius)
    ys = _copies(rule.centre[1], rule.repeat_across, low - rule.radius, high + rule.radius)
    centres = [shapely.geometry.Point(x, y) for x in xs for y in ys]
    near = min((float(cuts.distance(centre)) for centre in centres), default=math.inf)
    return max(0.0, rule.radius - near)


def _copies(at: float, repeat: float | None, low: float, high: float) -> list[float]:
    """The places from low to high where something at `at` comes again, mm."""
    if repeat is None:
        return [at]
    first, last = math.ceil((low - at) / repeat), math.floor((high - at) / repeat)
    return [at + k * repeat for k in range(first, last + 1)]


def _at_figure(rule: AtFigure, known: _Shapes, placed: _Placed) -> float:
    at = _at(rule.shape, rule.point, known, placed)
    repeats = (rule.repeat_along, rule.repeat_across)
    used = [k for k, axis in enumerate(("along", "across")) if axis in rule.axes]
    away = [
        math.hypot(*(_circular(at[k] - centre[k], repeats[k] or 0.0) for k in used))
        for centre in rule.centres
    ]
    return min(away, default=math.inf)


def _keep_off(rule: KeepOff, known: _Shapes, placed: _Placed) -> float:
    place = placed[rule.shape]
    if place.region != rule.region:
        return 0.0
    return _inside(known[rule.shape], place, rule.low, rule.high)


def _inside(shape: Shape, place: Placement, low: float, high: float) -> float:
    """The shortest way, across, that would bring the whole outline off a band; 0 when it is."""
    across = _move(shape.outline, place)[:, 1]
    down = float(across.max()) - low
    up = high - float(across.min())
    return math.inf if math.isnan(down + up) else max(0.0, min(down, up))


def _upright(rule: Upright, known: _Shapes, placed: _Placed) -> float:
    """How far it is turned past what its print allows, or how far it lies in the band."""
    place = placed[rule.shape]
    if place.region != rule.region:
        return 0.0
    beyond = _turn_apart(place.turn_deg, rule.up_deg) - rule.within_deg
    if math.isnan(beyond):
        return math.inf
    turned = _at_arm(max(0.0, beyond))
    if rule.low is None or rule.high is None:
        return turned
    return min(turned, _inside(known[rule.shape], place, rule.low, rule.high))


def _at_arm(angle_deg: float) -> float:
    """A turn told as mm at 100 mm from the centre."""
    return 2.0 * ARM * math.sin(math.radians(angle_deg) / 2.0)


def _same_turn(rule: SameTurn, known: _Shapes, placed: _Placed) -> float:
    if not rule.shapes:
        return 0.0
    first = rule.shapes[0]
    worst = 0.0
    for name in rule.shapes[1:]:
        turn = -placed[first].turn_deg if rule.mirrored else placed[first].turn_deg
        apart = _turn_apart(placed[name].turn_deg, turn + rule.by_deg)
        free = known[name].tilt_deg + known[first].tilt_deg
        worst = max(worst, apart - free)
    return _at_arm(worst)


def _pinned(rule: Pinned, _: _Shapes, placed: _Placed) -> float:
    place = placed[rule.shape]
    away = math.hypot(place.x - rule.x, place.y - rule.y)
    turned = _turn_apart(place.turn_deg, rule.turn_deg)
    wrong = (place.flipped != rule.flipped) + (place.region != rule.region)
    return away + _at_arm(turned) + FLIP * wrong


def _cut_together(rule: CutTogether, known: _Shapes, placed: _Placed) -> float:
    """How far the one is from being the mirror image of the other about the fold."""
    first, second = placed[rule.shape_a], placed[rule.shape_b]
    if first.region != second.region:
        return math.inf
    ring = _move(known[rule.shape_a].outline, first)
    column = {"along": 0, "across": 1}.get(rule.axis)
    if column is None or not bool(np.isfinite(ring).all()):
        return math.inf
    ring[:, column] = 2.0 * rule.at - ring[:, column]
    other = shapely.LinearRing(_move(known[rule.shape_b].outline, second))
    return float(shapely.LinearRing(ring).hausdorff_distance(other))


_MEASURES: dict[type[Rule], Callable[..., float]] = {
    OnLine: _on_line,
    AtPhase: _at_phase,
    SamePhase: _same_phase,
    MirrorPhase: _mirror_phase,
    SamePlace: _same_place,
    KeepClear: _keep_clear,
    KeepWhole: _keep_whole,
    AtFigure: _at_figure,
    KeepOff: _keep_off,
    Upright: _upright,
    SameTurn: _same_turn,
    Pinned: _pinned,
    CutTogether: _cut_together,
}
