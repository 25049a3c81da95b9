"""What is said of all plans together counts what is laid, and says what is not."""

from __future__ import annotations

import pytest

from clothwright.workroom.planning.side_by_side import Plans


class One:
    """A card, or a lay, of which only this is asked."""

    def __init__(self, fits: bool = False, comes_near: bool = False) -> None:
        self.fits = fits
        self.comes_near = comes_near


@pytest.mark.parametrize(
    ("fit", "laid", "all_", "words"),
    [
        (0, 0, 5, "No plan is laid yet."),
        (1, 1, 5, "1 of 1 plan laid fits; 4 are not laid yet."),
        (0, 4, 5, "Of 4 plans laid none fits yet; 1 is not laid yet."),
        (2, 5, 5, "2 of 5 plans fit."),
        (0, 1, 1, "Of 1 plan none fits yet."),
        (1, 1, 1, "1 of 1 plan fits."),
    ],
)
def test_plans_that_are_not_laid_are_not_counted_as_laid(fit, laid, all_, words):
    """One that is not laid neither fits nor fails; it is said how many there are."""
    cards = tuple(One(n < fit) for n in range(all_))
    assert Plans(cards=cards, laid=tuple(One() for _ in range(laid))).told == words


def test_a_plan_that_fits_without_one_of_her_rules_does_not_just_fit():
    """The line above all cards says no more than the cards do."""
    laid = (One(comes_near=True), One(comes_near=True), One())
    told = Plans(cards=(One(True), One(True), One(True)), laid=laid).told
    assert told == "3 of 3 plans fit, 2 of them without a rule of yours."
