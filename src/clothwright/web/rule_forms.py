"""The form of a placing rule: its fields, filled from the workbook, and how they are read."""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from clothwright.cloth.plan import CutFrom, OnBorder, OnGrain, PlacingRule
from clothwright.errors import BadInput, ClothwrightError, Mistakes
from clothwright.lay.compile import compile_lay
from clothwright.store.book.parts import rule_values, rule_with
from clothwright.store.book.plain import length_text
from clothwright.units import parse_angle_deg, parse_length
from clothwright.web.rule_choices import CHOICES, NONE, Choice, Sources
from clothwright.web.rule_kinds import Ask, Kind, kind_of
from clothwright.web.rule_words import rule_words


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleField:
    """One field as the page shows it. groups: what can be chosen, (heading, (key, words, on))."""

    name: str
    label: str
    what: str
    help: str
    must: bool
    value: str
    on: bool
    groups: tuple[tuple[str, tuple[tuple[str, str, bool], ...]], ...]


def kind_for(rule: PlacingRule, src: Sources) -> Kind | None:
    """Return the kind a rule is edited as; None for folds and pins."""
    values = rule_values(rule, src.unit)
    if values["kind"] == "meets":
        across = any(_is(rule, c) for c in CHOICES["seam point"](src))
        return kind_of("meets-seam" if across else "meets")
    return kind_of(str(values["kind"]))


def mark_of(rule: PlacingRule) -> str:
    """Return a short name of a rule, made from what it says."""
    return f"{zlib.crc32(repr(rule).encode()):08x}"


def why_not(kind: Kind, src: Sources) -> str:
    """Return why no rule of a kind can be made here, "" when one can."""
    if kind.repeats and not any(c.print.repeat(w) for c in src.cloths for w in ("along", "across")):
        return "no cloth has a print that repeats yet"
    for ask in kind.asks:
        if ask.must and ask.what in NONE and next(iter(CHOICES[ask.what](src)), None) is None:
            return NONE[ask.what]
    return ""


# --- shown ----------------------------------------------------------------------------------------


def fields_of(kind: Kind, src: Sources, rule: PlacingRule | None = None) -> tuple[RuleField, ...]:
    """Return the fields of a kind; with a rule, as it stands."""
    return tuple(_field(ask, src, rule) for ask in kind.asks if _makes_sense(ask, src, rule))


def _makes_sense(ask: Ask, src: Sources, rule: PlacingRule | None) -> bool:
    said = rule is not None and getattr(rule, ask.name, None) is not None
    return not ask.only or said or any(c.print.repeat(ask.only) for c in src.cloths)


def _field(ask: Ask, src: Sources, rule: PlacingRule | None) -> RuleField:
    value, on = "", False
    now = None if rule is None else getattr(rule, ask.name, None)
    if ask.what == "length" and isinstance(now, float) and (now or ask.only):
        value = length_text(now, src.unit)
    elif ask.what == "angle" and now:
        value = f"{now:g}"
    elif ask.what == "flag":
        on = bool(now)
    known = _choices(ask, src, rule)
    groups: dict[str, list[tuple[str, str, bool]]] = {}
    for c in known:
        groups.setdefault(c.group, []).append((c.key, c.words, rule is not None and _is(rule, c)))
    return RuleField(
        name=ask.name,
        label=ask.label,
        what="choice" if ask.what in CHOICES else ask.what,
        help=ask.help,
        must=ask.must,
        value=value,
        on=on,
        groups=tuple((g, tuple(found)) for g, found in groups.items()),
    )


def _choices(ask: Ask, src: Sources, rule: PlacingRule | None) -> tuple[Choice, ...]:
    """Return what can be chosen; what a rule names and is not there (any more) stays to be seen."""
    if ask.what == "pieces":
        return _ticks(src, rule)
    if ask.what not in CHOICES:
        return ()
    known = tuple(CHOICES[ask.what](src))
    if rule is None or any(_is(rule, c) for c in known):
        return known
    names = known[0].values if known else {}
    values = {n: getattr(rule, n) for n in names if hasattr(rule, n)}
    if not values:
        return known
    words = ", ".join(str(v) for v in values.values())
    return (*known, Choice(key=words, words=f"{words} (not offered now)", values=values))


def _ticks(src: Sources, rule: PlacingRule | None) -> tuple[Choice, ...]:
    ticked = getattr(rule, "pieces", ())
    names = dict.fromkeys((*(p.name for p in src.laid), *ticked))
    return tuple(Choice(key=n, words=n, values={"pieces": n}) for n in names)


