"""Cloth laid double: pairs cut through two layers at once, half pieces on the fold.

A folded lay is an ordinary lay in which pairs are mirror images of each other about the fold and
pieces on the fold are their own. So everything here is stated in the opened-out frame of the cloth
(`lay.problem`): the judge looks at a folded lay as at any other, and measures the mirror images
(`problem.CutTogether`) besides.

Ways (common practice; the words follow home-economics leaflets, see docs/sources.md):
"lengthwise": selvedges together; "partial": one selvedge folded over only as deep as the pieces
need, the rest single; "crosswise": folded across, as long as the pieces need. Of right
sides in or out the geometry knows nothing; `drawing.folded` says which.

The doubled pieces are laid and cut first; then the cloth is opened out and what is cut singly is
laid on what is left of it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import shapely
from shapely.geometry import Polygon

from clothwright.cloth.cloth import Cloth
from clothwright.errors import BadInput, did_you_mean
from clothwright.geometry.vec import turn_apart
from clothwright.lay.compiled import Compiled
from clothwright.lay.copies import Copy
from clothwright.lay.lying import lie
from clothwright.lay.problem import (
    CutTogether,
    LayProblem,
    OnLine,
    Pinned,
    Region,
    Ring,
    Rule,
    SameTurn,
    Shape,
    Upright,
    asked_by,
    names_of,
)
from clothwright.lay.result import Lay, Placement
from clothwright.lay.turning import SAME_DEG, turning_sets

WAYS = ("lengthwise", "partial", "crosswise")
FOLD_POINT = "on the fold"
ALIKE_MM = 0.05
"""mm: a shape is its own mirror image when it differs from it by no more."""
CENTRE_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """One cloth folded: where the fold lies, and what is cut double.

    axis, at: the fold is the line across = at (axis "across") or along = at (axis "along"), mm.
    depth: mm of doubled cloth, from the fold. pairs: shapes cut through both layers, (the one the
    tissue is laid for, the other). on_fold: shapes cut as a half on the fold.
    """

    cloth: str
    way: str
    axis: str
    at: float
    depth: float
    pairs: tuple[tuple[str, str], ...] = ()
    on_fold: tuple[str, ...] = ()

    @property
    def rules(self) -> tuple[CutTogether, ...]:
        """The fold as rules for the judge: each pair mirrored, each half its own mirror image."""
        both = (*self.pairs, *((name, name) for name in self.on_fold))
        return tuple(
            CutTogether(
                id=f"fold {self.cloth} {a if a == b else f'{a} / {b}'}",
                shape_a=a,
                shape_b=b,
                axis=self.axis,
                at=self.at,
            )
            for a, b in both
        )

    @property
    def spared(self) -> int:
        """How many cutting lines less than when every piece is cut singly (halves count as one)."""
        return len(self.pairs)


class Folding(Protocol):
    """A cloth that is to be laid double; depth: mm from the fold, None leaves it to the search."""

    @property
    def cloth(self) -> str:
        """The name of the cloth."""

    @property
    def way(self) -> str:
        """One of WAYS."""

    @property
    def depth(self) -> float | None:
        """How deep it is doubled (mm), for a partial fold."""


def why_single(compiled: Compiled, cloth: Cloth, way: str) -> str:
    """Return why a cloth may not be folded this way, "" when it may. Raises BadInput for the way.

    The print of the lower layer is out of sight, so a border or a rule on the print forbids any
    fold; nap and one-way designs forbid the crosswise one, which turns the lower layer round.
    """
    if way not in WAYS:
        raise BadInput(
            what=f'"{way}" is no way to fold a cloth.{did_you_mean(way, WAYS)}',
            expected=", ".join(WAYS),
        )
    return next(_forbidding(compiled, cloth, way), "")


def _forbidding(compiled: Compiled, cloth: Cloth, way: str) -> Iterator[str]:
    if cloth.outline is not None:
        yield "a remnant of odd shape has no two edges to lay together"
    if cloth.print.borders:
        yield (
            f'the border "{cloth.print.borders[0].name}" on the lower layer would be out of sight, '
            "and a fold brings it to the wrong edge of half the pieces"
        )
    mine = {s.id for s in compiled.problem.shapes if cloth.name in s.regions}
    for rule in compiled.problem.rules:
        named = [n for n in names_of(rule) if n in mine]
        if isinstance(rule, Pinned) and named:
            yield f"{named[0]} is pinned; a pin holds one copy only, a fold cuts two"
        elif named and not isinstance(rule, SameTurn | Upright) and _asks_here(rule, cloth):
            yield (
                f"the print of the lower layer is out of sight, and {named[0]} must lie by it"
                f" (rule {asked_by(rule.id)} of the plan)"
            )
    if cloth.print.up in (("start", "end") if way == "crosswise" else ("upper", "lower")):
        yield f"a {way} fold turns the one-way design of the lower layer upside down"
    if way == "crosswise":
        if cloth.nap:
            yield "a crosswise fold turns the nap of the lower layer round"
        if cloth.flaws and cloth.length is None:
            yield "its flaws lie at unknown places of the lower layer until its length is known"
    if not any(True for _ in _doubles(compiled, cloth, way)):
        yield "no piece cut from it is a pair, or a half with its fold along the grain"


def _asks_here(rule: Rule, cloth: Cloth) -> bool:
    """Tell whether a rule asks anything on a cloth."""
    return getattr(rule, "region", cloth.name) == cloth.name


# --- what can be cut double -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Double:
    """One thing to lay on the doubled cloth.

    lead: the shape whose tissue is laid; mate: the other one, or "" for a half on the fold.
    axis_y: where the mirror line of its own lies in the shape's frame, when it is its own mirror
    image (a half unfolded, a strip); None for a handed pair.
    """

    lead: str
    mate: str
    turns_deg: tuple[float, ...]
    axis_y: float | None


def _doubles(compiled: Compiled, cloth: Cloth, way: str) -> Iterator[Double]:
    shapes = [s for s in compiled.problem.shapes if s.regions[:1] == (cloth.name,)]
    copies = {c.id: c for c in compiled.copies}
    waiting: list[Shape] = []
    for shape in shapes:
        copy = copies[shape.id]
        middle = _fold_line(copy)
        if middle is not None and (turns := _along_fold(shape, way)):
            yield Double(lead=shape.id, mate="", turns_deg=turns, axis_y=middle)
            continue
        own = middle if middle is not None else _own_axis(shape)
        mate = next((w for w in waiting if _pair(copies[w.id], copy, own)), None)
        if mate is None:
            waiting.append(shape)
            continue
        turns = _turns_of_pair(compiled.problem, mate, shape, way)
        waiting.remove(mate)
        if turns:
            yield Double(lead=mate.id, mate=shape.id, turns_deg=turns, axis_y=own)


def _pair(a: Copy, b: Copy, own: float | None) -> bool:
    """Tell whether two copies are mirror images: turned over, or of a piece that has no hand."""
    same = a.piece.name == b.piece.name and a.material == b.material
    return same and (a.turned_over != b.turned_over or own is not None)


def _fold_line(copy: Copy) -> float | None:
    """Return the y of the fold line in the shape's frame, None when it is not along the grain."""
    edge = copy.piece.fold
    if edge is None:
        return None
    a, b = copy.to_frame.apply(edge.path.start), copy.to_frame.apply(edge.path.end)
    return (a.y + b.y) / 2 if abs(a.y - b.y) <= ALIKE_MM else None


