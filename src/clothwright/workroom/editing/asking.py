"""The fields of a form made from what is declared of them, and a filled form read again.

A placing rule and a change both declare their fields with `param`; one maker stands over them.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import MISSING, dataclass, field
from typing import Any

from clothwright.errors import BadInput, ClothwrightError, Mistakes
from clothwright.rules.names import OF_PIECE, piece_field
from clothwright.rules.offers import Choice, Outfit
from clothwright.rules.rule import Ask
from clothwright.units import Unit, parse_length
from clothwright.units.kinds import Kind
from clothwright.units.params import Param, declared, read_fields
from clothwright.words import ref_name, say, show_fraction, show_length, told
from clothwright.words.exact import length_text
from clothwright.workroom.editing.offers import (
    OFFERS,
    TICKED,
    TYPED,
    levels_of_sizes,
    levels_said,
)

Option = tuple[str, str, bool]
"""What can be chosen: its key, its words, whether it is chosen."""
GONE = "(not offered now)"
"""Follows what is said already and cannot be chosen."""
OWN = Param(kind="", default=None)
"""What an ask of its own, which no field declares, goes by."""
Groups = tuple[tuple[str, tuple[Option, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One field as a page shows it. kind: as declared. groups: what can be chosen, under headings.

    value: what is typed, in her unit; on: whether a flag is set. must: it cannot be left empty.
    left_out: what holds when it is, in words. typed: it can be typed instead of chosen. parts: one
    list of choices for each of several names ("waist", "hip"), said together as one text.
    """

    name: str
    label: str
    kind: str
    help: str
    value: str
    on: bool
    groups: Groups
    must: bool
    left_out: str
    typed: bool
    parts: Groups

    @property
    def unsaid(self) -> str:
        """What a list begins with while nothing of it is chosen; "" when that cannot be."""
        options = [on for _, group in self.groups for _, _, on in group]
        if self.must:
            return "choose …" if len(options) > 1 and not any(options) else ""
        return "" if self.kind == "choice" else "–"


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """What a filled form says. values: of the declared fields (lengths in mm).

    said: what differs from before as a workbook holds it, None for what is left out now.
    wrong: a sentence for each field that cannot be used.
    """

    values: Mapping[str, Any]
    said: Mapping[str, object]
    wrong: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class FromForm:
    """What a form became: an edit, or a sentence for each field. form: its name."""

    edit: Mapping[str, Any] = field(default_factory=dict)
    wrong: Mapping[str, str] = field(default_factory=dict)
    form: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asking:
    """What a form asks for: some fields of a declared dataclass, chosen from what there is.

    now: what is said already (lengths in mm), empty in a new form. gone: names in it that are there
    no more.
    """

    params: type[Any]
    asks: Sequence[Ask]
    outfit: Outfit
    unit: Unit
    now: Mapping[str, object] = field(default_factory=dict)
    gone: Collection[str] = ()

    @property
    def fields(self) -> tuple[Field, ...]:
        """The fields as a page shows them."""
        return tuple(self._field(ask) for ask in self.asks)

    def kind(self, ask: Ask) -> Kind:
        """Return the declared kind of field that an ask is for; "" for an ask of its own."""
        return self._declared(ask).kind

    def must(self, ask: Ask) -> bool:
        """Tell whether an ask cannot be left empty."""
        return ask.must or self._declared(ask).default is MISSING

    def fills(self, ask: Ask) -> tuple[str, ...]:
        """Return the declared fields that an ask is about."""
        name = ask.field or ask.name
        with_piece = (piece_field(name), name) if self.kind(ask) in OF_PIECE else (name,)
        return ask.fills or with_piece

    def offered(self, ask: Ask) -> tuple[Choice, ...]:
        """Return what an ask is chosen from, nothing where it is typed only."""
        kind, name = self.kind(ask), ask.field or ask.name
        if ask.offer is not None:
            return tuple(ask.offer(self.outfit))
        if kind in OFFERS:
            return tuple(OFFERS[kind].choices(self.outfit, name))
        said = self._declared(ask).choices.items()
        return tuple(Choice(key=key, words=(words,), values={name: key}) for key, words in said)

    def says(self, choice: Choice) -> bool:
        """Tell whether what is said already, or left as usual, is what a choice stands for."""
        return all(
            value in now if isinstance(now := self._now(name), tuple) else now == value
            for name, value in choice.values.items()
        )

    def _declared(self, ask: Ask) -> Param:
        return declared(self.params).get(ask.field or ask.name, OWN)

    def _now(self, name: str) -> object:
        return self.now.get(name, declared(self.params)[name].default)

    # --- shown ------------------------------------------------------------------------------------

    def _field(self, ask: Ask) -> Field:
        it = self._declared(ask)
        kind, usual = it.kind, it.default
        name, must = ask.field or ask.name, self.must(ask)
        now = self.now.get(name, usual)
        known = self._choices(ask)
        value = "" if now == usual or (known and kind not in TYPED) else _text(now, kind, self.unit)
        parts, value = self._parts(known, value) if kind == "sizes" else ((), value)
        if kind in TYPED and any(c.key == value for c in known):
            value = ""
        groups: dict[str, list[Option]] = {}
        for c in () if parts else known:
            group = "" if kind in TICKED else c.group
            on = self.says(c)
            groups.setdefault(group, []).append((c.key, say(c.words, self.unit), on))
        return Field(
            name=ask.name,
            label=ask.label or it.label,
            kind=kind,
            help=ask.help or it.help,
            value=value,
            on=now is True,
            groups=tuple((g, tuple(found)) for g, found in groups.items()),
            must=must,
            left_out=said_value(usual, it, self.unit),
            typed=kind in TYPED and bool(known),
            parts=parts,
        )

    def _choices(self, ask: Ask) -> tuple[Choice, ...]:
        """Return what is offered; what is said and not there (any more) stays to be seen."""
        known, kind = self.offered(ask), self.kind(ask)
        if kind in TICKED:
            keys, name = {c.key for c in known}, ask.name
            now = self.now.get(name) or ()
            more = (n for n in now if n not in keys)  # type: ignore[attr-defined]
            said = ((n, f"{ref_name(n)} {GONE}" if n in self.gone else ref_name(n)) for n in more)
            return (*known, *(Choice(key=n, words=(w,), values={name: n}) for n, w in said))
        values = {n: self.now.get(n) for n in self.fills(ask)}
        if not known or kind in TYPED or not all(values.values()) or any(map(self.says, known)):
            return known
        key = ", ".join(str(v) for v in values.values())
        words = ", ".join(ref_name(str(v)) for v in values.values())
        return (*known, Choice(key=key, words=(f"{words} {GONE}",), values=values))

    def _parts(self, known: Sequence[Choice], text: str) -> tuple[Groups, str]:
        """Return a size to choose at each level, and the text when it says more than that."""
        names, said = levels_of_sizes(self.outfit.pattern), levels_said(text)
        keys = {c.key for c in known}
        fits = set(said) <= set(names) and set(said.values()) <= keys
        fits = fits and len(said) == len([part for part in text.split(",") if part.strip()])
        groups = tuple(
            (
                n,
                tuple(
                    (c.key, say(c.words, self.unit), said.get(n) == c.key and fits) for c in known
                ),
            )
            for n in names
        )
        return groups, "" if fits and names else text

    # --- read -------------------------------------------------------------------------------------

    def read(self, filled: Mapping[str, str]) -> Filled:
        """Return what a filled form says, or what is wrong with its fields."""
        values: dict[str, Any] = {}
        said: dict[str, object] = {}
        wrong: dict[str, str] = {}
        for ask in self.asks:
            try:
                found = self._read(ask, filled)
            except ClothwrightError as error:
                wrong[ask.name] = told(bare(error), self.unit)
                continue
            for name, (value, text) in found.items():
                values[name] = value
                if value != self._now(name):
                    usual = value == declared(self.params)[name].default
                    said[name] = None if usual else text
        return Filled(values=values, said=said, wrong=wrong)

    def _read(self, ask: Ask, filled: Mapping[str, str]) -> dict[str, tuple[Any, object]]:
        """Return each declared field that an ask fills: its value, and the text that says it."""
        kind, name = self.kind(ask), ask.field or ask.name
        if kind == "flag":
            on = bool(filled.get(ask.name))
            return {name: (on, on)}
        known = self._choices(ask)
        if kind in TICKED and known:
            ticked = {v for k, v in filled.items() if k.removeprefix(ask.name).isdigit()}
            keys = tuple(c.key for c in known if c.key in ticked)
            if not keys and self.must(ask):
                raise BadInput(what="nothing is ticked yet", expected="one or more of the list")
            return {name: (keys, list(keys))}
        text = self._typed(ask, filled)
        chosen = next((c for c in known if c.key == text), None)
        if chosen is not None:
            return {n: (v, v) for n, v in chosen.values.items()}
        if not text:
            return self._nothing(ask, listed=bool(known) or ask.offer is not None)
        if known and kind not in TYPED:
            raise BadInput(what=f'"{text}" is not offered', expected="one of the list")
        values, wrong = read_fields(self.params, {name: text}, unit=self.unit)
        for each in wrong:
            if each.field == name:
                raise each.error
        if ask.least is not None:
            parse_length(text, unit=self.unit, least_mm=ask.least)
        return {name: (values[name], text)}

    def _nothing(self, ask: Ask, *, listed: bool) -> dict[str, tuple[Any, object]]:
        """Return the usual values of what is left empty. Raises BadInput for what must be said."""
        if not self.must(ask):
            fields = declared(self.params)
            return {n: (fields[n].default, None) for n in self.fills(ask)}
        if listed:
            raise BadInput(what="nothing is chosen yet", expected="one of the list")
        raise BadInput(what="nothing is typed yet", expected=self._declared(ask).wanted)

    def _typed(self, ask: Ask, filled: Mapping[str, str]) -> str:
        """Return what a field says as one text; what is typed counts before what is chosen."""
        typed = filled.get(f"{ask.name}-typed", "").strip() or filled.get(ask.name, "").strip()
        if typed or self.kind(ask) != "sizes":
            return typed
        levels = enumerate(levels_of_sizes(self.outfit.pattern))
        said = ((level, filled.get(f"{ask.name}-{n}", "").strip()) for n, level in levels)
        return ", ".join(f"{level} {size}" for level, size in said if size)


