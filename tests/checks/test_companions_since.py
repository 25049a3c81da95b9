"""Linings left behind though their edges are as long as before: compared with those bought."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from clothwright.checks import run_checks
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import Step, Workbook, check_settings, replay
from tests.garments.wardrobe import GARMENTS

coat = GARMENTS["lined coat"]
SIDES = "coat front.side, coat back.side"
ROUND = {"piece": "coat back", "by": "1.5 cm"}
CHANGES = [  # trade: "altered in the lining at the same place by the same amount" (docs/sources.md)
    ("full-upper-arm", {"piece": "coat sleeve", "by": "2 cm"}, "biceps"),
    ("round-back", ROUND, "centre"),
    ("sway-back", {"piece": "coat back", "by": "1.3 cm", "level": "waist"}, "centre"),
    (
        "let-out",
        {"edges": "coat front.side, coat back.side", "by": "4 cm", "level": "waist"},
        "waist",
    ),
    ("shoulder-width", {"pieces": "coat front, coat back", "by": "1 cm"}, "shoulder"),
]


def left_behind(*steps: Step, bought: Pattern | None = None) -> list[str]:
    bought = bought or coat()
    book = Workbook(title="coat", unit=Unit.cm, bought=bought, steps=steps)
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
    book = Workbook(title="coat", unit=Unit.cm, bought=coat(), steps=(opened,))
    said = say(replay(book).told[0].said, Unit.cm)
    assert said.endswith("Leave lining front and lining back open as far.")


def test_a_lining_opened_alone_is_as_long_as_before() -> None:
    """The other way round."""
    params = {"seam": "lining side", "length": "20 cm"}
    assert left_behind(Step(change="vent", params=params)) == []


NECKS = "coat front.neck, coat back.neck"


def lowered(necks: str) -> Step:
    """A neck 1 cm deeper, and wider at the shoulder."""
    params = {"edges": necks, "lower": "10 mm", "shoulder": "6 mm"}
    return Step(change="shape-opening", params=params)


def test_a_lining_that_ends_at_a_facing_has_no_part_in_a_neck() -> None:
    """Plane geometry: the line where facing and lining meet has not moved."""
    both = lowered(f"{NECKS}, front facing.neck, back neck facing.neck")
    assert left_behind(both) == []
    assert not any("lining" in words for words in left_behind(lowered(NECKS)))


def put_right(step: Step) -> Step:
    return replace(step, why="mends a seam")


def spoilt(*steps: Step) -> Pattern:
    """The coat, bought with a mistake in it."""
    book = Workbook(title="coat", unit=Unit.cm, bought=coat(), steps=steps)
    return replace(coat(), pieces=replay(book).pattern.pieces)


def upper_arm(by: str) -> Step:
    """The coat's own sleeve made wider, or narrower."""
    return Step(change="full-upper-arm", params={"piece": "coat sleeve", "by": by})


def test_what_puts_right_what_was_bought_leaves_no_lining_behind() -> None:
    """Where what was bought is the mistake, that is no measure; of what is changed later it is."""
    bought = spoilt(upper_arm("-2 cm"))
    mended = put_right(upper_arm("2 cm"))
    assert left_behind(upper_arm("2 cm"), bought=bought) != []
    assert left_behind(mended, bought=bought) == []
    (words,) = left_behind(mended, Step(change="round-back", params=ROUND), bought=bought)
    assert words.startswith("Coat back is 1.5 cm larger at the centre")


def test_an_edge_as_long_as_what_it_goes_with_was_not_left_behind() -> None:
    """Plane geometry: facing and lining together are as long as the shoulder they line."""
    params = {"corner": "coat back.shoulder tip", "direction": "across"}
    off = Step(change="move-edge", params={**params, "by": "-6 mm"})
    bought = spoilt(off)
    (short, whole) = (p.piece("coat back").edge("shoulder").length for p in (bought, coat()))
    assert abs(short - whole) > 5.0
    back = Step(change="move-edge", params={**params, "by": "6 mm"})
    assert left_behind(back, bought=bought) == []
    assert left_behind(off) != []
