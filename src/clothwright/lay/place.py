"""Laying one shape after another: each at the first place along the cloth that its rules allow.

For a given line across the cloth the forbidden places along it are a union of open intervals, one
from each convex polygon of the pairs (see `atlas`); the first free place is found exactly by
jumping from the end of one interval into the next, rounding up to the comb where a phase binds.
A shape bound across is tried on its own line or comb of lines; one bound along is tried tooth by
tooth, the lines then running across; a free one on lines through the corners of what lies there,
refined around the best (after the bottom-left-fill of Burke et al. 2006, with the axes of a cloth).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from clothwright.lay.atlas import Forbidden, slab
from clothwright.lay.bands import Span
from clothwright.lay.chain import Asker, chained
from clothwright.lay.leeway import Bounds, allowed_tracks, bounds_on
from clothwright.lay.model import Ground, Item, Model, Option, allowed_options
from clothwright.lay.problem import KeepWhole, Point
from clothwright.lay.result import NOT_REACHED
from clothwright.lay.track import LaidShape, Track
from clothwright.words import Said

LINES = 20
FINER = (9, 9)
BATCH = 48
TILT_MUST_GAIN = 1.0
"""mm: a tilt is taken only when it ends the shape this much earlier than its exact turn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemPlace:
    """Where one item lies: index of cloth and option, and the reference point."""

    item: int
    ground: int
    option: int
    x: float
    y: float


@dataclass(slots=True, kw_only=True)
class LayDraft:
    """A lay in the making: spots in the order laid, and what found none.

    refused: why not, where it is known; the reason is looked for when it is told (`refusing`).
    """

    spots: list[ItemPlace] = field(default_factory=list)
    refused: dict[int, Said] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Barred:
    """Forbidden polygons of one moving kind on one cloth, in cloth coordinates, padded alike."""

    near: tuple[np.ndarray, np.ndarray]
    far: tuple[np.ndarray, np.ndarray]
    low: tuple[np.ndarray, np.ndarray]
    high: tuple[np.ndarray, np.ndarray]
    lines: tuple[np.ndarray, np.ndarray]
    """Per axis, the bounds of whole shapes: lines worth trying."""


def lay_out(
    model: Model,
    order: Sequence[int],
    turns: Sequence[float],
    *,
    start: LayDraft | None = None,
    stop: Callable[[], bool] | None = None,
    tilted: frozenset[int] = frozenset(),
) -> LayDraft:
    """All items laid in the given order; turns: the turn (degrees) of each one-way group.

    tilted: the items whose tilts are tried beside their exact turns.

    start: a draft whose spots stay; items it holds are not laid again. stop: asked before each
    item; when it says so, what remains is refused for want of time.
    """
    draft = LayDraft() if start is None else LayDraft(spots=list(start.spots))
    held = {spot.item for spot in draft.spots}
    laid = laid_points(model, draft.spots)
    for index in order:
        if index in held:
            continue
        if stop is not None and stop():
            draft.refused[index] = NOT_REACHED
            continue
        spot = find_spot(model, index, draft.spots, laid, turns, index in tilted)
        if spot is None:
            draft.refused[index] = ""
        else:
            draft.spots.append(spot)
            laid[model.items[index].shape.id] = _laid(model, spot)
    return draft


def laid_points(model: Model, spots: Sequence[ItemPlace]) -> dict[str, LaidShape]:
    """The points of the shapes laid, for the rules of the others."""
    return {model.items[spot.item].shape.id: _laid(model, spot) for spot in spots}


def _laid(model: Model, spot: ItemPlace) -> LaidShape:
    points = model.items[spot.item].options[spot.option].points
    return LaidShape(points={n: (x + spot.x, y + spot.y) for n, (x, y) in points.items()})


def find_spot(  # noqa: PLR0917 (one inner step of lay_out)
    model: Model,
    index: int,
    spots: Sequence[ItemPlace],
    laid: Mapping[str, LaidShape],
    turns: Sequence[float],
    tilted: bool = False,
) -> ItemPlace | None:
    """The first place along the cloth for an item: its preferred cloth, or the next with room.

    tilted: its tilts count beside its exact turns; else they are tried only when it has no place
    at those, or none within the cloth's length.
    """
    item = model.items[index]
    numbers = allowed_options(item, turns, model)
    exact = [number for number in numbers if not item.options[number].tilted]
    leaning = len(exact) < len(numbers)
    spot, fits = _first_of(model, index, spots, laid, turns, numbers if tilted else exact)
    if fits or tilted or not leaning:
        return spot
    other, fits = _first_of(model, index, spots, laid, turns, numbers)
    return other if fits or spot is None else spot