def _text(value: Any, kind: Kind, unit: Unit) -> str:
    """Return a value as it is typed."""
    if kind == "length" and isinstance(value, float):
        return length_text(value, unit)
    if kind == "share" and isinstance(value, float):
        return show_fraction(value)
    if isinstance(value, tuple):
        return ", ".join(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else f"{value:g}" if isinstance(value, float) else str(value)


def said_value(value: Any, it: Param, unit: Unit) -> str:
    """Return a declared field's value as a maker reads it, "" for nothing."""
    kind = it.kind
    if kind == "choice":
        return it.choices.get(value, "")
    if value in (None, "", (), MISSING) or (kind in ("length", "angle") and value == 0.0):
        return ""
    if isinstance(value, tuple):
        return "; ".join(ref_name(v) for v in value)
    if kind == "length" and isinstance(value, float):
        return show_length(value, unit)
    if kind in ("edge", "point", "place", "dart"):
        return ref_name(value)
    return _text(value, kind, unit)


def bare(error: ClothwrightError) -> ClothwrightError:
    """Return a mistake without its place: it is shown beside the field."""
    one = error.mistakes[0] if isinstance(error, Mistakes) else error
    if not isinstance(one, BadInput):
        return one
    return BadInput(what=one.what, expected=one.expected, try_=one.try_)
