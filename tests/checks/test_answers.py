"""A question is answered yes only where nothing that was found says no, whichever check found it.

The answers are judged by the plain meaning of question and finding, by hand, for each mistake.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from clothwright.checks import CheckSettings, run_checks
from clothwright.pattern.pattern import Pattern
from clothwright.workroom.walking.verdict import verdict
from tests.checks.specimens import outfit
from tests.faults.mistakes import on
from tests.faults.paper import lengthened, let_out, notched
from tests.faults.test_planted import grain
from tests.garments.wardrobe import GARMENTS, settings_of

NOTCHES = "Does every notch meet its partner"
COMPANIONS = "Do facings, linings and bands still fit"
LENGTHS = "Do edges that are sewn together agree in length"
GRAIN = "Is there a grain line, and do grain"
ACROSS = "Do sleeves and facings lie on the grain"
FAIR = "Do the lines run fair"


def agrees(pattern: Pattern, settings: CheckSettings) -> tuple[str, ...]:
    """The questions that are answered yes."""
    return verdict(pattern, run_checks(pattern, settings), "", settings).agree


def says_yes(question: str, agree: tuple[str, ...]) -> bool:
    return any(words.startswith(question) for words in agree)


@pytest.mark.parametrize(
    ("garment", "spoil", "no", "yes"),
    [
        ("lined coat", on("front facing", lengthened, -80.0, -15.0), COMPANIONS, FAIR),
        ("shirt", on("collar stand", let_out, "round end", -15.0), COMPANIONS, NOTCHES),
        ("knit top", on("front", notched, "side", "waist", 15.0), NOTCHES, FAIR),
        ("lined coat", grain("coat front", 5.0), GRAIN, COMPANIONS),
        ("lined coat", grain("coat front", 5.0), ACROSS, NOTCHES),
        ("princess", on("sleeve", lengthened, 80.0, -12.0), LENGTHS, FAIR),
    ],
)
def test_what_one_check_found_answers_the_questions_of_others(
    garment: str, spoil: Callable[[Pattern], Pattern], no: str, yes: str
) -> None:
    """Too short a facing does not fit; a slipped notch misses its partner; grain is one thing."""
    right, settings = GARMENTS[garment](), settings_of(garment)
    before, after = agrees(right, settings), agrees(spoil(right), settings)
    assert says_yes(no, before)
    assert not says_yes(no, after)
    assert says_yes(yes, after)


def test_what_is_right_is_all_answered_yes() -> None:
    """Of a whole outfit nothing is left out: a yes is not taken back without a finding."""
    agree = agrees(outfit(), CheckSettings())
    assert all(says_yes(q, agree) for q in (NOTCHES, LENGTHS, GRAIN, ACROSS, FAIR))
