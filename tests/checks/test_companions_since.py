"""Linings left behind though their edges are as long as before: compared with those bought."""

from __future__ import annotations

from typing import Any

import pytest

from clothwright.checks import run_checks
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import Step, Workbook, check_settings, replay
from tests.garments.wardrobe import GARMENTS

SIDES = "coat front.side, coat back.side"
CHANGES = [  # trade: "altered in the lining at the same place by the same amount" (docs/sources.md)
    ("full-upper-arm", {"piece": "coat sleeve", "by": "2 cm"}, "biceps"),
    ("round-back", {"piece": "coat back", "by": "1.5 cm"}, "centre"),
    ("sway-back", {"piece": "coat back", "by": "1.3 cm", "level": "waist"}, "centre"),
    (
        "let-out",
        {"edges": "coat front.side, coat back.side", "by": "4 cm", "level": "waist"},
        "waist",
    ),
    ("shoulder-width", {"pieces": "coat front, coat back", "by": "1 cm"}, "shoulder"),
]


def left_behind(*steps: Step) -> list[str]:
    book = Workbook(title="coat", unit=Unit.cm, bought=GARMENTS["lined coat"](), steps=steps)
    done = replay(book)
    assert [t.error for t in done.told if t.error] == []
    found = run_checks(done.pattern, check_settings(book))
    return [say(f.words, Unit.cm) for f in found if f.code == "companion-left-behind"]


@pytest.mark.parametrize(("change", "params", "place"), CHANGES, ids=[c[0] for c in CHANGES])
def test_a_lining_left_as_it_was_is_told(change: str, params: dict[str, Any], place: str) -> None:
    """Its edges are as long as ever: only the width or the centre tells."""
    found = left_behind(Step(change=change, params=params))
    assert found
    assert all(place in words for words in found)


def test_a_lining_that_follows_is_not() -> None:
    """The same width for both sleeves: nothing to tell."""
    both = [
        Step(change="full-upper-arm", params={"piece": piece, "by": "2 cm"})
        for piece in ("coat sleeve", "lining sleeve")
    ]
    assert left_behind(*both) == []


def test_a_lining_changed_alone_is_told_from_its_side() -> None:
    """The piece is as bought, its lining is wider."""
    step = Step(change="full-upper-arm", params={"piece": "lining sleeve", "by": "2 cm"})
    (words,) = left_behind(step)
    assert words.startswith("Lining sleeve is 1.8 cm larger at the biceps line than as bought")
