"""Seam lengths: the bands, the words, the end to mend."""

from __future__ import annotations

import pytest

from clothwright.checks import CheckSettings, run_checks
from clothwright.checks.check import BorderEdge
from clothwright.checks.seam_lengths import CHECK
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import say
from tests.checks.specimens import outfit
from tests.faults import planting as plant

INCH = 25.4


def longer_front(by: float) -> Pattern:
    pattern = outfit()
    return pattern.with_piece(plant.lowered(pattern.piece("front"), by))


def only(pattern: Pattern, settings: CheckSettings | None = None) -> Finding:
    found = list(CHECK.run(pattern, settings or CheckSettings()))
    assert len(found) == 1
    return found[0]


def test_three_eighths_too_long_is_said_in_three_eighths() -> None:
    """A front 3/8 in longer at the side is reported as exactly that (common practice)."""
    found = only(longer_front(3 / 8 * INCH))
    assert say(found.words, Unit.inch).startswith("front, side is 3/8 in longer than back, side")
    assert say(found.words, Unit.cm).startswith("front, side is 1 cm longer than back, side")
    assert found.measured is not None
    assert found.expected is not None
    assert found.measured - found.expected == pytest.approx(9.525)
    assert (found.where.seam, found.where.piece, found.where.edge) == ("side", "front", "side")


@pytest.mark.parametrize(
    ("by", "weight"),
    [
        (1.4, None),
        (1.5, None),
        (1.6, Severity.NOTICE),
        (3.0, Severity.NOTICE),
        (3.1, Severity.FAULT),
    ],
)
def test_bands(by: float, weight: Severity | None) -> None:
    """Up to 1.5 mm agrees, up to 3 mm is a notice, more is a fault, whichever side is longer."""
    longer = list(CHECK.run(longer_front(by), CheckSettings()))
    shorter = list(CHECK.run(longer_front(-by), CheckSettings()))
    assert [f.severity for f in longer] == [f.severity for f in shorter]
    assert [f.severity for f in longer] == ([weight] if weight else [])


def test_bands_can_be_set() -> None:
    """A workbook's own bands take the place of ours."""
    assert not list(CHECK.run(longer_front(9.0), CheckSettings(agree=9.0, notice=9.5)))


def test_the_shorter_side_is_named_last() -> None:
    """The longer side comes first in the sentence and carries the mend."""
    found = only(longer_front(-5.0))
    assert say(found.words, Unit.mm).startswith("back, side is 5 mm longer than front, side")
    assert found.mend is not None
    assert found.mend.params["edge"] == "back.side"


def test_the_notch_tells_which_end_is_off() -> None:
    """The stretch below the waist notch carries the difference: that end is to be mended."""
    found = only(longer_front(9.5))
    assert 'between "side hem" and notch "waist"' in say(found.words, Unit.mm)
    assert found.mend is not None
    assert found.mend.params == {"seam": "side", "edge": "front.side", "at": "start"}


def test_without_notches_the_hem_end_is_mended() -> None:
    """Nothing tells where the difference lies: the hem is the end that is free."""
    pattern = longer_front(9.5)
    for name in ("front", "back"):
        pattern = plant.without_notch(pattern, name, "side", 0)
    found = only(pattern)
    assert found.mend is not None
    assert found.mend.params["at"] == "start"


def test_a_difference_between_two_notches_is_mended_between_them() -> None:
    """Neither end is to blame: what lies between is lengthened, at the level nearest to it."""
    pattern = longer_front(9.5)
    low = pattern.piece("front").edge("side").notches[0].at - 80.0
    pattern = plant.with_notches(pattern, "front", "side", plant.Notch(at=low, name="low"))
    back = pattern.piece("back").edge("side").length
    pattern = plant.with_notches(pattern, "back", "side", plant.Notch(at=back - low, name="low"))
    found = only(pattern)
    first = found.mends[:2]
    assert [m.change for m in first] == ["lengthen", "lengthen"]
    assert [m.params["pieces"] for m in first] == [("back",), ("front",)]
    assert [m.params["by"] for m in first] == [pytest.approx(9.5), pytest.approx(-9.5)]
    assert 'between notch "low" and notch "waist"' in say(found.words, Unit.mm)


def test_meant_ease_is_no_fault() -> None:
    """The back shoulder is 6 mm longer, and is meant to be."""
    assert not list(CHECK.run(outfit(), CheckSettings()))


@pytest.mark.parametrize(
    ("ease", "words"),
    [
        (0.0, "back, shoulder is 6 mm longer than front, shoulder."),
        (
            10.0,
            "back, shoulder is 6 mm longer than front, shoulder, 4 mm too short (meant: 10 mm "
            "longer, as ease).",
        ),
        (
            2.0,
            "back, shoulder is 6 mm longer than front, shoulder, 4 mm too long (meant: 2 mm "
            "longer, as ease).",
        ),
        (
            -2.0,
            "back, shoulder is 6 mm longer than front, shoulder, 8 mm too long (meant: 2 mm "
            "shorter).",
        ),
    ],
)
def test_ease_in_words(ease: float, words: str) -> None:
    """How the sides differ, and from what was meant."""
    found = only(plant.with_seam(outfit(), "shoulder", ease=ease))
    assert say(found.words, Unit.mm) == words


def test_more_ease_is_accepted_up_to_its_limit() -> None:
    """Ease of 2 that may go up to 8 takes the 6 that are there."""
    pattern = plant.with_seam(outfit(), "shoulder", ease=2.0, eased_max=8.0)
    assert run_checks(pattern) == ()


def test_a_notch_off_its_place_is_told_as_such() -> None:
    """Both stretches differ, the whole does not: one finding, which names the notch."""
    found = only(plant.with_notch(outfit(), "front", "side", 0, at=95.0))
    assert found.code == "seam-section-length"
    assert say(found.words, Unit.mm).startswith('Notch "waist" sits 5 mm off its partner: between ')


def test_a_hem_on_a_border_is_moved_as_a_whole() -> None:
    """Where the end that moves is on a hem that a plan lays along a border, the hem stays straight.

    Tapered it would rise above the print, which `hem-for-border` would then find.
    """
    hem = BorderEdge(piece="front", edge="hem", plan="skirt only")
    found = only(longer_front(9.525), CheckSettings(borders=(hem,)))
    assert found.mend is not None
    assert found.mend.params["neighbour"] == "parallel"
    elsewhere = BorderEdge(piece="back", edge="hem", plan="skirt only")
    found = only(longer_front(9.525), CheckSettings(borders=(elsewhere,)))
    assert found.mend is not None
    assert "neighbour" not in found.mend.params
