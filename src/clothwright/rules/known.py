"""The kinds of placing rules by name and by rule; a rule read from plain entries."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from clothwright.cloth.prints import Border
from clothwright.errors import BadInput, Sentence, not_known
from clothwright.rules.kinds import RULES
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import RuleKind, Stance
from clothwright.units import Unit
from clothwright.units.params import Wrong, read_fields

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


def contradict(a: PlacingRule, b: PlacingRule, borders: Iterable[Border] = ()) -> bool:
    """Tell whether two rules cannot both hold, whatever the pieces, where there are these borders.

    An edge above a border, or below it, leaves its piece off it.
    """
    kind = kind_of(a)
    if kind is kind_of(b):
        return kind.against is not None and kind.against(a, b)
    one, other = stance(a), stance(b)
    if one is None or other is None or one[:2] != other[:2]:
        return False
    ways = {one.way: one.at, other.way: other.at}
    if set(ways) != {"off", "on"}:
        return set(ways) == {"off", "into"}
    heights = [b.height for b in borders if b.name == one.border]
    return any(-ways["off"] <= ways["on"] < height + ways["off"] for height in heights)


def stance(rule: PlacingRule) -> Stance | None:
    """Return how a piece is to a border by a rule; None when it says nothing of one."""
    found = kind_of(rule).stance
    return None if found is None else found(rule)


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
