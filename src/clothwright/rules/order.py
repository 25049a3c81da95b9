"""The usual order of importance of what is asked of a print, for plans that are proposed.

A border says which way its pieces lie, and comes before everything. Then centre front, centre back,
side, the front of the armhole, collar, shoulder, pocket, the back of the armhole (docs/sources.md,
which seams first).
"""

from __future__ import annotations

from dataclasses import fields

from clothwright.rules.plan import PlacingRule

(
    BORDER,
    CENTRE_FRONT,
    CENTRE_BACK,
    SIDE,
    FRONT_ARMHOLE,
    COLLAR,
    SHOULDER,
    POCKET,
    BACK_ARMHOLE,
    LAST,
) = range(10)
"""What is looked at first has the least; what is nowhere in the order comes last."""
ARMHOLES = frozenset(("sleeve", "armhole", "armscye", "cap"))
NONE = frozenset[str]()
USUAL: tuple[tuple[int, frozenset[str], frozenset[str]], ...] = (
    (BORDER, frozenset(("border",)), NONE),
    (POCKET, frozenset(("pocket", "flap", "welt")), NONE),
    (COLLAR, frozenset(("collar",)), NONE),
    (CENTRE_FRONT, frozenset(("front",)), frozenset(("centre", "center", "button", "fold"))),
    (CENTRE_BACK, frozenset(("back",)), frozenset(("centre", "center", "fold"))),
    (FRONT_ARMHOLE, frozenset(("front",)), ARMHOLES),
    (BACK_ARMHOLE, frozenset(("back",)), ARMHOLES),
    (SHOULDER, frozenset(("shoulder",)), NONE),
    (SIDE, frozenset(("side",)), NONE),
)
"""How important a rule is with one word of each set among its names, as they are looked for."""


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
