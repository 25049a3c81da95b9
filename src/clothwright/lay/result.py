"""What a lay is: where every shape lies, and what the search says of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from clothwright.lay.problem import Ring
from clothwright.words import Said


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """One shape on one cloth. `outline` is the cutting line as it lies, mm, cloth frame."""

    shape: str
    region: str
    turn_deg: float
    flipped: bool
    x: float
    y: float
    outline: Ring


NOT_REACHED = "the search was stopped before a place was found for it"
"""Why a shape is not placed that nobody tried to place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lay:
    """The best lay found.

    unplaced: ids of shapes that found no place, each with its reason, whose lengths are mm.
    used: mm of length used per region, from the cut end (x = 0) to the farthest cutting line.
    short_by: mm by which the longest overrun exceeds a cloth of fixed length (0 = fits);
        a lay may run past the end of a fixed rectangular cloth so that the maker sees by how much.
        None when something is unplaced and no length would help.
    stopped: why the search ended ("time", "rounds", "interrupted", "nothing to improve").
    """

    placements: tuple[Placement, ...]
    unplaced: Mapping[str, Said] = field(default_factory=dict)
    used: Mapping[str, float] = field(default_factory=dict)
    fits: bool = False
    short_by: float | None = 0.0
    seed: int = 0
    seconds: float = 0.0
    rounds: int = 0
    stopped: str = ""

    @property
    def whole(self) -> bool:
        """Tell whether every shape was tried: a lay that was stopped half made is no lay."""
        return not any(str(why).startswith(NOT_REACHED) for why in self.unplaced.values())
