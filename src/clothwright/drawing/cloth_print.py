"""Everything of a cloth's print that lies inside a line: bands, bars, mirror lines, figures.

One description for the cloth, the lay, the garment and the piece: whatever comes again is drawn in
every copy, as the print's motions bring it, and cut off at the line.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.motions import AS_IT_IS, Motion, Motions, band, ground, of_figure, steps
from clothwright.cloth.prints import Border, Figure, picture_spots
from clothwright.geometry.path import polyline, ring_path
from clothwright.geometry.region import FAR_MM, Fixed, Spans, cut_areas, cut_lines, strips
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.picture.picture import DrawnPhoto, DrawnRole, Fill, Item, Stroke
from clothwright.words import begun, motif_name

Shape = NDArray[np.float64]
Pair = tuple[float, float]
LEAST_MM = 5.0
"""Lines nearer to each other than this cannot be told apart and are not drawn."""
SAGITTA_MM = 0.25
"""A round figure may stray so far from its circle."""
FEW = 1000
"""Of more copies than this each is drawn with four corners and without its drop."""
MANY = 20_000
"""More copies than this are too small to be seen and are not drawn."""
SPOTS = "the {} comes so often that it is drawn here as plain spots, without its top."
LEFT_OUT = "the {} comes so often that it is left out here: it would be too small to be seen."
FOOT_SHARE = 0.06
"""Where the second line at the foot of a border runs, as a share of its height."""


def print_inside(ring: Fixed, cloth: Cloth) -> tuple[Item, ...]:
    """Return all that is printed inside a ring of a cloth (mm), and the photo of it over that.

    Where the photo's file is not at hand, the print is seen all the same.
    """
    return (*design_inside(ring, cloth), *photo_inside(ring, cloth))


def worn_inside(ring: Fixed, cloth: Cloth) -> tuple[Item, ...]:
    """Return what is seen of a print when it is worn: `print_inside` without the mirror lines."""
    return tuple(i for i in print_inside(ring, cloth) if i.role is not DrawnRole.LEVEL)


@lru_cache(maxsize=64)
def design_inside(ring: Fixed, cloth: Cloth) -> tuple[Item, ...]:
    """Return what is said of a cloth's print inside a ring (mm), every copy cut off at the ring.

    The ground stops at a border. What has an up is drawn with a drop whose tip points there; where
    the print has mirrored copies, a dot beside the drop tells them apart. Remembered: of a lay that
    is moved, most stays as it was.
    """
    design = cloth.print
    bands = tuple(b.span(cloth.width) for b in design.borders)
    spans = _between(bands)
    out: list[Item] = []
    for border, span in zip(design.borders, bands, strict=True):
        out += _band(border, cloth, ring, span)
    bars = [line for axis in (0, 1) for line in _bars(axis, cloth, ring)]
    out += _strokes(cut_lines(bars, ring, spans), DrawnRole.MOTIF)
    for axis in (0, 1):
        out += _mirrors(axis, cloth, ring, spans)
    for figure in design.figures:
        out += _figure(figure, cloth, ring, spans)
    if not any(low <= f.y <= high for f in design.figures for low, high in spans):
        out += _tops(cloth, ring, spans)
    return tuple(out)


@lru_cache(maxsize=64)
def print_notes(ring: Fixed, cloth: Cloth) -> tuple[str, ...]:
    """Say which motifs are drawn inside a ring (mm) as less than they are, in whole sentences."""
    out = []
    for figure in cloth.print.figures:
        found = of_figure(figure, cloth.print, cloth.width)
        count = len(_moves(found, (figure.x, figure.y), figure.radius, ring))
        if count > FEW:
            words = LEFT_OUT if count > MANY else SPOTS
            out.append(begun(words.format(motif_name(figure.name))))
    return tuple(out)


def photo_inside(ring: Fixed, cloth: Cloth) -> tuple[DrawnPhoto, ...]:
    """Return the photo of a cloth inside a ring (mm), wherever it comes again; () without one."""
    shown = cloth.print.picture
    spots = picture_spots(cloth.print, *_reach(ring))
    if shown is None or not spots:
        return ()
    at = tuple(Vec(*spot) for spot in spots)
    clip = ring_path(ring)
    photo = DrawnPhoto(file=shown.file, wide=shown.width, tall=shown.height, spots=at, clip=clip)
    return (photo,)


def _between(bands: Spans) -> Spans:
    """Return the heights (mm) that no border takes up."""
    out, low = list[tuple[float, float]](), -FAR_MM
    for start, end in sorted(bands):
        out += [(low, start)] if start > low else []
        low = max(low, end)
    return (*out, (low, FAR_MM))


def _band(border: Border, cloth: Cloth, ring: Fixed, span: Pair) -> Iterator[Item]:
    """Yield a border: its band, its lines, a second one at its foot, a mark at every repeat.

    The mark stands for what is not said of its figure; where a figure lies in it, that is drawn.
    """
    (low, high), up = span, border.up_deg
    yield from (Fill(path=ring_path(r), role=DrawnRole.BORDER) for r in strips(ring, (span,)))
    foot = FOOT_SHARE * (high - low)
    second = [] if up is None else [low + foot if up == 90.0 else high - foot]
    ends = _reach(ring)
    lines = [_line(1, y, *ends) for y in (low, high, *second)]
    yield from _strokes(cut_lines(lines, ring), DrawnRole.BORDER)
    found = band(border, cloth.print)
    if found.period[0] is not None and not any(low <= f.y <= high for f in cloth.print.figures):
        middle = (cloth.print.origin_along, (low + high) / 2)
        radius = min(0.3 * (high - low), 0.45 * found.period[0])
        moves = _moves(found, middle, radius, ring)
        sided = _sided(found, middle)
        shapes = [_round(1.0, 4)] if up is None else _mark(up, sided=sided)
        rings = cut_areas(_copies([s * radius for s in shapes], middle, moves), ring, (span,))
        yield from _filled(rings)


def _bars(axis: int, cloth: Cloth, ring: Fixed) -> list[Shape]:
    """Return the lines where the ground's repeat begins anew along (0) or across (1) the cloth."""
    design, other = cloth.print, 1 - axis
    origin = (design.origin_along, design.origin_across)
    repeat, step = (design.repeat_along, design.repeat_across)[:: 1 - 2 * axis]
    if repeat is None or repeat < LEAST_MM:
        return []
    low, high = _reach(ring)
    if step and design.drop == ("half-drop", "brick")[axis]:
        one = np.array([[0.0, 0.0], np.eye(2)[other] * step])
        found = replace(ground(design), operations=(AS_IT_IS,))
        return [one + p for p in found.copies(origin, (low[0] - step, low[1] - step), high)]
    return [_line(axis, at, low, high) for at in steps(origin[axis], repeat, low[axis], high[axis])]


