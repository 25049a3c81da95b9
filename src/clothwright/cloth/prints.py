"""What is printed or woven on a cloth: borders along the selvedges, a repeat, axes, figures."""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Border:
    """A band along one selvedge.

    side: "lower" or "upper" selvedge. base: mm from the outer edge of that selvedge to the base
    line of the band (its edge nearer the selvedge). height: mm from the base line inwards.
    down: "selvedge" when the foot of the figure points to the selvedge, "middle" when it points
    to the middle of the cloth, "either" when the band has no direction. repeat: mm along the
    selvedge after which the band's figure comes again (counted from the print's origin_along).
    """

    name: str
    side: str
    base: float
    height: float
    down: str = "selvedge"
    repeat: float | None = None

    def line(self, width: float, above: float = 0.0) -> float:
        """Return y (mm) of the line `above` mm inwards of the base line, on a cloth of `width`."""
        return self.base + above if self.side == "lower" else width - self.base - above


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A figure that a point may have to keep clear of: a circle of `radius` mm about (x, y)."""

    name: str
    x: float
    y: float
    radius: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """The design on the cloth, right side up.

    repeat_along, repeat_across: mm, of the ground; None when it does not repeat that way.
    origin_along, origin_across: where phase 0 lies, mm in the cloth's frame.
    axes_along: phases (mm from phase 0) of lines across the cloth in which the figure mirrors;
    axes_across: the same for lines along it.
    one_way: the design has a top. top: "end" when its top points away from the cut end (+x),
    "start", "upper" or "lower" selvedge.
    look: how to draw it: "plain", "stripes along", "stripes across", "check", "border", "figures".
    """

    borders: tuple[Border, ...] = ()
    repeat_along: float | None = None
    repeat_across: float | None = None
    origin_along: float = 0.0
    origin_across: float = 0.0
    axes_along: tuple[float, ...] = ()
    axes_across: tuple[float, ...] = ()
    figures: tuple[Figure, ...] = ()
    one_way: bool = False
    look: str = "plain"

    @property
    def has_design(self) -> bool:
        """True when anything is printed that pieces may have to respect."""
        return bool(self.borders or self.repeat_along or self.repeat_across or self.figures)

    def repeat(self, axis: str) -> float | None:
        """Return the repeat in mm on an axis; along, a border's where the ground has none."""
        if axis == "across":
            return self.repeat_across
        return self.repeat_along or next((b.repeat for b in self.borders if b.repeat), None)

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
            figures=tuple(
                replace(f, x=f.x * along, y=f.y * across, radius=f.radius * max(along, across))
                for f in self.figures
            ),
        )
