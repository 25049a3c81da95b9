"""The form of a placing rule: its fields, filled from the workbook, and how they are read."""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, dataclass, field
from typing import Any

from clothwright.cloth.cloth import Cloth
from clothwright.errors import BadInput, ClothwrightError, Mistakes
from clothwright.pattern.pattern import Pattern
from clothwright.rules import RULES
from clothwright.rules.kinds import entries_of, kind_of, said
from clothwright.rules.names import OF_PIECE, piece_field
from clothwright.rules.offers import OFFERS, Choice, Outfit
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.rule import Ask, Form, Rule
from clothwright.rules.stating import mistaken_rules, outfit_of
from clothwright.units import Unit, parse_length
from clothwright.units.params import declared, read_fields
from clothwright.words import say, told
from clothwright.words.exact import length_text


@dataclass(frozen=True, slots=True, kw_only=True)
class Sources:
    """What the rules of a plan are stated with: pieces as changed, cloths, her unit, the plan."""

    pattern: Pattern
    cloths: tuple[Cloth, ...]
    unit: Unit
    plan: Plan
    outfit: Outfit = field(init=False)

    def __post_init__(self) -> None:
        """Gather what can be named."""
        outfit = outfit_of(self.pattern, self.cloths, self.plan)
        object.__setattr__(self, "outfit", outfit)


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleField:
    """One field as the page shows it. groups: what can be chosen, (heading, (key, words, on)).

    what: "choice", "pieces" (ticked), "length", "angle" or "flag". value: as text in her unit.
    """

    name: str
    label: str
    what: str
    help: str
    must: bool
    value: str
    on: bool
    groups: tuple[tuple[str, tuple[tuple[str, str, bool], ...]], ...]


FORMS: tuple[tuple[Rule[Any], Form], ...] = tuple((k, f) for k in RULES for f in k.forms)
"""Every form a maker chooses from. Folds and pins have places of their own."""


def form_named(name: str) -> Form | None:
    """Return a form by its name, if there is one."""
    return next((f for _, f in FORMS if f.id == name), None)


def kind_of_form(form: Form) -> Rule[Any]:
    """Return the kind of rule that a form states."""
    return next(k for k, f in FORMS if f is form)


def form_for(rule: PlacingRule, src: Sources) -> Form | None:
    """Return the form a rule is edited in, the most special one that says it; None without any."""
    kind = kind_of(rule)

    def says(form: Form) -> bool:
        own = [a for a in form.asks if a.offer is not None and len(a.fills) > 1]
        return all(any(_is(rule, c) for c in _offered(kind, a, src)) for a in own)

    return next((f for f in kind.forms if says(f)), None)


def mark_of(rule: PlacingRule) -> str:
    """Return a short name of a rule, made from what it says."""
    return f"{zlib.crc32(repr(rule).encode()):08x}"


def why_not(form: Form, src: Sources) -> str:
    """Return why no rule can be stated in a form here, "" when one can."""
    cloths = src.outfit.cloths
    if form.repeats and not any(c.print.repeat(w) for c in cloths for w in ("along", "across")):
        return "no cloth has a print that repeats yet"
    kind = kind_of_form(form)
    for ask in form.asks:
        none = ask.none or (OFFERS[what].none if (what := _what(kind, ask)) in OFFERS else "")
        if none and _must(kind, ask) and next(_offered(kind, ask, src), None) is None:
            return none
    return ""


# --- what an ask is -------------------------------------------------------------------------------


def _meta(kind: Rule[Any], ask: Ask) -> Mapping[str, Any]:
    """Return what is declared of the field an ask is for; nothing for an ask of its own."""
    found = declared(kind.params).get(ask.field or ask.name)
    return {} if found is None else found.metadata


def _what(kind: Rule[Any], ask: Ask) -> str:
    return str(_meta(kind, ask).get("kind", ""))


def _must(kind: Rule[Any], ask: Ask) -> bool:
    found = declared(kind.params).get(ask.field or ask.name)
    if found is None or ask.must:
        return ask.must
    return found.default is MISSING or found.metadata["kind"] == "choice"


