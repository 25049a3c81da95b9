"""Around what is cut: the problem of what is still to be laid, and the whole lay from its answer.

What is cut lies on the cloth for good. For the search it is ground to keep out of, as a flaw is; a
rule that ties a shape still to be laid to one that is cut becomes a rule on that shape alone, for
the other's place is known. So no search can move what is cut, whatever it does inside.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from clothwright.errors import Said
from clothwright.geometry.vec import turn_apart
from clothwright.lay.axis_rules import Way, own_way
from clothwright.lay.lying import lie_pinned, moved_points, overrun, used_on
from clothwright.lay.problem import (
    AtFigure,
    AtPhase,
    LayProblem,
    MirrorPhase,
    OnLine,
    Point,
    Region,
    Ring,
    Rule,
    SamePhase,
    SamePlace,
    SameTurn,
    Shape,
    TwoPoints,
    cut_of,
    names_of,
)
from clothwright.lay.result import Lay, Placement
from clothwright.lay.track import AXES
from clothwright.lay.turning import turning_sets

TURNED = "what is cut already is turned another way than it would have to be for this"
"""Why a shape has no place that would have to be turned as one that is cut cannot be."""
HAIR = 0.002
"""Shapes lie nearer than the gap to each other by less (mm), for what is touched is left free, and
what is kept is rounded: what lay beside a cut piece finds its place there again."""
MITRE = 2.0
"""A corner reaches out at most so many times the gap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FixedGround:
    """A lay problem taken apart. rest: what is still to be laid; cut: where all else lies.

    gone: what cannot be laid beside what is cut, by name, each with its reason.
    """

    problem: LayProblem
    rest: LayProblem
    cut: tuple[Placement, ...] = ()
    gone: Mapping[str, Said] = field(default_factory=dict)

    def whole(self, lay: Lay) -> Lay:
        """Return a lay of the rest with what is cut, in the problem's order."""
        if not self.cut:
            return lay
        placed = {p.shape: p for p in (*lay.placements, *self.cut)}
        unplaced = {**lay.unplaced, **self.gone}
        used = {r.name: max(lay.used.get(r.name, 0.0), r.cut_to) for r in self.rest.regions}
        over = max((overrun(r, used[r.name]) for r in self.rest.regions), default=0.0)
        return replace(
            lay,
            placements=tuple(placed[s.id] for s in self.problem.shapes if s.id in placed),
            unplaced={s.id: unplaced[s.id] for s in self.problem.shapes if s.id in unplaced},
            used=used,
            fits=not unplaced and not over,
            short_by=None if unplaced else over,
        )


def around(problem: LayProblem) -> FixedGround:
    """Return what is still to be laid around what is cut; a problem without any stays as it is."""
    pins = cut_of(problem)
    if not pins:
        return FixedGround(problem=problem, rest=problem)
    fixed = {s.id: _Fixed(s, lie_pinned(s, pins[s.id])) for s in problem.shapes if s.id in pins}
    cut = tuple(f.place for f in fixed.values())
    left = (s for s in problem.shapes if s.id not in pins)
    tries = {s.id: _turned_with(s, problem.rules, fixed) for s in left}
    shapes = tuple(s for s in tries.values() if s is not None)
    gone = {n: TURNED for n, s in tries.items() if s is None}
    asked = (r for r in problem.rules if not gone.keys() & set(names_of(r)))
    rest = replace(
        problem,
        regions=tuple(_cut_into(r, cut, problem.gap) for r in problem.regions),
        shapes=shapes,
        rules=tuple(new for r in asked for new in _reduced(r, fixed)),
    )
    return FixedGround(problem=problem, rest=rest, cut=cut, gone=gone)


@dataclass(frozen=True, slots=True)
class _Fixed:
    """A shape that is cut, where it lies."""

    shape: Shape
    place: Placement

    def at(self, point: str) -> Point:
        """A point of it on the cloth, mm."""
        p = self.place
        return moved_points((self.shape.points[point],), p.x, p.y, p.turn_deg, p.flipped)[0]

    def own(self, axis: int) -> float:
        """By how many mm a point comes on along an axis that goes 1 mm along the shape's own."""
        return own_way(Way(self.place.turn_deg, self.place.flipped), axis)


_AllFixed = Mapping[str, _Fixed]


def _cut_into(region: Region, cut: tuple[Placement, ...], gap: float) -> Region:
    mine = [p for p in cut if p.region == region.name]
    rings = tuple(_kept_off(p.outline, gap) for p in mine)
    return replace(region, keep_out=(*region.keep_out, *rings), cut_to=used_on(region.name, mine))


