"""A lay stated as geometry: which shapes go on which cloth, and what the print asks of them.

Everything is in millimetres in the cloth's own frame: x along the selvedge from the cut end,
y across from the lower selvedge, counter-clockwise positive. Nothing here knows of seams or pieces
beyond their names; `rules.compile` makes a problem from a pattern, and the judge and the search
both read this file and nothing of each other.

How a shape lies: its outline is given with the grain along +x ("up the body" = +x) and the right
side up. A placement first mirrors it across its grain line when it is turned over
(y becomes -y), then turns it by `turn_deg` counter-clockwise, then moves it by (x, y).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from clothwright.errors import Sentence

Point = tuple[float, float]
Ring = tuple[Point, ...]
"""A closed ring of points in mm, counter-clockwise, the first point not repeated at the end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """One cloth to lay on.

    width: mm from the outer edge of the lower selvedge to that of the upper one.
    length: mm along the selvedge, or None when the cloth is still to be bought (open end).
    margins: mm that may not be used along the lower and upper selvedge and at the two cut ends.
    outline: the cloth's own shape when it is a remnant (ring in the cloth's frame); the margins
        along the selvedges and ends still apply to the rectangle around it. None: a rectangle.
    keep_out: flaws and holes as rings, already grown by their safety margin.
    cut_to: mm from the cut end that are cut into already: what lies there uses no more of it.
    """

    name: str
    width: float
    length: float | None
    margin_lower: float = 0.0
    margin_upper: float = 0.0
    margin_start: float = 0.0
    margin_end: float = 0.0
    outline: Ring | None = None
    keep_out: tuple[Ring, ...] = ()
    cut_to: float = field(default=0.0, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """One thing to cut: one copy of a piece, with its allowance.

    outline: the cutting line (see the module text for its frame). May be concave.
    turns_deg: the allowed turns of the grain arrow (0 = top towards +x, 90 = top towards the
        upper selvedge).
    tilt_deg: how far it may depart from an allowed turn, either way (grain tolerance).
    flips: which sides may lie up: (False,) right side up as drawn, (True,) turned over.
    regions: names of the cloths it may be cut from, in order of preference.
    points: named points of the STITCHING line and marks that rules speak of, same frame as outline.
    """

    id: str
    piece: str
    copy: int
    outline: Ring
    turns_deg: tuple[float, ...]
    tilt_deg: float = 0.0
    flips: tuple[bool, ...] = (False,)
    regions: tuple[str, ...] = ()
    points: Mapping[str, Point] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerant:
    """A rule on a place, and by how much the place may be missed: from `least` to `most` mm.

    Counted on the shape itself, in its own frame: how much further up its grain (+x) a point lies
    than the rule says; where the rule's axis runs across the shape's grain, how much further
    towards +y. Of two points it is the first. Both 0: exactly there.
    """

    id: str
    least: float = 0.0
    most: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class OnLine(Tolerant):
    """Each named point lies on the straight line across the cloth at `at` mm on the given axis.

    axis "across": the points have y = at (a hem on a border that runs along the selvedge);
    axis "along": x = at. Residual: the largest distance of any point from the line, or from what
    its tolerance leaves (`Tolerant`).
    """

    shape: str
    points: tuple[str, ...]
    axis: str
    at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPhase(Tolerant):
    """The point's coordinate on `axis` ("along": x, "across": y) is `phase` modulo `repeat`."""

    shape: str
    point: str
    axis: str
    phase: float
    repeat: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoPoints(Tolerant):
    """Two points whose coordinates on `axis` hang together, modulo `repeat`.

    0: without one, where what is printed there comes once.
    """

    shape_a: str
    point_a: str
    shape_b: str
    point_b: str
    axis: str
    repeat: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SamePhase(TwoPoints):
    """Two points that will be sewn together lie at the same phase: a - b = shift (mod repeat)."""

    shift: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MirrorPhase(TwoPoints):
    """A pair mirrored about an axis of the figure: a + b = 2 * about (mod repeat).

    `about` is the position of one mirror axis on `axis`; axes repeat every `repeat` / 2 only if the
    figure has them there, so the sum is taken modulo `repeat` here as the rule is stated.
    """

    about: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SamePlace(Tolerant):
    """The first point lies where a motion of the print has the second, on both axes at once.

    On each axis a = sign * b + shift, modulo the repeat, with one of the shifts for both: a
    half-drop or brick comes again in two places within its repeats. The tolerance is one on each
    axis.
    """

    shape_a: str
    point_a: str
    shape_b: str
    point_b: str
    signs: tuple[int, int]
    shifts: tuple[Point, ...]
    repeat_along: float
    repeat_across: float

    def on_axes(self, shift: Point) -> tuple[SamePhase | MirrorPhase, SamePhase | MirrorPhase]:
        """Return the same with one of the shifts, as a rule along and one across."""
        repeats = (self.repeat_along, self.repeat_across)
        both = {name: getattr(self, name) for name in TWO_POINTS}
        rows = zip(("along", "across"), self.signs, shift, repeats, strict=True)
        along, across = (
            on_axis(sign, by, **both, axis=axis, repeat=repeat) for axis, sign, by, repeat in rows
        )
        return along, across


TWO_POINTS = ("id", "least", "most", "shape_a", "point_a", "shape_b", "point_b")
"""What a rule on two points says whatever the axis."""


def on_axis(sign: int, shift: float, **rest: Any) -> SamePhase | MirrorPhase:
    """Return that a = sign * b + shift (mm) on one axis. rest: the other fields of the rule."""
    return SamePhase(**rest, shift=shift) if sign > 0 else MirrorPhase(**rest, about=shift / 2.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepClear:
    """The point keeps at least `radius` mm from every copy of a figure.

    The figure's centre is `centre`; it repeats every `repeat_along` / `repeat_across` mm
    (None: it does not repeat that way).
    Residual: by how many mm it is too close (0 when clear).
    """

    id: str
    shape: str
    point: str
    radius: float
    centre: Point
    repeat_along: float | None
    repeat_across: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepWhole:
    """Lines of the shape keep at least `radius` mm from every copy of a figure: none is cut.

    parts: what cuts, each a point, the stretch between two points or the triangle of three, in the
    shape's frame. centre, repeat_along, repeat_across: of the figure, as in `KeepClear`.
    Residual: by how many mm the nearest of them is too close (0 when none is).
    """

    id: str
    shape: str
    parts: tuple[tuple[Point, ...], ...]
    radius: float
    centre: Point
    repeat_along: float | None
    repeat_across: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class AtFigure:
    """The point lies on one of these places of the print, or on a copy of one.

    axes: "along" and "across", or the one on which alone it is seen. repeat_along, repeat_across:
    mm after which each place comes again (None: it does not, that way).
    Residual: the distance from the nearest copy, on those axes.
    """

    id: str
    shape: str
    point: str
    centres: tuple[Point, ...]
    repeat_along: float | None
    repeat_across: float | None
    axes: tuple[str, ...] = ("along", "across")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepOff:
    """The whole shape keeps off a band along the cloth, from y = `low` to y = `high` (mm).

    region: the cloth that has the band; on another the rule asks nothing.
    Residual: by how many mm its outline enters, as the shortest way off the band, across.
    """

    id: str
    shape: str
    region: str
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Upright:
    """The shape's top points where what is printed on the cloth has its own, or where all do.

    region: the cloth; on another the rule asks nothing. up_deg: the turn of a shape whose top
    points where the print's does; within_deg: how far from it the shape may be turned, either way.
    low, high: mm across, the band that is printed so (a border); None: the whole cloth. of: what
    has the top, the "print", or the "tops" of all that lies there.
    Residual: how far it is turned beyond that, as mm at 100 mm from the centre; for a band the
    shortest way off it, across, where that is less.
    """

    id: str
    shape: str
    region: str
    up_deg: float
    within_deg: float = 45.0
    low: float | None = None
    high: float | None = None
    of: str = "print"


@dataclass(frozen=True, slots=True, kw_only=True)
class SameTurn:
    """Every named shape has the same turn (any one its turns allow).

    by_deg: degrees by which the others are turned further than the first. mirrored: their turns run
    the other way round from there, as in a mirror: by_deg less the turn of the first.
    Residual: the largest difference in turn from what follows from the first shape, beyond the
    shapes' tilt, as mm at 100 mm from the centre (so that every residual is in mm).
    """

    id: str
    shapes: tuple[str, ...]
    by_deg: float = 0.0
    mirrored: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Pinned:
    """The maker has laid this shape here; the rest is laid around it.

    cut: it is cut already, and lies there whatever else is asked (`lay.ground`).
    Residual: the distance moved, plus mm at 100 mm for a turn; a flip counts as 1000 mm.
    """

    id: str
    shape: str
    region: str
    x: float
    y: float
    turn_deg: float
    flipped: bool
    cut: bool = field(default=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutTogether:
    """Cut through two layers of a folded cloth: b is the mirror image of a about the fold.

    The fold is the line y = at (axis "across") or x = at (axis "along"). With shape_b = shape_a
    the shape lies on the fold and is its own mirror image. For the judge only: a folded lay is
    searched for by laying the doubled cloth (`lay.folded`).
    Residual: the largest distance between the mirror image and the outline, mm.
    """

    id: str
    shape_a: str
    shape_b: str
    axis: str
    at: float


CLEAR = KeepClear | KeepWhole
"""Rules that keep a shape, or points of it, clear of figures."""
Placing = OnLine | AtPhase | SamePhase | MirrorPhase
"""Rules that say where points lie on one axis."""
Rule = (
    OnLine
    | AtPhase
    | SamePhase
    | MirrorPhase
    | SamePlace
    | KeepClear
    | KeepWhole
    | AtFigure
    | KeepOff
    | Upright
    | SameTurn
    | Pinned
    | CutTogether
)


def names_of(rule: Rule) -> tuple[str, ...]:
    """Return the shapes a rule speaks of."""
    if isinstance(rule, TwoPoints | SamePlace | CutTogether):
        return (rule.shape_a, rule.shape_b)
    return rule.shapes if isinstance(rule, SameTurn) else (rule.shape,)


def cut_of(problem: LayProblem) -> dict[str, Pinned]:
    """Return where each shape lies that is cut already, by its name."""
    return {r.shape: r for r in problem.rules if isinstance(r, Pinned) and r.cut}


def asked_by(rule: str) -> str:
    """Return what asks for a rule on shapes: the number that its id begins with, in a plan.

    >>> asked_by("3 border hem front 1")
    '3'
    """
    return rule.split(" ", maxsplit=1)[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class LayProblem:
    """Shapes to place on regions under rules, no two closer than `gap` mm.

    said: by what asks for rules (`asked_by`), the maker's words for it.
    """

    regions: tuple[Region, ...]
    shapes: tuple[Shape, ...]
    rules: tuple[Rule, ...] = ()
    gap: float = 0.0
    said: Mapping[str, Sentence] = field(default_factory=dict, repr=False, compare=False)