def _is(rule: PlacingRule, choice: Choice) -> bool:
    """Tell whether a rule says what a choice stands for."""
    if "pieces" in choice.values:
        return choice.key in getattr(rule, "pieces", ())
    return all(getattr(rule, name, None) == value for name, value in choice.values.items())


# --- read -----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """What a form says. wrong: a sentence for each field that cannot be used; words: the rule."""

    values: Mapping[str, object]
    wrong: Mapping[str, str]
    words: str = ""


def read_form(
    kind: Kind, form: Mapping[str, str], src: Sources, rule: PlacingRule | None = None
) -> Read:
    """Return the entries of the rule that a form describes, or what is wrong with its fields.

    rule: the one that is edited. The rule is tried on the pieces and cloths as they are now.
    """
    values: dict[str, object] = {"kind": kind.rule}
    wrong: dict[str, str] = {}
    for ask in (a for a in kind.asks if _makes_sense(a, src, rule)):
        try:
            values.update(_read(ask, form, src, rule))
        except BadInput as error:
            wrong[ask.name] = str(error)
    if kind.id == "at-phase" and values.get("along") is None and values.get("across") is None:
        first = next((a.name for a in kind.asks if a.only and _makes_sense(a, src, rule)), "point")
        wrong.setdefault(first, "Say how far into the repeat the point lies, along or across.")
    if wrong:
        return Read(values=values, wrong=wrong)
    try:
        made = rule_with(rule, values, unit=src.unit, where="")
        _try(made, src, rule)
    except ClothwrightError as error:
        return Read(values=values, wrong=dict(_told(error, kind)))
    return Read(values=values, wrong={}, words=rule_words(made, src.unit))


def _read(
    ask: Ask, form: Mapping[str, str], src: Sources, rule: PlacingRule | None
) -> Mapping[str, object]:
    text = form.get(ask.name, "").strip()
    if ask.what == "flag":
        return {ask.name: bool(text)}
    if ask.what == "pieces":
        ticked = [v for k, v in form.items() if k.startswith("pieces")]
        return {"pieces": [c.key for c in _ticks(src, rule) if c.key in ticked]}
    if ask.what in CHOICES:
        return _chosen(ask, text, _choices(ask, src, rule))
    if not text:
        return {ask.name: None}
    if ask.what == "angle":
        return {ask.name: parse_angle_deg(text)}
    parse_length(text, unit=src.unit, least_mm=0.0 if ask.name == "by" else None)
    return {ask.name: text}


def _chosen(ask: Ask, text: str, known: tuple[Choice, ...]) -> Mapping[str, object]:
    for choice in known:
        if choice.key == text:
            return choice.values
    if not text and not ask.must:
        return {}
    what = f'"{text}" is not offered' if text else "nothing is chosen yet"
    raise BadInput(what=what, expected="one of the list")


HOW = (CutFrom, OnBorder, OnGrain)
"""Rules that say how a piece lies, or on what; what others ask depends on them."""


def _try(rule: PlacingRule, src: Sources, was: PlacingRule | None) -> None:
    """Raise BadInput when a rule names what these pieces and cloths do not have."""
    others = [r for r in src.plan.rules if isinstance(r, HOW) and r not in (was, rule)]
    if isinstance(rule, CutFrom):
        cut = (rule.piece, rule.material)
        others = [
            r for r in others if not (isinstance(r, CutFrom) and (r.piece, r.material) == cut)
        ]

    def compiled(*rules: PlacingRule) -> None:
        compile_lay(src.pattern, src.cloths, replace(src.plan, rules=rules))

    try:
        compiled(*others)
    except ClothwrightError:  # another rule is wrong; this one is looked at alone
        others = []
    compiled(*others, rule)


HINTS = (
    ("tilt", "tilt_deg"),
    ("repeat along", "along"),
    ("repeat across", "across"),
    ("mirror axis", "way"),
    ("border", "border"),
    ("figure", "figure"),
    ("repeat", "match"),
)
"""Words of a mistake, and the field it is about."""


def _told(error: ClothwrightError, kind: Kind) -> Iterator[tuple[str, str]]:
    """Yield each mistake with the field it is shown beside: the one it names, else the first."""
    names = {a.name for a in kind.asks}
    for one in error.mistakes if isinstance(error, Mistakes) else (error,):
        said = str(one)
        near = next((n for hint, n in HINTS if hint in said and n in names), kind.asks[0].name)
        if isinstance(one, BadInput):
            said = str(BadInput(what=one.what, expected=one.expected, try_=one.try_))
        yield near, said
