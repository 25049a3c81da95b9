"""The fields of a change's form, made from what the change says of its parameters."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import MISSING, dataclass, fields
from typing import Any

from clothwright.changes import CHANGES
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import show_fraction, show_length
from clothwright.workbook import change_of
from clothwright.workroom.changing.options import (
    TYPED,
    Offered,
    levels_of_sizes,
    levels_said,
    options_of,
)

LISTS = ("edges", "pieces")


Choice = tuple[str, str, bool]
"""What can be chosen: its value, its words, whether it is chosen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One field. groups: what can be chosen, under headings; () for a field to type in.

    must: it cannot be left out. left_out: what holds then, in words, "" for nothing.
    typed: it can be typed instead of chosen; value: what is typed then. parts: one list of choices
    for each of several names ("waist", "hip"), said together as one text.
    """

    name: str
    label: str
    kind: str
    help: str
    value: str
    groups: tuple[tuple[str, tuple[Choice, ...]], ...]
    must: bool
    left_out: str
    typed: bool = False
    parts: tuple[tuple[str, tuple[Choice, ...]], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeForm:
    """The form of one kind of change. id: the kind, as an edit names it. why: what it is for."""

    id: str
    title: str
    why: str
    fields: tuple[Field, ...]


MENU = tuple((c.id, c.title) for c in CHANGES)
"""Every kind of change and what it is called."""


def form_of(
    kind: str, pattern: Pattern, unit: Unit, given: Mapping[str, object] | None = None
) -> ChangeForm | None:
    """Return the form of a kind of change; None for a kind that is not known.

    pattern: the pieces it will be done on. given: what is filled in, as a workbook has it. Lengths
    are shown in `unit`.
    """
    known = any(c.id == kind for c in CHANGES)
    return form_named(kind, pattern, unit, given) if known else None


def form_named(
    kind: str, pattern: Pattern, unit: Unit, given: Mapping[str, object] | None = None
) -> ChangeForm:
    """Do the same, but raise BadInput with the nearest known kind."""
    change, said = change_of(kind), given or {}
    return ChangeForm(
        id=change.id,
        title=change.title,
        why=change.why,
        fields=tuple(_field(f, pattern, unit, said.get(f.name)) for f in fields(change.params)),  # type: ignore[arg-type]
    )


def _field(f: Any, pattern: Pattern, unit: Unit, given: object) -> Field:
    kind = f.metadata["kind"]
    said = chosen(given, kind)
    known = options_of(kind, pattern, f.metadata["choices"])
    parts, rest = _parts(kind, pattern, known, ", ".join(said))
    unknown = tuple(s for s in said if s not in {o.value for o in known})
    typed = kind in TYPED and bool(known)
    if known and not typed:  # what is named and is not there (any more) stays to be seen
        known = (*known, *(Offered(s, s) for s in unknown))
    groups: dict[str, list[Choice]] = {}
    for o in () if parts else known:
        groups.setdefault(o.group, []).append((o.value, o.words, o.value in said))
    value = ", ".join(unknown if typed else said)
    return Field(
        name=f.name,
        label=f.name.replace("_", " "),
        kind=kind,
        help=f.metadata["help"],
        value=rest if parts else value,
        groups=tuple((g, tuple(found)) for g, found in groups.items()),
        must=f.default is MISSING,
        left_out="" if f.default is MISSING else default_words(f.default, kind, unit),
        typed=typed,
        parts=parts,
    )


def _parts(
    kind: str, pattern: Pattern, known: Sequence[Offered], text: str
) -> tuple[tuple[tuple[str, tuple[Choice, ...]], ...], str]:
    """Return a size to choose at each level, and the text when it says more than that."""
    names = levels_of_sizes(pattern) if kind == "sizes" else ()
    said = levels_said(text)
    values = {o.value for o in known}
    fits = set(said) <= set(names) and set(said.values()) <= values
    fits = fits and len(said) == len([part for part in text.split(",") if part.strip()])
    return tuple(
        (n, tuple((o.value, o.words, fits and said.get(n) == o.value) for o in known))
        for n in names
    ), ("" if fits else text)


def chosen(value: object, kind: str) -> tuple[str, ...]:
    """Return what a parameter says, as texts: one, or as many as a list has."""
    if value is None or value == "":
        return ()
    if isinstance(value, bool):
        return ("yes" if value else "no",)
    if isinstance(value, list | tuple):
        return tuple(str(v) for v in value)
    if kind in LISTS:
        return tuple(v.strip() for v in str(value).split(","))
    return (str(value),)


def default_words(value: object, kind: str, unit: Unit) -> str:
    """Say what holds when a parameter is left out."""
    if value is None or value in ("", ()):
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if kind == "share" and isinstance(value, float):
        return show_fraction(value)
    if kind == "length" and isinstance(value, int | float):
        return show_length(float(value), unit)
    return str(value)