def _mirrors(axis: int, cloth: Cloth, ring: Fixed, spans: Spans) -> list[Item]:
    """Return the lines in which the figure mirrors; of a border alone, within its band."""
    design, found = cloth.print, ground(cloth.print)
    if axis == 0 and design.borders:
        alone = design.repeat_along is None
        spans = tuple(b.span(cloth.width) for b in design.borders) if alone else ()
        found = band(design.borders[0], design) if alone else found
    origin = (design.origin_along, design.origin_across)[axis]
    phases = (design.axes_along, design.axes_across)[axis]
    low, high = _reach(ring)
    lines = [
        _line(axis, at, low, high)
        for phase in phases
        for at in steps(origin + phase, found.level(axis), low[axis], high[axis])
    ]
    return _strokes(cut_lines(lines, ring, spans), DrawnRole.LEVEL)


def _figure(figure: Figure, cloth: Cloth, ring: Fixed, spans: Spans) -> list[Item]:
    """Return every copy of a figure: a disc, left open in it a drop where it has an up."""
    middle, up = (figure.x, figure.y), cloth.print.up_deg
    for border in cloth.print.borders:
        low, high = border.span(cloth.width)
        if low <= figure.y <= high:
            spans, up = ((low, high),), border.up_deg
    found = of_figure(figure, cloth.print, cloth.width)
    moves = _moves(found, middle, figure.radius, ring)
    if len(moves) > MANY:
        return []
    few = len(moves) <= FEW
    disc = _round(figure.radius, _corners(figure.radius) if few else 4)
    rings = cut_areas(_copies([disc], middle, moves), ring, spans)
    if few and up is not None:
        sided = _sided(found, middle)
        mark = [shape * figure.radius for shape in _mark(up, sided=sided)]
        rings += cut_areas(_copies(mark, middle, moves), ring, spans)
    return _filled(rings)