def _offered(kind: Rule[Any], ask: Ask, src: Sources) -> Iterator[Choice]:
    """Yield what an ask is chosen from, nothing where it is not chosen from a list."""
    what, name = _what(kind, ask), ask.field or ask.name
    if ask.offer is not None:
        yield from ask.offer(src.outfit)
    elif what in OFFERS:
        yield from OFFERS[what].choices(src.outfit, piece_field(name).removeprefix("piece"))
    elif what == "choice":
        for key, words in dict(_meta(kind, ask)["choices"]).items():
            yield Choice(key=key, words=(words,), values={name: key})


def _is_list(kind: Rule[Any], ask: Ask) -> bool:
    return ask.offer is not None or _what(kind, ask) in (*OFFERS, "choice")


def _fills(kind: Rule[Any], ask: Ask) -> tuple[str, ...]:
    """Return the fields of the rule that an ask is about."""
    name = ask.field or ask.name
    if ask.fills or _what(kind, ask) not in OF_PIECE:
        return ask.fills or (name,)
    return (piece_field(name), name)


# --- shown ----------------------------------------------------------------------------------------


def fields_of(form: Form, src: Sources, rule: PlacingRule | None = None) -> tuple[RuleField, ...]:
    """Return the fields of a form; with a rule, as it stands."""
    kind = kind_of_form(form)
    return tuple(_field(kind, ask, src, rule) for ask in _sensible(form, src, rule))


def _sensible(form: Form, src: Sources, rule: PlacingRule | None) -> Iterator[Ask]:
    for ask in form.asks:
        stated = rule is not None and getattr(rule, ask.name, None) is not None
        if not ask.only or stated or any(c.print.repeat(ask.only) for c in src.outfit.cloths):
            yield ask


def _field(kind: Rule[Any], ask: Ask, src: Sources, rule: PlacingRule | None) -> RuleField:
    value, on = "", False
    what, must = _what(kind, ask), _must(kind, ask)
    now = None if rule is None else getattr(rule, ask.name, None)
    if what == "length" and isinstance(now, float) and (now or ask.only):
        value = length_text(now, src.unit)
    elif what == "angle" and now:
        value = f"{now:g}"
    elif what == "flag":
        on = bool(now)
    groups: dict[str, list[tuple[str, str, bool]]] = {}
    for c in _choices(kind, ask, src, rule):
        words = say(c.words, src.unit)
        groups.setdefault(c.group, []).append((c.key, words, rule is not None and _is(rule, c)))
    meta = _meta(kind, ask)
    return RuleField(
        name=ask.name,
        label=ask.label or str(meta.get("label", "")),
        what="choice" if _is_list(kind, ask) else what,
        help=ask.help or ("" if must or ask.only else str(meta.get("help", ""))),
        must=must,
        value=value,
        on=on,
        groups=tuple((g, tuple(found)) for g, found in groups.items()),
    )


def _choices(
    kind: Rule[Any], ask: Ask, src: Sources, rule: PlacingRule | None
) -> tuple[Choice, ...]:
    """Return what can be chosen; what a rule names and is not there (any more) stays to be seen."""
    if _what(kind, ask) == "pieces":
        return _ticks(src, rule)
    known = tuple(_offered(kind, ask, src))
    if rule is None or not _is_list(kind, ask) or any(_is(rule, c) for c in known):
        return known
    values = {n: getattr(rule, n) for n in _fills(kind, ask)}
    words = ", ".join(str(v) for v in values.values())
    return (*known, Choice(key=words, words=(f"{words} (not offered now)",), values=values))


def _ticks(src: Sources, rule: PlacingRule | None) -> tuple[Choice, ...]:
    ticked = getattr(rule, "pieces", ())
    names = dict.fromkeys((*(p.name for p in src.outfit.laid), *ticked))
    return tuple(Choice(key=n, words=(n,), values={"pieces": n}) for n in names)


def _is(rule: PlacingRule, choice: Choice) -> bool:
    """Tell whether a rule says what a choice stands for."""
    if "pieces" in choice.values:
        return choice.key in getattr(rule, "pieces", ())
    return all(getattr(rule, name, None) == value for name, value in choice.values.items())


