"""Of a line or a notch nobody can tell on which piece it slipped: both ways are offered.

The mistakes are made on paper (`tests.faults.paper`) on garments that are right; one of the two
ways has to give the very marks again.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Mend, Severity
from clothwright.pattern.measure import dart_intake
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from clothwright.workbook import change_of
from clothwright.workroom.editing.mending import Mending
from clothwright.workroom.walking.checking import checked
from clothwright.workroom.walking.tried import tried_mending
from tests.faults.mistakes import both, on
from tests.faults.paper import lengthened, let_out, notched
from tests.garments.wardrobe import GARMENTS, settings_of


def leveled(piece: Piece, name: str, by: float) -> Piece:
    """The piece with a level line drawn `by` mm higher."""
    moved = (replace(v, at=v.at + Vec(0.0, by)) if v.name == name else v for v in piece.levels)
    return replace(piece, levels=tuple(moved))


KNEE = both(
    on("front", leveled, "knee", -25.0),
    both(on("front", notched, "side", "knee", -25.0), on("front", notched, "inseam", "knee", 25.0)),
)

CASES: tuple[tuple[str, Callable[[Pattern], Pattern], str, tuple[str, str], int], ...] = (
    ("trousers", KNEE, "levels-apart", ("front", "back"), 4),
    ("trousers", KNEE, "seam-section-length", ("front", "back"), 4),
    (
        "wrap dress",
        on("skirt back", leveled, "hip", -30.0),
        "levels-apart",
        ("skirt back", "skirt front"),
        1,
    ),
    (
        "blouse",
        on("sleeve", notched, "front seam", "elbow", 30.0),
        "seam-section-length",
        ("the notch of sleeve, front seam", "the notch of sleeve, back seam"),
        1,
    ),
    (
        "shirt",
        on("yoke", notched, "armhole", "shoulder tip", 20.0),
        "cap-share-short",
        ("yoke", "sleeve"),
        1,
    ),
)
"""Garment, mistake, what is mended, what was changed by mistake or else, how much is found."""


def spots(pattern: Pattern) -> list[float]:
    """Where all levels and notches of a pattern lie, mm."""
    return [
        *(v.at.y for p in pattern.pieces for v in p.levels),
        *(n.at for p in pattern.pieces for e in p.edges for n in e.notches),
    ]


def done(pattern: Pattern, mending: Mending | Mend) -> Pattern:
    """The pattern after a change that is offered."""
    change = change_of(mending.change)
    params = read_params(change.params, mending.params, unit=Unit.mm, where="mend")
    return change.apply(pattern, params).pattern


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c[0]}: {c[2]}")
def test_both_ways_are_offered_and_one_gives_the_marks_again(
    case: tuple[str, Callable[[Pattern], Pattern], str, tuple[str, str], int],
) -> None:
    """After either all that was found is gone; which piece or notch is supposed, is said."""
    garment, spoil, code, things, count = case
    right, settings = GARMENTS[garment](), settings_of(garment)
    known = checked(right, settings)
    spoilt = spoil(right)
    new = [f for f in checked(spoilt, settings) if f not in known]
    loud = [f for f in new if f.severity is not Severity.NOTE]
    assert len(loud) == count
    first = tried_mending(next(f for f in loud if f.code == code), spoilt, settings, Unit.mm)
    assert first is not None
    assert first.other is not None
    assert first.other.supposed in [f"{thing} was changed by mistake" for thing in things]
    after = [done(spoilt, way) for way in (first, first.other)]
    for pattern in after:
        heavy = [f for f in checked(pattern, settings) if f.severity is not Severity.NOTE]
        assert [f for f in heavy if f not in known] == []
    assert any(spots(p) == pytest.approx(spots(right), abs=1.5) for p in after)


def test_no_notch_is_moved_while_the_ends_of_its_seam_are_off() -> None:
    """A raglan's back 12 mm out along its seam: neck and side first, the notch may follow them."""
    spoilt, settings = (
        on("back", let_out, "raglan", 12.0)(GARMENTS["raglan"]()),
        settings_of("raglan"),
    )
    found = checked(spoilt, settings)
    (f,) = (f for f in found if f.code == "seam-section-length")
    off = {g.where.seam for g in found if g.code == "seam-length"}
    assert off == {"side and sleeve", "neck"}
    assert f.mends == ()
    assert "Mend the length of neck seam first" in say(f.words, Unit.cm)


def test_a_line_that_stays_as_bent_as_it_was_hinders_no_mend() -> None:
    """A front 15 mm too long in the armhole, with two steps in the line: folded out, they stay."""
    settings = settings_of("shirt")
    spoilt = on("front", lengthened, 250.0, 15.0)(GARMENTS["shirt"]())
    f = next(f for f in checked(spoilt, settings) if f.code == "cap-shorter")
    params = {"pieces": ("front",), "level": "bust", "above": 136.0, "by": -14.67}
    folded = Mend(change="lengthen", params=params)
    alone = replace(f, mend=None, others=())
    mending = tried_mending(alone, spoilt, settings, Unit.mm, known=(folded,))
    assert mending is not None
    assert mending.trouble == ""


def test_a_dart_whose_leg_was_moved_is_fitted_and_not_the_end_of_its_seam() -> None:
    """The elbow dart 8 mm narrower on one leg: its section is off, and the line bends at it."""
    right, settings = GARMENTS["princess"](), settings_of("princess")
    sleeve = right.piece("sleeve")
    (dart,) = sleeve.darts
    spoilt = right.with_piece(replace(sleeve, darts=(replace(dart, b=dart.b - 8.0),)))
    (f,) = (f for f in checked(spoilt, settings) if f.where.seam == "sleeve seam")
    assert f.mend is not None
    assert (f.mend.change, f.mend.params["dart"]) == ("fit-dart", "sleeve.elbow dart")
    after = done(spoilt, f.mend).piece("sleeve")
    taken = [dart_intake(p, p.darts[0]) for p in (sleeve, after)]
    assert taken[1] == pytest.approx(taken[0], abs=0.5)
