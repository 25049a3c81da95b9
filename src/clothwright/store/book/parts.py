"""Single parts of a workbook from plain data: the same entries as in workbook.toml.

Lengths are text ("43,5 cm") or bare numbers in the workbook's unit. `values` may name only what is
to be different; None puts an entry back to what it is when left out.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar

from clothwright.errors import BadInput, raise_all
from clothwright.rules.plan import PlacingRule
from clothwright.store.book.format import reading_in, writing_in
from clothwright.store.book.places import place_words
from clothwright.units import Unit

Values = Mapping[str, Any]
T = TypeVar("T")


def part_with(kind: type[T], part: T | None, values: Values, *, unit: Unit, where: str) -> T:
    """Return a part of the workbook with other values; a new one from nothing.

    kind: Cloth, Seam, Settings or PlacingRule. where: what it is called in an error. Raises
    BadInput or Mistakes.
    """
    reading = reading_in(unit)
    made: T | None
    if kind is PlacingRule:
        made = reading.value(kind, _over(part, values, unit), ())
    else:
        made = reading.table(kind, values, (), part)
    if made is None or reading.slips:
        named = ((slip, place_words(slip.place) if slip.place else "") for slip in reading.slips)
        raise_all([slip.at(f"{where}, {name}" if name else where) for slip, name in named])
        raise BadInput(where=where, what="it cannot be read")
    return made


def values_of(kind: type[T], part: T, unit: Unit) -> dict[str, Any]:
    """Return a part of the workbook as plain data, lengths as text in a unit. Raises BadInput."""
    said: dict[str, Any] = writing_in(unit).plain(kind, part)
    return said


def _over(rule: Any, values: Values, unit: Unit) -> dict[str, Any]:
    """Return a rule's entries with others laid over them; of another kind only its piece."""
    was = {} if rule is None else values_of(PlacingRule, rule, unit)
    if "kind" in values and values["kind"] != was.get("kind"):
        was = {k: v for k, v in was.items() if k == "piece"}
    return {k: v for k, v in {**was, **values}.items() if v is not None}
