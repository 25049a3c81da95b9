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


OPENED = {
    "slit": Step(change="vent", params={"seam": "coat side", "length": "20 cm"}),
    "vent": Step(
        change="vent", params={"seam": "coat side", "length": "20 cm", "underlap": "4 cm"}
    ),
    "zip": Step(change="set-zip", params={"seam": "coat side", "length": "20 cm", "end": "lower"}),
}
INSIDE = "lining front, lining back"


def longer(pieces: str) -> Step:
    """Pieces 2 cm longer below the hip, where the seam is open."""
    params = {"pieces": pieces, "level": "waist", "above": "-50 cm", "by": "2 cm"}
    return Step(change="lengthen", params=params)


@pytest.mark.parametrize("opened", OPENED.values(), ids=OPENED)
def test_a_lining_is_as_long_as_a_seam_left_open(opened: Step) -> None:
    """Plane geometry: a seam that is not sewn all the way is as long, and so is what lines it."""
    all_of_it = f"coat front, coat back, front facing, {INSIDE}"
    assert left_behind(opened) == []
    assert left_behind(opened, longer(all_of_it)) == []
    behind = left_behind(opened, longer("coat front, coat back, front facing"))
    assert len(behind) == 2
    assert all("side is 2 cm shorter than it has to be" in words for words in behind)


@pytest.mark.parametrize("opened", OPENED.values(), ids=OPENED)
def test_its_lining_is_to_be_left_open_too(opened: Step) -> None:
    """The record says so, of the pieces that line the opened seam."""
    book = Workbook(title="coat", unit=Unit.cm, bought=GARMENTS["lined coat"](), steps=(opened,))
    said = say(replay(book).told[0].said, Unit.cm)
    assert said.endswith("Leave lining front and lining back open as far.")


def test_a_lining_opened_alone_is_as_long_as_before() -> None:
    """The other way round."""
    params = {"seam": "lining side", "length": "20 cm"}
    assert left_behind(Step(change="vent", params=params)) == []
