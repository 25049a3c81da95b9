"""A lay on its cloth, seen on the table: selvedges, print, pieces, a tape along the edge."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.cloth import cloth_ground, cloth_ring, cloth_tape, notes_below
from clothwright.drawing.cloth_print import print_inside
from clothwright.drawing.folded import fold_lines
from clothwright.drawing.piece import stitching_lines
from clothwright.drawing.tops import cloth_tops, has_top, piece_top
from clothwright.drawing.words import CHAR, grain_arrow, lettered, word
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
LEAST_SHARE = 0.0098
"""Size of the smallest letters, as a share of the longer side of the cloth that is drawn: 12 px
where it is shown as wide as a small screen, 1366 px."""
SIZES = (1.7, 1.5, 1.3, 1.15, 1.03)
"""Of the names on the pieces, times the smallest letters, the first that finds room."""
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
    letters = LEAST_SHARE * max(shown, cloth.width)
    steps = [s for s in laying_list(compiled, lay) if s.cloth == cloth_name]
    topped = has_top(cloth)
    for step in steps:
        placement = next(p for p in lay.placements if p.shape == step.shape)
        items.extend(
            _laid(compiled.copy(step.shape), placement, step, letters, unit if positions else None)
        )
        if topped:
            items.extend(piece_top(step.tail, step.head, step.shape))
    for fold in folds:
        if fold.cloth == cloth_name:
            items.extend(fold_lines(fold, used, cloth.width))
    if positions:
        for step in steps:
            items.extend(_measures(step, letters, unit))
    tape = cloth_tape(shown, cloth.width, unit, letters=1.1 * letters)
    items.extend((*tape, *cloth_tops(cloth, BESIDE_MM)))
    items.extend(notes_below(cloth_ring(cloth, shown), cloth, 1.1 * letters))
    items.extend(_ends(cloth, used, 1.2 * letters, unit))
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
    copy: Copy, placement: Placement, step: LayingStep, letters: float, numbered: Unit | None
) -> tuple[Item, ...]:
    """Return one piece as it lies. Remembered: a change leaves most pieces as they were.

    letters: size of the smallest, mm. numbered: with its number, its measures in that unit.
    """
    move = placement_move(copy, placement)
    outline = ring_path(placement.outline)
    group = step.shape
    out: list[Item] = [
        Fill(path=outline, role=DrawnRole.PIECE, group=group),
        Stroke(path=outline, role=DrawnRole.CUT, closed=True, group=group),
    ]
    out += stitching_lines(unfolded(copy.piece), group, move)
    out += grain_arrow(step.tail, step.head, group)
    return (*out, _name(step, placement.outline, letters, numbered))


@lru_cache(maxsize=MOST_KEPT)
def _name(step: LayingStep, ring: Ring, letters: float, numbered: Unit | None) -> Text:
    """Return number and name where they stand clear of the outline, the arrow and the measures.

    Where what is to be known of it finds no room, the name alone, else the number. What was found
    last is remembered: of a lay that is moved most stays where it is.
    """
    tried, clear = [step.called], tuple[Vec, ...]()
    if numbered:
        names = dict.fromkeys((step.called, step.shape))
        tried = [*(f"{step.number}  {name}" for name in names), str(step.number)]
        clear = _measures_box(step, letters, numbered)
    for told in tried:
        found = lettered(
            told,
            ring,
            [size * letters for size in SIZES],
            avoid=(step.tail, step.head),
            clear=clear,
            group=step.shape,
        )
        if found is not None:
            return found
    return word(tried[-1], (step.low + step.high) / 2, letters, Vec(1.0, 0.0), step.shape)


def _measures(step: LayingStep, letters: float, unit: Unit) -> list[Item]:
    """Mark where the grain line's tail lies, with its two measures, one below the other."""
    p = step.tail
    ring = [Vec(math.cos(a), math.sin(a)) * 5.0 + p for a in (k * math.pi / 8 for k in range(17))]
    out: list[Item] = [Stroke(path=polyline(ring), role=DrawnRole.MEASURE, group=step.shape)]
    for n, mm in enumerate(p, start=1):
        at = p + Vec(8.0, -4.0 - n * letters)
        words = show_length(mm, unit)
        out.append(Text(words=words, at=at, size=letters, role=DrawnRole.MEASURE, group=step.shape))
    return out


def _measures_box(step: LayingStep, letters: float, unit: Unit) -> tuple[Vec, Vec]:
    """Return lower left and upper right of the two measures, mm."""
    wide = CHAR * letters * max(len(show_length(mm, unit)) for mm in step.tail)
    left = -8.0 - wide if step.head.x < step.tail.x - letters else 8.0
    low = step.tail + Vec(left, -4.0 - 2.3 * letters)
    return low, low + Vec(wide, 2.3 * letters)


def _ends(cloth: Cloth, used: float, letters: float, unit: Unit) -> list[Item]:
    """Draw the line where the lay ends, and the end of a cloth that is too short.

    letters: mm high.
    """
    out: list[Item] = []
    line = polyline(((used, -30.0), (used, cloth.width + 18.0)))
    out.append(Stroke(path=line, role=DrawnRole.MEASURE))
    out.append(
        Text(
            words=f"used {show_length(used, unit)}",
            at=Vec(used, cloth.width + 24.0),
            size=letters,
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
                at=Vec(cloth.length, cloth.width + 24.0 + 1.6 * letters),
                size=letters,
                role=DrawnRole.FAULT if over else DrawnRole.MEASURE,
                anchor="end",
            )
        )
    return out
