"""The fields of a change's form, made from what the change says of its parameters."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import MISSING, dataclass, fields
from typing import Any

from clothwright.changes.change import Change
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit, show_fraction, show_length

LISTS = ("edges", "pieces")


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One field. options: what can be chosen, with True for what is; () for a field to type in.

    must: it cannot be left out. left_out: what holds then, in words, "" for nothing.
    """

    name: str
    label: str
    kind: str
    help: str
    value: str
    options: tuple[tuple[str, bool], ...]
    must: bool
    left_out: str


def fields_of(
    change: Change[Any], pattern: Pattern, unit: Unit, given: Mapping[str, object]
) -> tuple[Field, ...]:
    """Return the fields of a change's form. pattern: the pieces it will be done on."""
    out = []
    for f in fields(change.params):
        kind = f.metadata["kind"]
        said = chosen(given.get(f.name), kind)
        known = choices(kind, pattern, f.metadata["choices"])
        # what is named and is not there (any more) stays to be seen
        known = (*known, *(s for s in said if known and s not in known))
        out.append(
            Field(
                name=f.name,
                label=f.name.replace("_", " "),
                kind=kind,
                help=f.metadata["help"],
                value=", ".join(said),
                options=tuple((k, k in said) for k in known),
                must=f.default is MISSING,
                left_out="" if f.default is MISSING else default_words(f.default, kind, unit),
            )
        )
    return tuple(out)


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


def choices(kind: str, pattern: Pattern, own: Sequence[str]) -> tuple[str, ...]:
    """Return what the pattern has of a kind: pieces, edges, levels, darts, seams."""
    pieces = pattern.pieces
    edges = tuple(f"{p.name}.{e.name}" for p in pieces for e in p.edges)
    names = tuple(p.name for p in pieces)
    known = {
        "piece": names,
        "pieces": names,
        "edge": edges,
        "edges": edges,
        "level": tuple(dict.fromkeys(v.name for p in pieces for v in p.levels)),
        "dart": tuple(f"{p.name}.{d.name}" for p in pieces for d in p.darts),
        "seam": tuple(s.name for s in pattern.seams),
        "flag": ("yes", "no"),
    }
    return known.get(kind, tuple(own))


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