def _kept_off(ring: Ring, gap: float) -> Ring:
    """Return a ring round what is cut, the gap but for a hair away from it, its corners mitred."""
    area = Polygon(ring).buffer(gap - HAIR, join_style="mitre", mitre_limit=MITRE)
    if area.geom_type != "Polygon" or area.is_empty:
        return ring
    return tuple(orient(area).exterior.coords)[:-1]


# --- rules that tie the rest to what is cut -------------------------------------------------------


def _reduced(rule: Rule, fixed: _AllFixed) -> Iterator[Rule]:
    """Yield what a rule asks of the shapes that are still to be laid."""
    names = names_of(rule)
    there = [n for n in names if n in fixed]
    if not there:
        yield rule
    elif len(there) == len(names):
        return
    elif isinstance(rule, SamePlace):
        yield from _at_place(rule, fixed)
    elif isinstance(rule, SamePhase | MirrorPhase):
        yield _tied(rule, fixed)
    elif isinstance(rule, SameTurn):
        rest = tuple(n for n in names if n not in fixed)
        if rule.shapes[0] not in fixed and len(rest) > 1:
            yield replace(rule, shapes=rest)


def _tied(rule: SamePhase | MirrorPhase, fixed: _AllFixed) -> Rule:
    """Return a tie to a shape that lies as a line, or a comb of lines, for the other's point."""
    sign, shift = (1.0, rule.shift) if isinstance(rule, SamePhase) else (-1.0, 2.0 * rule.about)
    axis = AXES.index(rule.axis)
    if rule.shape_b in fixed:
        at = sign * fixed[rule.shape_b].at(rule.point_b)[axis] + shift
        return _on_one(rule, rule.shape_a, rule.point_a, at, (rule.least, rule.most))
    mine = fixed[rule.shape_a]
    middle, half = _missed(rule, mine.own(axis))
    at = sign * (mine.at(rule.point_a)[axis] - shift - middle)
    return _on_one(rule, rule.shape_b, rule.point_b, at, (-half, half))


def _on_one(rule: TwoPoints, shape: str, point: str, at: float, miss: tuple[float, float]) -> Rule:
    if not rule.repeat:
        return OnLine(
            id=rule.id,
            shape=shape,
            points=(point,),
            axis=rule.axis,
            at=at,
            least=miss[0],
            most=miss[1],
        )
    return AtPhase(
        id=rule.id,
        shape=shape,
        point=point,
        axis=rule.axis,
        phase=at,
        repeat=rule.repeat,
        least=miss[0],
        most=miss[1],
    )


def _missed(rule: TwoPoints | SamePlace, own: float) -> tuple[float, float]:
    """Return the middle of what a rule may be missed by on the cloth, and half of it, mm."""
    return own * (rule.least + rule.most) / 2.0, abs(own) * (rule.most - rule.least) / 2.0


def _at_place(rule: SamePlace, fixed: _AllFixed) -> Iterator[Rule]:
    """Yield what is left of two points at one place of the print, the one of them lying."""
    if len(rule.shifts) == 1:
        for axis, one in zip(AXES, rule.on_axes(rule.shifts[0]), strict=True):
            yield replace(_tied(one, fixed), id=f"{rule.id} {axis}")
        return
    if rule.shape_b in fixed:
        shape, point = rule.shape_a, rule.point_a
    else:
        shape, point = rule.shape_b, rule.point_b
    places = [[_place(one, fixed) for one in rule.on_axes(shift)] for shift in rule.shifts]
    yield AtFigure(
        id=rule.id,
        shape=shape,
        point=point,
        centres=tuple((x, y) for x, y in places),
        repeat_along=rule.repeat_along or None,
        repeat_across=rule.repeat_across or None,
    )


def _place(rule: SamePhase | MirrorPhase, fixed: _AllFixed) -> float:
    """Return where the other point lies, in the middle of what it may be missed by, mm."""
    one = _tied(replace(rule, repeat=0.0), fixed)
    return one.at if isinstance(one, OnLine) else 0.0


def _turned_with(shape: Shape, rules: tuple[Rule, ...], fixed: _AllFixed) -> Shape | None:
    """Return a shape with the turn that what is cut, and turned together with it, leaves it."""
    together = next((s for s in turning_sets(rules) if shape.id in s), {})
    lying = next((n for n in together if n in fixed), "")
    if not lying:
        return shape
    first = together[lying].back.of(fixed[lying].place.turn_deg)
    wanted = together[shape.id].of(first)
    near = min(shape.turns_deg, key=lambda t: turn_apart(t, wanted))
    off = turn_apart(near, wanted)
    if off > shape.tilt_deg + 1e-6:
        return None
    return replace(shape, turns_deg=(near,), tilt_deg=max(0.0, shape.tilt_deg - off))
