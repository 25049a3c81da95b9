"""What a straightened photo of cloth says of its print: proposals, each with its uncertainty."""

from __future__ import annotations

from dataclasses import dataclass

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
    along = repeat_of(ground, photo.px_per_mm, across=False, share=share)
    across = None if bands else repeat_of(ground, photo.px_per_mm, across=True, share=share)
    borders = tuple(
        FoundBorder(band=b, repeat=_size(_band_repeat(picture, b, photo.px_per_mm, share)))
        for b in bands
    )
    known = along.size if along else next((b.repeat for b in borders if b.repeat), None)
    axes: tuple[Axis, ...] = ()
    if known is not None:
        part = ground if along else _rows_of(picture, bands[0])
        axes = axes_of(part, photo.px_per_mm, known.mm)
    return PrintFound(
        borders=borders,
        repeat_along=_size(along),
        repeat_across=_size(across),
        axes_along=axes,
        doubts=(*photo.doubts, *_doubts(along, across, borders)),
    )


def _size(repeat: Repeat | None) -> Measured | None:
    return None if repeat is None else repeat.size


def _band_repeat(picture: Colours, band: Band, px_per_mm: float, share: float) -> Repeat | None:
    return repeat_of(_rows_of(picture, band), px_per_mm, across=False, share=share)


def _rows_of(picture: Colours, band: Band) -> Colours:
    return picture[band.top : band.bottom]


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
