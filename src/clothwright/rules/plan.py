"""A plan: one answer to "where does the print go?", as placing rules in the maker's words.

Rules name pieces and their points ("front.hem start"); `level` and `upright` are seen on the body:
level = how high up the body a line of the design lies, upright = how far to the side.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.units.kinds import Name


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacingRule:
    """One thing asked of the lay. Each kind is a file of `rules.kinds`; its `RULES` lists them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A named list of placing rules, and the words that say what it is for.

    The list is their order of importance: where two cannot both hold, the later one gives way.
    """

    name: Name
    why: str = ""
    rules: tuple[PlacingRule, ...] = ()
