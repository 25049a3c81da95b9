"""How a change or a placing rule declares what it asks for, and how text becomes its values.

A frozen dataclass declares each field with `param`: its kind, what it is, its label in a form.
`read_params` makes the dataclass from the text and numbers of a workbook, a form or a command.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, field, fields
from typing import Any, NamedTuple, TypeVar, get_args

from clothwright.errors import BadInput, Mistakes, did_you_mean, not_known, within
from clothwright.units.kinds import Kind, Measured
from clothwright.units.reading import parse_angle_deg, parse_fraction, parse_length
from clothwright.units.unit import Unit

P = TypeVar("P")

NOUNS = {
    "length": "a length for",
    "angle": "an angle for",
    "share": "a share such as 25 % for",
    "count": "a number for",
    "text": "words for",
}
"""What is typed in a field of a kind."""


class Wrong(NamedTuple):
    """What is wrong with one field. field: its name, "" when no single one is meant."""

    field: str
    error: BadInput


class Param(NamedTuple):
    """What is declared of a field.

    help: more than the label says, "" for nothing. default: MISSING where it has to be said.
    choices: names, and the words of each. label: what a form calls the field, in a maker's words.
    least, most: bounds of a length (mm), an angle (degrees) or a count.
    """

    kind: Kind
    help: str = ""
    default: Any = MISSING
    choices: Mapping[str, str] = {}
    label: str = ""
    least: float = -math.inf
    most: float = math.inf

    @property
    def wanted(self) -> str:
        """What the field wants, understood without its form, too: 'a length for "How deep"'."""
        choices = "; ".join(
            f"{name or 'left out'}: {words}" for name, words in self.choices.items()
        )
        more = self.help or choices
        return f'{NOUNS.get(self.kind, "an answer to")} "{self.label}"{more and f" ({more})"}'

    def refuse(self, value: object, where: str = "") -> None:
        """Raise BadInput when a value is not one of the choices."""
        if value not in self.choices:
            raise not_known(
                f'"{value}" is not a choice here', str(value), list(self.choices), where=where
            )


def param(kind: Kind, help_: str, *, default: Any = MISSING, **more: Any) -> Any:
    """Declare a field of a change or a placing rule. help_, default, more: as in `Param`."""
    it = Param(kind=kind, help=help_, default=default, **more)
    return field(default=default, metadata={"param": it})


def declared(params: Any) -> dict[str, Param]:
    """Return what is declared of the fields of a dataclass, or of a value of it, by name."""
    return {f.name: f.metadata["param"] for f in fields(params) if f.metadata}


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
        it = known[spoken]
        called = within(it.label or spoken.replace("_", " "))
        try:
            values[spoken] = _read(it, value, unit, f"{where}, {called}" if where else called)
        except BadInput as error:
            wrong.append(Wrong(name, error))
    return values, (*wrong, *_missing(known, meant, where))


def _missing(known: Mapping[str, Param], meant: set[str], where: str) -> Iterator[Wrong]:
    for name, it in known.items():
        if name not in meant and it.default is MISSING:
            what = f'"{name.replace("_", "-")}" is missing'
            yield Wrong(name, BadInput(where=where, what=what, expected=it.wanted))


def _read(it: Param, value: object, unit: Unit, where: str) -> object:
    kind = it.kind
    if kind == "flag":
        if isinstance(value, bool):
            return value
        raise BadInput(
            where=where, what=f"{value!r} is neither true nor false", expected="true or false"
        )
    if kind in get_args(Measured):
        return _number(it, value, unit, where)
    if kind in ("edges", "pieces"):
        items = value if isinstance(value, list | tuple) else str(value).split(",")
        return tuple(str(i).strip() for i in items)
    if not isinstance(value, str):
        raise BadInput(where=where, what=f"{value!r} is not a name", expected=it.wanted)
    if kind == "choice":
        it.refuse(value, where)
    return value


def _number(it: Param, value: object, unit: Unit, where: str) -> float | int:
    kind, least, most = it.kind, it.least, it.most
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise BadInput(where=where, what=f"{value!r} is not a {kind}", expected=it.wanted)
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
