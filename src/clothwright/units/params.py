"""How a change or a placing rule declares what it asks for, and how text becomes its values.

A frozen dataclass declares each field with `param`: its kind, what it is, its label in a form.
`read_params` makes the dataclass from the text and numbers of a workbook, a form or a command.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, field, fields
from typing import Any, TypeVar

from clothwright.errors import BadInput, Mistakes, did_you_mean
from clothwright.units.reading import parse_angle_deg, parse_fraction, parse_length
from clothwright.units.unit import Unit

P = TypeVar("P")


def param(
    kind: str,
    help_: str,
    *,
    default: Any = MISSING,
    choices: tuple[str, ...] = (),
    label: str = "",
) -> Any:
    """Declare a field of a change or a placing rule.

    kind: "length" (mm inside), "angle" (degrees), "share" (0 to 1), "piece", "edge"
    ("PIECE.EDGE"), "edges" (a list of them), "point" ("PIECE.POINT"), "place" (an edge or a
    point), "point of each" (the name of a point that several pieces have), "level", "line" (a
    level, a line marked on a piece, or "fold"), "dart", "seam", "size", "sizes" ("bust 14, hip
    16"), "choice" (one of `choices`), "flag", "text", "pieces" (a list of piece names).
    label: what a form calls it, where `help_` is not said there.
    """
    metadata = {"kind": kind, "help": help_, "choices": choices, "label": label}
    if default is MISSING:
        return field(metadata=metadata)
    return field(default=default, metadata=metadata)


def read_params(params: type[P], raw: Mapping[str, object], *, unit: Unit, where: str) -> P:
    """Turn text and numbers from a workbook or a command line into a declared dataclass.

    Bare numbers and texts without a unit count in `unit`. Raises Mistakes with every fault found.
    """
    known = {f.name: f for f in fields(params)}  # type: ignore[arg-type]
    mistakes: list[BadInput] = []
    values: dict[str, object] = {}
    for name, value in raw.items():
        spoken = name.replace("-", "_")
        if spoken not in known:
            mistakes.append(
                BadInput(
                    where=where,
                    what=f'"{name}" is not asked for.{did_you_mean(spoken, list(known))}',
                    expected="only " + ", ".join(known),
                )
            )
            continue
        f = known[spoken]
        try:
            values[spoken] = _read(f.metadata, value, unit, f"{where}, {name}")
        except BadInput as error:
            mistakes.append(error)
    for name, f in known.items():
        if (
            name not in values
            and f.default is MISSING
            and not any(name in str(m) for m in mistakes)
        ):
            mistakes.append(
                BadInput(where=where, what=f'"{name}" is missing', expected=f.metadata["help"])
            )
    if mistakes:
        raise Mistakes(mistakes)
    return params(**values)


def _read(meta: Mapping[str, Any], value: object, unit: Unit, where: str) -> object:
    kind = meta["kind"]
    if kind == "flag":
        if isinstance(value, bool):
            return value
        raise BadInput(
            where=where, what=f"{value!r} is neither true nor false", expected="true or false"
        )
    if kind in ("length", "angle", "share"):
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise BadInput(where=where, what=f"{value!r} is not a {kind}", expected=meta["help"])
        if kind == "length":
            return parse_length(value, unit=unit, where=where)
        if kind == "angle":
            return parse_angle_deg(value, where=where)
        return parse_fraction(value, where=where)
    if kind in ("edges", "pieces"):
        items = value if isinstance(value, list | tuple) else str(value).split(",")
        return tuple(str(i).strip() for i in items)
    if not isinstance(value, str):
        raise BadInput(where=where, what=f"{value!r} is not a name", expected=meta["help"])
    if kind == "choice" and value not in meta["choices"]:
        raise BadInput(
            where=where,
            what=f'"{value}" is not a choice here.{did_you_mean(value, list(meta["choices"]))}',
            expected="one of " + ", ".join(meta["choices"]),
        )
    return value
