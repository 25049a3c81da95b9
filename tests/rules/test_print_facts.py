"""Plans are weighed by how much of their seams meets and in which way, not by the worst place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cloth.prints import Border, Print
from clothwright.lay.meeting.values import SeamMeeting
from clothwright.rules.weighing.print_facts import missing_mm, print_cost, print_facts
from clothwright.units import Unit
from tests.lay.meeting.sewn_pieces import Two, piece, slanting

CHECK = Print(repeat_along=60.0, repeat_across=60.0)
BORDER = Print(borders=(Border(name="vine", side="lower", base=50.0, height=100.0),))
A = (0.0, 900.0, 0.0)


def side(design: Print, b: tuple[float, float, float], *, dart: bool = False) -> SeamMeeting:
    """A side seam of 400 mm, with or without a dart of 40 mm in one of its sides."""
    more = {"dart": (250.0, 290.0)} if dart else {}
    pair = Two(
        a=piece("a", slanting(440.0 if dart else 400.0, 0.0), left=False, **more),
        b=piece("b", slanting(400.0, 0.0), left=True),
    )
    return pair.meeting(design, (0.0, 60.0, 90.0) if design is BORDER else A, b)


GOOD = side(CHECK, (600.0, 900.0, 0.0))
LEVEL = side(CHECK, (600.0, 920.0, 0.0))
PART = side(CHECK, (600.0, 900.0, 0.0), dart=True)
OUT = side(CHECK, (610.0, 920.0, 0.0))
TURNED = side(CHECK, (600.0, 900.0, 180.0))
STOPS = side(BORDER, (900.0, 300.0, 90.0))


@pytest.mark.parametrize(
    ("met", "label", "words"),
    [
        (GOOD, "print runs on at", "side"),
        (LEVEL, "print level at", "side"),
        (PART, "print meets in part at", "side (63% runs on)"),
        (OUT, "print apart at", "side (up to 1 cm)"),
        (TURNED, "print turned at", "side (by 180°)"),
        (STOPS, "border stops at", "side"),
    ],
)
def test_a_seam_stands_under_how_it_meets(met: SeamMeeting, label: str, words: str) -> None:
    """Each seam once on the card, under the way in which it meets."""
    rows = {f.label: f.words for f in print_facts((met,), Unit.cm) if f.short}
    assert rows.pop("print meets along")
    assert rows == {label: words}


def test_the_share_of_all_seams_stands_first_and_is_what_plans_are_weighed_by() -> None:
    """One seam that meets and one that meets to 250 of 400 mm: 81 % of 800, 150 mm missing."""
    both = (GOOD, replace(PART, seam="other side"))
    first = next(iter(print_facts(both, Unit.cm)))
    assert first.words == "81% of the seams it crosses, as much as can be"
    assert missing_mm(both) == pytest.approx(150.0, abs=1.0)
    assert missing_mm((TURNED,)) == pytest.approx(400.0)
    assert list(print_facts((), Unit.cm)) == []


def test_what_a_way_to_fit_costs_in_print_is_said() -> None:
    """A seam that met and does so less, or is turned now; one that meets as before is not told."""
    assert print_cost((GOOD,), (PART,)) == [
        ("at the side the print meets along 63% of it instead of 100%",)
    ]
    assert print_cost((GOOD,), (TURNED,)) == [("the print is turned at the side",)]
    assert print_cost((PART,), (PART,)) == []
