"""An edit as it is typed on the command line: its name, and its entries as NAME=VALUE."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import MISSING, fields
from functools import partial
from typing import Any, NamedTuple

from clothwright.errors import BadInput
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits import EDITS
from clothwright.workroom.editing.reading import NAMES, edit_from, name_of

WORDS = {"true": True, "false": False, "none": None}
"""Words that are no text where any value may stand."""


def _number(kind: Callable[[str], object], value: str) -> object:
    try:
        return kind(value)
    except ValueError:
        return value


def _word(value: str) -> object:
    return WORDS.get(value, value)


READ: dict[str, Callable[[str], object]] = {
    "str": str,
    "Typed": str,
    "str | None": str,
    "int": partial(_number, int),
    "int | None": partial(_number, int),
    "float": partial(_number, float),
    "bool": _word,
    "Values": _word,
    "tuple[str, ...]": str,
}
"""How a field of each type is typed; what it cannot be stays text, and is refused as that."""


class Typing(NamedTuple):
    """One edit that can be typed: its name, what it does, and the entries it takes."""

    name: str
    does: str
    entries: str


def can_be_typed() -> tuple[Typing, ...]:
    """Return every edit whose entries can be typed, in the order of the list."""
    return tuple(
        Typing(name_of(kind), (kind.__doc__ or "").partition("\n")[0], ", ".join(_entries(kind)))
        for kind in EDITS
        if all(str(f.type) in READ for f in fields(kind) if _needed(f))
    )


def _needed(field: Any) -> bool:
    return field.default is MISSING and field.default_factory is MISSING


def _entries(kind: type[Edit]) -> list[str]:
    known = [f for f in fields(kind) if str(f.type) in READ]
    return [f"{f.name}.NAME" if str(f.type) == "Values" else f.name for f in known]


def edit_typed(name: str, said: Sequence[str]) -> Edit:
    """Return the edit of a name with entries NAME=VALUE, those of a table as TABLE.NAME=VALUE.

    "true", "false" and "none" (as when left out) are meant as such in a table; NAME[] is one of a
    list and may come again. Raises BadInput.
    """
    kinds = {f.name: str(f.type) for f in fields(NAMES[name])} if name in NAMES else {}
    data: dict[str, Any] = {"edit": name}
    for each in said:
        spoken, equals, value = each.lstrip("-").partition("=")
        first, *inner = spoken.strip().replace("-", "_").split(".")
        if not equals or not first:
            raise BadInput(
                where=name,
                what=f'"{each}" is no entry',
                expected="NAME=VALUE",
                try_=f"`clothwright edit WORKBOOK`, which shows what {name} takes",
            )
        table = data
        for part in [first, *inner][:-1]:
            table = table.setdefault(part, {})
            if not isinstance(table, dict):
                raise BadInput(where=name, what=f'"{part}" is said twice', expected="it once")
        last, typed = [first, *inner][-1], READ.get(kinds.get(first, ""), str)(value.strip())
        if last.endswith("[]"):
            typed = [*table.get(last[:-2], ()), typed]
        table[last.removesuffix("[]")] = typed
    return edit_from(data)
