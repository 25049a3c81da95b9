"""The print on the garment as pictures and as a part of the guide."""

from __future__ import annotations

from clothwright.drawing.assembled import assembled
from clothwright.drawing.garment import garment_picture, meeting_words
from clothwright.picture.document import Block, Illustration, Para, Points
from clothwright.picture.picture import Picture
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit

HOW = (
    "Front and back put together flat along their seams, each piece with the print as it is cut "
    "from this lay. Darts stay open; a body is round, so this shows where the print lies, not how "
    "the garment falls."
)


def has_print(laid: Laid) -> bool:
    """Tell whether anything is printed on a cloth that pieces are laid on."""
    cloths = {p.region for p in laid.lay.placements}
    prints = [laid.compiled.cloth(c).print for c in sorted(cloths)]
    return any(p.has_design or p.picture is not None for p in prints)


def garment_pictures(laid: Laid) -> dict[str, Picture]:
    """Return a picture of each garment of a lay, front and back side by side, by its name."""
    return {
        g.name: garment_picture(g, laid.compiled, laid.lay)
        for g in assembled(laid.pattern, laid.compiled)
    }


def garment_figures(laid: Laid, *, width: float) -> tuple[Illustration, ...]:
    """Return the garments of a lay as figures `width` mm wide; none where nothing is printed."""
    if not has_print(laid):
        return ()
    return tuple(
        Illustration(picture=p, alt=f"The {n}, front and back, with its print.", width=width)
        for n, p in garment_pictures(laid).items()
    )


def garment_blocks(laid: Laid, unit: Unit) -> tuple[Block, ...]:
    """Return the garments, what the print does at their seams, and what could not be known.

    Differences of the print are told in `unit`.
    """
    figures = garment_figures(laid, width=170.0)
    if not figures:
        return ()
    garments = assembled(laid.pattern, laid.compiled)
    said = [words for g in garments for _, words in meeting_words(g, laid, unit)]
    said += dict.fromkeys(n for g in garments for n in g.notes)
    points: tuple[Block, ...] = (Points(items=tuple(said)),) if said else ()
    return (Para(words=HOW), *figures, *points)
