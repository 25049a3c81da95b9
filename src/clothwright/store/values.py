"""Plain data <-> frozen values, told by the fields of the values' own dataclasses.

A table of workbook.toml and an object of a JSON file beside it are read and written by the same
two functions. What a field holds is said by its type (units.kinds); `FileShape` says what the file
does otherwise than the dataclass. All slips are found at once, each with its place.
"""

from __future__ import annotations

import contextlib
import math
from collections.abc import Callable, Collection, Mapping
from dataclasses import MISSING, Field, dataclass, field, fields, is_dataclass, replace
from functools import lru_cache
from types import NoneType, UnionType
from typing import Annotated, Any, NamedTuple, Union, get_args, get_origin, get_type_hints

from clothwright.errors import BadInput, Mistakes, Said, did_you_mean, joined
from clothwright.units import Unit, parse_fraction, parse_length
from clothwright.units.kinds import Amount, Length, NoFewer, OneOf
from clothwright.units.params import declared
from clothwright.words import with_lengths
from clothwright.words.exact import length_text, share_text

Place = tuple[str | int, ...]
"""Where something stands: names of entries, and numbers in lists from 0."""


class Slip(NamedTuple):
    """One thing that cannot be read."""

    place: Place
    what: Said
    expected: Said = ""
    try_: Said = ""

    def at(self, where: str) -> BadInput:
        """Return it as the error of a place in words."""
        return BadInput(where=where, what=self.what, expected=self.expected, try_=self.try_)


