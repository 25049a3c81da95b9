"""What a change says of the pieces that go with the one it changes."""

from __future__ import annotations

import pytest

from clothwright.changes.partners import partners
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from clothwright.workbook import change_of
from tests.garments.wardrobe import GARMENTS

COAT = [
    ("gaping", {"at": "coat front.neck", "by": "6 mm", "into": "coat front.side"}, "lining front"),
    ("gaping", {"at": "coat front.neck", "by": "6 mm", "into": "coat front.side"}, "front facing"),
    (
        "gaping",
        {"at": "coat front.armhole", "by": "1 cm", "into": "coat front.side"},
        "lining front",
    ),
    ("round-back", {"piece": "coat back", "by": "1.5 cm"}, "lining back"),
    ("sway-back", {"piece": "coat back", "by": "1.3 cm", "level": "waist"}, "lining back"),
    ("broad-back", {"piece": "coat back", "by": "1 cm"}, "lining back"),
    ("shoulder-width", {"pieces": "coat front, coat back", "by": "1 cm"}, "lining front"),
    ("shoulder-slope", {"pieces": "coat front, coat back", "by": "1 cm"}, "lining back"),
    ("full-upper-arm", {"piece": "coat sleeve", "by": "2 cm"}, "lining sleeve"),
    ("forward-shoulder", {"seam": "coat shoulder", "by": "1 cm"}, "lining back"),
    ("full-bust", {"piece": "coat front", "by": "2 cm"}, "lining front"),
]


@pytest.mark.parametrize(("change", "given", "named"), COAT)
def test_what_lies_on_a_changed_piece_is_named(
    change: str, given: dict[str, str], named: str
) -> None:
    """Lining and facing are altered at the same place by the same amount (trade facts 3, 1.1)."""
    asked = change_of(change)
    params = read_params(asked.params, given, unit=Unit.cm, where="test")
    said = say(asked.apply(GARMENTS["lined coat"](), params).said, Unit.cm)
    last = said.partition(" Change ")[2]
    assert named in last.partition(" in the same way")[0]
    assert "collar" not in last
    assert "pocket" not in last


def test_what_is_changed_with_its_piece_is_not_asked_again() -> None:
    p = GARMENTS["lined coat"]()
    assert partners(p, p) == ()
    asked = change_of("shoulder-slope")
    names = "coat front, coat back, lining front, lining back"
    params = read_params(asked.params, {"pieces": names, "by": "1 cm"}, unit=Unit.cm, where="")
    assert "in the same way" not in say(asked.apply(p, params).said, Unit.cm)


def test_a_piece_is_not_told_to_follow_what_goes_with_it() -> None:
    """The lining follows the coat; the coat does not follow its lining."""
    p = GARMENTS["lined coat"]()
    asked = change_of("add-flare")
    given = {"edges": "lining back.side, lining front.side", "by": "4 cm"}
    params = read_params(asked.params, given, unit=Unit.cm, where="")
    assert "make coat" not in say(asked.apply(p, params).said, Unit.cm)


def said_of(change: str, **given: str) -> str:
    """What a change of the coat says."""
    asked = change_of(change)
    params = read_params(asked.params, given, unit=Unit.cm, where="test")
    return say(asked.apply(GARMENTS["lined coat"](), params).said, Unit.cm)


def test_a_facing_is_asked_for_where_its_corner_turned_and_not_for_the_centre() -> None:
    """A shoulder that turns about the neck takes its facing along; a wedge at the fold does not."""
    assert "front facing" in said_of("forward-shoulder", seam="coat shoulder", by="1 cm")
    said = said_of("sway-back", piece="coat back", by="8 mm", level="waist")
    assert "neck facing" not in said


SIDES = "coat front.side, coat back.side"
NECKS = "coat front.neck, coat back.neck, front facing.neck, back neck facing.neck"
REACHED: list[tuple[str, dict[str, str], str, str]] = [
    ("add-flare", {"edges": SIDES, "by": "3 cm"}, "lining front, hem 3 cm longer", "facing"),
    (
        "add-flare",
        {"edges": f"{SIDES}, lining front.side, lining back.side", "by": "3 cm"},
        "",
        "facing",
    ),
    ("move-edge", {"edge": "coat front.front edge", "by": "2 cm"}, "facing, hem 2 cm", "lining"),
    ("shape-opening", {"edges": NECKS, "lower": "1 cm", "shoulder": "6 mm"}, "", "lining"),
]


@pytest.mark.parametrize(("change", "given", "named", "left_out"), REACHED)
def test_what_a_change_does_not_reach_is_not_asked_to_follow(
    change: str, given: dict[str, str], named: str, left_out: str
) -> None:
    """Plane geometry: the facing lies at the front end of the hem, the lining at the side."""
    asked = change_of(change)
    params = read_params(asked.params, given, unit=Unit.cm, where="test")
    p = GARMENTS["lined coat"]()
    said = say(partners(p, asked.apply(p, params).pattern), Unit.cm)
    assert named in said
    assert left_out not in said


def test_what_a_piece_was_put_right_by_is_not_asked_to_follow() -> None:
    """A neck cut too deep comes back to its facing, which was right all the while."""
    p = GARMENTS["princess"]()
    deep = {"edges": "centre front.neck", "lower": "1 cm", "shoulder": "0 cm"}
    back = {"edges": "centre front.neck", "like": "front neck facing.neck"}
    said = []
    for change, given in (("shape-opening", deep), ("draw-like", back)):
        asked = change_of(change)
        params = read_params(asked.params, given, unit=Unit.cm, where="test")
        outcome = asked.apply(p, params)
        said.append(say(outcome.said, Unit.cm))
        p = outcome.pattern
    assert "Change front neck facing" in said[0]
    assert "in the same way" not in said[1]