# --- read -----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """What a form says. rule: None when something is wrong; wrong: a sentence for each field.

    values: the entries of the edit that makes the rule; words: the rule in words.
    """

    rule: PlacingRule | None = None
    values: Mapping[str, object] = field(default_factory=dict)
    wrong: Mapping[str, str] = field(default_factory=dict)
    words: str = ""


def read_form(
    form: Form, filled: Mapping[str, str], src: Sources, rule: PlacingRule | None = None
) -> Read:
    """Return the rule that a filled form describes, or what is wrong with its fields.

    rule: the one that is edited. The rule is tried on the pieces and cloths as they are now.
    """
    kind = kind_of_form(form)
    values: dict[str, object] = {}
    wrong: dict[str, str] = {}
    asks = tuple(_sensible(form, src, rule))
    for ask in asks:
        try:
            values.update(_read(kind, ask, filled, src, rule))
        except ClothwrightError as error:
            wrong[ask.name] = told(bare(error), src.unit)
    if form.least_one and all(values.get(name) is None for name in form.least_one):
        first = next((a.name for a in asks if a.name in form.least_one), asks[0].name)
        wrong.setdefault(first, form.lack)
    if wrong:
        return Read(wrong=wrong)
    made: PlacingRule = kind.params(**{k: v for k, v in values.items() if v is not None})
    wrong = _tried(made, form, src, rule)
    if wrong:
        return Read(wrong=wrong)
    entries = entries_of(made, lambda mm: length_text(mm, src.unit))
    if rule is not None:
        entries = {**dict.fromkeys(declared(kind.params)), **entries}
    return Read(rule=made, values=entries, words=say(said(made), src.unit))


def _read(
    kind: Rule[Any], ask: Ask, filled: Mapping[str, str], src: Sources, rule: PlacingRule | None
) -> Mapping[str, object]:
    text, what = filled.get(ask.name, "").strip(), _what(kind, ask)
    if what == "flag":
        return {ask.name: bool(text)}
    if what == "pieces":
        ticked = [v for k, v in filled.items() if k.startswith("pieces")]
        return {"pieces": tuple(c.key for c in _ticks(src, rule) if c.key in ticked)}
    if _is_list(kind, ask):
        return _chosen(text, _must(kind, ask), _choices(kind, ask, src, rule))
    if not text:
        return {ask.name: None}
    values, wrong = read_fields(kind.params, {ask.name: text}, unit=src.unit)
    mine = [w.error for w in wrong if w.field == ask.name]
    if mine:
        raise mine[0]
    if ask.least is not None:
        parse_length(text, unit=src.unit, least_mm=ask.least)
    return values


def _chosen(text: str, must: bool, known: tuple[Choice, ...]) -> Mapping[str, object]:
    for choice in known:
        if choice.key == text:
            return choice.values
    if not text and not must:
        return {}
    what = f'"{text}" is not offered' if text else "nothing is chosen yet"
    raise BadInput(what=what, expected="one of the list")


def _tried(rule: PlacingRule, form: Form, src: Sources, was: PlacingRule | None) -> dict[str, str]:
    """Return what these pieces and cloths do not have of what a rule names, beside each field."""
    others = [r for r in src.plan.rules if r not in (was, rule)]
    plan = Plan(name=src.plan.name, rules=(*others, rule))
    found = mistaken_rules(plan, src.pattern, src.cloths)
    kind = kind_of_form(form)
    out: dict[str, str] = {}
    for wrong in (w for m in found if m.number == len(plan.rules) for w in m.wrong):
        near = (a.name for a in form.asks if wrong.field in _fills(kind, a))
        out.setdefault(next(near, form.asks[0].name), told(bare(wrong.error), src.unit))
    return out


def bare(error: ClothwrightError) -> ClothwrightError:
    """Return a mistake without its place: it is shown beside the field."""
    one = error.mistakes[0] if isinstance(error, Mistakes) else error
    if not isinstance(one, BadInput):
        return one
    return BadInput(what=one.what, expected=one.expected, try_=one.try_)
