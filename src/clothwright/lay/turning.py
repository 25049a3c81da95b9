"""Which shapes are turned together, and how the turn of each follows from that of its set."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from clothwright.geometry.vec import turn_apart
from clothwright.lay.problem import Rule, SameTurn

SAME_DEG = 1e-6


class Follows(NamedTuple):
    """How the turn of a shape follows from another: sign * turn + by_deg, degrees."""

    sign: int = 1
    by_deg: float = 0.0

    def of(self, turn_deg: float) -> float:
        """Return the shape's turn, 0 to 360 degrees."""
        return (self.sign * turn_deg + self.by_deg) % 360.0

    @property
    def back(self) -> Follows:
        """How the other follows from the shape."""
        return Follows(self.sign, -self.sign * self.by_deg)

    def after(self, first: Follows) -> Follows:
        """Return how it follows from what `first` follows from."""
        return Follows(self.sign * first.sign, self.sign * first.by_deg + self.by_deg)


def may(turns_deg: Iterable[float], turn_deg: float) -> bool:
    """Tell whether a turn is one of these, degrees."""
    return any(turn_apart(turn_deg, t) < SAME_DEG for t in turns_deg)


Turning = Mapping[str, Follows]
"""Shapes that are turned together, each by how it follows from the turn of the set."""


def turning_sets(rules: Iterable[Rule]) -> tuple[Turning, ...]:
    """Return the shapes that rules turn together, in sets; of ties that differ the first counts."""
    sets: list[dict[str, Follows]] = []
    for rule in rules:
        if isinstance(rule, SameTurn):
            fresh = _tied(rule)
            for old in [s for s in sets if s.keys() & fresh.keys()]:
                shared = next(n for n in old if n in fresh)
                here = old[shared].back.after(fresh[shared])
                fresh |= {n: f.after(here) for n, f in old.items() if n not in fresh}
                sets.remove(old)
            sets.append(fresh)
    return tuple(sets)


def broken(rules: Iterable[Rule], turns_deg: Mapping[str, float]) -> int:
    """Return how many of the rules that turn shapes together do not hold in these turns."""
    count = 0
    for rule in rules:
        if isinstance(rule, SameTurn) and rule.shapes[0] in turns_deg:
            tied = _tied(rule)
            first = turns_deg[rule.shapes[0]]
            off = (turn_apart(turns_deg[n], f.of(first)) for n, f in tied.items())
            count += any(mm > SAME_DEG for mm in off)
    return count


def _tied(rule: SameTurn) -> dict[str, Follows]:
    first, *others = rule.shapes
    tie = Follows(-1 if rule.mirrored else 1, rule.by_deg)
    return {first: Follows()} | dict.fromkeys(others, tie)
