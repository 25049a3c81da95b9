"""Which way is up, to choose by small pictures: the cloth as it lies, an arrow to each side."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.cloth import meanings
from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Print, PrintPicture
from clothwright.drawing.cloth import cloth_ground, cloth_ring
from clothwright.drawing.cloth_print import design_inside, photo_inside
from clothwright.drawing.tops import plain_middle, up_arrow
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec
from clothwright.picture.picture import DrawnRole, Item, Picture, Stroke

UPS = {"either": "either way: no up or down", **meanings.UPS}
DOWNS = {
    "selvedge": "that selvedge",
    "middle": "the middle of the cloth",
    "either": "either way: no up or down",
}
SHOWN = 0.8
"""How much of a cloth a choice shows, in widths of it."""
ARROW = 0.5
"""How long the arrow is, as a share of the cloth's width; on a border twice its height at most."""
TEETH = 9
"""In so many teeth the cut end is shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TopChoice:
    """One way that is up, drawn on the cloth. value: as the workbook says it."""

    value: str
    words: str
    picture: Picture


def ground_choices(cloth: Cloth) -> tuple[TopChoice, ...]:
    """Return the ways that the ground of a cloth may be up."""
    middle, long = plain_middle(cloth), ARROW * cloth.width
    found = []
    for up, words in UPS.items():
        design = replace(cloth.print, up=up)
        found.append(_choice(cloth, (up, words), design, (design.up_deg, middle, long)))
    return tuple(found)


def border_choices(cloth: Cloth, number: int) -> tuple[TopChoice, ...]:
    """Return the ways that the bottom of a border (its number, from 0) may face."""
    found = []
    for down, words in DOWNS.items():
        border = replace(cloth.print.borders[number], down=down)
        rows = (*cloth.print.borders[:number], border, *cloth.print.borders[number + 1 :])
        design = replace(cloth.print, borders=rows)
        low, high = border.span(cloth.width)
        long = min(ARROW * cloth.width, 2.0 * border.height)
        found.append(_choice(cloth, (down, words), design, (border.up_deg, (low + high) / 2, long)))
    return tuple(found)


def photo_choices(long: float, wide: float) -> tuple[TopChoice, ...]:
    """Return the ways that a photo of so much cloth (mm) may be up."""
    shown = PrintPicture(file="photo", width=long, height=wide)
    cloth = Cloth(name="photo", width=wide, print=Print(picture=shown))
    ground = (*cloth_ground(cloth, long), *photo_inside(cloth_ring(cloth, long), cloth))
    found = []
    for up, words in UPS.items():
        turn_deg = Print(up=up).up_deg
        arrow = () if turn_deg is None else up_arrow(Vec(long, wide) / 2, turn_deg, ARROW * wide)
        picture = Picture(items=(*ground, *arrow), title="")
        found.append(TopChoice(value=up, words=words, picture=picture))
    return tuple(found)


def _choice(
    cloth: Cloth, said: tuple[str, str], design: Print, arrow: tuple[float | None, float, float]
) -> TopChoice:
    """Return a choice. said: its value, its words.

    arrow: its turn (degrees, None for none), its middle across, its length.
    """
    long, (turn_deg, y, size) = SHOWN * cloth.width, arrow
    shown = replace(cloth, print=design, outline=None, length=None, flaws=())
    ring = cloth_ring(shown, long)
    items: list[Item] = [
        *cloth_ground(shown, long),
        *photo_inside(ring, shown),
        *design_inside(ring, shown),
        Stroke(path=_cut_end(cloth.width), role=DrawnRole.CLOTH),
    ]
    if turn_deg is not None:
        items += up_arrow(Vec(long / 2, y), turn_deg, size)
    picture = Picture(items=tuple(items), title="")
    return TopChoice(value=said[0], words=said[1], picture=picture)


def _cut_end(width: float) -> Path:
    """Return a cut end in teeth, beside the cloth."""
    step = width / (2 * TEETH)
    return polyline([(-step * (k % 2), k * step) for k in range(2 * TEETH + 1)])
