"""A cloth alone on the table: selvedges, margins, border, repeat, axes, figures, flaws, tape."""

from __future__ import annotations

import math
from functools import lru_cache

from clothwright.cloth.cloth import Cloth
from clothwright.geometry.path import Path, polyline, rectangle, ring_path
from clothwright.geometry.vec import Vec
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text
from clothwright.units import Unit

SHOWN_SHARE = 1.6
"""How much of a cloth that is still to be bought is drawn, in widths of it."""
LETTERS_SHARE = 0.0165
"""Size of the tape's figures, as a share of the longer side."""


def cloth_picture(cloth: Cloth, unit: Unit) -> Picture:
    """Return a cloth without pieces, true to scale in mm: x along the selvedge, y across."""
    shown = shown_length(cloth)
    letters = LETTERS_SHARE * max(shown, cloth.width)
    items: list[Item] = [*cloth_ground(cloth, shown), *print_lines(cloth, shown)]
    items += _axes(cloth, shown)
    for figure in cloth.print.figures:
        ring = circle(Vec(figure.x, figure.y), figure.radius)
        items += [
            Fill(path=ring, role=DrawnRole.MOTIF),
            Stroke(path=ring, role=DrawnRole.MOTIF, closed=True),
        ]
    for flaw in cloth.flaws:
        ring = ring_path(flaw.ring)
        items += [
            Fill(path=ring, role=DrawnRole.FLAW),
            Stroke(path=ring, role=DrawnRole.FLAW, closed=True),
        ]
    items += _cut_ends(cloth, shown)
    return Picture(
        items=(*items, *cloth_tape(shown, cloth.width, unit, letters=letters)),
        title=f"The cloth {cloth.name}",
    )


def shown_length(cloth: Cloth) -> float:
    """Return how much of a cloth is drawn in mm: all of it, or a share where it has no end yet."""
    if cloth.outline:
        return max(x for x, _ in cloth.outline)
    return cloth.length or SHOWN_SHARE * cloth.width


def circle(middle: Vec, radius: float) -> Path:
    """Return a circle of a radius (mm) as a closed path of 32 sides."""
    turns = (k * math.pi / 16 for k in range(33))
    return polyline([middle + Vec(math.cos(a), math.sin(a)) * radius for a in turns])


def phases(origin: float, repeat: float | None, phase: float, end: float) -> list[float]:
    """Return every place from 0 to `end` that lies at a phase; one alone without a repeat. mm."""
    if repeat is None or repeat < 5.0:
        return [origin + phase] if 0.0 <= origin + phase <= end else []
    first = math.ceil((-origin - phase) / repeat)
    last = math.floor((end - origin - phase) / repeat)
    return [origin + phase + k * repeat for k in range(first, last + 1)]


def _axes(cloth: Cloth, shown: float) -> list[Item]:
    """Return the lines in which the figure mirrors; of a border alone, within its band."""
    design, out = cloth.print, list[Item]()
    bands = [(0.0, cloth.width)]
    if design.repeat_along is None and design.borders:
        bands = [(b.line(cloth.width), b.line(cloth.width, b.height)) for b in design.borders]
    for phase in design.axes_along:
        for x in phases(design.origin("along"), design.repeat("along"), phase, shown):
            lines = [polyline(((x, low), (x, high))) for low, high in bands]
            out += [Stroke(path=line, role=DrawnRole.LEVEL) for line in lines]
    for phase in design.axes_across:
        for y in phases(design.origin("across"), design.repeat("across"), phase, cloth.width):
            out.append(Stroke(path=polyline(((0.0, y), (shown, y))), role=DrawnRole.LEVEL))
    return out


def _cut_ends(cloth: Cloth, shown: float) -> list[Item]:
    """Return the lines up to which the cut ends may not be used."""
    if cloth.outline:
        return []
    rows = [cloth.margin_start] + ([shown - cloth.margin_end] if cloth.length else [])
    lines = [polyline(((x, 0.0), (x, cloth.width))) for x in rows if 0.0 < x < shown]
    return [Stroke(path=line, role=DrawnRole.MEASURE) for line in lines]


