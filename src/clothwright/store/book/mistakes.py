"""What the check of workbook.toml's shape finds, in sentences with their places."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, get_args

from pydantic import BaseModel

from clothwright.errors import BadInput, did_you_mean
from clothwright.store.book import models
from clothwright.store.book.places import Place, line_of, place_words


def mistake_of(
    error: dict[str, Any], found: Mapping[Place, int], where: str
) -> tuple[int, BadInput]:
    """Return the line and the sentence of one error as pydantic tells it."""
    loc = place_of(error["loc"])
    line = line_of(loc, found)
    place = f"{where}, line {line}" if line else where
    what, expected = words_of(error, error["loc"])
    said = BadInput(where=f"{place}, {place_words(loc)}", what=what, expected=expected)
    return line or 0, said


def place_of(loc: tuple[Any, ...]) -> Place:
    """Return a place in the file from a place as pydantic gives it."""
    out = tuple(p for p in loc if not str(p).startswith("function-"))
    return tuple(p for p in out if not re.fullmatch(r"constrained-\w+|literal\[.*\]|float", str(p)))


def words_of(error: dict[str, Any], loc: tuple[Any, ...]) -> tuple[str, str]:
    """Return what was found and what was expected, in words. loc: as pydantic gives it."""
    kind, given = error["type"], error.get("input")
    context = error.get("ctx", {})
    if kind == "missing":
        return "is missing", "an entry of this name"
    if kind == "extra_forbidden":
        known = _known_keys(loc)
        return f"this entry is not known.{did_you_mean(str(loc[-1]), known)}", (
            "one of " + ", ".join(known) if known else ""
        )
    if kind == "value_error":
        return str(context.get("error", error["msg"])), ""
    if kind == "literal_error":
        return f"found {given!r}", "one of " + str(context.get("expected", ""))
    if kind in ("greater_than", "greater_than_equal"):
        bound = context.get("gt", context.get("ge"))
        more = "more than" if kind == "greater_than" else "at least"
        return f"found {given!r}", f"{more} {bound:g}"
    message = str(error["msg"])
    return f"found {given!r}", message.removeprefix("Input should be ")


def _known_keys(loc: tuple[Any, ...]) -> list[str]:
    """Return the entries known in the table that holds a place. loc: as pydantic gives it."""
    table: type[BaseModel] = models.BookTable
    for part in loc[:-1]:
        if part in table.model_fields:
            table = _table_in(table.model_fields[part].annotation) or table
    return [f.alias or name for name, f in table.model_fields.items()]


def _table_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((t for a in get_args(annotation) if (t := _table_in(a))), None)
