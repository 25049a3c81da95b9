"""The usual order of importance of placing rules, for plans that are proposed.

Centre front, centre back, side, the front of the armhole, collar, shoulder, pocket, the back of the
armhole (docs/sources.md, which seams first). A border says which way its pieces lie, and comes
before all of them. What stands nowhere in it keeps its place behind.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields

from clothwright.rules.plan import PlacingRule

ARMHOLE = frozenset(("sleeve", "armhole", "armscye", "cap"))
NONE = frozenset[str]()
USUAL: tuple[tuple[int, frozenset[str], frozenset[str]], ...] = (
    (0, frozenset(("border",)), NONE),
    (7, frozenset(("pocket", "flap", "welt")), NONE),
    (5, frozenset(("collar",)), NONE),
    (1, frozenset(("front",)), frozenset(("centre", "center", "button", "fold"))),
    (2, frozenset(("back",)), frozenset(("centre", "center", "fold"))),
    (4, frozenset(("front",)), ARMHOLE),
    (8, frozenset(("back",)), ARMHOLE),
    (6, frozenset(("shoulder",)), NONE),
    (3, frozenset(("side",)), NONE),
)
"""How important a rule is with one word of each set among its names, as they are looked for."""
LAST = 9


def importance(rule: PlacingRule) -> int:
    """Return how soon a rule counts, from what its names say; 0 is the first.

    >>> from clothwright.rules.kinds.at_phase import AtPhase
    >>> importance(AtPhase(piece="front", point="centre front", across=0.0))
    1
    """
    said = {f.name: getattr(rule, f.name) for f in fields(rule)}
    words = {w for v in said.values() if isinstance(v, str) for w in v.lower().split()}
    words |= {"border"} if said.get("border") and "edge" in said else set()
    for rank, one, other in USUAL:
        if words & one and (not other or words & other):
            return rank
    return LAST


def in_order(rules: Iterable[PlacingRule]) -> tuple[PlacingRule, ...]:
    """Return rules in their usual order; those of one importance stay as they stand."""
    return tuple(sorted(rules, key=importance))
