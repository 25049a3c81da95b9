"""The head gets through a closed neckline that is as wide; what opens is not looked at."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.checks import CheckSettings
from clothwright.checks.head_opening import CHECK, closed_necklines, head_opening
from clothwright.pattern.finding import Severity
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Mark
from tests.checks.specimens import outfit
from tests.faults import planting as plant
from tests.garments.wardrobe import GARMENTS


def weights(p: Pattern, head: float, *, stretches: bool = False) -> list[Severity]:
    settings = CheckSettings(body=(("head", head),), stretches=stretches)
    return [f.severity for f in head_opening(p, settings)]


def test_both_halves_of_all_neck_edges_are_added() -> None:
    """Front and back are half pieces on the fold: twice the sum of their necks."""
    p = outfit()
    (neck,) = closed_necklines(p)
    halves = sum(net_length(p.piece(n), "neck") for n in ("front", "back"))
    assert neck.girth == pytest.approx(2 * halves)
    assert neck.edges == (("front", "neck"), ("back", "neck"))


@pytest.mark.parametrize(
    ("head", "stretches", "found"),
    [
        (400.0, False, []),
        (401.0, False, [Severity.FAULT]),
        (540.0, True, []),  # 400.6 drawn out by 35 % is 540.8
        (541.0, True, [Severity.NOTICE]),
    ],
)
def test_the_neck_is_as_wide_as_the_head(
    head: float, stretches: bool, found: list[Severity]
) -> None:
    """Passing girth (plane geometry); a moderate knit gives 35 % (chart of stretch classes)."""
    assert weights(outfit(), head, stretches=stretches) == found


@pytest.mark.parametrize(
    ("name", "closed"),
    [("blouse", 1), ("raglan", 1), ("knit top", 1), ("shirt", 0), ("princess", 0),
     ("lined coat", 0), ("wrap dress", 0), ("trousers", 0)],
)  # fmt: skip
def test_which_garments_go_over_the_head(name: str, closed: int) -> None:
    """Shirt, coat and wrap open in front, the princess dress has a zip, trousers have no neck."""
    assert len(closed_necklines(GARMENTS[name]())) == closed


def test_a_zip_or_buttons_open_it() -> None:
    """A mark that speaks of them is enough."""
    p = outfit()
    back = p.piece("back")
    for name in ("zip end", "button 1"):
        marked = replace(back, marks=(Mark(name=name, at=back.edge("centre").path.middle),))
        assert closed_necklines(p.with_piece(marked)) == ()


def test_an_unmeasured_head_is_said() -> None:
    """Other girths do not help: what could not be looked at is named."""
    what = CHECK.looked(outfit(), CheckSettings(body=(("bust", 900.0),)))
    assert what.count == 0
    assert "it was not measured" in what.unlooked[0]


def test_a_neck_cut_lower_lets_the_head_through() -> None:
    """Front and back necks lowered by 50 mm at the fold."""
    p = outfit()
    for name, at in (("front", (0, 310)), ("back", (0, 370))):
        piece = p.piece(name)
        after = piece.edges[(piece.index("neck") + 1) % len(piece.edges)]
        corner = after.name if name == "front" else "neck"
        p = p.with_piece(plant.with_corner(piece, corner, at))
    assert weights(p, 430.0) == []
    assert weights(outfit(), 430.0) == [Severity.FAULT]
