"""Check the pieces as changed; a change that could not be done is a finding too."""

from __future__ import annotations

from functools import lru_cache

from clothwright.checks import run_checks
from clothwright.checks.check import CheckSettings
from clothwright.drawing.walk_table import WalkTable, walk_table
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.pattern import Pattern
from clothwright.words import begun
from clothwright.workbook import Replay, Workbook, change_name, check_settings, replay


def findings_of(book: Workbook, done: Replay | None = None) -> tuple[Finding, ...]:
    """Return every finding on the pieces as changed, the gravest first.

    done: the workbook's changes as applied, where they are at hand.
    """
    done = done or replay(book)
    undone = tuple(
        Finding(
            code="change-not-done",
            severity=Severity.FAULT,
            where=Where(),
            measured=float(t.number),
            words=(f"{begun(change_name(t.number, t.step.change))} could not be done: {t.error}",),
        )
        for t in done.told
        if t.error
    )
    return undone + checked(done.pattern, check_settings(book))


def seam_table(book: Workbook, done: Replay, wanted: str = "") -> WalkTable:
    """Return the walk table of the pieces as changed, in the workbook's unit.

    done: the changes as applied. wanted: the seam to look at; the first one without it.
    """
    agree = check_settings(book).agree
    return walk_table(done.pattern, findings_of(book, done), wanted, book.unit, agree)


@lru_cache(maxsize=16)
def checked(pattern: Pattern, settings: CheckSettings) -> tuple[Finding, ...]:
    """Return what the checks find; the patterns checked last are remembered, by content."""
    return run_checks(pattern, settings)
