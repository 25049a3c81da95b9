"""The wearer's measurements as she typed them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.body.measures import MEASURES, Measure, measure_of
from clothwright.errors import BadInput
from clothwright.units import Unit, parse_length
from clothwright.words import show_length

LONGEST_MM = 10_000.0
"""More than this is refused; between it and a body's measure a question is asked."""


class Measurement(NamedTuple):
    """One length as typed, with its unit, and in mm."""

    text: str
    mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """Measurements of one wearer, in the order of MEASURES; none at all when nobody typed any.

    taken: (id of the measurement, figure). day: when she was measured, "2026-11-25" or "".
    compare: whether the figures are held against those of adult women (body.plausible).
    """

    taken: tuple[tuple[str, Measurement], ...] = ()
    note: str = ""
    day: str = ""
    compare: bool = True

    def mm(self, measure: str) -> float | None:
        """Return a measurement in mm; None when it was not taken."""
        return next((f.mm for m, f in self.taken if m == measure), None)

    def figures(self) -> dict[str, float]:
        """Return every measurement taken, mm, by its id."""
        return {m: f.mm for m, f in self.taken}


def measurement(
    value: str | int | float, *, measure: Measure, unit: Unit, where: str = ""
) -> Measurement:
    """Read one measurement; a number without a unit gets `unit`. Raises BadInput.

    >>> measurement("36 1/2", measure=measure_of("bust"), unit=Unit.inch)
    Measurement(text='36 1/2 in', mm=927.1)
    """
    place = where or measure.name
    mm = parse_length(value, unit=unit, where=place)
    text = " ".join(str(value).split())
    other = Unit.inch if unit.is_metric else Unit.cm
    try:
        bare = parse_length(value, unit=other) != mm
    except BadInput:  # a number so large that only the smaller unit can hold it
        bare = True
    text = f"{text} {unit.value}" if bare else text
    if not 0 < mm <= LONGEST_MM:
        raise BadInput(
            where=place,
            what=f"{text} is no measurement of a body",
            expected=f"more than nothing and at most {show_length(LONGEST_MM, unit)}",
            try_="the number with its unit",
        )
    return Measurement(text, mm)


def day_of(text: str, *, where: str = "date") -> str:
    """Return a day as text, "2026-11-25"; "" for none. Raises BadInput."""
    if not text.strip():
        return ""
    try:
        return dt.date.fromisoformat(text.strip()).isoformat()
    except ValueError:
        raise BadInput(
            where=where, what=f'"{text}" is no day', expected='year, month, day: "2026-11-25"'
        ) from None


def body_with(body: Body, values: Mapping[str, object], *, unit: Unit, where: str = "body") -> Body:
    """Return the body with other entries; None or "" takes one out. Raises BadInput.

    values: by the name of a measurement, or "note", "date", "compare" (true, false, yes, no).
    """
    taken = dict(body.taken)
    note, day, compare = body.note, body.day, body.compare
    for key, value in values.items():
        place = f"{where}, {key}"
        if key == "note":
            note = _text(value, place)
        elif key == "date":
            day = day_of(_text(value, place), where=place)
        elif key == "compare":
            compare = _yes(value, place)
        else:
            measure = measure_of(key, where=where)
            if value is None or (isinstance(value, str) and not value.strip()):
                taken.pop(measure.id, None)
            elif isinstance(value, str | int | float) and not isinstance(value, bool):
                taken[measure.id] = measurement(
                    value, measure=measure, unit=unit, where=f"{where}, {measure.name}"
                )
            else:
                raise BadInput(where=place, what=f"found {value!r}", expected="a length")
    in_order = tuple((m.id, taken[m.id]) for m in MEASURES if m.id in taken)
    return replace(body, taken=in_order, note=note, day=day, compare=compare)


def _yes(value: object, where: str) -> bool:
    known = {"yes": True, "no": False, True: True, False: False, None: True}
    if isinstance(value, str | bool | None) and value in known:
        return known[value]
    raise BadInput(where=where, what=f"found {value!r}", expected="yes or no")


def _text(value: object, where: str) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return value.strip()
    raise BadInput(where=where, what=f"found {value!r}", expected="text")