class Own(NamedTuple):
    """A kind of value, or a field, that is read and written by functions of its own.

    read: from plain data; it notes slips with the reading, or raises BadInput or Mistakes. write:
    to plain data, lengths as text in a unit.
    """

    read: Callable[[Reading, Any, Place], Any]
    write: Callable[[Any, Unit], Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class FileShape:
    """What a table has otherwise than its dataclass.

    keys: what an entry is called, by field. must: fields without which there is no value, though
    the dataclass knows what to take. said: fields that are written even when they are as they would
    be left out. without: fields that no entry tells. inside: a field whose own entries stand in the
    same table. own: fields with functions of their own.
    """

    keys: Mapping[str, str] = field(default_factory=dict)
    must: Collection[str] = ()
    said: Collection[str] = ()
    without: Collection[str] = ()
    inside: str = ""
    own: Mapping[str, Own] = field(default_factory=dict)


PLAIN = {str: "text", bool: "true or false", int: "a whole number", float: "a number"}
NOTHING = FileShape()


@lru_cache(maxsize=256)
def types_of(kind: type) -> dict[str, Any]:
    """Return the type of every field of a dataclass or named tuple, marks and all.

    What is declared with `units.params.param` as a length is marked as one.
    """
    known = declared(kind) if is_dataclass(kind) else {}
    lengths = {name: Length for name, it in known.items() if it.kind == "length"}
    return get_type_hints(kind, include_extras=True) | lengths


@dataclass(slots=True, kw_only=True)
class Reading:
    """One reading of plain data. slips: what could not be read so far.

    unit: of lengths that name none. strict: an entry that is not known is a slip.
    """

    unit: Unit = Unit.mm
    shapes: Mapping[type, FileShape] = field(default_factory=dict)
    own: Mapping[Any, Own] = field(default_factory=dict)
    strict: bool = True
    slips: list[Slip] = field(default_factory=list)

    def slip(self, at: Place, what: Said, expected: Said = "") -> None:
        """Note one thing that cannot be read."""
        self.slips.append(Slip(at, what, expected))

    def value(self, kind: Any, data: Any, at: Place) -> Any:  # noqa: PLR0911
        """Return the value that data stands for; None, and a slip, when it is none."""
        if kind in self.own:
            return self.by(self.own[kind], data, at)
        origin, args = get_origin(kind), get_args(kind)
        if origin is Annotated:
            return self._marked(args[0], args[1:], data, at)
        if origin in (Union, UnionType):
            rest = next(a for a in args if a is not NoneType)
            return None if data is None else self.value(rest, data, at)
        if origin is tuple:
            return self._row(args, data, at)
        if origin is not None and issubclass(origin, Mapping):
            return self._mapping(args, data, at)
        if is_dataclass(kind):
            return self.table(kind, data, at)
        if isinstance(kind, type) and issubclass(kind, tuple):
            return self.row(kind, data, at)
        return self._plain(kind, data, at)

    def row(self, kind: Any, data: Any, at: Place) -> Any:
        """Return the named tuple that a list stands for; None, and slips, when it is none."""
        before = len(self.slips)
        row = self._row(tuple(types_of(kind).values()), data, at)
        return kind(*row) if row is not None and len(self.slips) == before else None

    def by(self, own: Own, data: Any, at: Place) -> Any:
        """Return what a function of its own reads; what it raises becomes a slip."""
        try:
            return own.read(self, data, at)
        except (BadInput, Mistakes) as error:
            self.refuse(error, at)
        return None

    def refuse(self, error: BadInput | Mistakes, at: Place) -> None:
        """Note what an error says, each mistake of it, as slips."""
        for each in error.mistakes if isinstance(error, Mistakes) else (error,):
            what = joined(f"{each.where}: ", each.what) if each.where else each.what
            self.slips.append(Slip(at, what, each.expected, each.try_))

    def entries(self, data: Any, at: Place) -> dict[str, Any]:
        """Return the entries of a table; none, and a slip, when it is no table."""
        if isinstance(data, Mapping):
            return dict(data)
        self.slip(at, f"found {data!r}", "a table")
        return {}

    def unknown(self, entries: Mapping[str, Any], known: list[str], at: Place) -> None:
        """Note a slip for every entry that is not known."""
        for key in entries if self.strict else ():
            if key not in known:
                guess = did_you_mean(str(key), known)
                self.slip(
                    (*at, key), f"this entry is not known.{guess}", "one of " + ", ".join(known)
                )

    def table(self, kind: Any, data: Any, at: Place, was: Any = None) -> Any:
        """Return the dataclass that a table stands for; None, and slips, when it is none.

        was: a value of which the table says only what is to be otherwise; nothing else is read.
        None puts an entry back to what it is when left out.
        """
        before = len(self.slips)
        entries = self.entries(data, at)
        if len(self.slips) > before:
            return None
        self.unknown(entries, self.keys(kind), at)
        values = self._fields(kind, entries, at, was)
        if len(self.slips) > before:
            return None
        return kind(**values) if was is None else replace(was, **values)

    def keys(self, kind: Any) -> list[str]:
        """Return what the entries of a dataclass are called."""
        shape, out = self.shapes.get(kind, NOTHING), []
        for f in fields(kind):
            if f.name == shape.inside:
                out += self.keys(types_of(kind)[f.name])
            elif f.name not in shape.without:
                out.append(shape.keys.get(f.name, f.name))
        return out

    def _fields(
        self, kind: Any, entries: Mapping[str, Any], at: Place, was: Any = None
    ) -> dict[str, Any]:
        shape, types, out = self.shapes.get(kind, NOTHING), types_of(kind), {}
        for f in fields(kind):
            key, place = shape.keys.get(f.name, f.name), (*at, shape.keys.get(f.name, f.name))
            usual = _left_out(f)
            if f.name in shape.without or (was is not None and key not in entries):
                continue
            if f.name == shape.inside:
                before = len(self.slips)
                values = self._fields(types[f.name], entries, at)
                out[f.name] = types[f.name](**values) if len(self.slips) == before else None
            elif key in entries and (entries[key] is not None or not self.strict):
                old = None if was is None else getattr(was, f.name)
                out[f.name] = self._field(kind, f.name, entries[key], place, old)
            elif usual is MISSING or f.name in shape.must:
                self.slip(place, "is missing", "an entry of this name")
            elif was is not None:
                out[f.name] = usual
        return out

    def _field(self, kind: Any, name: str, data: Any, at: Place, old: Any) -> Any:
        own = self.shapes.get(kind, NOTHING).own.get(name)
        if own is not None:
            return self.by(own, data, at)
        if is_dataclass(old) and isinstance(data, Mapping):
            return self.table(type(old), data, at, old)
        return self.value(types_of(kind)[name], data, at)

    def _row(self, args: tuple[Any, ...], data: Any, at: Place) -> tuple[Any, ...] | None:
        if not isinstance(data, list | tuple):
            self.slip(at, f"found {data!r}", "a list")
            return None
        kinds = (args[0],) * len(data) if args[1:] == (...,) else args
        if len(kinds) != len(data):
            self.slip(at, f"found {len(data)} entries", f"{len(kinds)} entries")
            return None
        pairs = enumerate(zip(kinds, data, strict=True))
        return tuple(self.value(kind, each, (*at, k)) for k, (kind, each) in pairs)

    def _mapping(self, args: tuple[Any, ...], data: Any, at: Place) -> dict[Any, Any]:
        out = {}
        for key, each in self.entries(data, at).items():
            if args[0] is int and not str(key).lstrip("-").isdecimal():
                self.slip((*at, key), f"found {key!r}", "a whole number")
                continue
            out[args[0](key)] = self.value(args[1], each, (*at, key))
        return out

    def _marked(self, base: Any, marks: tuple[Any, ...], data: Any, at: Place) -> Any:
        amount = next((m for m in marks if isinstance(m, Amount)), None)
        before = len(self.slips)
        found = self._amount(amount, data, at) if amount else self.value(base, data, at)
        for mark in marks if len(self.slips) == before else ():
            if isinstance(mark, OneOf) and found not in mark.words:
                self.slip(at, f"found {data!r}", "one of " + ", ".join(map(repr, mark.words)))
            if isinstance(mark, NoFewer) and len(found) < mark.size:  # type: ignore[arg-type]
                least = f"at least {mark.size} entries" if mark.size > 1 else "something"
                self.slip(at, f"found {data!r}", least)
        return found

    def _amount(self, mark: Amount, data: Any, at: Place) -> float | None:
        before = len(self.slips)
        value: float | None = None
        if mark.kind in ("number", "whole"):
            kind = float if mark.kind == "number" else int
            with contextlib.suppress(ValueError):
                data = kind(data) if isinstance(data, str) else data
            value = self._plain(kind, data, at)
        elif isinstance(data, bool) or not isinstance(data, str | int | float):
            example = '"16 mm"' if mark.kind == "length" else '"3 %"'
            self.slip(at, f"{data!r} is not a {mark.kind}", with_lengths(f"text such as {example}"))
        else:
            try:
                if mark.kind == "share":
                    return parse_fraction(data, least=mark.least or 0.0, most=mark.most or 1.0)
                value = parse_length(data, unit=self.unit)
            except BadInput as error:
                self.slip(at, error.what, error.expected)
        if value is None or len(self.slips) > before:
            return None
        if mark.over is not None and value <= mark.over:
            self.slip(at, f"found {data!r}", joined("more than ", _bound(mark, mark.over)))
        elif mark.least is not None and value < mark.least:
            self.slip(at, f"found {data!r}", joined("at least ", _bound(mark, mark.least)))
        elif mark.most is not None and value > mark.most:
            self.slip(at, f"found {data!r}", joined("at most ", _bound(mark, mark.most)))
        return value

    def _plain(self, kind: Any, data: Any, at: Place) -> Any:
        if kind not in PLAIN:
            return data
        if kind is float and isinstance(data, int) and not isinstance(data, bool):
            data = float(data)
        if type(data) is not kind or (kind is float and not math.isfinite(data)):
            self.slip(at, f"found {data!r}", PLAIN[kind])
            return None
        return data


@dataclass(frozen=True, slots=True, kw_only=True)
class Writing:
    """How values become plain data. unit: lengths are written as text in it.

    whole: every field is written; else those that are as they would be left out are not.
    """

    unit: Unit = Unit.mm
    shapes: Mapping[type, FileShape] = field(default_factory=dict)
    own: Mapping[Any, Own] = field(default_factory=dict)
    whole: bool = False

    def plain(self, kind: Any, value: Any) -> Any:  # noqa: PLR0911
        """Return the plain data that a value is read back from. Raises BadInput."""
        if value is None:
            return None
        if kind in self.own:
            return self.own[kind].write(value, self.unit)
        origin, args = get_origin(kind), get_args(kind)
        if origin is Annotated:
            return self._marked(args[0], args[1], value)
        if origin in (Union, UnionType):
            return self.plain(next(a for a in args if a is not NoneType), value)
        if origin is not None and issubclass(origin, Mapping):
            return {str(k): self.plain(args[1], v) for k, v in value.items()}
        if origin is tuple or (isinstance(kind, type) and issubclass(kind, tuple)):
            return self._row(args or tuple(types_of(kind).values()), value)
        return self.table(kind, value) if is_dataclass(kind) else value

    def _marked(self, base: Any, mark: Any, value: Any) -> Any:
        if isinstance(mark, Amount) and mark.kind == "length":
            return length_text(value, self.unit)
        if isinstance(mark, Amount) and mark.kind == "share":
            return share_text(value)
        return self.plain(base, value)

    def _row(self, args: tuple[Any, ...], value: Any) -> list[Any]:
        kinds = (args[0],) * len(value) if args[1:] == (...,) else args
        return [self.plain(kind, each) for kind, each in zip(kinds, value, strict=True)]

    def table(self, kind: Any, value: Any) -> dict[str, Any]:
        """Return the entries of a dataclass, in the order of its fields. Raises BadInput."""
        shape, types = self.shapes.get(kind, NOTHING), types_of(kind)
        out: dict[str, Any] = {}
        for f in fields(kind):
            each, own = getattr(value, f.name), shape.own.get(f.name)
            if f.name in shape.without:
                continue
            if f.name == shape.inside:
                out |= self.table(types[f.name], each)
            elif self.whole or f.name in shape.said or each != _left_out(f):
                out[shape.keys.get(f.name, f.name)] = (
                    own.write(each, self.unit) if own else self.plain(types[f.name], each)
                )
        return out


def _bound(mark: Amount, bound: float) -> Said:
    """Say the smallest or largest that a number may be."""
    if mark.kind == "length":
        return (bound,)
    return share_text(bound) if mark.kind == "share" else f"{bound:g}"


def _left_out(f: Field[Any]) -> Any:
    """Return what a field is when nothing is said of it; MISSING where something has to be."""
    return f.default if f.default_factory is MISSING else f.default_factory()
