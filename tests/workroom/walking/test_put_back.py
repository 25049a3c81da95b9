"""What is offered first is what a teacher does: the piece that was changed is put back.

The mistakes are made with scissors (`tests.faults.paper`) on garments that are right.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.workbook import change_of
from clothwright.workroom.walking.checking import checked
from clothwright.workroom.walking.tried import CLEAN, tried_mending
from tests.faults.mistakes import on
from tests.faults.paper import cornered, lengthened, let_out
from tests.garments.wardrobe import GARMENTS, settings_of

CASES: tuple[tuple[str, Callable[[Pattern], Pattern], str], ...] = (
    ("wrap dress", on("skirt front", cornered, "waist", -20.0, 0.0), "skirt front"),
    ("trousers", on("front", cornered, "inseam", 0.0, -20.0), "front"),
    ("knit top", on("back", cornered, "armhole", 0.0, -12.0), "back"),
    ("lined coat", on("coat back", let_out, "side", 12.0), "coat back"),
)
"""Garment, what was done, the piece to which it was done."""


def loud(pattern: Pattern, garment: str) -> list[Finding]:
    """What is found that is more than a note."""
    found = checked(pattern, settings_of(garment))
    return [f for f in found if f.severity is not Severity.NOTE]


@pytest.mark.parametrize("case", CASES, ids=lambda c: c[0])
def test_one_mend_clears_all_that_one_mistake_spoilt(
    case: tuple[str, Callable[[Pattern], Pattern], str],
) -> None:
    """Whichever of its findings is mended: nothing is left, and no other piece was changed."""
    garment, spoil, name = case
    right, settings = GARMENTS[garment](), settings_of(garment)
    spoilt = spoil(right)
    found = [f for f in loud(spoilt, garment) if f not in loud(right, garment)]
    lengths = [f for f in found if f.code.startswith(("seam-length", "cap-ease"))]
    assert lengths
    for f in lengths:
        mending = tried_mending(f, spoilt, settings, Unit.mm)
        assert mending is not None
        assert mending.after == CLEAN
        change = change_of(mending.change)
        params = read_params(change.params, mending.params, unit=Unit.mm, where="mend")
        after = change.apply(spoilt, params).pattern
        assert [p.name for p, q in zip(spoilt.pieces, after.pieces, strict=True) if p != q] == [
            name
        ]
        assert loud(after, garment) == loud(right, garment)


def test_a_lining_that_was_left_behind_gets_the_same() -> None:
    """A coat sleeve 30 mm longer: its lining gets as much, and is no more left behind."""
    right, settings = GARMENTS["lined coat"](), settings_of("lined coat")
    spoilt = on("coat sleeve", lengthened, -250.0, 30.0)(right)
    (f,) = (f for f in checked(spoilt, settings) if f.code == "companion-left-behind")
    mending = tried_mending(f, spoilt, settings, Unit.mm)
    assert mending is not None
    assert mending.after == CLEAN
    change = change_of(mending.change)
    params = read_params(change.params, mending.params, unit=Unit.mm, where="mend")
    after = change.apply(spoilt, params).pattern
    for edge in ("front seam", "back seam"):
        was, now = (p.piece("lining sleeve").edge(edge).length for p in (right, after))
        assert now - was == pytest.approx(30.0, abs=0.5)
    assert after.piece("coat sleeve") == spoilt.piece("coat sleeve")


def test_a_reason_that_has_nothing_to_do_with_the_place_is_not_said() -> None:
    """A girth is no reason why an inseam cannot be mended: what it upsets is of its own seams."""
    right, settings = GARMENTS["trousers"](), settings_of("trousers")
    for by in (Vec(0.0, -20.0), Vec(0.0, -60.0), Vec(-30.0, -40.0)):
        spoilt = on("front", cornered, "inseam", by.x, by.y)(right)
        for f in loud(spoilt, "trousers"):
            mending = tried_mending(f, spoilt, settings, Unit.cm) if f.where.seam else None
            assert mending is None or "hip girth" not in mending.trouble