def _first_of(  # noqa: PLR0917 (one inner step of lay_out)
    model: Model,
    index: int,
    spots: Sequence[ItemPlace],
    laid: Mapping[str, LaidShape],
    turns: Sequence[float],
    numbers: Sequence[int],
) -> tuple[ItemPlace | None, bool]:
    """The first place at any of these options, and whether it lies within the cloth's length."""
    item = model.items[index]

    def asker(option: Option) -> Asker:
        return Asker(model=model, index=index, option=option, laid=laid, turns=turns)

    overrun: ItemPlace | None = None
    for ground_index in item.regions:
        ground = model.grounds[ground_index]
        best: tuple[float, float, float] | None = None
        found: ItemPlace | None = None
        for number in numbers:
            option = item.options[number]
            place = _place(asker(option), ground_index, spots)
            if place is None:
                continue
            end = place[0] + option.kind.high[0] + (TILT_MUST_GAIN if option.tilted else 0.0)
            key = (round(end, 3), place[1], place[0])
            if best is None or key < best:
                best = key
                found = ItemPlace(
                    item=index, ground=ground_index, option=number, x=place[0], y=place[1]
                )
        if found is not None:
            if found.x + item.options[found.option].kind.high[0] <= ground.limit + 1e-3:
                return found, True
            overrun = overrun or found
    return overrun, False


def _place(
    asker: Asker, ground_index: int, spots: Sequence[ItemPlace]
) -> tuple[float, float] | None:
    model, option = asker.model, asker.option
    item = model.items[asker.index]
    bounds = bounds_on(model.grounds[ground_index], option.kind)
    if bounds is None:
        return None
    if item.clear:  # the figures are known so far
        bounds = (bounds[0][0], min(bounds[0][1], _reach(option, spots))), bounds[1]
    found = (
        _on_tracks(asker, ground_index, spots, tracks, bounds)
        for tracks in allowed_tracks(item, option, asker.laid)
    )
    return min(filter(None, found), default=None)


def _on_tracks(
    asker: Asker,
    ground_index: int,
    spots: Sequence[ItemPlace],
    tracks: tuple[Track, Track],
    bounds: Bounds,
) -> tuple[float, float] | None:
    model, option = asker.model, asker.option
    item = model.items[asker.index]
    shut: tuple[tuple[Span, ...], ...] = ((), ())
    if model.links[asker.index] and item.pin is None:
        ways = [chained(asker, k, tracks[k], bounds[k], ground_index) for k in (0, 1)]
        tracks = ways[0][0], ways[1][0]
        shut = ways[0][1], ways[1][1]
    slabs = [slab(axis, low, high, 0.0) for axis in (0, 1) for low, high in shut[axis]]
    barred = gather(model, item, option, ground_index, spots, slabs)
    return first_place(barred, tracks, bounds)


# --- what is forbidden --------------------------------------------------------------------------


def gather(  # noqa: PLR0917 (one inner step of lay_out)
    model: Model,
    item: Item,
    option: Option,
    ground_index: int,
    spots: Sequence[ItemPlace],
    more: Sequence[Forbidden] = (),
) -> Barred:
    """All that is in the way of one option on one cloth."""
    atlas, ground = model.atlas, model.grounds[ground_index]
    pairs: list[Forbidden] = []
    at: list[tuple[float, float]] = []
    for spot in spots:
        if spot.ground == ground_index:
            kind = model.items[spot.item].options[spot.option].kind
            pairs.append(atlas.pair(kind, option.kind))
            at.append((spot.x, spot.y))
    for obstacle in ground.obstacles:
        pairs.append(atlas.pair(obstacle, option.kind, gap=False))
        at.append((0.0, 0.0))
    for rule in item.clear:
        centres = _figures(rule, ground, _reach(option, spots) + option.kind.high[0])
        pairs.extend([atlas.shunned(rule.parts, rule.radius, option.kind)] * len(centres))
        at.extend(centres)
    kind = option.kind
    bands = [
        slab(1, low - kind.high[1], high - kind.low[1])
        for low, high in item.bands(option, ground.region.name)
    ]
    pairs += [*bands, *more]
    at += [(0.0, 0.0)] * (len(bands) + len(more))
    return _joined(pairs, at)


