"""A cloth alone on the table: selvedges, margins, border, repeat, axes, figures, flaws, tape."""

from __future__ import annotations

from functools import lru_cache

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.cloth_print import design_inside, photo_inside, print_notes
from clothwright.drawing.tops import cloth_tops
from clothwright.geometry.path import polyline, ring_path
from clothwright.geometry.region import Fixed
from clothwright.geometry.vec import Vec
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text
from clothwright.units import Unit

SHOWN_SHARE = 1.6
"""How much of a cloth that is still to be bought is drawn, in widths of it."""
TOPS_SHARE = 0.06
"""Where the arrows of its print's tops stand, as a share of its length from the cut end."""
TAPE_MM = 28.0
"""How far the longest lines of the tape reach below the cloth."""
LETTERS_SHARE = 0.0165
"""Size of the tape's figures, as a share of the longer side."""


def cloth_picture(cloth: Cloth, unit: Unit) -> Picture:
    """Return a cloth without pieces, true to scale in mm: x along the selvedge, y across."""
    shown = shown_length(cloth)
    letters = LETTERS_SHARE * max(shown, cloth.width)
    ring = cloth_ring(cloth, shown)
    items: list[Item] = [
        *cloth_ground(cloth, shown),
        *photo_inside(ring, cloth),
        *design_inside(ring, cloth),
    ]
    for flaw in cloth.flaws:
        hole = ring_path(flaw.ring)
        items += [
            Fill(path=hole, role=DrawnRole.FLAW),
            Stroke(path=hole, role=DrawnRole.FLAW, closed=True),
        ]
    items += [*_cut_ends(cloth, shown), *cloth_tops(cloth, TOPS_SHARE * shown)]
    return Picture(
        items=(
            *items,
            *cloth_tape(shown, cloth.width, unit, letters=letters),
            *notes_below(ring, cloth, letters),
        ),
        title=f"The cloth {cloth.name}",
    )


def shown_length(cloth: Cloth) -> float:
    """Return how much of a cloth is drawn in mm: all of it, or a share where it has no end yet."""
    if cloth.outline:
        return max(x for x, _ in cloth.outline)
    return cloth.length or SHOWN_SHARE * cloth.width


def cloth_ring(cloth: Cloth, shown: float) -> Fixed:
    """Return the outline of a cloth of which `shown` mm are drawn."""
    return cloth.outline or ((0.0, 0.0), (shown, 0.0), (shown, cloth.width), (0.0, cloth.width))


def _cut_ends(cloth: Cloth, shown: float) -> list[Item]:
    """Return the lines up to which the cut ends may not be used."""
    if cloth.outline:
        return []
    rows = [cloth.margin_start] + ([shown - cloth.margin_end] if cloth.length else [])
    lines = [polyline(((x, 0.0), (x, cloth.width))) for x in rows if 0.0 < x < shown]
    return [Stroke(path=line, role=DrawnRole.MEASURE) for line in lines]


def cloth_ground(cloth: Cloth, shown: float) -> list[Item]:
    """Return the cloth itself, `shown` mm long, its selvedges and what may not be used."""
    outline = ring_path(cloth_ring(cloth, shown))
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


def notes_below(ring: Fixed, cloth: Cloth, letters: float) -> list[Item]:
    """Return what of a print is not drawn in full, in words below the tape, `letters` mm high."""
    top = -TAPE_MM - 3.0 - 1.3 * letters
    return [
        Text(words=words, at=Vec(0.0, top - n * 1.4 * letters), size=letters)
        for n, words in enumerate(print_notes(ring, cloth), start=1)
    ]


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
