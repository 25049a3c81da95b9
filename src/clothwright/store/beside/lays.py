"""The best lay of each plan and the list of its ways to fit, as they are kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, ClassVar

from clothwright.errors import Said
from clothwright.lay.folded import Fold
from clothwright.store.beside.kept import read_kept, sound, write_plain
from clothwright.store.beside.places import lay_file, ways_file


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPlace:
    """Where one shape lies. x_mm, y_mm: mm, along the selvedge and across; turn_deg: degrees."""

    shape: str
    cloth: str
    x_mm: float
    y_mm: float
    turn_deg: float
    flipped: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptLay:
    """What is read again of a kept lay (docs/lay-json.md).

    digest: of the problem it was laid for. short_by_mm: mm that are missing, None when it fits.
    """

    FORMAT: ClassVar[str] = "clothwright-lay/1"
    digest: str
    placements: tuple[KeptPlace, ...]
    unplaced: Mapping[str, Said]
    fits: bool
    short_by_mm: float | None
    seed: int
    seconds: float
    rounds: int
    stopped: str
    folds: tuple[Fold, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptWays:
    """The ways to fit of a plan, numbered from 1 (docs/ways-to-fit.md). Lengths in mm.

    digest: of the problem they were found for. ways: each as the document describes it.
    """

    FORMAT: ClassVar[str] = "clothwright-ways-to-fit/1"
    plan: str
    digest: str
    short_by_mm: float | None
    short_cloths: tuple[str, ...]
    least_hem_mm: float
    ways: tuple[Mapping[str, Any], ...]


def kept_lay(folder: Path, plan: str) -> KeptLay | None:
    """Return the best lay kept of a plan; None when there is none, or its file is damaged."""
    return sound(read_kept(lay_file(folder, plan), KeptLay))


def keep_lay(folder: Path, plan: str, report: Mapping[str, object]) -> None:
    """Keep a lay of a plan, as its report has it. Raises BadInput.

    Its format is that of what is read again, which the rest of the report does not change.
    """
    write_plain(lay_file(folder, plan), KeptLay, {**report, "format": KeptLay.FORMAT})


def kept_ways(folder: Path, plan: str) -> KeptWays | None:
    """Return the ways to fit kept of a plan; None when there are none, or damaged ones."""
    return sound(read_kept(ways_file(folder, plan), KeptWays))


def keep_ways(folder: Path, plan: str, report: Mapping[str, object]) -> None:
    """Keep the ways to fit of a plan, as their report has them. Raises BadInput."""
    write_plain(ways_file(folder, plan), KeptWays, report)
