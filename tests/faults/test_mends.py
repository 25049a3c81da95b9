"""The change that a finding suggests exists, takes those parameters, and mends the finding."""

from __future__ import annotations

import importlib

import pytest

from clothwright.checks import CheckSettings, run_checks
from clothwright.pattern.finding import Finding
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from tests.checks.specimens import outfit
from tests.faults.test_planted import PLANTED, Planted

WITH_MEND = {
    "seam-length",
    "seam-section-length",
    "notch-kinds-differ",
    "notch-without-partner",
    "cap-shorter",
    "cap-ease-low",
    "cap-ease-high",
    "cap-ease-not-meant",
    "cap-ease-under-arm",
    "cap-share-short",
    "cap-ease-front-heavy",
    "cap-ease-back-heavy",
    "corner-not-fair",
    "dart-legs-differ",
    "dart-cap-not-true",
    "allowances-differ",
    "line-bent-at-dart",
    "line-bent",
    "seam-turned-round",
    "darts-cross",
    "dart-near-bust-point",
    "levels-apart",
    "hem-depths-differ",
    "facing-hem-differs",
    "free-allowances-differ",
    "hem-too-full",
    "hem-leaves-border",
    "companion-left-behind",
    "patch-not-its-place",
    "grain-off-fold",
    "buttons-uneven",
    "button-off-row",
    "buttons-off-centre",
    "grain-off-centre",
    "cut-counts-differ",
    "cut-in-one-layer",
    "cut-twice-alike",
    "fold-cut-single",
    "fold-off-middle",
    "lap-leans",
    "patches-too-few",
}

MORE_THAN_ONE = {"notch-order", "cut-on-missing-fold"}
"""Planted, a notch is out of order and out of place: its mend is held by `test_match_notch.py`. A
piece without a fold is cut once, or else as a pair."""


def mended(pattern: Pattern, finding: Finding) -> Pattern:
    assert finding.mend is not None
    module = finding.mend.change.replace("-", "_")
    change = importlib.import_module(f"clothwright.changes.{module}").CHANGE
    assert change.id == finding.mend.change
    params = read_params(change.params, finding.mend.params, unit=Unit.mm, where="mend")
    return change.apply(pattern, params).pattern


@pytest.mark.parametrize("fault", [f for f in PLANTED if f.code in WITH_MEND], ids=lambda f: f.code)
def test_the_suggested_change_mends_the_finding(fault: Planted) -> None:
    """Applied as suggested, the finding is gone, and no fault has come in its place."""
    settings = CheckSettings(borders=fault.borders)
    spoilt = fault.spoil(outfit())
    after = run_checks(mended(spoilt, run_checks(spoilt, settings)[0]), settings)
    left = [say(f.words, Unit.mm) for f in after]
    assert fault.code not in {f.code for f in after}, left
    assert left == []


def test_every_finding_with_a_mend_is_tried_here() -> None:
    """No suggestion goes untested."""
    suggested = {
        f.code
        for fault in PLANTED
        for f in run_checks(fault.spoil(outfit()), CheckSettings(borders=fault.borders))
        if f.mend
    }
    assert suggested == WITH_MEND | MORE_THAN_ONE


def test_one_change_mends_three_eighths_of_an_inch() -> None:
    """A front 3/8 in longer than the back at the side: one change mends it (common practice)."""
    spoilt = next(f for f in PLANTED if f.code == "seam-length").spoil(outfit())
    found = run_checks(spoilt)
    assert say(found[0].words, Unit.inch).startswith("front, side is 3/8 in longer than back, side")
    assert run_checks(mended(spoilt, found[0])) == ()