def _own_axis(shape: Shape) -> float | None:
    """Return the y of the axis about which a shape is its own mirror image, if there is one."""
    ys = [y for _, y in shape.outline]
    middle = (min(ys) + max(ys)) / 2
    ring = shapely.LinearRing(shape.outline)
    other = shapely.LinearRing([(x, 2 * middle - y) for x, y in shape.outline])
    return middle if ring.hausdorff_distance(other) <= ALIKE_MM else None


def _along_fold(shape: Shape, way: str) -> tuple[float, ...]:
    """Return the allowed turns in which a half's fold line lies along the fold of the cloth."""
    wanted = 90.0 if way == "crosswise" else 0.0
    return tuple(t for t in shape.turns_deg if t % 180.0 == wanted)


def _turns_of_pair(problem: LayProblem, a: Shape, b: Shape, way: str) -> tuple[float, ...]:
    """Return the turns of a whose mirror image b may take too."""
    sets = (s for s in turning_sets(problem.rules) if a.id in s and b.id in s)
    tie = next((s[b.id].after(s[a.id].back) for s in sets), None)
    allowed = {round(t % 360.0, 6) for t in b.turns_deg}
    out = []
    for turn in a.turns_deg:
        other = round(_mirrored_turn(turn, way) % 360.0, 6)
        if other in allowed and (tie is None or turn_apart(tie.of(turn), other) < SAME_DEG):
            out.append(turn)
    return tuple(out)


