"""A lay on its cloth, seen on the table: selvedges, print, pieces, a tape along the edge."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.cloth import cloth_ground, cloth_ring, cloth_tape
from clothwright.drawing.cloth_print import print_inside
from clothwright.drawing.folded import fold_lines
from clothwright.drawing.piece import stitching_lines
from clothwright.drawing.tops import cloth_tops, has_top, piece_top
from clothwright.drawing.words import grain_arrow, lettered, word
from clothwright.geometry.path import polyline, ring_path
from clothwright.geometry.vec import Vec
from clothwright.lay.compiled import Compiled
from clothwright.lay.copies import Copy
from clothwright.lay.folded import Fold
from clothwright.lay.order import LayingStep, laying_list
from clothwright.lay.problem import Ring
from clothwright.lay.result import Lay, Placement
from clothwright.lay.sewn import placement_move
from clothwright.pattern.whole import unfolded
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text
from clothwright.units import Unit
from clothwright.words import show_length

ROOM_MM = 120.0
"""mm drawn past the last piece on a cloth that is still to be bought."""
BESIDE_MM = -100.0
"""mm along: the arrows of the print's tops stand beside the tape, before the cut end."""
SIZES = (20.0, 16.0, 13.0, 10.0, 8.0, 6.5)
"""Of the names on the pieces, mm, the first that finds room."""
MOST_KEPT = 512
"""Pieces as they lie, and their names, remembered between one drawing and the next."""


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
    items: list[Item] = [
        *cloth_ground(cloth, shown),
        *print_inside(cloth_ring(cloth, shown), cloth),
        *flaw_marks(compiled, cloth),
    ]
    steps = [s for s in laying_list(compiled, lay) if s.cloth == cloth_name]
    topped = has_top(cloth)
    for step in steps:
        placement = next(p for p in lay.placements if p.shape == step.shape)
        items.extend(_laid(compiled.copy(step.shape), placement, step, positions=positions))
        if topped:
            items.extend(piece_top(step.tail, step.head, step.shape))
    for fold in folds:
        if fold.cloth == cloth_name:
            items.extend(fold_lines(fold, used, cloth.width))
    if positions:
        for step in steps:
            items.extend(_measures(step, unit))
    items.extend((*cloth_tape(shown, cloth.width, unit), *cloth_tops(cloth, BESIDE_MM)))
    items.extend(_ends(cloth, used, unit))
    return Picture(items=tuple(items), title=f"Lay on {cloth_name}")


def flaw_marks(compiled: Compiled, cloth: Cloth) -> list[Item]:
    """Return the flaws of a cloth, and the lines that no piece may cross around them, mm."""
    region = next((r for r in compiled.problem.regions if r.name == cloth.name), None)
    out: list[Item] = []
    for flaw in cloth.flaws:
        out.append(Fill(path=ring_path(flaw.ring), role=DrawnRole.FLAW))
        out.append(Stroke(path=ring_path(flaw.ring), role=DrawnRole.FLAW, closed=True))
    grown = region.keep_out if region is not None else ()
    return out + [Stroke(path=ring_path(keep), role=DrawnRole.FLAW, closed=True) for keep in grown]


@lru_cache(maxsize=MOST_KEPT)
def _laid(
    copy: Copy, placement: Placement, step: LayingStep, *, positions: bool
) -> tuple[Item, ...]:
    """Return one piece as it lies. Remembered: a change leaves most pieces as they were."""
    move = placement_move(copy, placement)
    outline = ring_path(placement.outline)
    group = step.shape
    out: list[Item] = [
        Fill(path=outline, role=DrawnRole.PIECE, group=group),
        Stroke(path=outline, role=DrawnRole.CUT, closed=True, group=group),
    ]
    out += stitching_lines(unfolded(copy.piece), group, move)
    out += grain_arrow(step.tail, step.head, group)
    return (*out, _name(step, placement.outline, positions=positions))


@lru_cache(maxsize=MOST_KEPT)
def _name(step: LayingStep, ring: Ring, *, positions: bool) -> Text:
    """Return number and name where they stand clear of the outline and the grain arrow.

    What was found last is remembered: of a lay that is moved most stays where it is.
    """
    words = step.shape + (" (turned over)" if step.turned_over else "")
    if positions:
        words = f"{step.number}  {words}"
    found = lettered(words, ring, SIZES, avoid=(step.tail, step.head), group=step.shape)
    middle = (step.low + step.high) / 2
    return found or word(words, middle, SIZES[-1], Vec(1.0, 0.0), step.shape)


def _measures(step: LayingStep, unit: Unit) -> list[Item]:
    """Mark where the grain line's tail lies, with its two measures."""
    p = step.tail
    ring = [Vec(math.cos(a), math.sin(a)) * 5.0 + p for a in (k * math.pi / 8 for k in range(17))]
    words = f"{show_length(p.x, unit)} / {show_length(p.y, unit)}"
    return [
        Stroke(path=polyline(ring), role=DrawnRole.MEASURE, group=step.shape),
        Text(words=words, at=p + Vec(8, -14), size=9.0, role=DrawnRole.MEASURE, group=step.shape),
    ]


def _ends(cloth: Cloth, used: float, unit: Unit) -> list[Item]:
    """Draw the line where the lay ends, and the end of a cloth that is too short."""
    out: list[Item] = []
    line = polyline(((used, -30.0), (used, cloth.width + 18.0)))
    out.append(Stroke(path=line, role=DrawnRole.MEASURE))
    out.append(
        Text(
            words=f"used {show_length(used, unit)}",
            at=Vec(used, cloth.width + 24.0),
            size=16.0,
            role=DrawnRole.MEASURE,
            anchor="end",
        )
    )
    if cloth.length is not None:
        over = used > cloth.length + 1e-6
        end = polyline(((cloth.length, -30.0), (cloth.length, cloth.width + 18.0)))
        out.append(Stroke(path=end, role=DrawnRole.FAULT if over else DrawnRole.SELVEDGE))
        words = f"the cloth ends here: {show_length(cloth.length, unit)}"
        out.append(
            Text(
                words=words,
                at=Vec(cloth.length, cloth.width + 62.0),
                size=16.0,
                role=DrawnRole.FAULT if over else DrawnRole.MEASURE,
                anchor="end",
            )
        )
    return out
