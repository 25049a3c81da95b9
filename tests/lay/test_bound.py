"""The length no lay can beat, against figures reckoned by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.lay.bound import least_used
from clothwright.lay.solve import solve
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.plan import Plan
from tests.lay.panels import bordered, skirt


def problem(*rules, flare=0.0):
    cloth = replace(bordered(), margin_lower=0.0, margin_upper=0.0)
    return compile_lay(skirt(flare=flare), (cloth,), Plan(name="p", rules=rules), gap=2.0).problem


def test_a_row_on_the_border_adds_up():
    """Front 400 + 2 x 10 wide, two backs 220 + 2 x 10 each, two gaps of 2 mm: 904 mm."""
    on = [OnBorder(piece=p, edge="hem", border="b") for p in ("front", "back")]
    it = problem(*on)
    assert least_used(it, it.regions[0]) == pytest.approx(420 + 2 * 240 + 2 * 2, abs=1e-6)


def test_a_flared_row_is_measured_at_its_widest():
    """Flared by 100 mm a side, the front is widest near its hem; the row is longer for it."""
    on = [OnBorder(piece=p, edge="hem", border="b") for p in ("front", "back")]
    it = problem(*on, flare=100.0)
    found = least_used(it, it.regions[0])
    assert 904 + 100 < found <= 904 + 220


def test_free_pieces_take_at_least_their_area():
    """Without rules: the longest piece (520 mm with both hems' allowance), or area over width."""
    it = problem()
    areas = (420 * 520 + 2 * 240 * 520) / 1000
    assert least_used(it, it.regions[0]) == pytest.approx(max(520.0, areas), abs=1e-6)


@pytest.mark.parametrize("flare", [0.0, 60.0])
@pytest.mark.parametrize("pieces", [(), ("front",), ("front", "back")])
def test_no_lay_is_shorter(pieces, flare):
    """The bound never lies above a lay that the search really finds."""
    it = problem(*(OnBorder(piece=p, edge="hem", border="b") for p in pieces), flare=flare)
    lay = solve(it, seconds=1.0)
    assert not lay.unplaced
    assert least_used(it, it.regions[0]) <= lay.used["c"] + 0.01
