"""A piece as it will be cut, the print of the cloth on it, turned the way it is worn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import picture_spots
from clothwright.drawing.cloth import circle, phases
from clothwright.drawing.piece import stitching_lines
from clothwright.geometry.path import polyline, ring_path
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.lay.compiled import Compiled
from clothwright.lay.match import placement_move
from clothwright.lay.problem import Ring
from clothwright.lay.result import Placement
from clothwright.pattern.whole import unfolded
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke

Span = tuple[Vec, Vec]
END_MM = 1e6
"""Farther than any cloth reaches."""


def printed_piece(compiled: Compiled, placement: Placement) -> Picture:
    """Return one laid piece with the print of its cloth inside its cutting line, right side up.

    The picture is in mm, true to scale, its way up the body upward; it is never mirrored: what is
    seen is the right side of the cloth, so the two of a pair are each other's mirror image.
    """
    cloth = compiled.cloth(placement.region)
    copy = compiled.copy(placement.shape)
    move = placement_move(copy, placement)
    ring, group = placement.outline, placement.shape
    items: list[Item] = [Fill(path=ring_path(ring), role=DrawnRole.CLOTH, group=group)]
    items += print_inside(ring, cloth)
    items += stitching_lines(unfolded(copy.piece), group, move)
    items.append(Stroke(path=ring_path(ring), role=DrawnRole.CUT, closed=True, group=group))
    turn_deg = 90.0 - move.apply_direction(copy.piece.up).angle_deg
    return Picture(items=tuple(items), title=placement.shape).transformed(rotation_deg(turn_deg))


def print_inside(ring: Ring, cloth: Cloth) -> list[Item]:
    """Return what of the print lies inside a ring of the cloth: bands, lines, axes, figures."""
    design, out = cloth.print, list[Item]()
    spans: list[tuple[float, float]] = []
    for border in design.borders:
        low, high = sorted((border.line(cloth.width), border.line(cloth.width, border.height)))
        spans.append((low, high))
        part = within(ring, 1, low, high)
        if len(part) > 2:
            out.append(Fill(path=ring_path(part), role=DrawnRole.BORDER))
        for y in (low, high):
            out += _strokes(chords(ring, 1, y), DrawnRole.BORDER)
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    reach = ((0, "along", max(xs), design.axes_along), (1, "across", max(ys), design.axes_across))
    for axis, way, end, axes in reach:
        own = design.repeat_along if way == "along" else design.repeat_across
        limits = spans if own is None and spans and axis == 0 else [(-END_MM, END_MM)]
        kinds = [(0.0, DrawnRole.MOTIF)] if design.repeat(way) else []
        for phase, role in (*kinds, *((a, DrawnRole.LEVEL) for a in axes)):
            for at in phases(design.origin(way), design.repeat(way), phase, end):
                found = chords(ring, axis, at)
                out += _strokes([s for low, high in limits for s in _cut(found, low, high)], role)
    return out + _figures(ring, cloth)


def _figures(ring: Ring, cloth: Cloth) -> list[Item]:
    """Return the figures whose middle lies on the piece."""
    out: list[Item] = []
    for figure in cloth.print.figures:
        middle = Vec(figure.x, figure.y)
        crossed = chords(ring, 1, middle.y)
        if any(a.x <= middle.x <= b.x for a, b in crossed):
            path = circle(middle, figure.radius)
            out += [
                Fill(path=path, role=DrawnRole.MOTIF),
                Stroke(path=path, role=DrawnRole.MOTIF, closed=True),
            ]
    return out


def _strokes(spans: Sequence[Span], role: DrawnRole) -> list[Item]:
    return [Stroke(path=polyline(span), role=role) for span in spans]


def within(ring: Ring, axis: int, low: float, high: float) -> Ring:
    """Return the part of a ring between two lines across an axis (0 = x, 1 = y), as one ring, mm.

    Parts that hang apart stay joined along the line; for a fill that is no difference.

    >>> within(((0, 0), (2, 0), (2, 2), (0, 2)), 1, 0.5, 1.0)
    ((2.0, 0.5), (2.0, 1.0), (0.0, 1.0), (0.0, 0.5))
    """
    return _half(_half(ring, axis, low, above=True), axis, high, above=False)


def _half(ring: Ring, axis: int, line: float, *, above: bool) -> Ring:
    out: list[tuple[float, float]] = []
    sign = 1.0 if above else -1.0
    for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True):
        da, db = sign * (a[axis] - line), sign * (b[axis] - line)
        if da >= 0:
            out.append((float(a[0]), float(a[1])))
        if (da > 0 > db) or (da < 0 < db):
            p = Vec(*a) + (Vec(*b) - Vec(*a)) * (da / (da - db))
            out.append((p.x, p.y))
    return tuple(out)


def chords(ring: Ring, axis: int, at: float) -> list[Span]:
    """Return the sections of a line across an axis (0 = x, 1 = y) that lie inside a ring, mm.

    >>> chords(((0, 0), (2, 0), (2, 2), (0, 2)), 1, 1.0)
    [(Vec(x=0.0, y=1.0), Vec(x=2.0, y=1.0))]
    """
    other = 1 - axis
    met: list[Vec] = []
    for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True):
        if (a[axis] <= at) == (b[axis] <= at):
            continue
        share = (at - a[axis]) / (b[axis] - a[axis])
        met.append(Vec(*a) + (Vec(*b) - Vec(*a)) * share)
    met.sort(key=lambda p: p[other])
    return list(zip(met[::2], met[1::2], strict=True))


def _cut(spans: Sequence[Span], low: float, high: float) -> list[Span]:
    """Return the sections (each along y) as far as they lie between two heights."""
    if high >= END_MM:
        return list(spans)
    out = []
    for a, b in spans:
        bottom, top = max(a.y, low), min(b.y, high)
        if top > bottom:
            out.append((Vec(a.x, bottom), Vec(b.x, top)))
    return out


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoOn:
    """A photo on its cloth. file: its name in the workbook; wide, tall: mm of one copy.

    spots: the upper left corner of every copy, mm, y turned down.
    """

    file: str
    wide: float
    tall: float
    spots: tuple[tuple[float, float], ...]


def photo_on(cloth: Cloth, long: float) -> PhotoOn | None:
    """Return the photo of a cloth wherever it comes again on `long` mm of it; None without one."""
    shown = cloth.print.picture
    spots = picture_spots(cloth.print, long, cloth.width)
    if shown is None or not spots:
        return None
    return PhotoOn(
        file=shown.file,
        wide=shown.width,
        tall=shown.height,
        spots=tuple((x, -y - shown.height) for x, y in spots),
    )
