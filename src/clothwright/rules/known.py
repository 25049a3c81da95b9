"""The kinds of placing rules by name and by rule; a rule as plain entries, and read from them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from clothwright.errors import BadInput, Sentence, not_known
from clothwright.rules.kinds import RULES
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import RuleKind
from clothwright.units import Unit
from clothwright.units.params import Wrong, declared, read_fields

KIND = "kind"
"""The entry that names the kind."""


def kind_named(name: str) -> RuleKind[Any]:
    """Return a kind of placing rule by its id. Raises BadInput with the nearest known one."""
    for kind in RULES:
        if kind.id == name:
            return kind
    raise not_known(f'there is no placing rule "{name}"', name, [k.id for k in RULES])


def kind_of(rule: PlacingRule) -> RuleKind[Any]:
    """Return the kind of a rule. Raises BadInput for a rule of no known kind."""
    for kind in RULES:
        if type(rule) is kind.params:
            return kind
    return kind_named(type(rule).__name__)


def said(rule: PlacingRule) -> Sentence:
    """Return what a rule asks, as a sentence without its full stop (floats are mm)."""
    return kind_of(rule).said(rule)


def contradict(a: PlacingRule, b: PlacingRule) -> bool:
    """Tell whether two rules cannot both hold, whatever the pieces and the cloth."""
    kind = kind_of(a)
    return kind is kind_of(b) and kind.against is not None and kind.against(a, b)


def entries_of(rule: PlacingRule, say: Callable[[float], str]) -> dict[str, Any]:
    """Return a rule as plain entries for a file: its kind, and every field that is not as usual.

    say: a length (mm) as text.
    """
    out: dict[str, Any] = {KIND: kind_of(rule).id}
    for name, f in declared(rule).items():
        value = getattr(rule, name)
        if value == f.default:
            continue
        if isinstance(value, tuple):
            value = list(value)
        elif f.metadata["kind"] == "length":
            value = say(float(value))
        out[name] = value
    return out


def read_rule(raw: Mapping[str, object], *, unit: Unit) -> tuple[PlacingRule | None, list[Wrong]]:
    """Return the rule that plain entries describe, or None with everything that is wrong in them.

    Bare numbers and texts without a unit count in `unit`.
    """
    try:
        kind = kind_named(str(raw.get(KIND, "")))
    except BadInput as error:
        return None, [Wrong(KIND, error)]
    others = {k: v for k, v in raw.items() if k != KIND}
    values, wrong = read_fields(kind.params, others, unit=unit)
    return (None if wrong else kind.params(**values)), list(wrong)