def _reach(option: Option, spots: Sequence[ItemPlace]) -> float:
    """How far along (mm) a place is looked for beside figures: there is one by then, or none."""
    long = option.kind.high[0] - option.kind.low[0]
    return max((spot.x for spot in spots), default=0.0) + 4.0 * long + 1000.0


def _figures(rule: KeepWhole, ground: Ground, reach: float) -> list[Point]:
    """Where the figures lie that a shape on this ground may come near to."""
    (x, y), r = rule.centre, rule.radius
    xs = _copies(x, rule.repeat_along, ground.start - r, min(ground.end, reach) + r)
    ys = _copies(y, rule.repeat_across, ground.low - r, ground.high + r)
    return [(x, y) for x in xs for y in ys]


def _copies(centre: float, repeat: float | None, low: float, high: float) -> list[float]:
    """Return where a figure comes again from low to high, mm; once without a repeat."""
    if repeat is None:
        return [centre]
    first = math.ceil((low - centre) / repeat)
    last = math.floor((high - centre) / repeat)
    return [centre + k * repeat for k in range(first, last + 1)]


def _joined(pairs: Sequence[Forbidden], at: Sequence[Point]) -> Barred:
    if not pairs:
        none, empty = np.empty(0), np.empty((0, 1, 2))
        return Barred(
            near=(empty, empty),
            far=(empty, empty),
            low=(none, none),
            high=(none, none),
            lines=(none, none),
        )
    counts = [len(pair.low[0]) for pair in pairs]
    shift = np.repeat(np.asarray(at), counts, axis=0)
    near, far, low, high, lines = [], [], [], [], []
    for axis in (0, 1):
        mine, other = shift[:, axis], shift[:, 1 - axis]
        near.append(_shifted([pair.near[axis] for pair in pairs], mine, other, -np.inf))
        far.append(_shifted([pair.far[axis] for pair in pairs], mine, other, np.inf))
        lows = np.concatenate([pair.low[axis] for pair in pairs]) + mine
        highs = np.concatenate([pair.high[axis] for pair in pairs]) + mine
        low.append(lows)
        high.append(highs)
        cuts = np.concatenate([[0], np.cumsum(counts)[:-1]])
        lines.append(
            np.concatenate([np.minimum.reduceat(lows, cuts), np.maximum.reduceat(highs, cuts)])
        )
    return Barred(
        near=(near[0], near[1]),
        far=(far[0], far[1]),
        low=(low[0], low[1]),
        high=(high[0], high[1]),
        lines=(lines[0], lines[1]),
    )


def _shifted(
    parts: Sequence[np.ndarray], mine: np.ndarray, other: np.ndarray, empty: float
) -> np.ndarray:
    most = max(part.shape[1] for part in parts)
    total = sum(len(part) for part in parts)
    out = np.empty((total, most, 2))
    out[..., 0] = empty
    out[..., 1] = 0.0
    row = 0
    for part in parts:
        out[row : row + len(part), : part.shape[1]] = part
        row += len(part)
    out[..., 0] += mine[:, None] - out[..., 1] * other[:, None]
    return out


# --- the first free place -----------------------------------------------------------------------


def first_place(
    barred: Barred, tracks: tuple[Track, Track], bounds: Bounds
) -> tuple[float, float] | None:
    """The free place with the least x (then y), mm, on the tracks, within the bounds."""
    along, across = tracks
    if not across.free:
        ys = np.asarray(across.teeth(*bounds[1]))
        return _least_x(barred, along, bounds, ys)
    if not along.free:
        return _by_teeth(barred, along, bounds)
    return _anywhere(barred, along, bounds)


def _least_x(
    barred: Barred, along: Track, bounds: Bounds, ys: np.ndarray
) -> tuple[float, float] | None:
    if not len(ys):
        return None
    xs = first_free(barred, 0, ys, bounds[0], along)
    best = int(np.argmin(xs))
    return (float(xs[best]), float(ys[best])) if math.isfinite(xs[best]) else None


