"""By how much a rule on the print may be missed: how it is asked for, said, and put to the lay."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, TypedDict

from clothwright.errors import Sentence
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import Loosened
from clothwright.rules.table import Lying
from clothwright.units import INCH
from clothwright.units.params import param


class Missable(TypedDict):
    """A tolerance as rules on shapes take it (`put.Tolerant`)."""

    least: float
    most: float


def room(label: str) -> Any:
    """Declare by how much a rule may be missed, mm, 0 by default."""
    return param("length", "left empty: not at all", default=0.0, label=label, least=0.0)


LOWER, HIGHER = "It may lie lower by", "It may lie higher by"
ASIDE = "It may lie to either side by"
APART = "It may be apart by"


def room_words(lower: float, higher: float, aside: float = 0.0) -> Sentence:
    """Return how much lower, higher (on the body) and to the side a place may lie, mm.

    >>> room_words(0.0, 20.0)
    (', up to ', 20.0, ' higher')
    >>> room_words(5.0, 5.0, 3.0)
    (', up to ', 5.0, ' lower or higher', ', up to ', 3.0, ' to either side')
    """
    out: list[str | float] = []
    if lower and lower == higher:
        out += [", up to ", lower, " lower or higher"]
    elif lower or higher:
        ends = [(lower, " lower"), (higher, " higher")]
        said = [(mm, way) for mm, way in ends if mm]
        out += [", up to ", *said[0]]
        out += [" or ", *said[1]] if len(said) > 1 else []
    if aside:
        out += [", up to ", aside, " to either side"]
    return tuple(out)


def apart_words(within: float) -> Sentence:
    """Return by how many mm two places may be apart, nothing where they may not."""
    return (", up to ", within, " apart") if within else ()


def evenly(within: float) -> Missable:
    """Return the room of so many mm either way."""
    return Missable(least=-within, most=within)


def on_body(at: Lying, axis: str, lower: float, higher: float, aside: float) -> Missable:
    """Return the room (mm) on an axis of the cloth: up and down where the grain runs along it."""
    if (axis == "along") == at.crosswise:
        return evenly(aside)
    return Missable(least=-lower, most=higher)


# --- what may be given to a rule that has none ----------------------------------------------------

WAYS = {
    "height": (("lower", "higher"), INCH / 2, "lie up to ", " lower or higher"),
    "side": (("aside",), INCH / 4, "lie up to ", " to either side"),
    "apart": (("within",), INCH / 8, "be up to ", " apart"),
}
"""Fields that are set, to how many mm, and the words before and behind (sizes: common practice)."""


def looser(rule: PlacingRule, what: str, *ways: str) -> Iterator[Loosened]:
    """Yield a rule with room (mm) in each of these ways in which it has none. what: it is about."""
    for way in ways:
        names, mm, before, behind = WAYS[way]
        if not any(getattr(rule, name) for name in names):
            yield Loosened(
                rule=replace(rule, **dict.fromkeys(names, mm)),
                way=way,
                what=(f"let {what} {before}", mm, behind),
                look=(f"{what} may {before}", mm, behind),
            )
