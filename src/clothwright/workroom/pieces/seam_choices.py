"""Proposed seams of a workbook: those that are open, those that were refused, the edit of one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import ClassVar

from clothwright.intake.seams.proposed import Proposed, proposed_seams
from clothwright.intake.seams.said import SeamSaid
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.store.beside.kept import read_kept, sound, write_kept
from clothwright.store.beside.places import refused_file
from clothwright.store.book.lock import held
from clothwright.store.book.parts import values_of
from clothwright.units import Unit
from clothwright.workroom.editing.edits.seams import AddSeam

AS_IT_IS = SeamSaid()
MOST = 2_000
"""Refusals that are remembered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """The proposals that were refused, by their keys, as they are kept."""

    FORMAT: ClassVar[str] = "clothwright-refused-seams/1"
    refused: tuple[str, ...]


def open_proposals(folder: FilePath, pattern: Pattern) -> tuple[Proposed, ...]:
    """Return the seams proposed for a workbook that have not been refused, best first."""
    return proposed_seams(pattern, refused(folder))


def refused(folder: FilePath) -> frozenset[str]:
    """Return the keys of the proposals that were refused; a damaged file counts as none."""
    kept = sound(read_kept(refused_file(folder), Refused))
    return frozenset(kept.refused) if kept else frozenset()


def refuse(folder: FilePath, keys: Iterable[str]) -> None:
    """Remember proposals as refused, so that they are not made again. Raises BadInput."""
    with held(folder):
        _write(folder, (*sorted(refused(folder)), *keys))


def forget_refused(folder: FilePath) -> None:
    """Let every refused proposal be made again. Raises BadInput."""
    with held(folder):
        _write(folder, ())


def _write(folder: FilePath, keys: Iterable[str]) -> None:
    kept = list(dict.fromkeys(keys))[-MOST:]
    write_kept(refused_file(folder), Refused(refused=tuple(kept)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Yes:
    """A pair that is sewn together. key: of the proposal. said: how, as typed.

    sides: the edges of a pair that is not proposed, as text.
    """

    key: str
    said: SeamSaid = AS_IT_IS
    sides: tuple[Sequence[str], Sequence[str]] | None = None


def adding(seam: Seam, unit: Unit) -> AddSeam:
    """Return the edit that adds a seam."""
    return AddSeam(values=values_of(Seam, seam, unit))
