"""What a maker reads of a seam: whole sentences in her unit, by the marks she knows."""

from __future__ import annotations

import pytest

from clothwright.cloth.prints import Border, Print
from clothwright.lay.meeting.say import is_good, meeting_line, meeting_sentence
from clothwright.pattern.piece import Notch
from clothwright.units import Unit
from tests.lay.meeting.sewn_pieces import Two, bowed, piece, slanting

CHECK = Print(repeat_along=60.0, repeat_across=60.0, axes_across=(0.0,))
BORDER = Print(borders=(Border(name="vine", side="lower", base=50.0, height=100.0),))


def straight(**more) -> Two:
    """Two straight edges of 400 mm."""
    return Two(
        a=piece("a", slanting(400.0, 0.0), left=False, **more),
        b=piece("b", slanting(400.0, 0.0), left=True),
    )


def test_level_from_the_hem_to_the_bust_dart():
    """A check matched below the dart; above it the dart's 40 mm are 20 of the repeat of 60."""
    pair = Two(
        a=piece("a", slanting(440.0, -7.0), left=False, dart=(250.0, 290.0)),
        b=piece("b", slanting(400.0, 7.0), left=True),
    )
    uneven = Print(repeat_along=60.0, repeat_across=50.0)
    found = pair.meeting(uneven, (0, 900, 0), (600, 900, 0))
    assert meeting_sentence(found, Unit.cm) == (
        "Side: the print is level from the hem to the bust dart (63% of its length). It is up to "
        "2 cm apart vertically elsewhere. No other place of the pieces would let more of it meet."
    )
    assert not is_good(found)


def test_either_side_of_the_front_notch():
    """A bowed seam against a straight one, laid level at its notch: told by it, in inches."""
    curve = bowed(400.0, 260.0)
    half = curve.length / 2
    pair = Two(
        a=piece("a", curve, left=False, notches=(Notch(at=half, name="front"),)),
        b=piece("b", slanting(400.0, 0.0), left=True, notches=(Notch(at=200.0, name="front"),)),
    )
    line = meeting_line(
        pair.meeting(Print(repeat_along=70.0), (0, 1500, 0), (700, 1500, 0)), Unit.inch
    )
    assert "either side of the front notch" in line
    assert "cm" not in line


@pytest.mark.parametrize(
    ("design", "b", "said"),
    [
        (CHECK, (600.0, 900.0, 0.0), "Side: the print runs on all along."),
        (CHECK, (600.0, 915.0, 0.0), "Side: the print is level all along."),
        (BORDER, (900.0, 60.0, 90.0), "Side: the border runs on."),
        (
            CHECK,
            (610.0, 915.0, 0.0),
            "Side: the print is up to 1 cm apart vertically and does not meet at all. "
            "With the pieces laid elsewhere, all of it could meet.",
        ),
        (
            Print(repeat_along=60.0),
            (600.0, 900.0, 120.0),
            "Side: the print is turned by 120° from one piece to the other. No other place of the "
            "pieces, lying this way round, would let any of it meet.",
        ),
        (
            BORDER,
            (900.0, 200.0, 90.0),
            "Side: the border is on one side only from the hem to 9 cm beyond it. With the pieces "
            "laid elsewhere, all of it could meet.",
        ),
    ],
)
def test_each_way_of_meeting_has_its_sentence(design, b, said):
    """Side a at 900 mm across, or its hem on the border; b where the case puts it."""
    a = (0.0, 60.0, 90.0) if design is BORDER else (0.0, 900.0, 0.0)
    assert meeting_sentence(straight().meeting(design, a, b), Unit.cm) == said


def test_a_chevron_is_told_as_good():
    """Equal and opposite angles on an axis of the figure."""
    pair = Two(
        a=piece("a", slanting(400.0, -20.0), left=False),
        b=piece("b", slanting(400.0, 20.0), left=True),
    )
    found = pair.meeting(CHECK, (0, 900, 0), (600, 900, 0))
    assert meeting_sentence(found, Unit.cm) == "Side: the print is mirrored as a chevron all along."
    assert is_good(found)


@pytest.mark.parametrize(("slant", "said"), [(0.0, "alike"), (7.0, "chevron")])
def test_only_lines_that_meet_at_an_angle_are_a_chevron(slant, said):
    """Bent by twice the slant (plane geometry), a line is seen to run on up to 10 degrees."""
    pair = Two(
        a=piece("a", slanting(400.0, -slant), left=False),
        b=piece("b", slanting(400.0, slant), left=True),
    )
    told = meeting_sentence(pair.meeting(CHECK, (0, 910, 0), (600, 890, 0)), Unit.cm)
    words = {"alike": "is alike on both sides of it", "chevron": "is mirrored as a chevron"}[said]
    assert told == f"Side: the print {words} all along."


def test_a_border_that_hardly_touches_a_seam_has_its_sentence_too():
    """Eight millimetres of a border on one side only: too short to be told by its place."""
    found = straight().meeting(BORDER, (0.0, 142.0, 90.0), (900.0, 300.0, 90.0))
    said = meeting_sentence(found, Unit.cm)
    assert said.startswith("Side: the border hardly touches the seam and does not meet there.")
