"""How far the lay of a plan is, and the search for its ways to fit: what a page shows of a job."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from clothwright.lay.result import Lay
from clothwright.units import Unit
from clothwright.words import show_length
from clothwright.workroom.searching.laying import Laid

Stage = Literal["none", "waiting", "laying", "done", "stale", "failed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LayState:
    """How far the lay of one plan is.

    stage: "none" (no lay yet, or only one kept before, see `laid`), "waiting" for a core, "laying",
    "done", "stale" (stopped, because an edit changed what is to be laid), "failed" (see `trouble`).
    laid: the best lay for the pieces as they are now, found or kept; None when there is none.
    seconds, spent: how long it searches, and has. trouble: why it failed, a sentence, else "".
    """

    plan: str
    stage: Stage = "none"
    laid: Laid | None = None
    seconds: float = 0.0
    spent: float = 0.0
    trouble: str = ""

    @property
    def busy(self) -> bool:
        """True while it waits for a core or is being laid."""
        return self.stage in ("waiting", "laying")


@dataclass(frozen=True, slots=True, kw_only=True)
class WaysState:
    """How far the search for ways to fit of one plan is.

    stage: as of a LayState. tried: what was tried so far, a sentence each. ways: the kept list of
    ways (docs/ways-to-fit.md, "ways") for the pieces as they are now, None when there is none.
    """

    plan: str
    stage: Stage = "none"
    tried: tuple[str, ...] = ()
    ways: tuple[Mapping[str, Any], ...] | None = None
    trouble: str = ""

    @property
    def busy(self) -> bool:
        """True while it waits for a core or is searching."""
        return self.stage in ("waiting", "laying")


def best_words(lay: Lay | None, unit: Unit) -> str:
    """Say what the best lay so far is worth."""
    if lay is None:
        return "the first lay is being made"
    used = ", ".join(f"{n} {show_length(u, unit)}" for n, u in lay.used.items())
    if lay.unplaced:
        return f"no place yet for {', '.join(lay.unplaced)}"
    if lay.short_by:
        return f"best so far {used}; short by {show_length(lay.short_by, unit)}"
    return f"best so far {used}{'; fits' if lay.fits else ''}"
