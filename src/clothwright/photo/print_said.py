"""What was found in the photo of a cloth: as lines over it, and in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from clothwright.cloth.motions import steps
from clothwright.photo.cloth_print import PrintFound
from clothwright.photo.repeat import Measured
from clothwright.units import Unit
from clothwright.words import show_length


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundLine:
    """What was found, over the straightened picture, mm, y down: a band, or a repeat's line."""

    kind: str
    x: float
    y: float
    w: float
    h: float


def lines_of(found: PrintFound, wide: float, tall: float) -> Iterator[FoundLine]:
    """Yield what was found as lines over a straightened picture `wide` by `tall` mm."""
    for b in found.borders:
        base, height = b.band.base.mm, b.band.height.mm
        top = tall - base - height if b.band.side == "lower" else base
        yield FoundLine(kind="band", x=0, y=top, w=wide, h=height)
    along = found.along
    if along:
        first = found.axes_along[0].at if found.axes_along else 0.0
        for at in steps(first, along.mm, 0.0, wide):
            yield FoundLine(kind="repeat", x=at, y=0, w=0, h=tall)
    if found.repeat_across:
        for at in steps(0.0, found.repeat_across.mm, 0.0, tall)[1:]:
            yield FoundLine(kind="repeat", x=0, y=tall - at, w=wide, h=0)


def words_of(found: PrintFound, unit: Unit) -> Iterator[tuple[str, str]]:
    """Yield what was measured and how sure it is, as label and words; lengths in `unit`."""

    def said(m: Measured) -> str:
        step = Fraction(1, 20) if unit.is_metric else Fraction(1, 32)
        give = max(m.give, float(step * unit.exact_mm))
        mm, more = (show_length(v, unit, nearest=step) for v in (m.mm, give))
        return f"{mm}, give or take {more}"

    for n, b in enumerate(found.borders, start=1):
        name = f"Border {n}, along the {b.band.side} selvedge"
        yield f"{name}: base line, from the picture's edge", said(b.band.base)
        yield f"{name}: height", said(b.band.height)
        if b.repeat:
            yield f"{name}: its pattern repeats every", said(b.repeat)
    if found.repeat_along:
        yield "The pattern repeats along the cloth every", said(found.repeat_along)
    if found.repeat_across:
        yield "The pattern repeats across the cloth every", said(found.repeat_across)
    if found.axes_along:
        yield "The pattern mirrors", "in two lines each repeat"
    elif found.along:
        yield "The pattern mirrors", "nowhere that could be seen"
