"""What no change mends is never left alone: it is said what to do by hand, and why."""

from __future__ import annotations

import pytest

from clothwright.checks import CHECKS, CheckSettings, run_checks
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.workbook import Workbook, replay
from clothwright.workroom.walking.by_hand import OTHERWISE, REASONS, unmended
from clothwright.workroom.walking.telling import told_of
from tests.checks.specimens import outfit
from tests.faults.test_planted import PLANTED, Planted

MARKED = (
    *("slit-off-edge", "line-off-piece", "place-off-piece", "place-corner-off", "places-not-alike"),
    *("button-off-piece", "buttons-do-not-meet", "button-counts-differ"),
)
"""Findings of what is marked on a piece."""


def test_reasons_are_of_checks_that_are() -> None:
    """A check or a code that is no more is not spoken of."""
    assert set(REASONS) <= {c.id for c in CHECKS}
    assert set(OTHERWISE) <= {code for c in CHECKS for code in c.codes}


@pytest.mark.parametrize("fault", [f for f in PLANTED if f.code in MARKED], ids=lambda f: f.code)
def test_a_mark_that_no_change_moves_is_drawn_anew_by_hand(fault: Planted) -> None:
    """Each fault of a mark is told with what mends it, or with what to do by hand."""
    spoilt = fault.spoil(outfit())
    found = run_checks(spoilt, CheckSettings(borders=fault.borders))
    book = Workbook(title="outfit", bought=spoilt)
    told = told_of(found, book, replay(book))
    assert [bool(t.answer) for t in told] == [True] * len(found)
    assert any("by hand" in t.answer for t in told)


def test_a_note_is_left_as_it_is() -> None:
    """What is only noted asks for nothing."""
    found = Finding(code="seam-length", severity=Severity.NOTE, where=Where(piece="front"))
    book = Workbook(title="outfit", bought=outfit())
    assert [t.answer for t in told_of([found], book, replay(book))] == [""]
    assert unmended(found, outfit()) != ""