def _by_teeth(barred: Barred, along: Track, bounds: Bounds) -> tuple[float, float] | None:
    """Tooth after tooth of a comb along the cloth, the lowest free place on each."""
    low, high = bounds[0]
    while low <= high:
        top = high if along.value is not None else min(high, low + BATCH * along.repeat)
        xs = np.asarray(along.teeth(low, top))
        if len(xs):
            ys = first_free(barred, 1, xs, bounds[1], Track())
            good = np.flatnonzero(np.isfinite(ys))
            if len(good):
                return float(xs[good[0]]), float(ys[good[0]])
        ends = barred.high[0]
        past = float(ends[np.isfinite(ends)].max(initial=-math.inf))
        if along.value is not None or low > past + along.repeat * 2:
            return None
        low = top + along.repeat / 2.0
    return None


def _anywhere(barred: Barred, along: Track, bounds: Bounds) -> tuple[float, float] | None:
    low, high = bounds[1]
    marks = barred.lines[1]
    marks = marks[(marks > low) & (marks < high)]
    ys = np.unique(np.concatenate([[low, high], marks, np.linspace(low, high, LINES)]))
    best = _least_x(barred, along, bounds, ys)
    for count in FINER:
        if best is None or len(ys) < 2:
            return best
        at = int(np.searchsorted(ys, best[1]))
        below, above = ys[max(0, at - 1)], ys[min(len(ys) - 1, at + 1)]
        ys = np.unique(np.append(np.linspace(below, above, count), best[1]))
        finer = _least_x(barred, along, bounds, ys)
        if finer is not None and finer[0] < best[0] - 1e-9:
            best = finer
    return best


def first_free(
    barred: Barred,
    axis: int,
    lines: np.ndarray,
    bounds: tuple[float, float],
    comb: Track,
) -> np.ndarray:
    """Per line, the least free value (mm) on the axis within bounds; infinite where none is."""
    start = _up(np.full(len(lines), bounds[0]), comb)
    limit = bounds[1] + 1e-6
    if not len(barred.low[0]):
        return np.where(start <= limit, start, np.inf)
    first, last = intervals(barred, axis, lines)
    at = start
    for _ in range(400):
        inside = (first < at) & (at < last)
        beyond = np.where(inside, last, -np.inf).max(axis=0)
        moved = beyond > at
        if not moved.any():
            break
        at = np.where(moved, _up(beyond, comb), at)
    else:
        at = np.full(len(lines), np.inf)
    return np.where(at <= limit, at, np.inf)


def intervals(barred: Barred, axis: int, lines: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The forbidden open intervals on the axis: two arrays (polygons, lines).

    Only the polygons that a line meets are reckoned (about a sixth of them).
    """
    low, high = barred.low[1 - axis][:, None], barred.high[1 - axis][:, None]
    rows, cols = np.nonzero((lines > low) & (lines < high))
    at = lines[cols]
    near, far = barred.near[axis].transpose(2, 1, 0), barred.far[axis].transpose(2, 1, 0)
    first = (near[0].take(rows, axis=1) + near[1].take(rows, axis=1) * at).max(axis=0)
    last = (far[0].take(rows, axis=1) + far[1].take(rows, axis=1) * at).min(axis=0)
    real = first < last
    met = rows[real], cols[real]
    size = (len(low), len(lines))
    begins, ends = np.full(size, np.inf), np.full(size, -np.inf)
    begins[met], ends[met] = first[real], last[real]
    return begins, ends


def _up(values: np.ndarray, comb: Track) -> np.ndarray:
    """Values raised to the next allowed place."""
    if comb.value is not None:
        return np.where(values <= comb.value + 1e-6, comb.value, np.inf)
    if comb.repeat == 0.0:
        return values
    out = np.where(np.isfinite(values), values, 0.0)
    teeth = comb.start + np.ceil((out - comb.start - 1e-6) / comb.repeat) * comb.repeat
    if comb.sift:
        teeth = np.asarray([_sifted(float(tooth), comb) for tooth in teeth])
    return np.where(np.isfinite(values), teeth, values)


def _sifted(tooth: float, comb: Track) -> float:
    found = comb.teeth(tooth - 1e-6, tooth + 2000.0 * comb.repeat)
    return found[0] if found else math.inf
