"""An edit from plain data: {"edit": "set-cloth", "cloth": "linen", "values": {...}}."""

from __future__ import annotations

import contextlib
import math
import re
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields
from typing import Any

from clothwright.errors import BadInput, did_you_mean, one_of
from clothwright.pattern.piece import Piece
from clothwright.store import piece_from_svg
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits import EDITS

DEEPEST = 8
"""How deep values may be nested."""


def name_of(kind: type[Edit]) -> str:
    """Return the name of a kind of edit in plain data.

    >>> from clothwright.workroom.editing.edits.cloths import SetCloth
    >>> name_of(SetCloth)
    'set-cloth'
    """
    return re.sub(r"(?<!^)([A-Z])", r"-\1", kind.__name__).lower()


NAMES: dict[str, type[Edit]] = {name_of(kind): kind for kind in EDITS}


def edit_from(data: object, *, where: str = "edit") -> Edit:
    """Return the edit that plain data describes. Raises BadInput: where, what was expected."""
    if not isinstance(data, Mapping):
        raise BadInput(
            where=where, what=f"found {_shown(data)}", expected='a table with "edit", its kind'
        )
    name = data.get("edit")
    if not isinstance(name, str) or name not in NAMES:
        near = did_you_mean(name, NAMES) if isinstance(name, str) else ""
        raise BadInput(
            where=where,
            what=f"there is no edit {_shown(name)}.{near}",
            expected=one_of(NAMES),
        )
    return _read(NAMES[name], data, f"{where}, {name}")


def _read(kind: type[Edit], data: Mapping[object, object], where: str) -> Edit:
    known = {f.name: f for f in fields(kind)}
    for key in data:
        if key != "edit" and key not in known:
            raise BadInput(
                where=where,
                what=f"{_shown(key)} is not asked for.{did_you_mean(str(key), known)}",
                expected="only " + ", ".join(known),
            )
    values: dict[str, Any] = {}
    for key, f in known.items():
        if key in data:
            values[key] = READ[str(f.type)](data[key], f"{where}, {key}")
        elif f.default is MISSING and f.default_factory is MISSING:
            raise BadInput(
                where=where, what=f'"{key}" is missing', expected="an entry of this name"
            )
    return kind(**values)


def _text(value: object, where: str) -> str:
    if isinstance(value, str):
        return value
    raise BadInput(where=where, what=f"found {_shown(value)}", expected="text")


def _whole(value: object, where: str) -> int:
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    raise BadInput(where=where, what=f"found {_shown(value)}", expected="a whole number")


def _number(value: object, where: str) -> float:
    if isinstance(value, int | float) and not isinstance(value, bool):
        with contextlib.suppress(OverflowError):
            if math.isfinite(value):
                return float(value)
    raise BadInput(where=where, what=f"found {_shown(value)}", expected="a number")


def _flag(value: object, where: str) -> bool:
    if isinstance(value, bool):
        return value
    raise BadInput(where=where, what=f"found {_shown(value)}", expected="true or false")


def _table(value: object, where: str) -> dict[str, Any]:
    if not isinstance(value, Mapping):
        raise BadInput(where=where, what=f"found {_shown(value)}", expected="a table of entries")
    return {_text(k, where): _plain(v, f"{where}, {k}") for k, v in value.items()}


def _plain(value: object, where: str, depth: int = 0) -> Any:
    if depth > DEEPEST:
        raise BadInput(where=where, what="tables in tables in tables", expected="fewer of them")
    if isinstance(value, Mapping):
        return {_text(k, where): _plain(v, f"{where}, {k}", depth + 1) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return tuple(_plain(v, where, depth + 1) for v in value)
    if isinstance(value, float):
        return _number(value, where)
    if value is None or isinstance(value, str | int):
        return value
    raise BadInput(where=where, what=f"found {_shown(value)}", expected="text or a number")


def _or_none(read: Callable[[object, str], object]) -> Callable[[object, str], object]:
    return lambda value, where: None if value is None else read(value, where)


def _many(read: Callable[[object, str], object]) -> Callable[[object, str], object]:
    def many(value: object, where: str) -> object:
        if not isinstance(value, list | tuple):
            raise BadInput(where=where, what=f"found {_shown(value)}", expected="a list")
        return tuple(read(v, f"{where} {n}") for n, v in enumerate(value, start=1))

    return many


def _piece(value: object, where: str) -> Piece:
    return piece_from_svg(_text(value, where).encode("utf-8"), where)


def _made_here(value: object, where: str) -> object:
    raise BadInput(
        where=where, what=f"found {_shown(value)}", expected="plans made here; send add-plan"
    )


def _nothing(value: object, where: str) -> None:
    if value:
        raise BadInput(where=where, what="it cannot be sent", expected="nothing")


def _inner(value: object, where: str) -> Edit:
    edit = edit_from(value, where=where)
    if hasattr(edit, "edits"):
        raise BadInput(where=where, what="several edits within several", expected="one list")
    return edit


READ: dict[str, Callable[[object, str], object]] = {
    "str": _text,
    "int": _whole,
    "float": _number,
    "bool": _flag,
    "str | None": _or_none(_text),
    "int | None": _or_none(_whole),
    "Typed": _text,
    "Values": _table,
    "tuple[Values, ...]": _many(_table),
    "tuple[str, ...]": _many(_text),
    "tuple[Edit, ...]": _many(_inner),
    "tuple[Piece, ...]": _many(_piece),
    "tuple[Plan, ...]": _made_here,
    "SizeRange | None": _nothing,
}
"""How each type of field is read."""


def _shown(value: object) -> str:
    try:
        text = f'"{value}"' if isinstance(value, str) else repr(value)
    except ValueError:  # a whole number of thousands of figures
        return "a huge number"
    return text if len(text) <= 60 else text[:57] + "..."
