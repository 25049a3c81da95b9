"""Check the pieces as changed; a change that could not be done is a finding too."""

from __future__ import annotations

from clothwright.checks import run_checks
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.workbook import Workbook, check_settings, replay


def findings_of(book: Workbook) -> tuple[Finding, ...]:
    """Return every finding on the pieces as changed, the gravest first."""
    done = replay(book)
    undone = tuple(
        Finding(
            code="change-not-done",
            severity=Severity.FAULT,
            where=Where(),
            measured=float(t.number),
            words=(f"change {t.number} ({t.step.change}) could not be done: {t.error}",),
        )
        for t in done.told
        if t.error
    )
    return undone + run_checks(done.pattern, check_settings(book))
