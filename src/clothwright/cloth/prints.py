"""What is printed or woven on a cloth: borders along the selvedges, a repeat, axes, figures."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Annotated

from clothwright.units.kinds import Extent, Length, Name, OneOf

UP_DEG = {"end": 0.0, "upper": 90.0, "start": 180.0, "lower": 270.0}
"""The turn of a piece (degrees) whose top points where the top of the design points."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Border:
    """A band along one selvedge.

    side: "lower" or "upper" selvedge. base: mm from the outer edge of that selvedge to the base
    line of the band (its edge nearer the selvedge). height: mm from the base line inwards.
    down: "selvedge" when the bottom of the border faces the selvedge, "middle" when it faces
    the middle of the cloth, "either" when the band has no direction. repeat: mm along the
    selvedge after which the band's figure comes again (counted from the print's origin_along).
    """

    name: Name
    side: Annotated[str, OneOf(("lower", "upper"))]
    base: Length
    height: Extent
    down: Annotated[str, OneOf(("selvedge", "middle", "either"))] = "selvedge"
    repeat: Extent | None = None

    def line(self, width: float, above: float = 0.0) -> float:
        """Return y (mm) of the line `above` mm inwards of the base line, on a cloth of `width`."""
        return self.base + above if self.side == "lower" else width - self.base - above

    def span(self, width: float) -> tuple[float, float]:
        """Return from which to which y (mm) the band reaches on a cloth of `width`."""
        base, top = self.line(width), self.line(width, self.height)
        return min(base, top), max(base, top)

    @property
    def up_deg(self) -> float | None:
        """The turn of a piece that stands upright on the band, degrees; None for a band of no way.

        >>> Border(name="vine", side="lower", base=0.0, height=100.0).up_deg
        90.0
        """
        if self.down == "either":
            return None
        return UP_DEG["upper" if (self.side == "lower") == (self.down == "selvedge") else "lower"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A figure that a point may have to keep clear of: a circle of `radius` mm about (x, y)."""

    name: Name
    x: Length
    y: Length
    radius: Extent


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintPicture:
    """A straightened photo of the cloth, right side up, true to scale.

    file: its name in the workbook's folder "pictures". width, height: mm of cloth that it shows
    along and across. along, across: mm in the cloth's frame where its lower left corner lies.
    It comes again with the print's own repeats (`picture_spots`).
    """

    file: str
    width: Extent
    height: Extent
    along: Length = 0.0
    across: Length = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """The design on the cloth, right side up.

    repeat_along, repeat_across: mm, of the ground; None when it does not repeat that way.
    origin_along, origin_across: where phase 0 lies, mm in the cloth's frame.
    axes_along: phases (mm from phase 0) of lines across the cloth in which the figure mirrors;
    axes_across: the same for lines along it.
    drop: how the repeat comes again. Columns run along the selvedge. "half-drop": each next column,
    one repeat across, lies half a repeat further along; "brick": each next row, one repeat along,
    lies half a repeat further across.
    half_turn: a place (mm from phase 0, along and across) about which the figure is the same after
    half a turn; None where there is none but what the mirror lines give.
    up: where the top of the ground's figure points: "end" away from the cut end (+x), "start", the
    "upper" or "lower" selvedge; "either" when it has none. Borders have their own (`Border.down`).
    picture: a photo of the cloth that shows the print; None when there is none.
    look: how to draw it: "plain", "stripes along", "stripes across", "check", "border", "figures".
    """

    repeat_along: Extent | None = None
    repeat_across: Extent | None = None
    origin_along: Length = 0.0
    origin_across: Length = 0.0
    axes_along: tuple[Length, ...] = ()
    axes_across: tuple[Length, ...] = ()
    drop: Annotated[str, OneOf(("straight", "half-drop", "brick"))] = "straight"
    half_turn: tuple[Length, Length] | None = None
    up: Annotated[str, OneOf(("either", "end", "start", "upper", "lower"))] = "either"
    look: str = "plain"
    picture: PrintPicture | None = None
    borders: tuple[Border, ...] = ()
    figures: tuple[Figure, ...] = ()

    @property
    def has_design(self) -> bool:
        """True when anything is printed that pieces may have to respect."""
        return bool(self.borders or self.repeat_along or self.repeat_across or self.figures)

    @property
    def up_deg(self) -> float | None:
        """The turn of a piece that stands upright on the ground, degrees; None without a top."""
        return UP_DEG.get(self.up)

    def repeat(self, axis: str) -> float | None:
        """Return the repeat in mm on an axis; along, a border's where the ground has none."""
        found = self.ground_repeat(axis)
        if found or axis == "across":
            return found
        return next((b.repeat for b in self.borders if b.repeat), None)

    def ground_repeat(self, axis: str) -> float | None:
        """Return the ground's own repeat in mm on an axis."""
        return self.repeat_along if axis == "along" else self.repeat_across

    def origin(self, axis: str) -> float:
        """Return the place of phase 0 on "along" or "across", mm."""
        return self.origin_along if axis == "along" else self.origin_across

    def shrunk(self, along: float, across: float) -> Print:
        """Return the design on a cloth that kept these shares of its length and width."""
        return replace(
            self,
            borders=tuple(
                replace(
                    b,
                    base=b.base * across,
                    height=b.height * across,
                    repeat=b.repeat and b.repeat * along,
                )
                for b in self.borders
            ),
            repeat_along=self.repeat_along and self.repeat_along * along,
            repeat_across=self.repeat_across and self.repeat_across * across,
            origin_along=self.origin_along * along,
            origin_across=self.origin_across * across,
            axes_along=tuple(a * along for a in self.axes_along),
            axes_across=tuple(a * across for a in self.axes_across),
            half_turn=self.half_turn and (self.half_turn[0] * along, self.half_turn[1] * across),
            figures=tuple(
                replace(f, x=f.x * along, y=f.y * across, radius=f.radius * max(along, across))
                for f in self.figures
            ),
            picture=self.picture
            and replace(
                self.picture,
                width=self.picture.width * along,
                height=self.picture.height * across,
                along=self.picture.along * along,
                across=self.picture.across * across,
            ),
        )


MOST_SPOTS = 4000
"""A picture is drawn at most so often; a smaller one than that cannot be told apart any more."""


def picture_spots(
    design: Print, low: tuple[float, float], high: tuple[float, float]
) -> tuple[tuple[float, float], ...]:
    """Return the lower left corner (mm) of every copy of the picture that reaches into a box.

    low, high: the box's corners on the cloth, mm. The picture comes again after as many whole
    repeats as it shows, so that copies lie edge to edge, set off as the print drops. Across, it
    comes again only on a cloth without a border: a border comes once. Empty without a picture, or
    where it would be too small to be seen.
    """
    picture = design.picture
    if picture is None:
        return ()
    start, size = (picture.along, picture.across), (picture.width, picture.height)
    repeats = (design.repeat("along"), None if design.borders else design.repeat_across)
    shows = [r and max(1, math.floor(s / r + 0.01)) for s, r in zip(size, repeats, strict=True)]
    steps = [r and n and r * n for r, n in zip(repeats, shows, strict=True)]
    lead = 1 if design.drop == "half-drop" else 0
    off = (repeats[1 - lead] or 0.0) / 2 if design.drop != "straight" else 0.0
    out: list[tuple[float, float]] = []
    for k in _counts(start[lead], size[lead], steps[lead], low[lead], high[lead]):
        ahead = off if ((shows[lead] or 0) * k) % 2 else 0.0
        first = start[1 - lead] + ahead
        at = start[lead] + k * (steps[lead] or 0.0)
        for j in _counts(first, size[1 - lead], steps[1 - lead], low[1 - lead], high[1 - lead]):
            pair = (at, first + j * (steps[1 - lead] or 0.0))
            out.append(pair if lead == 0 else pair[::-1])
            if len(out) > MOST_SPOTS:
                return ()
    return tuple(out)


def _counts(start: float, size: float, step: float | None, low: float, high: float) -> range:
    """Return which copies of one `size` reach between two places, counted from the first."""
    if not step:
        return range(1 if start < high and start + size > low else 0)
    return range(math.floor((low - start - size) / step) + 1, math.ceil((high - start) / step))
