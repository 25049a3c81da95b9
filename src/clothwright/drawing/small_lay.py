"""One cloth of a lay drawn small, to be compared with others: pieces, print, what hangs over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.cloth import cloth_ring
from clothwright.drawing.cloth_print import print_inside
from clothwright.drawing.folded import fold_lines
from clothwright.drawing.lay import ROOM_MM, flaw_marks
from clothwright.drawing.words import lettered
from clothwright.geometry.path import polyline, rectangle, ring_path
from clothwright.geometry.vec import Vec
from clothwright.lay.compiled import Compiled
from clothwright.lay.folded import Fold
from clothwright.lay.result import Lay
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.words import listed, show_length

LETTERS = (0.034, 0.029, 0.025)
"""Sizes of a piece's name, as shares of the drawing's width, the first that fits."""
OVER_MM = 1.0
"""A lay that is longer than its cloth by more hangs over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallLay:
    """One cloth of a lay, drawn small.

    alt: what is drawn, in words. within: the corners shown, mm, one scale for all lays on a cloth.
    large: in hand, printed or folded, so it is what decides.
    """

    cloth: str
    words: str
    alt: str
    picture: Picture
    within: tuple[Vec, Vec]
    large: bool


def shown_small(laid: Laid, cloth: Cloth, unit: Unit, longest: float) -> SmallLay:
    """Return one cloth with its pieces, to the scale of the longest lay (mm) on it."""
    used = laid.lay.used[cloth.name]
    end = cloth.length if cloth.length is not None else used + ROOM_MM
    folds = [f for f in laid.folds if f.cloth == cloth.name]
    words = f"{show_length(used, unit)} used"
    if cloth.length is not None:
        words += f" of {show_length(cloth.length, unit)}"
        if cloth.margin_end > 0:
            words += f", the last {show_length(cloth.margin_end, unit)} kept free"
    words += "".join(f"; folded {f.way}, drawn opened out" for f in folds)
    names = listed([p.shape for p in laid.lay.placements if p.region == cloth.name])
    return SmallLay(
        cloth=cloth.name,
        words=words,
        alt=f"{cloth.name}: {words}. On it: {names}.",
        picture=small_lay(laid.compiled, laid.lay, cloth, longest, folds),
        within=(Vec(0.0, 0.0), Vec(max(longest, end), cloth.width)),
        large=cloth.length is not None or cloth.print.has_design or bool(folds),
    )


def small_lay(
    compiled: Compiled, lay: Lay, cloth: Cloth, longest: float, folds: Sequence[Fold] = ()
) -> Picture:
    """Return one cloth with its pieces by name, mm, x along the selvedge.

    longest: mm, of the longest lay that is drawn to this scale; names are sized by it. folds: where
    cloths were folded, drawn as a line on the opened-out cloth.
    """
    used = lay.used[cloth.name]
    end = cloth.length if cloth.length is not None else used + ROOM_MM
    here = [p for p in lay.placements if p.region == cloth.name]
    wide = max(longest, end)
    rings = [Fill(path=ring_path(p.outline), role=DrawnRole.PIECE, group=p.shape) for p in here]
    names = [
        lettered(compiled.copy(p.shape).piece.name, p.outline, [s * wide for s in LETTERS])
        for p in here
    ]
    lines = [
        line for f in folds if f.cloth == cloth.name for line in fold_lines(f, used, cloth.width)
    ]
    items: list[Item] = [
        *_ground(compiled, cloth, end, used),
        *rings,
        *(line for line in lines if isinstance(line, Stroke)),
        *(name for name in names if name is not None),
    ]
    if used > end + OVER_MM:
        line = polyline(((end, -20.0), (end, cloth.width + 20.0)))
        items.append(Stroke(path=line, role=DrawnRole.FAULT))
    return Picture(items=tuple(items), title=cloth.name)


def _ground(compiled: Compiled, cloth: Cloth, end: float, used: float) -> Iterator[Item]:
    """Yield the cloth with its print and flaws; what lies past its end is no cloth."""
    ring = cloth_ring(cloth, end)
    yield Fill(path=ring_path(ring), role=DrawnRole.CLOTH)
    yield from print_inside(ring, cloth)
    yield from flaw_marks(compiled, cloth)
    if used > end + OVER_MM:
        yield Fill(path=rectangle((end, 0.0), (used, cloth.width)), role=DrawnRole.FAULT)
