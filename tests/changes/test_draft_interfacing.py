"""Interfacings: inside the stitching line by just what is asked, up to 3 mm, or just at it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.draft_facing import CHANGE as FACING
from clothwright.changes.draft_facing import DraftFacing
from clothwright.changes.draft_interfacing import CHANGE, DraftInterfacing
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.pattern.companions import companions_of
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Cut, Role
from tests.specimens import bodice


def faced():
    asked = DraftFacing(edges=("front.neck", "back.neck"), width=50.0)
    return FACING.apply(bodice(), asked).pattern


def done(pattern, *pieces, **more):
    return CHANGE.apply(pattern, DraftInterfacing(pieces=pieces, **more)).pattern


def test_exact_it_is_cut_on_the_stitching_line():
    pattern = faced()
    made = done(pattern, "front neck facing").piece("front neck facing interfacing")
    facing = pattern.piece("front neck facing")
    assert [e.path for e in made.edges] == [e.path for e in facing.edges]
    cut = cutting_line(made).outline
    assert cut.length == pytest.approx(facing.outline.length)
    assert made.cuts == (Cut(material="interfacing", how="fold"),)
    assert made.grain == facing.grain


@pytest.mark.parametrize("inside", [1.0, 2.0, 3.0])
def test_it_lies_inside_the_stitching_line_by_just_that(inside):
    """Its cut edge is never nearer to the seam, and the fold stays the fold."""
    pattern = faced()
    made = done(pattern, "back neck facing", inside=inside).piece("back neck facing interfacing")
    facing = pattern.piece("back neck facing")
    for edge in made.edges:
        stitching = facing.edge(edge.name).path
        for k in range(1, 10):
            away = stitching.nearest(edge.path.point_at(edge.length * k / 10))[1]
            assert away == pytest.approx(0.0 if edge.role is Role.FOLD else inside, abs=0.02)


def test_more_than_3_mm_would_not_hold():
    with pytest.raises(CannotDo, match="at most 3 mm"):
        done(faced(), "back", inside=3.5)


def test_what_was_cut_in_interfacing_itself_no_longer_is():
    pattern = faced()
    both = (Cut(how="fold"), Cut(material="interfacing", how="fold"))
    pattern = pattern.with_piece(replace(pattern.piece("back neck facing"), cuts=both))
    new = done(pattern, "back neck facing")
    assert new.piece("back neck facing").cuts == (Cut(how="fold"),)


def test_it_goes_with_its_piece_and_nothing_is_found():
    pattern = faced()
    known = {(f.code, f.where) for f in run_checks(pattern)}
    new = done(pattern, "front neck facing", "back", inside=2.0)
    (made,) = companions_of(new, "front neck facing")
    assert (made.kind, made.by) == ("interfacing", "drafted")
    assert [f.code for f in run_checks(new) if (f.code, f.where) not in known] == []
