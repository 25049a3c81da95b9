"""A lining whose piece was changed is offered that piece's line, whatever was done to it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.checks.check import CheckSettings
from clothwright.geometry.transform import rotation_deg
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.workroom.walking.checking import checked
from clothwright.workroom.walking.trial import CLEAN
from clothwright.workroom.walking.tried import tried_mending
from tests.changes.test_draw_like import lined
from tests.faults.paper import hollowed
from tests.specimens import seam


def loud(pattern: Pattern) -> list[Finding]:
    found = checked(pattern, CheckSettings())
    return [f for f in found if f.severity in (Severity.FAULT, Severity.NOTICE)]


@pytest.mark.parametrize("sewn", [False, True], ids=["laid", "sewn"])
def test_an_armhole_that_was_hollowed_is_drawn_in_the_lining(sewn: bool) -> None:
    """The front's armhole 12 mm deeper in its curve: the lining's, sewn to it or not, follows."""
    right = lined(rotation_deg(15.0))
    if sewn:
        armhole = seam("lining armhole", "front.armhole", "lining front.armhole", kind="facing")
        right = replace(right, seams=(*right.seams, armhole))
    before = loud(right)
    spoilt = right.with_piece(hollowed(right.piece("front"), "armhole", 12.0))
    new = [f for f in loud(spoilt) if f not in before]
    told = [f for f in new if f.code == ("seam-length" if sewn else "companion-left-behind")]
    assert len(told) == 1
    mending = tried_mending(told[0], spoilt, CheckSettings(), Unit.mm)
    assert mending is not None
    assert (mending.change, mending.params["edges"]) == ("draw-like", ["lining front.armhole"])
    assert (mending.trouble, mending.after) == ("", CLEAN)
