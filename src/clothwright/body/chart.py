"""A size chart as a maker types it from an envelope: sizes across, measurements down."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from clothwright.body.measures import Measure, measure_of
from clothwright.errors import BadInput, Mistakes, one_of, raise_all
from clothwright.units import Unit, parse_length, parse_unit
from clothwright.words import counted, show_length

MOST_SIZES = 60
LONGEST_TEXT = 20_000
LONGEST_LINE = 1_000

NONE = frozenset({"-", "–", "—", "−", "?", "."})
"""Marks for "no figure for this size"."""

_FIGURE = re.compile(
    r"(?P<whole>\d+)[ -](?P<part>\d+ ?[/⁄] ?\d+)(?![\d/])"
    r"|\d+ ?[/⁄] ?\d+(?![\d/])|\d+[.,]?\d*[¼½¾⅛⅜⅝⅞]?|[.,]\d+|[¼½¾⅛⅜⅝⅞]"
)
_SIZE = re.compile(r"^\s*(?:size|sizes|sz)\b\s*:?\s*(?P<rest>.*)$", re.IGNORECASE)
_UNIT = re.compile(r"^\s*(?:unit|units|all in)\b\s*:?\s+(?P<unit>[a-zA-Z\"]+)\s*$", re.IGNORECASE)
_ROW = re.compile(
    r"^\s*(?P<name>[^\W\d][^\d¼½¾⅛⅜⅝⅞]*?)[\s:|;,(]*"
    r"(?P<rest>(?:[\d¼½¾⅛⅜⅝⅞]|[.,]\d|[-–—−?](?=[\s|;,]|$)).*)$"
)
_UNIT_WORD = re.compile(r"[\s(\[]+(?P<unit>mm|cm|in|ins|inch|inches|centimetres|\")[)\]:.\s]*$")


class Row(NamedTuple):
    """One measurement of a chart: its id, and mm for each size (None where the chart is silent)."""

    measure: str
    values: tuple[float | None, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeChart:
    """A size chart: what it is called, where it is from, the text as typed, and what it says.

    unit: of the figures that name none. sizes: smallest first. rows: in the order of the text.
    """

    name: str
    source: str = ""
    unit: Unit
    text: str
    sizes: tuple[str, ...]
    rows: tuple[Row, ...]

    def row(self, measure: str) -> tuple[float | None, ...] | None:
        """Return the figures of a measurement, mm; None when the chart has none."""
        return next((r.values for r in self.rows if r.measure == measure), None)

    def value(self, measure: str, size: str) -> float | None:
        """Return one figure, mm. Raises BadInput for a size that is not there."""
        if size not in self.sizes:
            raise BadInput(what=f'the chart has no size "{size}"', expected=one_of(self.sizes))
        row = self.row(measure)
        return None if row is None else row[self.sizes.index(size)]


def chart_from(
    text: str, *, name: str = "my chart", source: str = "", unit: Unit, where: str = "chart"
) -> SizeChart:
    """Read a chart: a line "size 8 10 12", then a line for each measurement.

    "bust 31 1/2 32 1/2 34": a whole number and the fraction behind it are one figure. Figures
    may be parted by spaces, tabs or bars; "-" stands for none. A line "unit cm" holds for the
    lines after it, a unit behind a name ("bust (cm)") for its line. Lines that begin with # are
    left out. Raises BadInput or Mistakes, each with its line.
    """
    if len(text) > LONGEST_TEXT:
        raise BadInput(where=where, what="the text is far too long", expected="one size chart")
    reader = _Reader(unit=unit, where=where)
    lines = [line.rstrip() for line in text.splitlines()]
    text = "\n".join(lines).strip("\n")
    for number, line in enumerate(lines, start=1):
        if line.strip() and not line.lstrip().startswith("#"):
            reader.line(line, number)
    return reader.chart(name=name.strip() or "my chart", source=source.strip(), text=text)


class _Reader:
    """One reading of a chart, line by line; mistakes are gathered."""

    def __init__(self, *, unit: Unit, where: str) -> None:
        self.first, self.unit, self.where = unit, unit, where
        self.sizes: tuple[str, ...] = ()
        self.rows: list[Row] = []
        self.mistakes: list[BadInput] = []

    def line(self, line: str, number: int) -> None:
        try:
            self._line(line, f"{self.where}, line {number}")
        except Mistakes as error:
            self.mistakes += error.mistakes
        except BadInput as error:
            self.mistakes.append(error)

    def _line(self, line: str, where: str) -> None:
        sizes, unit = _SIZE.match(line), _UNIT.match(line)
        if unit is not None:
            self.unit = parse_unit(unit["unit"], where=where)
        elif sizes is not None and not self.sizes:
            self.sizes = _sizes(sizes["rest"], where)
        elif sizes is not None:
            raise BadInput(where=where, what="a second line of sizes", expected="one chart")
        else:
            self._row(line, where)

    def _row(self, line: str, where: str) -> None:
        found = _ROW.match(line) if len(line) <= LONGEST_LINE else None
        if found is None:
            raise BadInput(
                where=where,
                what=f'"{_short(line)}" is no line of a chart',
                expected='a measurement and its numbers, such as "bust 31 1/2 32 1/2 34"',
            )
        if not self.sizes:
            raise BadInput(
                where=where,
                what="numbers before the sizes",
                expected='the sizes on the first line, such as "size 8 10 12"',
            )
        if found["name"][-1] in "-–—−":
            raise _odd(found["name"][-1] + found["rest"], 0, where)
        name, unit = _name_and_unit(found["name"], self.unit)
        measure = measure_of(name, where=where)
        if any(r.measure == measure.id for r in self.rows):
            raise BadInput(
                where=where, what=f"{measure.name} stands twice", expected="each measurement once"
            )
        values = _values(found["rest"], unit, where)
        if len(values) != len(self.sizes):
            raise BadInput(
                where=where,
                what=f"{counted(len(values), 'number')} for {counted(len(self.sizes), 'size')} "
                f"({_listed(values, unit)})",
                expected="one for each size; - where the envelope has none",
            )
        _check(measure, values, self.sizes, unit, where)
        self.rows.append(Row(measure.id, values))

    def chart(self, *, name: str, source: str, text: str) -> SizeChart:
        if not self.mistakes and not self.sizes:
            self.mistakes.append(
                BadInput(
                    where=self.where,
                    what="there are no sizes in it",
                    expected='a first line such as "size 8 10 12"',
                )
            )
        if not self.mistakes and not self.rows:
            self.mistakes.append(
                BadInput(
                    where=self.where,
                    what="there is no measurement in it",
                    expected='a line such as "bust 31 1/2 32 1/2 34"',
                )
            )
        raise_all(self.mistakes)
        return SizeChart(
            name=name,
            source=source,
            unit=self.first,
            text=text,
            sizes=self.sizes,
            rows=tuple(self.rows),
        )


def _sizes(rest: str, where: str) -> tuple[str, ...]:
    sizes = tuple(s for s in re.split(r"[\s|;,]+", rest.strip()) if s)
    twice = [s for k, s in enumerate(sizes) if s.casefold() in {x.casefold() for x in sizes[:k]}]
    if twice:
        raise BadInput(where=where, what=f"size {twice[0]} stands twice", expected="each size once")
    if not 2 <= len(sizes) <= MOST_SIZES:
        raise BadInput(
            where=where,
            what=f"{len(sizes)} sizes",
            expected='at least two, smallest first, such as "size 8 10 12"',
        )
    return sizes


def _name_and_unit(name: str, unit: Unit) -> tuple[str, Unit]:
    found = _UNIT_WORD.search(name)
    if found is None:
        return name.strip(" :|;,("), unit
    return name[: found.start()].strip(" :|;,("), parse_unit(found["unit"])


def _values(rest: str, unit: Unit, where: str) -> tuple[float | None, ...]:
    found = tuple(_figures(rest, where))
    whole = _last_unit(rest, [u for _, u in found if u is not None]) or unit
    return tuple(
        None if text in NONE else parse_length(text, unit=own or whole, where=where)
        for text, own in found
    )


def _last_unit(rest: str, units: Sequence[Unit]) -> Unit | None:
    """Return a unit that stands once, behind the last figure: it holds for the whole line."""
    ends = re.search(r"(?:mm|cm|inches|inch|ins|in|\")[.\s]*$", rest)
    return units[0] if ends and len(units) == 1 else None


def _figures(rest: str, where: str) -> Iterator[tuple[str, Unit | None]]:
    """Return each figure's text and the unit that stands behind it."""
    at = 0
    text = rest.rstrip()
    while at < len(text):
        gap = re.compile(r"[\s|;]+|, +").match(text, at)
        if gap:
            at = gap.end()
            continue
        found = _FIGURE.match(text, at)
        if found:
            at = found.end()
            unit = re.compile(r" ?(mm|cm|inches|inch|ins|in|\")(?![A-Za-z])").match(text, at)
            at = unit.end() if unit else at
            if at < len(text) and not re.match(r"[\s|;,]", text[at]):
                raise _odd(text, at, where)
            yield found[0].replace("⁄", "/"), parse_unit(unit[1]) if unit else None
        elif text[at] in NONE and (at + 1 == len(text) or text[at + 1] in " \t|;,"):
            at += 1
            yield text[at - 1], None
        else:
            raise _odd(text, at, where)


