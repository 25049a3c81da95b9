"""How a change or a placing rule declares what it asks for, and how text becomes its values.

A frozen dataclass declares each field with `param`: its kind, what it is, its label in a form.
`read_params` makes the dataclass from the text and numbers of a workbook, a form or a command.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, Field, field, fields
from typing import Any, NamedTuple, TypeVar

from clothwright.errors import BadInput, Mistakes, did_you_mean, not_known, within
from clothwright.units.reading import parse_angle_deg, parse_fraction, parse_length
from clothwright.units.unit import Unit

P = TypeVar("P")


class Wrong(NamedTuple):
    """What is wrong with one field. field: its name, "" when no single one is meant."""

    field: str
    error: BadInput


def param(
    kind: str,
    help_: str,
    *,
    default: Any = MISSING,
    choices: Mapping[str, str] | None = None,
    label: str = "",
    least: float = -math.inf,
    most: float = math.inf,
) -> Any:
    """Declare a field of a change or a placing rule.

    kind: "length" (mm inside), "angle" (degrees), "share" (0 to 1), "count" (a whole number),
    "piece", "edge" ("PIECE.EDGE"), "edges" (a list of them), "point" ("PIECE.POINT"), "place" (an
    edge or a point), "point of each" (the name of a point that several pieces have), "level",
    "line" (a level, a line marked on a piece, or "fold"), "dart", "seam", "size", "sizes" ("bust
    14, hip 16"), "choice" (one of `choices`), "flag", "text", "pieces" (a list of piece names).
    A placing rule has besides: "own edge" and "own point" (of the piece in the field `piece`; a
    field `point_a` goes with `piece_a`), "border", "figure", "cloth", "material".
    help_: more than the label says, "" for nothing. choices: names, and the words of each. label:
    what a form calls the field, in a maker's words. least, most: bounds of a length (mm), an angle
    (degrees) or a count.
    """
    metadata = {
        "kind": kind,
        "help": help_,
        "choices": choices or {},
        "label": label,
        "least": least,
        "most": most,
    }
    if default is MISSING:
        return field(metadata=metadata)
    return field(default=default, metadata=metadata)


def declared(params: Any) -> dict[str, Field[Any]]:
    """Return the declared fields of a dataclass, or of a value of it, by name."""
    return {f.name: f for f in fields(params)}


def read_params(params: type[P], raw: Mapping[str, object], *, unit: Unit, where: str) -> P:
    """Turn text and numbers from a workbook or a command line into a declared dataclass.

    Bare numbers and texts without a unit count in `unit`. Raises Mistakes with every fault found.
    """
    values, wrong = read_fields(params, raw, unit=unit, where=where)
    if wrong:
        raise Mistakes([w.error for w in wrong])
    return params(**values)


def read_fields(
    params: Any, raw: Mapping[str, object], *, unit: Unit, where: str = ""
) -> tuple[dict[str, Any], tuple[Wrong, ...]]:
    """Return the values of a declared dataclass's fields, and what is wrong with which of them.

    Units as in `read_params`; a field that is left out has no value.
    """
    known = declared(params)
    values: dict[str, Any] = {}
    wrong: list[Wrong] = []
    meant: set[str] = set()
    for name, value in raw.items():
        spoken = name.replace("-", "_")
        if spoken not in known:
            near = did_you_mean(name.replace("_", "-"), [n.replace("_", "-") for n in known])
            meant |= {n for n in known if f'"{n.replace("_", "-")}"' in near}
            asked = "only " + ", ".join(n.replace("_", "-") for n in known)
            what, expected = f'"{name}" is not asked for.{near}', asked
            wrong.append(Wrong(name, BadInput(where=where, what=what, expected=expected)))
            continue
        meant.add(spoken)
        try:
            values[spoken] = _read(
                known[spoken].metadata, value, unit, _place(where, known[spoken])
            )
        except BadInput as error:
            wrong.append(Wrong(name, error))
    return values, (*wrong, *_missing(known, meant, where))


def _missing(known: Mapping[str, Field[Any]], meant: set[str], where: str) -> Iterator[Wrong]:
    for name, f in known.items():
        if name not in meant and f.default is MISSING:
            what = f'"{name.replace("_", "-")}" is missing'
            yield Wrong(name, BadInput(where=where, what=what, expected=_asked(f.metadata)))


def _place(where: str, f: Field[Any]) -> str:
    """Return where a value stands: in what, and the field as a form calls it."""
    called = within(f.metadata["label"] or f.name.replace("_", " "))
    return f"{where}, {called}" if where else called


def _asked(meta: Mapping[str, Any]) -> str:
    """Return what a declared field is called, and what it wants."""
    more, called = wanted(meta), within(meta["label"])
    return called if not meta["help"] and not meta["choices"] else f"{called}: {more}"


def wanted(meta: Mapping[str, Any]) -> str:
    """Return what a declared field wants: its help, else its choices, else its label."""
    choices = "; ".join(f"{name or 'left out'}: {words}" for name, words in meta["choices"].items())
    return str(meta["help"] or choices or meta["label"])


def _read(meta: Mapping[str, Any], value: object, unit: Unit, where: str) -> object:
    kind = meta["kind"]
    if kind == "flag":
        if isinstance(value, bool):
            return value
        raise BadInput(
            where=where, what=f"{value!r} is neither true nor false", expected="true or false"
        )
    if kind in ("length", "angle", "share", "count"):
        return _number(meta, value, unit, where)
    if kind in ("edges", "pieces"):
        items = value if isinstance(value, list | tuple) else str(value).split(",")
        return tuple(str(i).strip() for i in items)
    if not isinstance(value, str):
        raise BadInput(where=where, what=f"{value!r} is not a name", expected=wanted(meta))
    if kind == "choice":
        refuse_choice(meta, value, where)
    return value


def refuse_choice(meta: Mapping[str, Any], value: object, where: str = "") -> None:
    """Raise BadInput when a value is not one of a declared field's choices."""
    known = list(meta["choices"])
    if value not in known:
        raise not_known(f'"{value}" is not a choice here', str(value), known, where=where)


def _number(meta: Mapping[str, Any], value: object, unit: Unit, where: str) -> float | int:
    kind, least, most = meta["kind"], meta["least"], meta["most"]
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise BadInput(where=where, what=f"{value!r} is not a {kind}", expected=wanted(meta))
    if kind == "length":
        bound = None if least == -math.inf else least
        return parse_length(value, unit=unit, where=where, least_mm=bound)
    if kind == "share":
        return parse_fraction(value, where=where)
    if kind == "count":
        number: float | int = int(value) if str(value).strip().isdecimal() else math.nan
    else:
        number = parse_angle_deg(value, where=where)
    if not least <= number <= most:
        sign = "°" if kind == "angle" else ""
        above = f"{least:g}{sign} or more"
        raise BadInput(
            where=where,
            what=f'found "{value}"',
            expected=above if most == math.inf else f"{least:g}{sign} to {most:g}{sign}",
        )
    return number
