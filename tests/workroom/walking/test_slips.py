"""One slip of the hand is found by what it did to every seam it touches, and undone whole.

The slips are made with scissors (`tests.faults.paper`) on garments that are right.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.workroom.walking.checking import checked
from clothwright.workroom.walking.slips import slips
from clothwright.workroom.walking.trial import CLEAN
from clothwright.workroom.walking.tried import tried_mending
from tests.faults.mistakes import on
from tests.faults.paper import hollowed, lengthened, let_out, tucked, wedged
from tests.garments.wardrobe import GARMENTS, settings_of

SLIPS: tuple[tuple[str, Callable[[Pattern], Pattern], str, float], ...] = (
    ("wrap dress", on("bodice front", tucked, 150.0, 10.0), "widen bodice front", 10.0),
    ("raglan", on("back", let_out, "raglan", 12.0), "move-edge back", -12.0),
    ("shirt", on("front", lengthened, 250.0, 15.0), "lengthen front", -15.0),
    ("lined coat", on("coat front", wedged, -200.0, -20.0, 250.0, 12.0), "wedge coat front", -12.0),
    ("knit top", on("front", wedged, 0.0, 0.0, 240.0, 9.0), "wedge front", -9.0),
    # drawn another curve than the scissors cut, as long as it was
    ("blouse", on("front", hollowed, "armhole", 10.0), "hollow front", -13.0),
)
"""Garment, what was done, what undoes it, by how much (mm)."""


@pytest.mark.parametrize("case", SLIPS, ids=lambda c: f"{c[0]}: {c[2]}")
def test_a_slip_is_solved_for_its_amount(
    case: tuple[str, Callable[[Pattern], Pattern], str, float],
) -> None:
    """What undoes it is among those that leave least, by what was done within a pencil line."""
    garment, spoil, what, by = case
    spoilt = spoil(GARMENTS[garment]())
    change, _, piece = what.partition(" ")
    named = [m for m in slips(spoilt, settings_of(garment)) if m.change == change]
    mine = [m for m in named if piece in str(m.params)]
    assert min(abs(float(str(m.params["by"])) - by) for m in mine) < 0.5


def test_a_piece_folded_narrower_is_made_wider_again() -> None:
    """Shoulder and waist lack the same: one change mends both, not a corner here, a dart there."""
    garment, spoil, _, _ = SLIPS[0]
    spoilt, settings = spoil(GARMENTS[garment]()), settings_of(garment)
    found = [f for f in checked(spoilt, settings) if f.where.seam in ("shoulder", "waist")]
    assert {f.where.seam for f in found} == {"shoulder", "waist"}
    for f in found:
        mending = tried_mending(f, spoilt, settings, Unit.mm)
        assert mending is not None
        assert (mending.change, mending.after) == ("widen", CLEAN)


def test_nothing_is_told_of_a_garment_that_is_right() -> None:
    assert slips(GARMENTS["princess"](), settings_of("princess")) == ()
