"""A lay problem with what its shapes are: the copies, the cloths, and what has no cloth.

A piece's own frame has the grain arrow anywhere; the lay's frame has it along +x. A half piece is
unfolded; the second copy of a pair is turned over. The mirrored half of an unfolded piece answers
to its points' names with `whole.TWIN` at the end.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from clothwright.cloth.cloth import Cloth
from clothwright.errors import Sentence
from clothwright.geometry.region import grown
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.lay.copies import Copy, points_of
from clothwright.lay.problem import LayProblem, Point, Region, Ring, Rule, Shape
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Piece
from clothwright.pattern.whole import unfolded

MOST_KEPT = 512
"""Outlines of pieces remembered between one lay problem and the next."""
FLATTEN_MM = 0.05
"""mm: sagitta of the polygon that stands for a cutting line in a lay."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Compiled:
    """The problem, what each shape is, the cloths as they lie, and what could not be laid.

    foreseen: what is known of the plan's rules before anything is laid, whole sentences; gave_way:
    those of them that tell of a rule which the ones before it, or what is cut, leave no exact
    place. meant: by the id of what the problem has instead of such a rule, that rule. of_cut: how
    what is cut does not go with the pieces and cloths as they are now, whole sentences.
    """

    problem: LayProblem
    copies: tuple[Copy, ...]
    cloths: tuple[Cloth, ...]
    notes: tuple[str, ...] = ()
    foreseen: tuple[Sentence, ...] = ()
    gave_way: tuple[Sentence, ...] = ()
    meant: Mapping[str, Rule] = field(default_factory=dict)
    of_cut: tuple[Sentence, ...] = ()

    @property
    def as_asked(self) -> LayProblem:
        """The problem with its rules as they were asked, before any gave way to another."""
        rules = {r.id: r for r in (self.meant.get(r.id, r) for r in self.problem.rules)}
        return replace(self.problem, rules=tuple(rules.values()))

    def copy(self, shape: str) -> Copy:
        """Return the copy behind a shape's id."""
        return next(c for c in self.copies if c.id == shape)

    def cloth(self, name: str) -> Cloth:
        """Return a cloth (after washing) by name."""
        return next(c for c in self.cloths if c.name == name)


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


def shape_of(
    copy: Copy, regions: tuple[str, ...], turns_deg: tuple[float, ...], tilt_deg: float
) -> Shape:
    """Return a copy as a shape: its cutting line (mm), its named points, and how it may lie.

    regions: the cloths it may be cut from. turns_deg, tilt_deg: degrees, see `lay.problem.Shape`.
    """
    return Shape(
        id=copy.id,
        piece=copy.piece.name,
        copy=copy.copy,
        outline=ring_of(copy.piece, copy.to_frame),
        turns_deg=turns_deg,
        tilt_deg=tilt_deg,
        flips=(copy.turned_over,),
        regions=regions,
        points=dict(points_of(copy)),
    )


@lru_cache(maxsize=MOST_KEPT)
def ring_of(piece: Piece, to_frame: Transform) -> Ring:
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
