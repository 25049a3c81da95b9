"""From pattern, cloths and plan to a lay problem: cutting lines of every copy, and its rules."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.contradictions import contradictions
from clothwright.errors import raise_all
from clothwright.lay.compiled import Compiled, region, shape_of
from clothwright.lay.cut_piece import CutPiece
from clothwright.lay.problem import LayProblem, Point
from clothwright.pattern.pattern import Pattern
from clothwright.rules.around_cut import CUT, LIES
from clothwright.rules.beside import without_room
from clothwright.rules.cut_told import told_of_cut
from clothwright.rules.plan import Plan
from clothwright.rules.stating import Stated, placed, stated


def compile_lay(
    pattern: Pattern,
    cloths: Sequence[Cloth],
    plan: Plan,
    *,
    gap: float = 0.0,
    cut: Sequence[CutPiece] = (),
) -> Compiled:
    """Return the lay problem for a pattern on these cloths under a plan.

    gap: mm kept between cutting lines. cut: what is cut already, and stays. Raises BadInput or
    Mistakes for rules that cannot be, and for pieces without room beside a border.
    """
    return compile_stated(stated(pattern, cloths, plan, cut), plan, gap=gap)


def compile_stated(found: Stated, plan: Plan, *, gap: float = 0.0) -> Compiled:
    """Return the lay problem of what a plan states.

    gap: mm kept between cutting lines. Raises BadInput or Mistakes, as `compile_lay`.
    """
    raise_all(placed(plan, found.mistaken))
    table = found.table
    landmarks: dict[str, dict[str, Point]] = {}
    for landmark in found.landmarks:
        landmarks.setdefault(landmark.shape, {})[landmark.name] = landmark.at
    bare = (
        shape_of(each.copy, tuple(c.name for c in each.cloths), each.turns_deg, each.tilt_deg)
        for each in table.lying.values()
    )
    shapes = tuple(replace(s, points={**s.points, **landmarks.get(s.id, {})}) for s in bare)
    shapes += found.cut.shapes()
    regions = tuple(region(c) for c in table.cloths if any(c.name in s.regions for s in shapes))
    said = {CUT: LIES, **{str(number): words for number, words in found.said.items()}}
    rules = (*found.asked, *(found.cut.pin(c.id) for c in found.cut.others))
    problem = LayProblem(regions=regions, shapes=shapes, rules=rules, gap=gap, said=said)
    told = told_of_cut(problem, found.unkept)
    raise_all(e.at(f'plan "{plan.name}"') for e in without_room(problem))
    return Compiled(
        problem=problem,
        copies=(*table.copies, *found.cut.others),
        cloths=table.cloths,
        notes=found.notes,
        foreseen=(
            *(c.warning(cloth.name) for cloth in table.cloths for c in contradictions(cloth.print)),
            *(f.words for each in found.foreseen.values() for f in each),
            *found.left_out,
            *told.rules,
        ),
        gave_way=(*(f.words for f in found.gave_way.values()), *found.left_out, *told.rules),
        meant=found.meant,
        of_cut=(*found.cut.told, *told.others),
    )
