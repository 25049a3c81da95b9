"""Buttons spaced anew: evenly, their ends kept, buttonholes as long as before."""

from __future__ import annotations

import pytest

from clothwright.changes.lengthen import Lengthen
from clothwright.changes.lengthen import apply as lengthen
from clothwright.changes.space_buttons import SpaceButtons, apply
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.pattern.buttons import button_rows
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from tests.contract.changes_table import buttoned
from tests.faults.lying import HEIGHTS, aside, tab
from tests.garments.wardrobe import GARMENTS, settings_of


def test_all_spaces_are_equal_and_the_ends_stay() -> None:
    """Four buttons from 60 to 300: 80 from each to the next; the one buttonhole stays."""
    p = buttoned()
    new = apply(p, SpaceButtons(pieces=("front",)))
    (row, hole) = button_rows(new.pattern, new.pattern.piece("front"))
    assert row.gaps == pytest.approx((80.0, 80.0, 80.0))
    assert [at.y for at in row.at] == pytest.approx([60.0, 140.0, 220.0, 300.0])
    assert hole.at == button_rows(p, p.piece("front"))[1].at
    assert (
        say(new.said, Unit.cm) == "Spaced the 4 buttons of front evenly, 8 cm from one to the next."
    )


def test_a_coat_lengthened_between_two_buttons_has_them_spaced_anew() -> None:
    """The notice that tells of it names the change, and after it there is none."""
    p, settings = GARMENTS["lined coat"](), settings_of("lined coat")
    longer = lengthen(p, Lengthen(pieces=("coat front",), level="waist", by=30.0)).pattern
    (found,) = (f for f in run_checks(longer, settings) if f.code == "buttons-uneven")
    assert found.mend is not None
    params = read_params(SpaceButtons, found.mend.params, unit=Unit.mm, where="mend")
    after = apply(longer, params).pattern
    assert "buttons-uneven" not in {f.code for f in run_checks(after, settings)}
    assert after.piece("coat front").edges == longer.piece("coat front").edges


def test_a_row_beside_the_centre_goes_across_to_it() -> None:
    """The centre is drawn at x = 0, the buttons 6 mm beside it: each keeps its height."""
    front = aside(tab("front tab"), 6.0)
    params = SpaceButtons(pieces=(front.name,), line="centre")
    new = apply(Pattern(pieces=(front,)), params).pattern.piece(front.name)
    places = [m.at for m in new.marks if m.at is not None]
    assert [(round(p.x, 9), p.y) for p in places] == [(0.0, y) for y in HEIGHTS]


def test_one_of_two_rows_is_not_drawn_to_the_centre() -> None:
    """A double-breasted front's row lies 50 mm out: it is meant there."""
    front = aside(tab("front tab", stand=80.0), 50.0)
    with pytest.raises(CannotDo):
        apply(Pattern(pieces=(front,)), SpaceButtons(pieces=(front.name,), line="centre"))
