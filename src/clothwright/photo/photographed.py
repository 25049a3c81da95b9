"""A paper piece from its photos: flattened, outlined, corrected, pictured, in words."""

from __future__ import annotations

import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath

import numpy as np
from PIL import Image, ImageDraw

from clothwright.errors import BadInput
from clothwright.geometry.transform import scaling, translation
from clothwright.geometry.vec import Vec
from clothwright.photo.correct import REACH_MM, Correction, Mended, mended
from clothwright.photo.doubts import PhotoDoubt
from clothwright.photo.flatten import Flat, check_bar, flatten
from clothwright.photo.outline import Outlined, find_outline
from clothwright.photo.read import Photo, Pixels
from clothwright.photo.sheet import BAR_MM
from clothwright.units import Unit, parse_length
from clothwright.words import say, show_difference, show_length, with_lengths

SUFFIXES = (".jpg", ".jpeg", ".png", ".heic", ".heif")
"""Endings of the photos that are read."""
ROUND_MM = 40.0
"""So much of the table is shown round the outline."""
FAR_MM = 10.0
"""A place farther from the outline than this means no point of it."""
BAR_FAR_MM = 3.0
"""A bar this far from its length as drawn was probably not printed at full size."""
LONGEST_PX = 2000
"""Of the picture that a command writes."""
LINE, INNER, DOUBT = (200, 30, 30), (30, 60, 190), (220, 120, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Photographed:
    """A piece found in photos; mm, y up, (0, 0) at the lower left of `picture`.

    outline: closed path, lines inside it, doubts with their places, error. picture: (h, w, 3) red,
    green, blue, straight from above, `px_per_mm`. notes: what is doubtful about the photos, words.
    sheets: corners of each marker sheet. bar_mm: what a ruler says of the sheets' bar. by_hand_mm:
    how far it was corrected by hand at most, None when it was not.
    """

    name: str
    outline: Outlined
    picture: Pixels
    px_per_mm: float
    notes: tuple[str, ...]
    sheets: Mapping[int, tuple[Vec, ...]] = field(default_factory=dict)
    bar_mm: float = BAR_MM
    by_hand_mm: float | None = None

    @property
    def error_mm(self) -> float:
        """The stated error of the outline, mm: 19 times in 20 it lies no farther off."""
        return self.outline.error_mm

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the picture, mm."""
        rows, columns = self.picture.shape[:2]
        return columns / self.px_per_mm, rows / self.px_per_mm


def is_photo(name: str) -> bool:
    """Tell whether a file's name is that of a photo."""
    return FilePath(name).suffix.lower() in SUFFIXES


def bar_length(text: str, where: str = "--bar") -> float:
    """Return the measured length of the bar, mm; "" stands for 200 mm. Raises BadInput."""
    try:
        return parse_length(text, unit=Unit.mm, where=where, least_mm=1.0) if text else BAR_MM
    except BadInput as error:
        expected = ("what the ruler says, with its unit, such as ", BAR_MM)
        raise BadInput(where=where, what=error.what, expected=expected) from None


def photographed(
    photos: Sequence[Photo], *, bar_mm: float = BAR_MM, name: str = "", by: str = ""
) -> Photographed:
    """Return the piece in photos that show marker sheets beside it.

    bar_mm: what a ruler says of the sheets' bar. name: of the piece. by: "line" or "edge" to
    follow, "" for whichever is there. Raises BadInput.
    """
    flat = flatten(photos, bar_mm=bar_mm)
    return replace(found_on(flat, name or FilePath(photos[0].name).stem, by=by), bar_mm=bar_mm)


def found_on(
    flat: Flat, name: str, *, at: tuple[float, float] | None = None, by: str = ""
) -> Photographed:
    """Return the piece on a flat table. Raises BadInput.

    at: a place inside the piece, mm of the whole flat picture, None for the largest. by: "line" or
    "edge" to follow, "" for whichever is there.
    """
    return _cropped(flat, find_outline(flat, at, by=by), name)


def _cropped(flat: Flat, found: Outlined, name: str) -> Photographed:
    """The part of the flat picture round the piece, everything counted from its lower left."""
    low, high = found.path.bounds().grown(ROUND_MM)
    scale, rows, columns = flat.px_per_mm, *flat.image.shape[:2]
    left = max(0, int(low.x * scale))
    right = min(columns, int(high.x * scale) + 1)
    top = max(0, int(rows - high.y * scale))
    bottom = min(rows, int(rows - low.y * scale) + 1)
    shift = Vec(-left / scale, -(rows - bottom) / scale)
    move = translation(shift)
    outline = replace(
        found,
        path=found.path.transformed(move),
        inner=tuple(p.transformed(move) for p in found.inner),
        doubts=tuple(d.about([p + shift for p in d.places]) for d in found.doubts),
    )
    return Photographed(
        name=name,
        outline=outline,
        picture=flat.image[top:bottom, left:right].copy(),
        px_per_mm=scale,
        notes=flat.doubts,
        sheets={
            n: tuple(Vec(float(x), float(y)) + shift for x, y in at)
            for n, at in flat.sheets.items()
        },
    )


def with_bar(found: Photographed, bar_mm: float) -> Photographed:
    """Return a piece that was found with a bar of 200 mm, with the bar as a ruler says.

    All lengths grow by the same factor. Raises BadInput for a bar that cannot be right.
    """
    check_bar(bar_mm)
    share = bar_mm / BAR_MM
    grown = scaling(share)
    outline = replace(
        found.outline,
        path=found.outline.path.transformed(grown),
        inner=tuple(p.transformed(grown) for p in found.outline.inner),
        doubts=tuple(d.about([p * share for p in d.places]) for d in found.outline.doubts),
        error_mm=found.outline.error_mm * share,
    )
    return replace(
        found,
        outline=outline,
        px_per_mm=found.px_per_mm / share,
        bar_mm=bar_mm,
        sheets={n: tuple(p * share for p in at) for n, at in found.sheets.items()},
    )


def corrected(
    found: Photographed, moves: Sequence[tuple[tuple[float, float], tuple[float, float] | None]]
) -> Photographed:
    """Return the piece with its outline corrected by hand.

    moves: (a place on the outline, where it should be; None takes the place out, so that the line
    runs fair across), mm of the picture. Doubts that lie there count as seen to.
    Raises BadInput for a place outside the picture.
    """
    made = corrections_of(found, moves)
    return with_outline(found, made, mended(found.outline.path, made)) if made else found


def with_outline(found: Photographed, made: Sequence[Correction], after: Mended) -> Photographed:
    """Return the piece with the outline that corrections made of it; see `corrected`."""
    spots = [p for c in made for p in (c.at, c.to) if p is not None and c.to != c.at]
    left = ((d, d.away_from(spots, REACH_MM)) for d in found.outline.doubts)
    doubts = tuple(d.about(places) for d, places in left if places)
    outline = replace(found.outline, path=after.path, doubts=doubts)
    return replace(found, outline=outline, by_hand_mm=after.farthest_mm)


_LENGTH = r"(-?\d[\d./ ]{0,12}(?:mm|cm|in)?)"
_MOVE = re.compile(
    rf"(?:at\s+)?{_LENGTH}\s*,\s*{_LENGTH}\s+(?:by\s+{_LENGTH}\s*,\s*{_LENGTH}|(out))",
    re.IGNORECASE,
)


def moves_from(text: str) -> tuple[tuple[Vec, Vec | None], ...]:
    """Read "120,35 by 2,0; 60,300 out" into moves of places on the outline, mm of the picture.

    Each length may have its unit ("4 3/4 in, 1 3/8 in by 1/16 in, 0 in"); without one it is mm.
    by: to the right and up (negative: to the left, down). out: the place is taken out of the line.
    Raises BadInput.
    """
    moves = []
    for part in filter(str.strip, text.split(";")):
        found = _MOVE.fullmatch(part.strip())
        if not found:
            raise BadInput(
                where="--correct",
                what=f'"{part.strip()}" is no correction',
                expected=with_lengths(
                    'a place and how far it goes, such as "120 mm, 35 mm by 2 mm, -5 mm" or '
                    '"60 mm, 300 mm out"'
                ),
            )
        x, y, right, up = (
            parse_length(text or "0", unit=Unit.mm, where="--correct")
            for text in found.groups()[:4]
        )
        at = Vec(x, y)
        to = None if found[5] else at + Vec(right, up)
        moves.append((at, to))
    return tuple(moves)


def holds_of(found: Photographed, made: Sequence[Correction]) -> Mended:
    """Return the outline corrected, with its points to take hold of: at each doubt, too."""
    return mended(found.outline.path, made, [p for d in found.outline.doubts for p in d.places])


def corrections_of(
    found: Photographed, moves: Sequence[tuple[tuple[float, float], tuple[float, float] | None]]
) -> tuple[Correction, ...]:
    """Return moves (mm) as corrections. Raises BadInput: far from the outline, or outside."""
    wide, tall = found.size_mm
    made = []
    for at, to in moves:
        if to is not None and not (0 <= to[0] <= wide and 0 <= to[1] <= tall):
            raise BadInput(
                where="outline",
                what="a point was dragged out of the picture",
                expected="a place in the picture",
            )
        if found.outline.path.nearest(at)[1] > FAR_MM:
            raise BadInput(
                where="outline",
                what=(at[0], " from the left, ", at[1], " from below is not on the outline"),
                expected=("a place within ", FAR_MM, " of it, from the lower left corner"),
            )
        made.append(Correction(Vec(*at), None if to is None else Vec(*to)))
    return tuple(made)


def followed(outline: Outlined) -> str:
    """Say what an outline follows in the photo."""
    return "the middle of the drawn line" if outline.by_line else "the edge of the paper"


def fine_length(mm: float, unit: Unit) -> str:
    """Return a small length (mm) in her unit: to 0.1 mm, or to 1/16 in."""
    return show_length(mm, Unit.mm) if unit.is_metric else show_difference(mm, unit, none="nothing")


def error_words(mm: float, unit: Unit) -> str:
    """Return an error (mm) in her unit: to 0.1 mm, or to 1/16 in and never less than that."""
    return fine_length(mm if unit.is_metric else max(mm, Unit.inch.in_mm / 16), unit)


def bar_words(bar_mm: float, unit: Unit) -> tuple[str, ...]:
    """Say what is doubtful about the bar's length (mm) by a ruler, or nothing."""
    if abs(bar_mm - BAR_MM) <= BAR_FAR_MM:
        return ()
    doubt = ("the bar is ", bar_mm, " long by your ruler, far from ", BAR_MM)
    return (f"{say(doubt, unit)}: were the sheets printed at 100 %?",)


def by_hand_words(found: Photographed, unit: Unit) -> tuple[str, ...]:
    """Say that the outline was corrected by hand, and how far; nothing when it was not."""
    if found.by_hand_mm is None:
        return ()
    return (f"corrected by hand, by {fine_length(found.by_hand_mm, unit)} at most",)


def note_words(found: Photographed, count: int, doubts: int, unit: Unit) -> str:
    """Return what a piece made of photos says of itself. doubts: those nobody has looked at."""
    photos = "a photo" if count == 1 else f"{count} photos"
    error = error_words(found.error_mm, unit)
    words = [f"from {photos}, within {error}", *by_hand_words(found, unit)]
    if doubts:
        words.append(f"{doubts} doubtful {'place' if doubts == 1 else 'places'} not looked at")
    return "; ".join(words)


def said_of(doubt: PhotoDoubt, unit: Unit) -> str:
    """Return a doubt with its place, counted from the lower left corner of the picture."""
    return f"{doubt.words} ({places_words(doubt.places, unit)})"


def places_words(places: Sequence[Vec], unit: Unit) -> str:
    """Say where the first of some places (mm) is, and how many there are more."""
    first, more = place_words(places[0], unit), len(places) - 1
    return f"{first}, and at {more} more {'place' if more == 1 else 'places'}" if more else first


def place_words(at: Vec, unit: Unit) -> str:
    """Say where a place (mm) of the picture is, from its lower left corner."""
    return f"{show_length(at.x, unit)} from the left, {show_length(at.y, unit)} from below"


def picture_png(found: Photographed, *, over: bool = True) -> bytes:
    """Return the flat picture as a PNG of at most 2,000 pixels a side.

    over: with the outline, the lines inside and a numbered ring round every doubt drawn on it.
    """
    image = Image.fromarray(found.picture)
    share = min(1.0, LONGEST_PX / max(image.size))
    size = (max(1, round(image.width * share)), max(1, round(image.height * share)))
    image = image.resize(size, Image.Resampling.BOX)
    if over:
        _draw_over(image, found, share * found.px_per_mm)
    out = io.BytesIO()
    image.save(out, "PNG")
    return out.getvalue()


def _draw_over(image: Image.Image, found: Photographed, scale: float) -> None:
    pen = ImageDraw.Draw(image)
    for path, colour in (
        (found.outline.path, LINE),
        *((p, INNER) for p in found.outline.inner),
    ):
        at = np.array(path.flatten(0.1)) * scale
        pen.line([(float(x), image.height - float(y)) for x, y in at], fill=colour, width=2)
    for number, doubt in enumerate(found.outline.doubts, start=1):
        for place in doubt.places:
            x, y, r = place.x * scale, image.height - place.y * scale, 9.0 * scale
            pen.ellipse((x - r, y - r, x + r, y + r), outline=DOUBT, width=3)
            pen.text((x + r, y - r), str(number), fill=DOUBT, font_size=max(14.0, 9.0 * scale))
