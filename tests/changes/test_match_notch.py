"""A notch brought to its partner."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.match_notch import MatchNotch, apply
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import NotchKind
from clothwright.pattern.walk import walk_seam
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from tests.checks.specimens import outfit
from tests.contract.changes_table import slipped_notch
from tests.faults.planting import with_notch
from tests.garments.wardrobe import GARMENTS, settings_of


@pytest.mark.parametrize(
    "notch", ["front.side notch waist", "front.side notch 1", "back.side notch 1"]
)
def test_either_of_the_two_may_be_moved(notch: str) -> None:
    """By name or by number, on the front or on the back: from notch to notch both sides agree."""
    new = apply(slipped_notch(), MatchNotch(seam="side", notch=notch))
    assert run_checks(new.pattern) == ()
    assert "by 14 mm to meet its partner" in say(new.said, Unit.mm)


def test_where_the_other_side_is_eased_the_distance_is_in_proportion() -> None:
    """A section 6 mm longer on one side: half-way on one is half-way on the other."""
    p = outfit()
    shoulder = p.piece("front").edge("shoulder").length, p.piece("back").edge("shoulder").length
    for name, at in (("front", shoulder[0] / 2), ("back", 20.0)):
        edge = p.piece(name).edge("shoulder")
        notch = replace(p.piece("front").edge("side").notches[0], at=at, name="middle")
        p = p.with_piece(p.piece(name).with_edge(replace(edge, notches=(notch,))))
    new = apply(p, MatchNotch(seam="shoulder", notch="back.shoulder notch middle")).pattern
    assert new.piece("back").edge("shoulder").notches[0].at == pytest.approx(shoulder[1] / 2)


def test_it_becomes_single_or_double_as_its_partner_is() -> None:
    """A double notch on the back's side, which meets a single one."""
    p = with_notch(outfit(), "back", "side", 0, kind=NotchKind.DOUBLE)
    new = apply(p, MatchNotch(seam="side", notch="back.side notch waist"))
    assert new.pattern == outfit()
    assert "made it single" in say(new.said, Unit.mm)


def test_a_notch_without_a_partner_is_refused() -> None:
    """The refusal says along which seam it has none."""
    p = outfit()
    back = p.piece("back").edge("side")
    p = p.with_piece(p.piece("back").with_edge(replace(back, notches=())))
    assert not walk_seam(p, p.seam("side")).pairs
    with pytest.raises(CannotDo, match="no notch along"):
        apply(p, MatchNotch(seam="side", notch="front.side notch waist"))


@pytest.mark.parametrize("number", [1, 3])
def test_notches_that_were_mixed_up_are_changed_over(number: int) -> None:
    """Front and back of a cap: either may be named, and the cap is marked again as it was."""
    right = GARMENTS["knit top"]()
    cap = right.piece("sleeve").edge("cap")
    first, middle, last = cap.notches
    mixed = (
        replace(first, name=last.name, kind=last.kind),
        middle,
        replace(last, name=first.name, kind=first.kind),
    )
    spoilt = right.with_piece(right.piece("sleeve").with_edge(replace(cap, notches=mixed)))
    new = apply(spoilt, MatchNotch(seam="armhole", notch=f"sleeve.cap notch {number}"))
    assert new.pattern == right
    assert 'notch "back" of sleeve, cap' in say(new.said, Unit.mm)


def shifted(p: Pattern, name: str, edge: str, by: float, *, only: str = "") -> Pattern:
    """Notches of an edge cut `by` mm further along it: all, or those of one name."""
    old = p.piece(name).edge(edge)
    notches = tuple(replace(n, at=n.at + by) if only in ("", n.name) else n for n in old.notches)
    return p.with_piece(p.piece(name).with_edge(replace(old, notches=notches)))


def first_mend(p: Pattern, seam: str) -> Pattern:
    """The first mend of the one finding, done; it is of that seam."""
    (found,) = run_checks(p, settings_of("wrap dress"))
    assert (found.code, found.where.seam) == ("seam-section-length", seam)
    assert found.mend is not None
    params = read_params(MatchNotch, found.mend.params, unit=Unit.mm, where="mend")
    return apply(p, params).pattern


def test_all_that_slipped_together_go_back_together() -> None:
    """Both notches of a tuck, cut 20 to the side; the tuck between them is as wide as before."""
    p = GARMENTS["wrap dress"]()
    back = first_mend(shifted(p, "skirt front", "waist", 20.0), "waist")
    places = [n.at for n in back.piece("skirt front").edge("waist").notches]
    assert places == pytest.approx([n.at for n in p.piece("skirt front").edge("waist").notches])


def test_a_notch_meets_the_joint_of_two_edges() -> None:
    """A waistband's notch at the side seam, cut 15 off: it has no notch for a partner."""
    p = GARMENTS["trousers"]()
    edge = p.piece("waistband").edge("lower")
    named = next(n.name for n in edge.notches if "side" in n.name)
    moved = shifted(p, "waistband", "lower", 15.0, only=named)
    back = first_mend(moved, "waist").piece("waistband").edge("lower").notches
    assert [n.at for n in back] == pytest.approx([n.at for n in edge.notches], abs=0.5)


def test_it_is_counted_from_the_side_on_which_nothing_is_gathered() -> None:
    """The first of two notches between which a sleeve is gathered into its cuff, cut 30 off."""
    p = GARMENTS["blouse"]()
    back = first_mend(shifted(p, "sleeve", "wrist", 30.0, only="gathers begin"), "cuff")
    assert back == p