def _odd(text: str, at: int, where: str) -> BadInput:
    start = max(text.rfind(" ", 0, at), text.rfind("\t", 0, at)) + 1
    word = re.split(r"[\s|;]", text[start:])[0]
    ranged = re.fullmatch(r"[\d.,]+[-–—−][\d.,]+", word)
    return BadInput(
        where=where,
        what=f'"{_short(word)}" is no figure',
        expected="one figure for each size"
        + (", not a range" if ranged else ", such as 31 1/2 or 80,5"),
    )


def _check(
    measure: Measure,
    values: tuple[float | None, ...],
    sizes: tuple[str, ...],
    unit: Unit,
    where: str,
) -> None:
    """Refuse figures that are no such body's, and sizes that grow smaller."""
    before: tuple[str, float] | None = None
    for size, mm in zip(sizes, values, strict=True):
        if mm is None:
            continue
        shown = show_length(mm, unit)
        if not measure.fits(mm):
            other = Unit.cm if unit is Unit.inch else Unit.inch
            odd = other.in_mm * mm / unit.in_mm
            hint = f'a line "unit {other.value}" above' if measure.fits(odd) else ""
            raise BadInput(
                where=where,
                what=f"{measure.name} {shown} for size {size} is no such measurement",
                expected=f"{show_length(measure.least, unit)} to {show_length(measure.most, unit)}",
                try_=hint,
            )
        if before is not None and mm < before[1]:
            raise BadInput(
                where=where,
                what=f"size {size} has {shown}, less than size {before[0]} "
                f"with {show_length(before[1], unit)}",
                expected="sizes that grow, the smallest first",
                try_="a look at the envelope: a slip, or a fraction that belongs elsewhere",
            )
        before = (size, mm)


def _listed(values: tuple[float | None, ...], unit: Unit) -> str:
    return ", ".join("-" if v is None else show_length(v, unit) for v in values[:MOST_SIZES])


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= 40 else text[:39] + "…"
