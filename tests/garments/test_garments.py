"""Garments of our own that are right: nothing is to be found on them, and they fit their wearer.

Drafted by our own code from the demo's wearer, who is nobody. What is asked here comes from
outside: widths of ease and hems from published tables, the rest from plane geometry.
"""

from __future__ import annotations

import pytest

from clothwright.checks import run_checks
from clothwright.pattern.finding import Severity
from clothwright.pattern.girth import finished_girths
from clothwright.pattern.piece import Role
from clothwright.units import Unit
from clothwright.words import say
from tests.garments.wardrobe import BODY, GARMENTS, settings_of

INCH = 25.4


@pytest.mark.parametrize("name", GARMENTS)
def test_a_garment_that_is_right_raises_nothing_above_a_note(name: str) -> None:
    """Whatever a check says of one of these, is a fault of the garment or of the check."""
    found = run_checks(GARMENTS[name](), settings_of(name))
    assert [say(f.words, Unit.cm) for f in found if f.severity is not Severity.NOTE] == []


@pytest.mark.parametrize("name", GARMENTS)
def test_every_piece_can_be_cut_and_laid(name: str) -> None:
    """Each has a grain line, says how often it is cut, and no edge of a seam lacks an allowance."""
    for piece in GARMENTS[name]().pieces:
        assert piece.grain is not None
        assert piece.cuts
        for edge in piece.edges:
            assert edge.allowance > 0 or edge.role in (Role.FOLD, Role.RAW, Role.BOUND)


@pytest.mark.parametrize("name", GARMENTS)
def test_it_has_room_for_its_wearer_and_not_too_much(name: str) -> None:
    """Ease between nothing (a knit, a shaped waist) and 12 in, the most of a loose coat (M)."""
    body = dict(BODY)
    known = [lv for lv in ("bust", "waist", "hip") if _marked(name, lv)]
    assert known
    for girth in finished_girths(GARMENTS[name](), known):
        assert not girth.missing, girth.missing
        assert -2 * INCH <= girth.mm - body[girth.level] <= 12 * INCH


def _marked(name: str, level: str) -> bool:
    return any(lv.name == level for p in GARMENTS[name]().pieces for lv in p.levels)
