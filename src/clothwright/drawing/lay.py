"""A lay on its cloth, seen on the table: selvedges, print, pieces, a tape along the edge."""

from __future__ import annotations

import math
from collections.abc import Sequence

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.folded import fold_lines
from clothwright.drawing.words import CHAR, place_words, upright
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec
from clothwright.lay.compile import Compiled
from clothwright.lay.folded import Fold
from clothwright.lay.match import placement_move
from clothwright.lay.order import LayingStep, laying_list
from clothwright.lay.problem import Ring
from clothwright.lay.result import Lay
from clothwright.pattern.piece import Role as EdgeRole
from clothwright.pattern.whole import unfolded
from clothwright.picture.picture import Fill, Item, Picture, Role, Stroke, Text
from clothwright.units import Unit, show_length

ROOM_MM = 120.0
"""mm drawn past the last piece on a cloth that is still to be bought."""


def lay_picture(
    compiled: Compiled,
    lay: Lay,
    cloth_name: str,
    unit: Unit,
    *,
    positions: bool = True,
    folds: Sequence[Fold] = (),
) -> Picture:
    """Return one cloth with every piece on it, true to scale in mm.

    folds: where cloths were folded; drawn as a line on the opened-out cloth.
    positions: number the pieces in laying order and draw the measures of each grain line.
    """
    cloth = compiled.cloth(cloth_name)
    used = lay.used.get(cloth_name, 0.0)
    shown = max(cloth.length or 0.0, used) + (ROOM_MM if cloth.length is None else 0.0)
    items: list[Item] = [*_cloth(cloth, shown), *_print(cloth, shown), *_flaws(compiled, cloth)]
    steps = [s for s in laying_list(compiled, lay) if s.cloth == cloth_name]
    for step in steps:
        items.extend(_laid(compiled, lay, step, positions=positions))
    items.extend(_border_lines(cloth, shown))
    for fold in folds:
        if fold.cloth == cloth_name:
            items.extend(fold_lines(fold, used, cloth.width))
    if positions:
        for step in steps:
            items.extend(_measures(step, unit))
    items.extend(_tape(shown, cloth.width, unit))
    items.extend(_ends(cloth, used, unit))
    return Picture(items=tuple(items), title=f"Lay on {cloth_name}")


def _ring(ring: Ring) -> Path:
    return polyline((*ring, ring[0]))


def _box(x0: float, y0: float, x1: float, y1: float) -> Path:
    return polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)))


def _cloth(cloth: Cloth, shown: float) -> list[Item]:
    outline = _ring(cloth.outline) if cloth.outline else _box(0.0, 0.0, shown, cloth.width)
    out: list[Item] = [
        Fill(path=outline, role=Role.CLOTH),
        Stroke(path=outline, role=Role.CLOTH, closed=True),
    ]
    if cloth.outline is None:
        usable = (cloth.margin_lower, cloth.width - cloth.margin_upper)
        rows = [(y, Role.SELVEDGE) for y in (0.0, cloth.width)]
        rows += [(y, Role.MEASURE) for y in usable if 0 < y < cloth.width]
        out += [Stroke(path=polyline(((0.0, y), (shown, y))), role=role) for y, role in rows]
    return out


def _print(cloth: Cloth, shown: float) -> list[Item]:
    design, out = cloth.print, list[Item]()
    ground = (("along", design.repeat_along, shown), ("across", design.repeat_across, cloth.width))
    for axis, repeat, limit in ground:
        if repeat is None or repeat < 5:
            continue
        k = math.ceil(-design.origin(axis) / repeat)
        while (at := design.origin(axis) + k * repeat) <= limit:
            ends = ((at, 0.0), (at, cloth.width)) if axis == "along" else ((0.0, at), (shown, at))
            if at >= 0:
                out.append(Stroke(path=polyline(ends), role=Role.MOTIF))
            k += 1
    for border in design.borders:
        base, top = border.line(cloth.width), border.line(cloth.width, border.height)
        band = _box(0.0, min(base, top), shown, max(base, top))
        out.append(Fill(path=band, role=Role.BORDER))
    return out + _border_lines(cloth, shown)


def _border_lines(cloth: Cloth, shown: float) -> list[Item]:
    """Return the lines of every border; they show through the tissue of the pieces."""
    out: list[Item] = []
    for border in cloth.print.borders:
        base, top = border.line(cloth.width), border.line(cloth.width, border.height)
        out += [
            Stroke(path=polyline(((0.0, y), (shown, y))), role=Role.BORDER) for y in (base, top)
        ]
        at = cloth.print.origin_along
        while border.repeat and at <= shown:
            if at >= 0:
                path = polyline(((at, base), (at, base + (top - base) * 0.25)))
                out.append(Stroke(path=path, role=Role.BORDER))
            at += border.repeat
    return out