def _mirrored_turn(turn: float, way: str) -> float:
    return (180.0 - turn if way == "crosswise" else -turn) % 360.0


# --- the doubled cloth as a lay problem -----------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubled:
    """The doubled part of one cloth as a lay problem of its own.

    For the lengthwise ways its frame is the cloth's, from the folded-over edge up to the fold; for
    a crosswise fold x counts from the fold. fold: as it will be, `at` of a crosswise one still
    open. doubles: by the shape's id in the problem.
    """

    problem: LayProblem
    fold: Fold
    doubles: Mapping[str, Double]
    start: float


def depths(compiled: Compiled, cloth: Cloth, way: str) -> tuple[float, ...]:
    """Return depths of doubled cloth worth trying, mm, from the fold; the shallowest first.

    A partial fold is as deep as one or two pieces side by side; the others have one depth.
    """
    most = _most_depth(cloth, way)
    if way != "partial":
        return (most,)
    shapes = {s.id: s for s in compiled.problem.shapes}
    gap = compiled.problem.gap
    wide = []
    for double in _doubles(compiled, cloth, way):
        ys = [y for _, y in shapes[double.lead].outline]
        wide.append((max(ys) - min(ys)) / (1 if double.mate else 2) + gap / 2)
    least = max(wide, default=0.0)
    several = {round(a + b + gap, 1) for a in wide for b in wide} | {round(least, 1)}
    good = sorted(d + 0.1 for d in several if least <= d + 0.1 < most - 1.0)
    return tuple(good[:: max(1, len(good) // 4)][:5])


def _most_depth(cloth: Cloth, way: str) -> float:
    if way == "crosswise":
        if cloth.length is None:
            return math.inf
        return (cloth.length - cloth.margin_start - cloth.margin_end) / 2
    return cloth.width / 2 - max(cloth.margin_lower, cloth.margin_upper)


def doubled(compiled: Compiled, cloth: Cloth, way: str, depth: float) -> Doubled:
    """Return the doubled part of a cloth (mm) as a problem: pairs once, halves on the fold."""
    gap = compiled.problem.gap
    shapes = {s.id: s for s in compiled.problem.shapes}
    old = next(r for r in compiled.problem.regions if r.name == cloth.name)
    at = _fold_at(cloth, way, depth)
    region = _doubled_region(old, way, at, depth, gap)
    mine: list[Shape] = []
    rules: list[Rule] = []
    doubles = {}
    for double in _doubles(compiled, cloth, way):
        shape = shapes[double.lead]
        doubles[shape.id] = double
        if double.mate:
            ways = shape.flips if double.axis_y is not None else (False, True)
            mine.append(replace(shape, turns_deg=double.turns_deg, flips=ways, points={}))
            continue
        mine.append(_half(shape, double, gap))
        line = gap / 2 if way == "crosswise" else at - gap / 2
        axis = "along" if way == "crosswise" else "across"
        rules.append(
            OnLine(id=f"fold {shape.id}", shape=shape.id, points=(FOLD_POINT,), axis=axis, at=line)
        )
    rules.extend(_one_way(compiled.problem, set(doubles)))
    fold = Fold(
        cloth=cloth.name,
        way=way,
        axis="along" if way == "crosswise" else "across",
        at=at,
        depth=depth,
        pairs=tuple((d.lead, d.mate) for d in doubles.values() if d.mate),
        on_fold=tuple(d.lead for d in doubles.values() if not d.mate),
    )
    rules.extend(_uprights(compiled.problem, doubles, fold))
    said = {**compiled.problem.said, "fold": ("its fold lies on the fold of the cloth",)}
    problem = LayProblem(
        regions=(region,), shapes=tuple(mine), rules=tuple(rules), gap=gap, said=said
    )
    return Doubled(problem=problem, fold=fold, doubles=doubles, start=cloth.margin_start)


def _fold_at(cloth: Cloth, way: str, depth: float) -> float:
    if way == "lengthwise":
        return cloth.width / 2
    if way == "partial":
        return cloth.width - cloth.margin_upper - depth
    return 0.0 if cloth.length is None else cloth.length / 2


def _doubled_region(old: Region, way: str, at: float, depth: float, gap: float) -> Region:
    """Return the doubled part; flaws of both layers are in the way."""
    if way == "crosswise":
        flaws = [tuple((x - at, y) for x, y in ring) for ring in old.keep_out]
        flaws += [tuple((-x, y) for x, y in ring)[::-1] for ring in flaws]
        return replace(
            old,
            length=depth if math.isfinite(depth) else None,
            margin_start=gap / 2,
            margin_end=0.0,
            keep_out=tuple(flaws),
        )
    flaws = [*old.keep_out]
    flaws += [tuple((x, 2 * at - y) for x, y in ring)[::-1] for ring in old.keep_out]
    return replace(
        old,
        width=at,
        margin_lower=max(at - depth, 0.0),
        margin_upper=gap / 2,
        keep_out=tuple(flaws),
    )


def _half(shape: Shape, double: Double, gap: float) -> Shape:
    """Return half of an unfolded shape, to lie against the fold either way round.

    What lies nearer to the fold than half a gap is pushed back to there, so that everything on
    the doubled cloth may keep half a gap from the fold and so a whole one from its own twin.
    """
    middle = double.axis_y or 0.0
    line = middle + gap / 2
    whole = Polygon(shape.outline)
    x0, _, x1, y1 = whole.bounds
    body = whole.intersection(shapely.box(x0 - 1, line, x1 + 1, y1 + 1))
    near = whole.intersection(shapely.box(x0 - 1, middle - CENTRE_MM, x1 + 1, line))
    a, _, b, _ = near.bounds
    foot = shapely.box(a, line, b, line + 0.02)
    half = body.union(foot)
    if half.geom_type != "Polygon":
        half = max(shapely.get_parts(half), key=lambda part: part.area)
    ring = tuple((float(x), float(y)) for x, y in half.exterior.coords[:-1])
    return replace(
        shape,
        outline=ring if shapely.is_ccw(half.exterior) else ring[::-1],
        turns_deg=double.turns_deg,
        tilt_deg=0.0,
        flips=(False, True),
        points={FOLD_POINT: (float((a + b) / 2), line)},
    )


def _one_way(problem: LayProblem, leads: set[str]) -> Iterator[SameTurn]:
    for rule in problem.rules:
        if isinstance(rule, SameTurn):
            held = tuple(n for n in rule.shapes if n in leads)
            if len(held) > 1 and rule.shapes[0] in leads:
                yield replace(rule, shapes=held)
            elif len(held) > 1:
                yield SameTurn(id=rule.id, shapes=held)


def _uprights(problem: LayProblem, doubles: Mapping[str, Double], fold: Fold) -> Iterator[Upright]:
    """Yield what stands upright on the doubled cloth: the lead, and the mate as it will be."""
    leads = {d.mate: d.lead for d in doubles.values() if d.mate}
    for rule in problem.rules:
        if not isinstance(rule, Upright) or rule.region != fold.cloth:
            continue
        if rule.shape in doubles:
            yield rule
        elif rule.shape in leads:
            up_deg = _mirrored_turn(rule.up_deg, fold.way)
            yield replace(rule, shape=leads[rule.shape], up_deg=up_deg)


# --- opened out again -----------------------------------------------------------------------------


def opened(
    doubled_: Doubled, placements: Sequence[Placement], shapes: Mapping[str, Shape], used: float
) -> tuple[Fold, tuple[Placement, ...]]:
    """Return the fold as it lies and every doubled shape on the opened-out cloth.

    used: mm used of the doubled part (for a crosswise fold: from the fold), as its lay says.
    """
    fold = doubled_.fold
    if fold.way == "crosswise":
        fold = replace(fold, at=doubled_.start + used, depth=used)
    out: list[Placement] = []
    for place in placements:
        double = doubled_.doubles[place.shape]
        x = place.x + (fold.at if fold.way == "crosswise" else 0.0)
        spot = (x, place.y, place.turn_deg, place.flipped)
        lead, mate = shapes[double.lead], shapes.get(double.mate)
        if mate is None:
            out.append(_laid(lead, _right_way(spot, double.axis_y or 0.0, lead), fold))
            continue
        both = (spot, _mirror(spot, fold))
        if double.axis_y is not None:
            both = (
                _right_way(both[0], double.axis_y, lead),
                _right_way(both[1], double.axis_y, mate),
            )
        elif spot[3] not in lead.flips:
            both = both[::-1]
        out.append(_laid(lead, both[0], fold))
        out.append(_laid(mate, both[1], fold))
    return fold, tuple(out)


Spot = tuple[float, float, float, bool]
"""x, y, turn_deg, flipped."""


def _mirror(spot: Spot, fold: Fold) -> Spot:
    x, y, turn, flipped = spot
    if fold.axis == "along":
        return 2 * fold.at - x, y, _mirrored_turn(turn, "crosswise"), not flipped
    return x, 2 * fold.at - y, _mirrored_turn(turn, "lengthwise"), not flipped


def _right_way(spot: Spot, axis_y: float, shape: Shape) -> Spot:
    """Return the same outline laid without turning a shape over that is its own mirror image."""
    x, y, turn, flipped = spot
    if flipped in shape.flips:
        return spot
    away = 2 * axis_y * (-1.0 if flipped else 1.0)
    angle = math.radians(turn)
    return x - away * math.sin(angle), y + away * math.cos(angle), turn, not flipped


def _laid(shape: Shape, spot: Spot, fold: Fold) -> Placement:
    x, y, turn, flipped = spot
    return lie(shape, region=fold.cloth, x=x, y=y, turn_deg=turn, flipped=flipped)


def tissues(fold: Fold, lay: Lay, width: float) -> tuple[tuple[str, Ring], ...]:
    """Return, for each thing cut double, its outline on the side where the tissue lies.

    That side is the lower layer of a lengthwise or partial fold, and the one beyond the fold of a
    crosswise one. Of a piece on the fold it is the half. width: of the cloth, mm.
    """
    far = lay.used.get(fold.cloth, 0.0) + 1.0
    if fold.axis == "across":
        side = shapely.box(-1.0, -1.0, far, fold.at)
    else:
        side = shapely.box(fold.at, -1.0, far, width + 1.0)
    rings = {p.shape: p.outline for p in lay.placements if p.region == fold.cloth}
    out: list[tuple[str, Ring]] = []
    for pair in fold.pairs:
        name = max(pair, key=lambda n: Polygon(rings[n]).intersection(side).area)
        out.append((name, rings[name]))
    for name in fold.on_fold:
        half = Polygon(rings[name]).intersection(side)
        if half.geom_type != "Polygon":
            half = max(shapely.get_parts(half), key=lambda part: part.area)
        out.append((name, tuple((float(x), float(y)) for x, y in half.exterior.coords[:-1])))
    return tuple(out)
