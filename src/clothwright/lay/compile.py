"""From pattern, cloths and plan to a lay problem: every copy's cutting line, every rule per copy.

A piece's own frame has the grain arrow anywhere; the lay's frame has it along +x. A half piece is
unfolded; the second copy of a pair is turned over. The mirrored half of an unfolded piece answers
to its points' names with `whole.TWIN` at the end.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from clothwright.cloth.cloth import Cloth, after_washing
from clothwright.cloth.plan import OnBorder, OnGrain, Pin, Plan
from clothwright.cloth.prints import Border
from clothwright.errors import BadInput, did_you_mean
from clothwright.geometry.region import grown
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.lay.compile_rules import Table, compile_rules
from clothwright.lay.copies import Copy, copies_to_cut
from clothwright.lay.problem import LayProblem, Point, Region, Ring, Rule, Shape
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.whole import TWIN, unfolded

MOST_KEPT = 512
"""Outlines and points of pieces remembered between one lay problem and the next."""
FLATTEN_MM = 0.05
"""mm: sagitta of the polygon that stands for a cutting line in a lay."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Compiled:
    """The problem, what each shape is, the cloths as they lie, and what could not be laid."""

    problem: LayProblem
    copies: tuple[Copy, ...]
    cloths: tuple[Cloth, ...]
    notes: tuple[str, ...] = ()

    def copy(self, shape: str) -> Copy:
        """Return the copy behind a shape's id."""
        return next(c for c in self.copies if c.id == shape)

    def cloth(self, name: str) -> Cloth:
        """Return a cloth (after washing) by name."""
        return next(c for c in self.cloths if c.name == name)


def compile_lay(
    pattern: Pattern, cloths: Sequence[Cloth], plan: Plan, *, gap: float = 0.0
) -> Compiled:
    """Return the lay problem for a pattern on these cloths under a plan.

    gap: mm kept between cutting lines. Raises BadInput when a rule names what is not there.
    """
    washed = tuple(after_washing(c) for c in cloths)
    copies, homes, notes = copies_to_cut(pattern, washed, plan)
    borders = _border_rules(pattern, washed, plan)
    shapes = tuple(_shape(c, homes[c.id], borders.get(c.piece.name), washed, plan) for c in copies)
    rules: tuple[Rule, ...] = compile_rules(
        Table(
            pattern=pattern,
            cloths=washed,
            plan=plan,
            copies=copies,
            shapes={s.id: s for s in shapes},
            borders=borders,
        )
    )
    regions = tuple(region(c) for c in washed if any(c.name in s.regions for s in shapes))
    return Compiled(
        problem=LayProblem(regions=regions, shapes=shapes, rules=rules, gap=gap),
        copies=copies,
        cloths=washed,
        notes=notes,
    )


def region(cloth: Cloth) -> Region:
    """Return the cloth as the lay sees it; flaws grown by their margins."""
    return Region(
        name=cloth.name,
        width=cloth.width,
        length=cloth.length,
        margin_lower=cloth.margin_lower,
        margin_upper=cloth.margin_upper,
        margin_start=cloth.margin_start,
        margin_end=cloth.margin_end,
        outline=cloth.outline,
        keep_out=tuple(grown(f.ring, f.margin) for f in cloth.flaws),
    )


def _border_rules(
    pattern: Pattern, cloths: Sequence[Cloth], plan: Plan
) -> dict[str, tuple[OnBorder, Border, Cloth]]:
    """Find, for each piece with a border rule, its border and the cloth that has it."""
    found: dict[str, tuple[OnBorder, Border, Cloth]] = {}
    known = [b.name for c in cloths for b in c.print.borders]
    for number, rule in enumerate(plan.rules, start=1):
        if not isinstance(rule, OnBorder):
            continue
        where = f'plan "{plan.name}", rule {number}'
        pattern.piece(rule.piece).edge(rule.edge)
        pairs = [(b, c) for c in cloths for b in c.print.borders if b.name == rule.border]
        if not pairs:
            raise BadInput(
                where=where,
                what=f'no cloth has a border "{rule.border}".{did_you_mean(rule.border, known)}',
                expected="one of " + (", ".join(known) or "(no cloth has a border)"),
            )
        found[rule.piece] = (rule, *pairs[0])
    return found


