"""Garments of our own that are right: nothing is to be found on them, and they fit their wearer.

Drafted by our own code from the demo's wearer, who is nobody. What is asked here comes from
outside: widths of ease and hems from published tables, the rest from plane geometry.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwright.checks import run_checks
from clothwright.pattern.companions import check_companion
from clothwright.pattern.finding import Severity
from clothwright.pattern.girth import finished_girths
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import SEAM_JOINS
from clothwright.pattern.piece import Role
from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import Workbook
from tests.garments.wardrobe import BODY, GARMENTS, settings_of

INCH = 25.4


@pytest.mark.parametrize("name", GARMENTS)
def test_a_garment_that_is_right_raises_nothing_above_a_note(name: str) -> None:
    """Whatever a check says of one of these, is a fault of the garment or of the check."""
    found = run_checks(GARMENTS[name](), settings_of(name))
    assert [say(f.words, Unit.cm) for f in found if f.severity is not Severity.NOTE] == []


def test_every_kind_of_seam_is_sewn_in_one_of_them() -> None:
    """Eased, stretched, gathered, pleated, tucked, with elastic: none is left out."""
    seams = [s for draft in GARMENTS.values() for s in draft().seams]
    assert {s.join for s in seams} == set(SEAM_JOINS)
    assert all(s.ease for s in seams if s.join != "eased")


@pytest.mark.parametrize("name", GARMENTS)
def test_companions_lie_along_edges_of_their_own_length(name: str) -> None:
    """A facing is as long as the edge it faces; a lining's edge within its raise (8 mm) of it."""
    pattern = GARMENTS[name]()
    for companion in pattern.companions:
        check_companion(pattern, companion)
        for along in (a for a in companion.of if companion.kind == "facing" and a.edge != "hem"):
            own, other = (
                net_length(pattern.piece(p), e)
                for p, e in ((companion.piece, along.edge), (along.piece, along.edge_of))
            )
            assert own == pytest.approx(other, abs=0.01)


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
    """Ease at bust or hip between nothing (a knit) and 12 in, the most of a loose coat (M)."""
    body = dict(BODY)
    known = [lv for lv in ("bust", "hip") if _marked(name, lv)]
    assert known
    for girth in finished_girths(GARMENTS[name](), known):
        assert not girth.missing, girth.missing
        assert 0 <= girth.mm - body[girth.level] <= 12 * INCH


@pytest.mark.parametrize("name", GARMENTS)
def test_it_is_kept_in_a_workbook_as_it_is(name: str, tmp_path: Path) -> None:
    """Pieces, seams and what goes together come back as they were, in inches or centimetres."""
    for unit in (Unit.inch, Unit.cm):
        create(tmp_path / unit.name, Workbook(title=name, unit=unit, bought=GARMENTS[name]()))
        assert load(tmp_path / unit.name).bought == GARMENTS[name]()


def _marked(name: str, level: str) -> bool:
    return any(lv.name == level for p in GARMENTS[name]().pieces for lv in p.levels)