def cloth_ground(cloth: Cloth, shown: float) -> list[Item]:
    """Return the cloth itself, `shown` mm long, its selvedges and what may not be used."""
    outline = (
        ring_path(cloth.outline) if cloth.outline else rectangle((0.0, 0.0), (shown, cloth.width))
    )
    out: list[Item] = [
        Fill(path=outline, role=DrawnRole.CLOTH),
        Stroke(path=outline, role=DrawnRole.CLOTH, closed=True),
    ]
    if cloth.outline is None:
        usable = (cloth.margin_lower, cloth.width - cloth.margin_upper)
        rows = [(y, DrawnRole.SELVEDGE) for y in (0.0, cloth.width)]
        rows += [(y, DrawnRole.MEASURE) for y in usable if 0 < y < cloth.width]
        out += [Stroke(path=polyline(((0.0, y), (shown, y))), role=role) for y, role in rows]
    return out


def print_lines(cloth: Cloth, shown: float) -> list[Item]:
    """Return the lines of the repeat and every border with its band, on `shown` mm of a cloth."""
    design, out = cloth.print, list[Item]()
    ground = (("along", design.repeat_along, shown), ("across", design.repeat_across, cloth.width))
    for axis, repeat, limit in ground:
        if repeat is None or repeat < 5:
            continue
        k = math.ceil(-design.origin(axis) / repeat)
        while (at := design.origin(axis) + k * repeat) <= limit:
            ends = ((at, 0.0), (at, cloth.width)) if axis == "along" else ((0.0, at), (shown, at))
            if at >= 0:
                out.append(Stroke(path=polyline(ends), role=DrawnRole.MOTIF))
            k += 1
    for border in design.borders:
        base, top = border.line(cloth.width), border.line(cloth.width, border.height)
        band = rectangle((0.0, base), (shown, top))
        out.append(Fill(path=band, role=DrawnRole.BORDER))
    return out + border_lines(cloth, shown)


def border_lines(cloth: Cloth, shown: float) -> list[Item]:
    """Return the lines of every border on `shown` mm; they show through the pieces' tissue."""
    out: list[Item] = []
    for border in cloth.print.borders:
        base, top = border.line(cloth.width), border.line(cloth.width, border.height)
        out += [
            Stroke(path=polyline(((0.0, y), (shown, y))), role=DrawnRole.BORDER)
            for y in (base, top)
        ]
        at = cloth.print.origin_along
        while border.repeat and at <= shown:
            if at >= 0:
                path = polyline(((at, base), (at, base + (top - base) * 0.25)))
                out.append(Stroke(path=path, role=DrawnRole.BORDER))
            at += border.repeat
    return out


@lru_cache(maxsize=32)
def cloth_tape(
    shown: float, width: float, unit: Unit, *, letters: float = 13.0
) -> tuple[Item, ...]:
    """Return a tape measure along the lower selvedge and up the cut end. letters: mm high."""
    step, big = (50.0, 100.0) if unit.is_metric else (25.4, 127.0)
    out: list[Item] = []
    for x_axis, limit in ((True, shown), (False, width)):
        k = 0
        while k * step <= limit + 1e-6:
            at = k * step
            size = 22.0 if abs(at % big) < 1e-6 or abs(at % big - big) < 1e-6 else 10.0
            a, b = (Vec(at, -6.0), Vec(at, -6.0 - size))
            if not x_axis:
                a, b = Vec(-6.0, at), Vec(-6.0 - size, at)
            out.append(Stroke(path=polyline((a, b)), role=DrawnRole.MEASURE))
            if size > 20:
                figure = f"{at / 10:.0f}" if unit.is_metric else f"{at / 25.4:.0f}"
                spot = b + (Vec(0.0, -3.0 - letters) if x_axis else Vec(-4.0, -0.38 * letters))
                out.append(
                    Text(
                        words=figure,
                        at=spot,
                        size=letters,
                        role=DrawnRole.MEASURE,
                        anchor="middle" if x_axis else "end",
                    )
                )
            k += 1
    return tuple(out)
