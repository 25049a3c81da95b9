"""Ways to fit in words, from the kept list: for the page and the command alike."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from clothwright.rules.weighing.ways_to_fit import SEEN_MM
from clothwright.units import Unit
from clothwright.words import begun, show_length


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownWay:
    """One way, in words. number: in the list. what: what is given up.

    costs: its price in look and wear, a phrase each.
    """

    number: int
    what: str
    fits: bool
    fit: str
    used: str
    costs: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownWays:
    """The ways worth looking at, and what was tried in vain."""

    found: tuple[ShownWay, ...] = ()
    vain: tuple[str, ...] = ()


def ways_shown(ways: Sequence[Mapping[str, Any]], short_by: float | None, unit: Unit) -> ShownWays:
    """Return a kept list of ways (docs/ways-to-fit.md, "ways") in words, lengths in `unit`.

    short_by: mm that are missing without them, None where no length would help. A way that saves
    none of it is in vain.
    """
    found, vain = [], []
    for way in ways:
        saves = way["short_by_mm"]
        if way["fits"] or (saves is not None and (short_by is None or saves < short_by - SEEN_MM)):
            found.append(_way(way, unit))
        else:
            vain.append(str(way["what"]))
    return ShownWays(found=tuple(found), vain=tuple(vain))


def _way(way: Mapping[str, Any], unit: Unit) -> ShownWay:
    what = str(way["what"])
    used = ", ".join(f"{n} {show_length(u, unit)}" for n, u in way["used_mm"].items() if u > 0)
    gave_way = any(rule.get("gave_way") for rule in way["lay"]["rules"])
    fit = "Fits, but not every rule is kept" if gave_way else "Fits"
    return ShownWay(
        number=way["number"],
        what=begun(what),
        fits=way["fits"],
        fit=fit if way["fits"] else f"Short by {show_length(way['short_by_mm'], unit)}",
        used=used,
        costs=tuple(way["look"]),
    )
