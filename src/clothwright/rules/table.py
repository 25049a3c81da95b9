"""What placing rules look up when they state what they ask of the lay."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypedDict

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.motions import of_figure
from clothwright.errors import BadInput, Said, did_you_mean, one_of
from clothwright.lay import problem as put
from clothwright.lay.copies import Copy, points_of
from clothwright.pattern.pattern import Pattern


class WrongRule(BadInput):
    """A rule asks for what these pieces and cloths do not have. field: the one it is about."""

    def __init__(
        self, *, what: Said, where: str = "", expected: Said = "", try_: Said = "", field: str = ""
    ) -> None:
        self.field = field
        super().__init__(what=what, where=where, expected=expected, try_=try_)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """One copy, and how the plan lets it lie.

    cloths: what it may be cut from, the most wanted first. turns_deg: of its grain arrow; tilt_deg:
    from each, either way.
    """

    copy: Copy
    cloths: tuple[Cloth, ...]
    turns_deg: tuple[float, ...]
    tilt_deg: float

    @property
    def id(self) -> str:
        """The name of its shape in the lay."""
        return self.copy.id

    @property
    def cloth(self) -> Cloth:
        """The cloth it is meant to be cut from."""
        return self.cloths[0]

    @property
    def crosswise(self) -> bool:
        """True when its grain runs from selvedge to selvedge, whichever turn it takes."""
        return all(t % 180.0 == 90.0 for t in self.turns_deg)

    @property
    def slanting(self) -> bool:
        """True on the bias: neither axis of the cloth is the body's height or width."""
        return any(t % 90.0 for t in self.turns_deg)

    @property
    def body_axes(self) -> tuple[str, str]:
        """The cloth's axes on which the body's height and its width are counted."""
        return ("across", "along") if self.crosswise else ("along", "across")


class Both(TypedDict):
    """Two points of shapes that hang together, as rules on shapes take them (`put.TwoPoints`)."""

    shape_a: str
    point_a: str
    shape_b: str
    point_b: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Landmark:
    """A place on a shape that a rule speaks of and its piece has no name for.

    at: mm in the shape's frame. It is put among the shape's points, by its name, for the lay.
    """

    shape: str
    name: str
    at: put.Point


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingTable:
    """The pieces, the cloths as they lie (after washing), and every copy as it may lie.

    placed: what is known of where copies lie across their cloths, before the rules on what is
    printed there are asked (`RuleKind.places`).
    """

    pattern: Pattern
    cloths: tuple[Cloth, ...]
    lying: Mapping[str, Lying]
    placed: tuple[put.Rule | Landmark, ...] = ()

    @property
    def copies(self) -> tuple[Copy, ...]:
        """Every copy that is cut from a cloth."""
        return tuple(each.copy for each in self.lying.values())

    def of(self, piece: str, field: str = "piece") -> list[Lying]:
        """Return the copies that a rule on the print binds: those cut from cloth with a design.

        Raises WrongRule when none is cut from any cloth.
        """
        mine = [each for each in self.lying.values() if each.copy.piece.name == piece]
        if not mine:
            raise WrongRule(
                field=field,
                what=f'"{piece}" is not cut from any cloth here',
                expected="a piece with a cut count in a material that a cloth has",
            )
        return [each for each in mine if each.cloth.print.has_design] or mine

    def point(self, at: Lying, point: str, field: str = "point") -> str:
        """Return a point's name when a copy has it. Raises WrongRule."""
        points = points_of(at.copy)
        if point in points:
            return point
        raise WrongRule(
            field=field,
            what=f'"{at.copy.piece.name}" has no point "{point}".'
            + did_you_mean(point, list(points)),
            expected="a corner, a notch, an inner point, or EDGE start, middle or end",
        )


class FigurePlaces(TypedDict):
    """After how many mm a figure comes again, as rules on shapes take it; None: it does not."""

    repeat_along: float | None
    repeat_across: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureOn:
    """A figure of a cloth: its radius, where it lies within the repeat, and the repeats, mm."""

    radius: float
    centres: tuple[put.Point, ...]
    repeats: FigurePlaces


def figure_on(cloth: Cloth, name: str) -> FigureOn:
    """Return a figure of a cloth's print, every image of it. Raises WrongRule for no such name."""
    figures = {f.name: f for f in cloth.print.figures}
    if name not in figures:
        raise WrongRule(
            field="figure",
            what=f'"{cloth.name}" has no figure "{name}".'
            + did_you_mean(name, figures, "Its print has no figure."),
            expected=one_of(figures),
        )
    figure = figures[name]
    motions = of_figure(figure, cloth.print, cloth.width)
    along, across = motions.period
    return FigureOn(
        radius=figure.radius,
        centres=motions.images((figure.x, figure.y)),
        repeats=FigurePlaces(repeat_along=along, repeat_across=across),
    )