def _tops(cloth: Cloth, ring: Fixed, spans: Spans) -> list[Item]:
    """Return a drop in the middle of each repeat of a ground that has an up and no figure."""
    design, up = cloth.print, cloth.print.up_deg
    along = design.repeat_along or design.repeat_across
    across = design.repeat_across or along
    if up is None or along is None or across is None:
        return []
    whole = replace(design, repeat_along=along, repeat_across=across)
    found = replace(ground(whole), operations=(AS_IT_IS,))
    middle = (design.origin_along + along / 2, design.origin_across + across / 2)
    radius = 0.25 * min(along, across)
    moves = _moves(found, middle, radius, ring)
    if len(moves) > FEW:
        return []
    shapes = [shape * radius for shape in _mark(up, sided=False)]
    return _filled(cut_areas(_copies(shapes, middle, moves), ring, spans))


def _moves(found: Motions, middle: Pair, radius: float, ring: Fixed) -> tuple[Motion, ...]:
    """Return the motion to every copy that may be seen of what lies `radius` mm about a middle.

    One more than MANY where there are more.
    """
    (x0, y0), (x1, y1) = _reach(ring)
    low, high = (x0 - radius, y0 - radius), (x1 + radius, y1 + radius)
    return tuple(itertools.islice(found.moves(middle, low, high), MANY + 1))


def _copies(shapes: Sequence[Shape], middle: Pair, moves: Sequence[Motion]) -> list[Shape]:
    """Return shapes about a middle as every motion brings them."""
    return [move.of(shape + middle) for move in moves for shape in shapes]


def _sided(found: Motions, middle: Pair) -> bool:
    """Tell whether what lies about a place comes again mirrored elsewhere."""
    return any(move.mirrors for move in found.unlike(middle))


def _mark(up: float, *, sided: bool) -> list[Shape]:
    """Return a drop within a circle of 1 mm, its tip towards `up` (degrees); sided: with a dot."""
    turns = np.radians(np.linspace(159.5, 380.5, 9))
    round_ = np.column_stack([np.cos(turns), np.sin(turns)]) * 0.35 + (0.0, -0.3)
    shapes = [np.vstack([round_, [0.0, 0.72]])]
    if sided:
        shapes.append(_round(0.13, 6) + np.array((0.58, -0.3)))
    turn = rotation_deg(up - 90.0)
    return [np.array([turn.apply((x, y)) for x, y in shape]) for shape in shapes]


def _round(radius: float, corners: int) -> Shape:
    turns = np.arange(corners) * (2 * math.pi / corners)
    return np.column_stack([np.cos(turns), np.sin(turns)]) * radius


def _corners(radius: float) -> int:
    """Return how many corners keep a circle round within SAGITTA_MM."""
    return max(8, math.ceil(math.pi / math.acos(max(0.0, 1.0 - SAGITTA_MM / radius))))


def _reach(ring: Fixed) -> tuple[Pair, Pair]:
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _line(axis: int, at: float, low: Pair, high: Pair) -> Shape:
    """Return the line at a place along (0) or across (1) the cloth, from end to end of a box."""
    return np.array([(at, low[1]), (at, high[1])] if axis == 0 else [(low[0], at), (high[0], at)])


def _strokes(lines: Sequence[Fixed], role: DrawnRole) -> list[Item]:
    return [Stroke(path=polyline(line), role=role) for line in lines]


def _filled(rings: Sequence[Fixed]) -> list[Item]:
    """Return figures as one area: it is shorter to write than one for each."""
    paths = tuple(map(ring_path, rings))
    return [Fill(path=paths[0], holes=paths[1:], role=DrawnRole.MOTIF)] if paths else []
