"""What is printed where a point of a copy lies, by the rules that say where it lies across.

A border has a repeat of its own, which is not the ground's, and its figures come once across. A
point of which no rule says where it lies is on the ground where its copy keeps off the borders.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.motions import AXES, Motions, band, ground
from clothwright.cloth.prints import Border, Print
from clothwright.lay import problem as put
from clothwright.lay.atlas import turned_points
from clothwright.lay.copies import points_of
from clothwright.lay.track import AGREE
from clothwright.rules.joins import SewnTogether
from clothwright.rules.table import CuttingTable, Landmark, Lying, WrongRule
from clothwright.words import listed

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A printed design on a cloth: a border, or with None the ground."""

    cloth: Cloth
    border: Border | None
    motions: Motions

    @property
    def words(self) -> str:
        """What it is called: 'the border "vine"'."""
        return f'the border "{self.border.name}"' if self.border else "the ground"

    def repeat(self, axis: str, field: str, *, alone: bool = True) -> float:
        """Return after how many mm along or across the design is the same; 0: it comes once there.

        alone: seen on this axis alone, where the rows of a half-drop or brick stand level sooner
        than all of it comes again. field: of the rule. Raises WrongRule where it says nothing.
        """
        k, found = AXES.index(axis), self.saying((axis,), field)
        return (found.level(k) if alone else found.period[k]) or 0.0

    def saying(self, axes: Iterable[str], field: str) -> Motions:
        """Return its motions. Raises WrongRule where it says nothing on one of these axes."""
        silent = next((a for a in axes if not self.motions.says[AXES.index(a)]), None)
        if silent is None:
            return self.motions
        raise WrongRule(
            field=field,
            what=f'the design of "{self.cloth.name}" does not repeat {silent} the selvedge',
            expected=f"a repeat {silent} in the cloth's print, or another rule",
        )


def printed_at(
    table: CuttingTable, lying: Lying, point: put.Point, *, name: str, field: str
) -> Printed:
    """Return what is printed where a point (mm, in its shape's frame) of a copy lies.

    name: of the point; field: of the rule that asks. Raises WrongRule where that can be one design
    or another, and they do not come again alike.
    """
    cloth = lying.cloth
    found = tuple(_designs(table, lying, point))
    first = found[0]
    if all(other == first for other in found):
        return first
    raise WrongRule(
        field=field,
        what=f'it is not known whether "{lying.copy.piece.name}", {name}, lies on '
        f"{listed([each.words for each in found], 'or')}, and they do not repeat alike",
        expected=f'a rule that lays an edge of the piece on the border of "{cloth.name}", or keeps '
        "the piece off it",
    )


def printed_on_both(table: CuttingTable, join: SewnTogether, *, field: str) -> Printed:
    """Return what is printed at two points that come to lie on each other. Raises WrongRule."""
    one, other = (
        printed_at(table, lying, at, name=name, field=field)
        for lying, at, name in zip(
            (join.a, join.b), join.at, (join.both["point_a"], join.both["point_b"]), strict=True
        )
    )
    if one.border == other.border:
        return one
    a, b = (lying.copy.piece.name for lying in (join.a, join.b))
    raise WrongRule(
        field=field,
        what=f'"{a}" lies there on {one.words} and "{b}" on {other.words}: nothing of the print of '
        "the one meets that of the other",
        expected="both on the border, or both off it",
    )


# --- which design it is ---------------------------------------------------------------------------


def _designs(table: CuttingTable, lying: Lying, point: put.Point) -> Iterator[Printed]:
    """Yield every design that a point may lie on."""
    cloth = lying.cloth
    near = tuple(b for b in cloth.print.borders if not _kept_off(table, lying, b))
    bands = [(b, b.span(cloth.width)) for b in near]
    heights = tuple(_heights(table, lying, point, [span for _, span in bands]))
    sure = [
        any(low - AGREE <= y and z <= high + AGREE for _, (low, high) in bands) for y, z in heights
    ]
    for border, (low, high) in bands:
        if not heights or any(y <= high + AGREE and z >= low - AGREE for y, z in heights):
            yield Printed(cloth=cloth, border=border, motions=band(border, cloth.print))
    if not heights or not all(sure):
        yield Printed(cloth=cloth, border=None, motions=on_ground(cloth.print, near))


def _heights(
    table: CuttingTable, lying: Lying, point: put.Point, bands: Iterable[Span]
) -> Iterator[Span]:
    """Yield from where to where (mm across the cloth) a point lies, in every turn of its copy.

    A point that a rule lays into a band counts by that, though a tolerance may take it out again:
    it is the border that she lays it by.
    """
    marks = (m for m in table.placed if isinstance(m, Landmark) and m.shape == lying.id)
    places = {**points_of(lying.copy), **{m.name: m.at for m in marks}, "": point}
    rules = [r for r in table.placed if not isinstance(r, Landmark) and lying.id in put.names_of(r)]
    for turn in lying.turns_deg:
        at = {n: y for n, (_, y) in turned_points(places, turn, lying.copy.turned_over).items()}
        for rule in rules:
            if isinstance(rule, put.Pinned):
                yield (rule.y + at[""],) * 2
            elif isinstance(rule, put.OnLine) and rule.axis == "across":
                ends = [at[p] for p in rule.points]
                y = rule.at + at[""] - (min(ends) + max(ends)) / 2.0
                far = min(math.dist(places[p], point) for p in rule.points)
                room = max(-rule.least, rule.most) + far * math.sin(math.radians(lying.tilt_deg))
                if any(low - AGREE <= y <= high + AGREE for low, high in bands):
                    room = 0.0
                yield y - room, y + room
            elif isinstance(rule, put.AtFigure) and rule.repeat_across is None:
                centres = [y for _, y in rule.centres if "across" in rule.axes]
                yield from ((y + at[""] - at[rule.point],) * 2 for y in centres)


def _kept_off(table: CuttingTable, lying: Lying, border: Border) -> bool:
    low, high = border.span(lying.cloth.width)
    return any(
        isinstance(r, put.KeepOff)
        and (r.shape, r.region) == (lying.id, lying.cloth.name)
        and r.low <= low
        and high <= r.high
        for r in table.placed
    )


def on_ground(design: Print, near: tuple[Border, ...] = ()) -> Motions:
    """Return the motions that count on the ground: where it says nothing along, those of a border.

    near: the borders that a piece may lie on, of which those with a repeat come first.
    """
    found = ground(design)
    border = next((b for b in (*near, *design.borders) if b.repeat), None)
    if found.says[0] or border is None:
        return found
    kept = tuple(m for m in found.operations if design.axes_along or m.signs[0] > 0)
    return replace(
        found,
        period=(border.repeat, found.period[1]),
        says=(True, found.says[1]),
        operations=kept,
    )


def designs_of(design: Print) -> Iterator[Motions]:
    """Yield the motions of all that is printed on a cloth: of the ground, then of each border."""
    yield on_ground(design)
    yield from (band(border, design) for border in design.borders)
