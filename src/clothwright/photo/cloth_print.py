"""What a straightened photo of cloth says of its print: proposals, each with its uncertainty."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from clothwright.photo.axes import Axis, axes_of
from clothwright.photo.border import Band, bands_of
from clothwright.photo.corners import ClothPhoto
from clothwright.photo.evened import Colours, colours, evened
from clothwright.photo.repeat import Measured, Repeat, repeat_of

FEW = 2.0
"""Fewer repeats than this in the picture make a repeat doubtful."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundBorder:
    """A border: a band, and the repeat of its figure along the selvedge if it has one."""

    band: Band
    repeat: Measured | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintFound:
    """All that was found. Nothing of it is taken before the maker has looked at it.

    repeat_along, repeat_across: of the ground. axes_along: lines across the cloth in which the
    figure mirrors, mm from the picture's left edge. doubts: sentences.
    """

    borders: tuple[FoundBorder, ...]
    repeat_along: Measured | None
    repeat_across: Measured | None
    axes_along: tuple[Axis, ...]
    doubts: tuple[str, ...]

    @property
    def along(self) -> Measured | None:
        """The repeat along the selvedge: the ground's, else a border's."""
        return self.repeat_along or next((b.repeat for b in self.borders if b.repeat), None)


def print_in(photo: ClothPhoto) -> PrintFound:
    """Return the border, repeat and axes of a cloth seen in a straightened photo.

    The selvedge lies along x. Raises BadInput without the extra "photo".
    """
    picture = colours(evened(photo.image))
    share = photo.error_share
    # Evening the light would even a broad border away too: it is looked for before.
    bands = bands_of(colours(photo.image), photo.px_per_mm, share)
    ground = _without(picture, bands)
    repeats = partial(repeat_of, px_per_mm=photo.px_per_mm, share=share)
    along = repeats(ground, across=False)
    across = None if bands else repeats(ground, across=True)
    rows = [picture[b.top : b.bottom] for b in bands]
    borders = tuple(
        FoundBorder(band=b, repeat=found.size if found else None)
        for b, found in zip(bands, (repeats(r, across=False) for r in rows), strict=True)
    )
    known = along.size if along else next((b.repeat for b in borders if b.repeat), None)
    axes: tuple[Axis, ...] = ()
    if known is not None:
        part = ground if along else rows[0]
        axes = axes_of(part, photo.px_per_mm, known.mm)
    return PrintFound(
        borders=borders,
        repeat_along=along.size if along else None,
        repeat_across=across.size if across else None,
        axes_along=axes,
        doubts=(*photo.doubts, *_doubts(along, across, borders)),
    )


def _without(picture: Colours, bands: tuple[Band, ...]) -> Colours:
    """Return the rows between the borders."""
    top = max((b.bottom for b in bands if b.side == "upper"), default=0)
    bottom = min((b.top for b in bands if b.side == "lower"), default=picture.shape[0])
    return picture[top:bottom] if bottom - top > 32 else picture


def _doubts(
    along: Repeat | None, across: Repeat | None, borders: tuple[FoundBorder, ...]
) -> tuple[str, ...]:
    out = []
    for words, found in (("along", along), ("across", across)):
        if found is not None and found.seen < FEW:
            out.append(
                f"The repeat {words} is seen only {found.seen:.1f} times: measure it on the cloth."
            )
    if any(b.band.base.likeness < 0.5 for b in borders):
        out.append("The border differs little from the ground: check its lines on the cloth.")
    if along is None and across is None and not borders:
        out.append("No border and no repeat stand out: the cloth may be plain, or the photo small.")
    return tuple(out)