def _flaws(compiled: Compiled, cloth: Cloth) -> list[Item]:
    region = next((r for r in compiled.problem.regions if r.name == cloth.name), None)
    out: list[Item] = []
    for flaw in cloth.flaws:
        out.append(Fill(path=_ring(flaw.ring), role=Role.FLAW))
        out.append(Stroke(path=_ring(flaw.ring), role=Role.FLAW, closed=True))
    grown = region.keep_out if region is not None else ()
    return out + [Stroke(path=_ring(keep), role=Role.FLAW, closed=True) for keep in grown]


def _laid(compiled: Compiled, lay: Lay, step: LayingStep, *, positions: bool) -> list[Item]:
    copy = compiled.copy(step.shape)
    placement = next(p for p in lay.placements if p.shape == step.shape)
    move = placement_move(copy, placement)
    outline = _ring(placement.outline)
    group = step.shape
    out: list[Item] = [
        Fill(path=outline, role=Role.PIECE, group=group),
        Stroke(path=outline, role=Role.CUT, closed=True, group=group),
    ]
    roles = {EdgeRole.HEM: Role.HEM}
    for edge in unfolded(copy.piece).edges:
        if edge.allowance > 0:
            path = edge.path.transformed(move)
            out.append(Stroke(path=path, role=roles.get(edge.role, Role.STITCH), group=group))
    u = (step.head - step.tail).unit
    if u.norm > 0:
        tip = polyline(
            (step.head - u * 16 + u.perp * 6, step.head, step.head - u * 16 - u.perp * 6)
        )
        out += [
            Stroke(path=p, role=Role.GRAIN, group=group)
            for p in (polyline((step.tail, step.head)), tip)
        ]
    return out + _name(step, placement.outline, positions=positions)


def _name(step: LayingStep, ring: Ring, *, positions: bool) -> list[Item]:
    """Return number and name where they stand clear of the outline and the grain arrow."""
    words = step.shape + (" (turned over)" if step.turned_over else "")
    if positions:
        words = f"{step.number}  {words}"
    avoid = (step.tail, step.head)
    for size in (20.0, 16.0, 13.0, 10.0, 8.0, 6.5):
        for along in (Vec(1.0, 0.0), Vec(0.0, 1.0)):
            spot = place_words(ring, CHAR * size * len(words), size * 1.4, along, avoid)
            if spot is not None:
                return [_word(words, spot - along.perp * (size * 0.35), size, along, step.shape)]
    middle = (step.low + step.high) / 2
    return [_word(words, middle, 6.5, Vec(1.0, 0.0), step.shape)]


def _word(words: str, at: Vec, size: float, along: Vec, group: str) -> Text:
    return Text(
        words=words,
        at=at,
        size=size,
        role=Role.LABEL,
        anchor="middle",
        angle_deg=upright(along.angle_deg),
        group=group,
    )


def _measures(step: LayingStep, unit: Unit) -> list[Item]:
    """Mark where the grain line's tail lies, with its two measures."""
    p = step.tail
    ring = [Vec(math.cos(a), math.sin(a)) * 5.0 + p for a in (k * math.pi / 8 for k in range(17))]
    words = f"{show_length(p.x, unit)} / {show_length(p.y, unit)}"
    return [
        Stroke(path=polyline(ring), role=Role.MEASURE, group=step.shape),
        Text(words=words, at=p + Vec(8, -14), size=9.0, role=Role.MEASURE, group=step.shape),
    ]


def _tape(shown: float, width: float, unit: Unit) -> list[Item]:
    """Return a tape measure along the lower selvedge and up the cut end."""
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
            out.append(Stroke(path=polyline((a, b)), role=Role.MEASURE))
            if size > 20:
                figure = f"{at / 10:.0f}" if unit.is_metric else f"{at / 25.4:.0f}"
                spot = b + (Vec(0.0, -16.0) if x_axis else Vec(-4.0, -5.0))
                out.append(
                    Text(
                        words=figure,
                        at=spot,
                        size=13.0,
                        role=Role.MEASURE,
                        anchor="middle" if x_axis else "end",
                    )
                )
            k += 1
    return out


def _ends(cloth: Cloth, used: float, unit: Unit) -> list[Item]:
    """Draw the line where the lay ends, and the end of a cloth that is too short."""
    out: list[Item] = []
    line = polyline(((used, -30.0), (used, cloth.width + 18.0)))
    out.append(Stroke(path=line, role=Role.MEASURE))
    out.append(
        Text(
            words=f"used {show_length(used, unit)}",
            at=Vec(used, cloth.width + 24.0),
            size=16.0,
            role=Role.MEASURE,
            anchor="end",
        )
    )
    if cloth.length is not None:
        over = used > cloth.length + 1e-6
        end = polyline(((cloth.length, -30.0), (cloth.length, cloth.width + 18.0)))
        out.append(Stroke(path=end, role=Role.FAULT if over else Role.SELVEDGE))
        words = f"the cloth ends here: {show_length(cloth.length, unit)}"
        out.append(
            Text(
                words=words,
                at=Vec(cloth.length, cloth.width + 48.0),
                size=16.0,
                role=Role.FAULT if over else Role.MEASURE,
                anchor="end",
            )
        )
    return out
