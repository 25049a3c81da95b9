"""Checks: does the pattern still sew together? Findings, not opinions."""

from __future__ import annotations

from clothwright.checks import (
    adjoining_hems,
    bands,
    buttons,
    cap_ease,
    companions_follow,
    corners_as_sewn,
    cut_counts,
    darts,
    darts_inside,
    fair_lines,
    fullness_places,
    grain_across,
    grain_and_fold,
    head_opening,
    hem_for_border,
    hem_fullness,
    levels_across,
    mating_allowances,
    notch_partners,
    openings,
    outline,
    patches_fit,
    seam_lengths,
    seam_ways,
    wearing_ease,
)
from clothwright.checks.check import BorderEdge, Check, CheckSettings, LookedAt
from clothwright.checks.weigh import FAILURES, reason_of, skipped
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.ways_round import righted

CHECKS: tuple[Check, ...] = (
    outline.CHECK,
    seam_ways.CHECK,
    seam_lengths.CHECK,
    notch_partners.CHECK,
    levels_across.CHECK,
    fullness_places.CHECK,
    cap_ease.CHECK,
    corners_as_sewn.CHECK,
    darts.CHECK,
    darts_inside.CHECK,
    fair_lines.CHECK,
    mating_allowances.CHECK,
    adjoining_hems.CHECK,
    hem_fullness.CHECK,
    cut_counts.CHECK,
    companions_follow.CHECK,
    patches_fit.CHECK,
    buttons.CHECK,
    openings.CHECK,
    bands.CHECK,
    grain_and_fold.CHECK,
    grain_across.CHECK,
    hem_for_border.CHECK,
    wearing_ease.CHECK,
    head_opening.CHECK,
)
"""The menu, shapes first, then seams, then what the cloth asks, then the wearer."""

_ORDER = (Severity.FAULT, Severity.NOTICE, Severity.SKIPPED, Severity.NOTE)

DEFAULTS = CheckSettings()


def run_checks(pattern: Pattern, settings: CheckSettings = DEFAULTS) -> tuple[Finding, ...]:
    """Run every check; the heaviest findings first, otherwise in the order of CHECKS.

    An empty answer says that everything that was looked at agrees. A check that could not run
    leaves a finding of severity SKIPPED; what it found before it stopped is kept. A seam that is
    sewn from its wrong end is told as that, and looked at by the others as it should be.
    """
    found: list[Finding] = []
    right = _righted(pattern)
    for check in CHECKS:
        found.extend(run_check(check, pattern if check is seam_ways.CHECK else right, settings))
    return tuple(sorted(found, key=lambda f: _ORDER.index(f.severity)))


def _righted(pattern: Pattern) -> Pattern:
    try:
        return righted(pattern)
    except FAILURES:
        return pattern  # the check of seams tells which could not be looked at


def run_check(
    check: Check, pattern: Pattern, settings: CheckSettings = DEFAULTS
) -> tuple[Finding, ...]:
    """Run one check; when it cannot go on, its last finding says so."""
    found: list[Finding] = []
    try:
        found.extend(check.run(pattern, settings))
    except FAILURES as error:
        found.append(skipped(check.id, Where(), reason_of(error)))
    return tuple(found)


def looked_at(
    pattern: Pattern, settings: CheckSettings = DEFAULTS
) -> tuple[tuple[Check, LookedAt], ...]:
    """Return what each check looks at in a pattern; nothing where it cannot even tell that."""
    return tuple((check, _looked(check, pattern, settings)) for check in CHECKS)


def _looked(check: Check, pattern: Pattern, settings: CheckSettings) -> LookedAt:
    try:
        return check.looked(pattern, settings)
    except FAILURES:
        return LookedAt(0, "")  # its finding says what stopped it


__all__ = [
    "CHECKS",
    "DEFAULTS",
    "BorderEdge",
    "Check",
    "CheckSettings",
    "LookedAt",
    "looked_at",
    "run_check",
    "run_checks",
]
