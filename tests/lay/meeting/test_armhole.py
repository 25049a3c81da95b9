"""A checked coat: what matching at the front notch buys is told, though the worst stays."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Print
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.lay.meeting.say import meeting_sentence
from clothwright.lay.meeting.seams import meetings
from clothwright.lay.meeting.values import MeetingKind, SeamMeeting, worse_of_each
from clothwright.lay.result import Lay, Placement
from clothwright.pattern.pattern import Pattern
from clothwright.rules.compile import compile_lay
from clothwright.rules.plan import Plan
from clothwright.units import Unit

REPEAT = 64.0
NAMES = ("coat front", "coat back", "coat sleeve")


def coat() -> Pattern:
    """Front, back and sleeve of the demo's coat."""
    whole = coat_and_skirt().bought
    return replace(
        whole,
        pieces=tuple(p for p in whole.pieces if p.name in NAMES),
        seams=tuple(s for s in whole.seams if {r.piece for r in (*s.a, *s.b)} <= set(NAMES)),
    )


def armhole(higher: float) -> SeamMeeting:
    """The armhole with the sleeve's front notch so many mm higher in the check than the front's."""
    pattern = coat()
    cloth = Cloth(
        name="c", width=3000.0, print=Print(repeat_along=REPEAT, repeat_across=52.0, look="check")
    )
    compiled = compile_lay(pattern, (cloth,), Plan(name="p"))
    shapes = {s.id: s for s in compiled.problem.shapes}
    rows = (
        ("coat front 1", "armhole notch front", 640.0),
        ("coat back", "side hem", 640.0),
        ("coat sleeve 1", "cap notch front", 1280.0 + higher),
    )
    places = tuple(
        Placement(
            shape=shape,
            region="c",
            turn_deg=0.0,
            flipped=False,
            x=x - shapes[shape].points[point][0],
            y=900.0,
            outline=(),
        )
        for shape, point, x in rows
    )
    found = meetings(pattern, compiled, Lay(placements=places))
    return next(m for m in found if m.seam == "coat armhole")


def test_three_places_of_a_sleeve_differ_though_their_worst_do_not() -> None:
    """Level at the front notch, a quarter and half a repeat off: 15, 2 and 0 % of the armhole meet.

    The worst is near half a repeat in all three, as on every curved seam.
    """
    level, off, half = (armhole(mm) for mm in (0.0, 15.0, REPEAT / 2))
    assert off.worst == pytest.approx(half.worst, abs=0.5) == pytest.approx(REPEAT / 2, abs=0.5)
    assert level.share > 0.12
    assert off.share < 0.04
    assert half.share < 0.01
    assert "from 1.5 cm before the front notch to" in meeting_sentence(level, Unit.cm)
    assert "the front notch to" not in meeting_sentence(half, Unit.cm).split("turned")[0]
    assert level.best.share >= level.share


def test_a_cap_is_turned_under_the_arm_and_level_at_the_notch() -> None:
    """As sewn flat, both lines run apart under the arm; near the notch they run alike."""
    found = armhole(0.0)
    at = next(m.at for m in found.marks if m.name == "the front notch")
    kinds = {
        place: next(r.kind for r in found.runs if r.low <= place <= r.high) for place in (5.0, at)
    }
    assert kinds == {5.0: MeetingKind.TURNED, at: MeetingKind.LEVEL}


def test_marks_of_one_name_are_told_apart() -> None:
    """Both ends of an armhole are an underarm: each is told by its piece."""
    names = [m.name for m in armhole(0.0).marks]
    assert (names[0], names[-1]) == ("the underarm of coat front", "the underarm of coat back")
    assert len(set(names)) == len(names)


def test_seams_inside_a_garment_are_measured_and_weighed_for_nothing() -> None:
    """A facing's shoulder on a check, out by chance: told as inside, and no seam of the card."""
    pattern = coat_and_skirt().bought
    cloth = Cloth(name="c", width=3000.0, print=Print(repeat_along=REPEAT))
    compiled = compile_lay(pattern, (cloth,), Plan(name="p"))
    places = tuple(
        Placement(
            shape=s.id, region="c", turn_deg=0.0, flipped=s.flips[0], x=37.0 * n, y=9.0, outline=()
        )
        for n, s in enumerate(compiled.problem.shapes)
    )
    found = meetings(pattern, compiled, Lay(placements=places))
    inside = {m.seam for m in found if not m.worn}
    assert "facing shoulder" in inside
    assert "coat side" not in inside
    assert not inside & {m.seam for m in worse_of_each(found)}
