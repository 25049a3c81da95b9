"""The size a chart suggests for a body: by bust, by high bust, or by hip; and what lies between."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from clothwright.body.chart import SizeChart
from clothwright.body.measures import measure_of
from clothwright.units import Unit
from clothwright.words import Sentence

Kind = Literal["upper", "lower"]
"""A garment chosen by the bust (bodice, dress, coat), or by the hip (skirt, trousers)."""

TAPE_MM = Unit.inch.in_mm / 8 + 1e-6
"""Nearer to a size than this (1/8 in) is that size: a tape tells no more (our own guide)."""

FULLER_MM = 2 * Unit.inch.in_mm
"""Fuller over the bust than above it by this or more: sized by the high bust (an extension's rule,
docs/sources.md, sizes)."""

KINDS: Mapping[Kind, str] = {
    "upper": "for a bodice, dress or coat",
    "lower": "for a skirt or trousers fitted at the hip",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where one measurement stands in a chart.

    measure: what was measured; row: the chart's row it was held against; mm: the figure held
    against it. at: 0 for the first size, 1 for the second, 1.5 half-way on; held at the ends.
    low, high: the sizes it lies between (the same when it is one), share: how far from the one to
    the other, 0 to 1. beyond: mm over the largest
    size (more than 0) or under the smallest (less than 0), 0 within.
    """

    measure: str
    row: str
    mm: float
    at: float
    low: str
    high: str
    share: float = 0.0
    beyond: float = 0.0

    @property
    def is_size(self) -> bool:
        """Tell whether it is one size, within a tape's breadth."""
        return self.low == self.high and not self.beyond

    @property
    def words(self) -> str:
        """The place in words: "14", "between 12 and 14", "beyond 26"."""
        if self.beyond:
            return f"{'beyond' if self.beyond > 0 else 'below'} {self.low}"
        return self.low if self.is_size else f"between {self.low} and {self.high}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """A size for one kind of garment: by which measurement, why, and the words for it."""

    kind: Kind
    standing: Standing
    why: Sentence
    words: Sentence

    @property
    def garment(self) -> str:
        """The kind of garment in words."""
        return KINDS[self.kind]


def standing(chart: SizeChart, row: str, mm: float, *, measure: str = "") -> Standing | None:
    """Return where a measurement (mm) stands in a row of a chart; None without such a row."""
    found = chart.row(row)
    known = [(k, v) for k, v in enumerate(found or ()) if v is not None]
    if not known:
        return None

    def at(
        place: float, low: int, high: int, *, share: float = 0.0, beyond: float = 0.0
    ) -> Standing:
        return Standing(
            measure=measure or row,
            row=row,
            mm=mm,
            at=place,
            low=chart.sizes[low],
            high=chart.sizes[high],
            share=share,
            beyond=beyond,
        )

    near, value = min(known, key=lambda kv: (abs(kv[1] - mm), kv[0]))
    if abs(value - mm) <= TAPE_MM:
        return at(float(near), near, near)
    (first, least), (last, most) = known[0], known[-1]
    if mm < least:
        return at(float(first), first, first, beyond=mm - least)
    if mm > most:
        return at(float(last), last, last, beyond=mm - most)
    k = max(i for i, (_, v) in enumerate(known) if v <= mm)
    (low, below), (high, above) = known[k], known[k + 1]
    share = (mm - below) / (above - below)
    return at(low + share * (high - low), low, high, share=share)


def standings(body: Mapping[str, float], chart: SizeChart) -> tuple[Standing, ...]:
    """Return where each measurement of a body (mm by id) stands, in the order of the chart."""
    found = (standing(chart, r.measure, body[r.measure]) for r in chart.rows if r.measure in body)
    return tuple(s for s in found if s is not None)


def suggest(body: Mapping[str, float], chart: SizeChart, kind: Kind) -> Suggestion | None:
    """Return the size for a kind of garment; None when the measurements for it are not there.

    body: mm by id. Upper garments go by the bust; by the high bust when the bust is fuller by 2 in
    or more. Lower ones go by the hip, without a hip by the waist (common practice).
    """
    chosen = _upper(body, chart) if kind == "upper" else _lower(body, chart)
    if chosen is None:
        return None
    place, why = chosen
    return Suggestion(kind=kind, standing=place, why=why, words=size_words(place, chart))


def _upper(body: Mapping[str, float], chart: SizeChart) -> tuple[Standing, Sentence] | None:
    bust, high = body.get("bust"), body.get("high-bust")
    if bust is not None and high is not None and bust - high >= FULLER_MM - 1e-6:
        fuller: Sentence = (
            "Your bust is ", bust - high, " fuller than your high bust; from ", FULLER_MM,
            " on, the high bust tells the size better, since it goes with shoulders and neck.",
        )  # fmt: skip
        found = standing(chart, "high-bust", high)
        if found is not None:
            return found, (*fuller, " The bust is then given room where it is needed.")
        found = standing(chart, "bust", high + FULLER_MM, measure="high-bust")
        if found is not None:
            return found, (
                *fuller, " This chart has no high bust; patterns are mostly drafted for a bust ",
                FULLER_MM, " fuller, so ", high + FULLER_MM, " is looked up as bust.",
            )  # fmt: skip
    if bust is not None and (found := standing(chart, "bust", bust)) is not None:
        return found, ("By the bust, as most patterns for the upper body are chosen.",)
    if high is not None and (found := standing(chart, "high-bust", high)) is not None:
        return found, ("By the high bust, since no bust was measured.",)
    return None


def _lower(body: Mapping[str, float], chart: SizeChart) -> tuple[Standing, Sentence] | None:
    for row, why in (
        ("hip", "By the hip: a waist is easier taken in than a hip let out."),
        ("waist", "By the waist, since there is no hip to go by."),
    ):
        if row in body and (found := standing(chart, row, body[row])) is not None:
            return found, (why,)
    return None


def size_words(place: Standing, chart: SizeChart) -> Sentence:
    """Return a standing as a sentence: the size, the neighbours, or by how much it is outside."""
    name = measure_of(place.measure).name
    if place.beyond:
        end, side = ("largest", "more") if place.beyond > 0 else ("smallest", "less")
        return (
            f"No size of this chart: {name} is ", abs(place.beyond),
            f" {side} than its {end} size, {place.low}. Beyond the chart nothing is known; look "
            "for a chart or pattern that goes further.",
        )  # fmt: skip
    if place.is_size:
        return (f"Size {place.low}, by {name}.",)
    row = chart.row(place.row) or ()
    low, high = (chart.sizes.index(s) for s in (place.low, place.high))
    below, above = row[low] or 0.0, row[high] or 0.0
    part = _part(place.share)
    return (
        f"Between {place.low} and {place.high}, by {name}: ", below, " and ", above, " on the "
        f"chart, {part}. Take {place.low} for a close fit, {place.high} for an easy one, or the "
        "size in between.",
    )  # fmt: skip


def _part(share: float) -> str:
    return "about half-way" if abs(share - 0.5) < 0.05 else f"{share * 100:.0f} % of the way"


def size_text(place: Standing, names: Iterable[str]) -> str:
    """Return a standing as the name of a size, or the nearest a pattern's sizes can name between.

    names: the pattern's sizes. "13" half-way from 12 to 14; "S/M" between sizes that are letters,
    or "00/0", when it is nearer the middle than either.
    """
    if place.is_size or place.beyond:
        return place.low
    share = place.share
    low, high = _number(place.low), _number(place.high)
    numbers = all(_number(n) is not None for n in names)
    if low is not None and high is not None and low < high and numbers:
        return f"{round(low + share * (high - low), 2):g}"
    if 0.25 < share < 0.75:
        return f"{place.low}/{place.high}"
    return place.low if share <= 0.25 else place.high


def _number(text: str) -> float | None:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        return None