def _shape(
    copy: Copy,
    home: tuple[str, ...],
    border: tuple[OnBorder, Border, Cloth] | None,
    cloths: Sequence[Cloth],
    plan: Plan,
) -> Shape:
    if border is not None and border[2].name in home:
        home = (border[2].name,)
    else:
        border = None
    cloth = next(c for c in cloths if c.name == home[0])
    turns, tilt = _turns(copy, border, cloth, plan)
    return Shape(
        id=copy.id,
        piece=copy.piece.name,
        copy=copy.copy,
        outline=_ring(copy.piece, copy.to_frame),
        turns_deg=turns,
        tilt_deg=tilt,
        flips=(copy.turned_over,),
        regions=home,
        points=dict(_points(copy)),
    )


@lru_cache(maxsize=MOST_KEPT)
def _ring(piece: Piece, to_frame: Transform) -> Ring:
    """Return a piece's cutting line, opened out, in the shape's frame; the last ones are kept."""
    whole = cutting_line(unfolded(piece)).outline
    return _clean(whole.transformed(to_frame).flatten(FLATTEN_MM))


def _clean(points: Sequence[Vec]) -> Ring:
    """Drop points that repeat their neighbour (nearer than 0.001 mm) and the closing point."""
    out: list[Point] = []
    for p in points:
        if not out or Vec(*out[-1]).distance(p) > 1e-3:
            out.append((p.x, p.y))
    while len(out) > 1 and Vec(*out[-1]).distance(out[0]) <= 1e-3:
        out.pop()
    return tuple(out)


@lru_cache(maxsize=MOST_KEPT)
def _points(copy: Copy) -> Mapping[str, Point]:
    """Return the named points of a copy in its frame, those of its mirrored half too."""
    found: dict[str, Point] = {}
    for name, p in copy.piece.points().items():
        q = copy.frame_point(p)
        found[name] = (q.x, q.y)
        if copy.fold is not None:
            r = copy.frame_point(p, twin=True)
            found[name + TWIN] = (r.x, r.y)
    return found


def _turns(
    copy: Copy,
    border: tuple[OnBorder, Border, Cloth] | None,
    cloth: Cloth,
    plan: Plan,
) -> tuple[tuple[float, ...], float]:
    """Return the allowed turns of the grain arrow and the tilt."""
    pins = [
        r
        for r in plan.rules
        if isinstance(r, Pin)
        and (r.piece, r.copy) == (copy.piece.name, copy.copy)
        and r.cloth == cloth.name
    ]
    if pins:
        return (pins[0].turn_deg,), 0.0
    if border is not None:
        return _border_turns(border[0], border[1]), 0.0
    for rule in plan.rules:
        if isinstance(rule, OnGrain) and rule.piece == copy.piece.name:
            turns = {
                "along": (0.0, 180.0),
                "across": (90.0, 270.0),
                "bias": (45.0, 135.0, 225.0, 315.0),
            }
            if rule.grain not in turns:
                raise BadInput(
                    where=f'plan "{plan.name}"',
                    what=f'"{rule.grain}" is no way to lay the grain'
                    + did_you_mean(rule.grain, list(turns)),
                    expected="along, across or bias",
                )
            return turns[rule.grain], rule.tilt_deg
    if cloth.print.one_way and cloth.print.has_design:
        return (0.0,), 0.0
    return (0.0, 180.0), 0.0


def _border_turns(rule: OnBorder, border: Border) -> tuple[float, ...]:
    if border.down == "either":
        return (90.0, 270.0)
    to_lower = (border.side == "lower") == (border.down == "selvedge")
    down_is_lower = to_lower != rule.upside_down
    return (90.0,) if down_is_lower else (270.0,)
