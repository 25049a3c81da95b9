"""Single parts of a workbook from plain data: the same entries as in workbook.toml.

Lengths are text ("43,5 cm") or bare numbers in the workbook's unit. `values` may name only what is
to be different; None puts an entry back to what it is when left out.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from clothwright.cloth.cloth import Cloth
from clothwright.errors import BadInput, raise_all
from clothwright.pattern.pattern import Seam
from clothwright.rules.kinds import entries_of, read_rule
from clothwright.rules.plan import PlacingRule
from clothwright.store.book import models
from clothwright.store.book.format import FORMAT, seam_of, to_workbook
from clothwright.store.book.mistakes import place_of, words_of
from clothwright.store.book.places import place_words
from clothwright.store.book.plain import length_text, plain_seam, to_plain
from clothwright.units import Unit
from clothwright.units.params import Wrong
from clothwright.workbook import Settings, Workbook

Values = Mapping[str, Any]


def cloth_with(cloth: Cloth | None, values: Values, *, unit: Unit, where: str) -> Cloth:
    """Return the cloth with other values; a new one from nothing. Raises BadInput, Mistakes."""
    was: dict[str, Any] = {}
    if cloth is not None:
        was = to_plain(Workbook(title="-", unit=unit, cloths=(cloth,)), {})["cloth"][0]
    table = _checked(("cloth", 0), {"cloth": [_over(was, values)]}, unit, where)
    return to_workbook(table, ()).cloths[0]


def rule_with(
    rule: PlacingRule | None, values: Values, *, unit: Unit, where: str = "placing rule"
) -> PlacingRule:
    """Return the placing rule with other values; a new one from nothing. Raises as above."""
    was = {} if rule is None else rule_values(rule, unit)
    if "kind" in values and values["kind"] != was.get("kind"):
        was = {k: v for k, v in was.items() if k == "piece"}
    made, wrong = read_rule(_over(was, values), unit=unit)
    if made is None:
        raise_all([_named(w, where) for w in wrong])
        raise BadInput(where=where, what="it cannot be read")
    return made


def _named(wrong: Wrong, where: str) -> BadInput:
    place = ", ".join(p for p in (where, wrong.field) if p)
    e = wrong.error
    return BadInput(where=place, what=e.what, expected=e.expected, try_=e.try_)


def rule_values(rule: PlacingRule, unit: Unit) -> dict[str, Any]:
    """Return a placing rule as plain data, lengths as text in a unit."""
    return entries_of(rule, lambda mm: length_text(mm, unit))


def seam_with(seam: Seam | None, values: Values, *, unit: Unit, where: str) -> Seam:
    """Return the seam with other values; a new one from nothing. Raises as above."""
    was = {} if seam is None else plain_seam(seam, lambda mm: length_text(mm, unit))
    table = _checked(("seam", 0), {"seam": [_over(was, values)]}, unit, where)
    return seam_of(table.seam[0])


def settings_with(settings: Settings, values: Values, *, unit: Unit) -> Settings:
    """Return the settings with other values. Raises as above."""
    was = to_plain(Workbook(title="-", unit=unit, settings=settings), {})["settings"]
    table = _checked(("settings",), {"settings": _over(was, values)}, unit, "settings")
    return to_workbook(table, ()).settings


def _over(was: Values, values: Values) -> dict[str, Any]:
    """Return one set of values laid over another; tables in them too."""
    out = dict(was)
    for key, value in values.items():
        if value is None:
            out.pop(key, None)
        elif isinstance(value, Mapping):
            inner = out.get(key)
            out[key] = _over(inner if isinstance(inner, Mapping) else {}, value)
        else:
            out[key] = _listed(value)
    return out


def _listed(value: Any) -> Any:
    if isinstance(value, tuple | list):
        return [_listed(v) for v in value]
    return {k: _listed(v) for k, v in value.items()} if isinstance(value, Mapping) else value


def _checked(at: tuple[str | int, ...], raw: Values, unit: Unit, where: str) -> models.BookTable:
    """Return the checked file that holds one part only. at: the part's place in it."""
    whole = {"format": FORMAT, "title": "-", "unit": unit.value, **raw}
    try:
        return models.BookTable.model_validate(whole, context={"unit": unit})
    except ValidationError as error:
        mistakes = []
        for each in error.errors():
            what, expected = words_of(dict(each), each["loc"])
            place = place_of(each["loc"])[len(at) :]
            words = f"{where}, {place_words(place)}" if place else where
            mistakes.append(BadInput(where=words, what=what, expected=expected))
        raise_all(mistakes)
        raise
