"""The form of a placing rule: its fields, filled from the workbook, and how they are read."""

from __future__ import annotations

import zlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from clothwright.cloth.cloth import Cloth
from clothwright.pattern.pattern import Pattern
from clothwright.rules.kinds import RULES
from clothwright.rules.known import kind_of, said
from clothwright.rules.offers import Outfit
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.rule import Form, RuleKind
from clothwright.rules.stating import mistaken_rules, outfit_of
from clothwright.store.book.format import writing_in
from clothwright.units import Unit
from clothwright.units.params import declared
from clothwright.words import say, told
from clothwright.workroom.editing.asking import Asking, Field, bare
from clothwright.workroom.editing.offers import OFFERS


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


FORMS: tuple[tuple[RuleKind[Any], Form], ...] = tuple((k, f) for k in RULES for f in k.forms)
"""Every form a maker chooses from. Folds and pins have places of their own."""


def form_named(name: str) -> Form | None:
    """Return a form by its name, if there is one."""
    return next((f for _, f in FORMS if f.id == name), None)


def kind_of_form(form: Form) -> RuleKind[Any]:
    """Return the kind of rule that a form states."""
    return next(k for k, f in FORMS if f is form)


def asking(form: Form, src: Sources, rule: PlacingRule | None = None) -> Asking:
    """Return what a form asks for; with a rule, as it stands."""
    params = kind_of_form(form).params
    now = {} if rule is None else {name: getattr(rule, name) for name in declared(params)}
    sensible = tuple(
        ask
        for ask in form.asks
        if not ask.only
        or now.get(ask.name) is not None
        or any(c.print.repeat(ask.only) for c in src.outfit.cloths)
    )
    return Asking(params=params, asks=sensible, outfit=src.outfit, unit=src.unit, now=now)


def form_for(rule: PlacingRule, src: Sources) -> Form | None:
    """Return the form a rule is edited in, the most special one that says it; None without any."""

    def says(form: Form) -> bool:
        it = asking(form, src, rule)
        own = [a for a in it.asks if a.offer is not None and len(a.fills) > 1]
        return all(any(map(it.says, it.offered(a))) for a in own)

    return next((f for f in kind_of(rule).forms if says(f)), None)


def mark_of(rule: PlacingRule) -> str:
    """Return a short name of a rule, made from what it says."""
    return f"{zlib.crc32(repr(rule).encode()):08x}"


def why_not(form: Form, src: Sources) -> str:
    """Return why no rule can be stated in a form here, "" when one can."""
    cloths = src.outfit.cloths
    if form.repeats and not any(c.print.repeat(w) for c in cloths for w in ("along", "across")):
        return "no cloth has a print that repeats yet"
    it = asking(form, src)
    for ask in it.asks:
        offer = OFFERS.get(it.kind(ask))
        none = ask.none or (offer.none if offer else "")
        if none and it.must(ask) and not it.offered(ask):
            return none
    return ""


def fields_of(form: Form, src: Sources, rule: PlacingRule | None = None) -> tuple[Field, ...]:
    """Return the fields of a form; with a rule, as it stands."""
    return asking(form, src, rule).fields


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
    it = asking(form, src, rule)
    read = it.read(filled)
    wrong = dict(read.wrong)
    if form.least_one and all(read.values.get(name) is None for name in form.least_one):
        first = next((a.name for a in it.asks if a.name in form.least_one), it.asks[0].name)
        wrong.setdefault(first, form.lack)
    if wrong:
        return Read(wrong=wrong)
    made: PlacingRule = it.params(**read.values)
    wrong = _tried(made, it, src, rule)
    if wrong:
        return Read(wrong=wrong)
    entries = writing_in(src.unit).plain(PlacingRule, made)
    if rule is not None:
        entries = {**dict.fromkeys(declared(it.params)), **entries}
    return Read(rule=made, values=entries, words=say(said(made), src.unit))


def _tried(rule: PlacingRule, it: Asking, src: Sources, was: PlacingRule | None) -> dict[str, str]:
    """Return what these pieces and cloths do not have of what a rule names, beside each field."""
    others = [r for r in src.plan.rules if r not in (was, rule)]
    plan = Plan(name=src.plan.name, rules=(*others, rule))
    found = mistaken_rules(plan, src.pattern, src.cloths)
    out: dict[str, str] = {}
    for wrong in (w for m in found if m.number == len(plan.rules) for w in m.wrong):
        near = (a.name for a in it.asks if wrong.field in it.fills(a))
        out.setdefault(next(near, it.asks[0].name), told(bare(wrong.error), src.unit))
    return out
